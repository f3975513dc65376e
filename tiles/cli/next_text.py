"""``tiles next MARK --all`` as text, and ``--json``."""

from tiles.cli.next_doubt import is_settled, settled_told, tells_little, to_fire, together
from tiles.cli.prose import between_words, percent, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

AGAIN = {
    "crazing": "crazes again",
    "shivering": "shivers again",
    "crawling": "crawls again",
    "pinholes": "has pinholes again",
    "blisters": "blisters again",
    "running": "runs again",
    "underfired": "is underfired again",
    "bloating": "bloats again",
    "dunting": "cracks again",
    "unwanted matt": "is matt again",
    "specks": "has specks again",
    "colour shift": "shifts again",
    "cloudiness": "is cloudy again",
    "metal marking": "marks again",
}
SOONER = {
    "crazing": (
        "Sooner: steam a twin 1 hour in a pressure cooker, three times (damp swelling), or boil it "
        "3 minutes, then ice water for 3, three times (a small margin). Not with pupils: goggles, "
        "tongs, the cooker cold before it is opened. What stays sound may still craze."
    ),
}
"""Quick tests of the trade (common practice, as in the rules of crazing). They are milder than the
steam autoclave of ASTM C424 (up to 1.7 MPa) and the quench of C554 (from 121 C), which no classroom
has, so that what they leave sound is not proved so."""
LITTLE = "little changes"
INDENT = " " * 11
NO_TILE = "No change on one tile is left to plan for it. To be sure: {}"
MOST_LEFT_OUT = 3
FEW = 3
"""Where fewer tiles are proposed, the others are accounted for."""


def as_dict(found, marked: list) -> dict:
    """The documented JSON shape."""
    by_name = {each.trial.name: each for each in marked}
    tiles = [_tile_as_dict(each, by_name[each.trial.name]) for each in found.tiles]
    control = by_name[found.control.name] if found.control and marked else None
    return {
        "mark": found.mark,
        "defect": found.defect,
        "causes": shares(found.causes),
        "open_bits": round(found.open_bits, 3),
        "told_bits": round(found.told_bits, 3),
        "control": control.values if control else None,
        "tiles": tiles,
        "left_out": found.left_out,
        "no_hotter": found.no_hotter or None,
        "cooler": found.cooler,
        "tried": [{"mark": t.mark, "change": t.change, "again": t.came_again} for t in found.tried],
        "of_kin": found.of_kin,
        "waiting": found.waiting,
        "against": [{"title": title, "say": said} for title, said in found.against.items()],
        "stop": found.stop or None,
        "saves_shelf": found.saves_shelf or None,
        "hot_shelf": found.hot_shelf or None,
        "kiln": found.kiln or None,
        "all_glazes": load_said(found) or None,
        "look_after_days": found.look_after_days or None,
        "came_between": found.came_between or None,
        "made": found.made,
        "in_vain": found.in_vain,
        "would_tell": [*found.confirm, *found.would_tell],
    }


def _tile_as_dict(each, marked) -> dict:
    return {
        "mark": marked.mark,
        "change": each.trial.change,
        "bits": round(each.bits, 4),
        "limit_bits": round(each.limit_bits, 4),
        "chance_again": round(each.chance_again, 3),
        "chance_known": each.chance_known and round(each.chance_known, 3),
        "if_again": shares(each.if_again),
        "if_sound": shares(each.if_sound),
        "own_firing": each.own_firing or None,
        "like_failed": each.like.failed,
        "like_tiles": each.like.tiles,
        "like_early": each.like.early,
        "sound_areas": list(each.sound_areas),
        "holds": list(each.holds),
        "other_fault": each.other_fault or None,
        "twins": list(each.twin.marks) if each.twin else [],
        "tile": marked.values,
    }


def shares(causes: list) -> list[dict]:
    """Causes and their shares, as JSON has them."""
    return [{"title": title, "share": round(share, 3)} for title, share in causes]


def screen(found, marked: list, *, is_planned: bool) -> list[str]:
    """What a person reads."""
    named = "; ".join(f"{title} ({percent(share)})" for title, share in leading(found))
    likeliest = f"Likeliest so far: {named}" if named else "Nothing recorded speaks for any cause"
    lines = wrap(f"{found.mark}, {found.defect}. {likeliest}.")
    for title, said in found.against.items():
        lines += wrap(f"{said} That speaks against: {title}.")
    lines += wrap(load_said(found))
    lines += [*done_told(found), *(line for each in found.of_kin for line in wrap(each, "  "))]
    if found.stop:
        return [*lines, *wrap(found.stop)]
    if is_settled(found) and not found.confirm:
        lines += settled_told(found)
    marks = [each.mark for each in marked]
    if not found.tiles:
        more = " more" if found.tried else ""
        said = f"No trial with what you own would tell much{more} of the cause."
        said = NO_TILE.format(found.confirm[0]) if found.confirm else said
        is_told = found.confirm or not is_settled(found)
        told = wrap(" ".join((said, *_would_tell(found)))) if is_told else []
        return [*lines, *told, *not_proposed(found, marks)]
    lines += ask_first(found) if tells_little(found) else []
    lines += ["", *wrap(to_fire(found)), ""]
    lines += _control(found, marks)
    for mark, each in zip(marks[-len(found.tiles) :], found.tiles, strict=True):
        lines += [*_tile(mark, each, found), ""]
    lines += [*wrap(found.saves_shelf), *wrap(found.hot_shelf)]
    return [*lines, *_end(found, marks, is_planned)]


def load_said(found) -> str:
    """How its load did as a whole, where that failed so; else what is so of all glazes, or ""."""
    from tiles.cli.load_told import suspect

    return suspect(found.load) if found.load else found.all_glazes


def leading(found) -> list[tuple[str, float]]:
    """The likeliest causes, those that a trial may tell apart."""
    from diagnose.next_tiles.choice import MOVED
    from diagnose.weighing import OTHER

    return [each for each in found.causes[:3] if each[1] >= MOVED and each[0] != OTHER]


def _control(found, marks: list[str]) -> list[str]:
    """The control, or why there is none and what the tiles are compared with."""
    if found.control:
        said = f"{marks[0]:<10} {found.control.change} (the control)"
        return [*wrap(said, INDENT), ""]
    said = no_control(found, marks)
    return [*said, ""] if said else []


def no_control(found, marks: list[str]) -> list[str]:
    """Why the tile as it was is not fired beside these; nothing where one waits already."""
    from diagnose.trials.controls import why_no_control

    if found.waiting:
        return []
    trials = zip(marks, (each.trial.change for each in found.tiles), strict=True)
    return wrap(why_no_control(found.mark, list(trials)))


def done_told(found) -> list[str]:
    """Trials for this tile that were looked at, and those that wait."""
    from diagnose.trials.tried import by_change, said
    from diagnose.trials.worked import proven
    from diagnose.wording import sentence

    done = [f"Done: {said(alike)}" for alike in by_change(found.tried)]
    done += [sentence(each) for each in proven(found.tried)]
    lines = [line for each in done for line in wrap(each, "  ")]
    if found.waiting:
        lines += wrap(f"Planned for this tile and not looked at yet: {', '.join(found.waiting)}.")
    return lines


def _tile(mark: str, each, found) -> list[str]:
    """The change, and a line for each outcome; one for both where neither tells much."""
    own = f" (needs a firing of its own, {each.own_firing})" if each.own_firing else ""
    lines = wrap(f"{mark:<10} {each.trial.change}{made_already(each)}{own}", INDENT)
    again = AGAIN.get(found.defect, "fails again")
    chance = f"{_chance(each)}{own_areas(each.sound_areas)}{like_told(each.like)}"
    outcomes = {
        f"{again} ({chance})": meaning(each.if_again, found.causes),
        "comes out sound": meaning(each.if_sound, found.causes),
    }
    if all(told.startswith(LITTLE) for told in outcomes.values()):
        outcomes = {" or ".join(outcomes): f"{LITTLE} either way"}
    for said, told in outcomes.items():
        lines += wrap(f"{INDENT}{said}: {told}.", INDENT + "  ")
    lines += wrap(f"{INDENT}{each.other_fault}", INDENT) if each.other_fault else []
    return [*lines, *(wrap(f"{INDENT}{poison(each.holds)}", INDENT) if each.holds else [])]


def made_already(each) -> str:
    """The own tiles made so, and how they came out: sound twins, trials for a tile akin."""
    from diagnose.wording import listed

    twin = f" (as {listed(each.twin.named)}, which {each.twin.said})" if each.twin else ""
    return f"{twin}{f' ({each.on_kin})' if each.on_kin else ''}"


def _chance(each) -> str:
    """How likely its causes let it fail again, and how likely it does by what else is known."""
    from diagnose.wording import in_ten

    told = in_ten(each.chance_again)
    known = told if each.chance_known is None else in_ten(each.chance_known)
    if known == told:
        return told
    is_told = each.like.is_told
    by = "with what your tiles tell" if is_told or each.sound_areas else "by what is known"
    by = "with its computed fit" if each.limit_bits and not is_told else by
    return f"{told} by the causes, {known} {by}"


def poison(hazards) -> str:
    """What stands beside a glaze that is proposed though it holds a poison."""
    from diagnose.wording import listed
    from tiles.chemistry.hazards import in_words

    held = listed([in_words(each) for each in hazards])
    return (
        f"It holds {held}: proposed only because no other glaze on record would tell. "
        "Not a trial for pupils; leave it, or see the caution."
    )


def own_areas(numbers) -> str:
    """The areas of the failed tile itself that were made that way."""
    from diagnose.wording import listed

    if not numbers:
        return ""
    return (
        f"; its own area{'s' if len(numbers) > 1 else ''} {listed(list(map(str, numbers)))} did not"
    )


def like_told(like) -> str:
    """Own tiles made that way already, or at least of its glaze or clay."""
    of = f"of {like.of}" if like.of else "like it"
    if not like.tiles:
        tiles = "tile" if like.early == 1 else "tiles"
        return f"; {_so_far(like.early, f'{tiles} {of}')}" if like.early else ""
    told = f"; {like.failed or 'none'} of your {like.tiles} tiles {of} did"
    if like.tiles == 1:
        told = f"; your one tile {of} {'did' if like.failed else 'did not'}"
    return f"{told}, {_so_far(like.early, 'more')}" if like.early else told


def _so_far(many: int, which: str) -> str:
    """The tiles that are sound, but were looked at too early to be called so."""
    are = "one {} is" if many == 1 else f"{many} {{}} are"
    return f"{are.format(which)} sound so far, looked at early"


def meaning(then: list, now: list) -> str:
    """The cause that then leads, and the one that gained or lost most."""
    from diagnose.next_tiles.choice import MOVED, changes_little, riser

    before = dict(now)
    first, share = then[0]
    said = f"{first}, {percent(share)}"
    if changes_little(then, now):
        return f"{LITTLE} ({said})"
    if first != now[0][0]:
        said = f"then rather {said} (was {percent(before[first])})"
    elif share - before[first] < -MOVED:
        said += f" (down from {percent(before[first])})"
    elif share - before[first] > MOVED:
        said += f" (up from {percent(before[first])})"
    if lifted := riser(then, now):
        said += f"; {lifted[0]} rises to {percent(lifted[1])}"
    return said


def look_again(found, *, in_short: bool = False) -> str:
    """When a tile can be called sound where the fault may come late; empty where it may not."""
    from diagnose.own_tiles.late_looks import again_said

    if not found.look_after_days:
        return ""
    known = f" ({found.came_between})" if found.came_between and not in_short else ""
    return (
        f"Sound at unloading proves little, {found.defect} can come later: look again "
        f"{again_said(found.look_after_days)}, in slanting light{known}."
    )


def _look_again(found) -> list[str]:
    """The same, and a test that hastens it."""
    said = look_again(found)
    return wrap(f"{said} {SOONER.get(found.defect, '')}") if said else []


def not_proposed(found, marks: list[str]) -> list[str]:
    """Changes that would harm the shelf, and those that own tiles show to be in vain."""
    lines = []
    if found.left_out:
        shown = "; ".join(found.left_out[:MOST_LEFT_OUT])
        lines += wrap(f"Not proposed, for the shelf's sake: {shown}.")
    lines += cooler_told(found, marks)
    if found.made:
        lines += wrap(f"Made already, and the fault came there too: {'; '.join(found.made)}.")
    if found.in_vain:
        shown = "; ".join(found.in_vain[:MOST_LEFT_OUT])
        lines += wrap(f"Left out for what your tiles show of it: {shown}.")
    return lines


def cooler_told(found, marks: list[str]) -> list[str]:
    """What may be changed only once it is fired cooler, if anything."""
    return between_words(with_db(_cooler(found, marks))) if found.cooler else []


def _cooler(found, marks: list[str]) -> str:
    """What may be changed of a tile that went too hot, once it is fired no hotter than it stands.

    As `tiles fix` plans it: beside the right cone, or beside the tile as it was, fired so.
    """
    from diagnose.trials.controls import right_heat

    own = marks[len(marks) - len(found.tiles) :]
    trials = zip(own, (each.trial.change for each in found.tiles), strict=True)
    beside, _ = right_heat(list(trials)) or ("one with nothing changed", "")
    shown = "; ".join(found.cooler[:MOST_LEFT_OUT])
    fix = f"'tiles fix {shell_word(found.mark)}'"
    limit = found.no_hotter.removesuffix(".")
    return (
        f"Fired {limit[0].lower()}{limit[1:]}, and beside {beside}, there may be changed: "
        f"{shown}. {fix} plans what would mend it."
    )


def ask_first(found) -> list[str]:
    """That no tile tells much, and the fact that tells most without a firing."""
    said = "No single tile tells much here."
    for fact in found.would_tell[:1]:
        said += (
            f" To find out first: {fact} Answer with 'tiles why {shell_word(found.mark)} --ask'."
        )
    return between_words(with_db(said))


def _would_tell(found) -> list[str]:
    """What to put on record in place of a trial, but for what was told first."""
    left = found.would_tell[1 if found.tiles and tells_little(found) else 0 :]
    return ["To find out:", *left] if left else []


def _end(found, marks: list[str], is_planned: bool) -> list[str]:
    lines = wrap(f"{together(found)} Shares follow common practice, no measured frequency.")
    lines += [*_look_again(found), *not_proposed(found, marks)]
    lines += without_more(found)
    if not is_planned:
        said = f"Put them on record: tiles next {shell_word(found.mark)} --plan"
        lines += between_words(with_db(said))
    return lines


def without_more(found) -> list[str]:
    """Where few tiles are proposed, that no other tells much, and what to put on record."""
    if len(found.tiles) >= FEW or is_settled(found):
        return []
    said = "No other trial with what you own would tell much of the cause."
    return wrap(" ".join((said, *_would_tell(found))))

"""The answer of ``tiles fix --all``: every cause with all its fixes, then the tiles to fire."""

from collections.abc import Iterator
from dataclasses import replace

from tiles.cli.load_told import LATER, beside_make, load_first
from tiles.cli.next_text import AGAIN, NO_TILE, look_again, meaning
from tiles.cli.prose import beside, percent, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

LABEL = 8
NO_AMOUNT = "Nothing to measure out: 'tiles why' says how to make sure of it."
HELD = "Handle with care, by the names of the materials (a data sheet goes before this):"
SAME_REMEDY = "These causes call for the same changes, so any of the tiles below serves them."


def screen(record, answers: list, marked: list, *, is_planned: bool) -> list[str]:
    """Every defect with its causes and fixes, then the tiles to fire."""
    from tiles.chemistry.hazards import REMINDER
    from tiles.records.spoken import spoken_tile

    lines, told = wrap(spoken_tile(record)), set()
    for answer, lead in zip(_each_step_once(answers), by_fault(answers), strict=True):
        lines += ["", *wrap(f"{answer.defect.upper()}. {lead}")]
        lines += beside_make(answer)
        lines += [line for each in answer.proven for line in _labelled("worked", each)]
        lines += [line for each in answer.tried for line in _labelled("tried", each)]
        lines += wrap(answer.stop) if answer.stop not in told else []
        told.add(answer.stop)
        lines += _first_tile(answer, marked)
        for place, cause in enumerate(answer.causes, start=1):
            lines += ["", *_cause(place, cause, _cautions(cause, told))]
        if not answer.causes:
            lines += wrap("Nothing here to put right with amounts.")
            lines += [line for each in answer.cautions for line in _labelled("caution", each)]
    lines += _tiles(record, answers, marked, is_planned=is_planned)
    if held := handled(answers):
        lines += ["", *wrap(HELD), *(line for text in held for line in beside("  ", text))]
    return [*lines, "", *wrap(REMINDER)]


def by_fault(answers: list) -> Iterator[str]:
    """What is said of each defect first; that one cause would explain all of them, only once."""
    from diagnose.wording import one_cause

    for at, answer in enumerate(answers):
        others = [each.defect for each in answers if each is not answer]
        yield answer.say.removesuffix(one_cause(answer.defect, others)) if at else answer.say


def _each_step_once(answers: list) -> list:
    """The answers; a step that an earlier defect calls for too is told there alone."""
    return [replace(each, causes=_new_steps(each, answers[:at])) for at, each in enumerate(answers)]


def _new_steps(answer, earlier: list) -> list:
    told = {fix.name for one in earlier for cause in one.causes for fix in cause.fixes}

    def of_cause(cause):
        again = [each for each in cause.fixes if each.name in told]
        return replace(
            cause,
            fixes=[each for each in cause.fixes if each not in again],
            acts_too=[*cause.acts_too, *(each.name for each in again)],
            tried=[*cause.tried, *(text for each in again for text in each.tried)],
        )

    return list(map(of_cause, answer.causes))


def handled(answers: list) -> list[str]:
    """What the glazes above hold, each once: nobody weighs one of them without having read it."""
    return list(dict.fromkeys(text for answer in answers for text in answer.handling))


def _first_tile(answer, marked: list) -> list[str]:
    """Where the cause cannot be told: the tile that tells most of it goes first."""
    if answer.is_of_load:
        return [*load_first(answer, marked, answer.say), *wrap(LATER)]
    if answer.first is None:
        is_open = answer.trials and not answer.enough_to_tell
        return wrap(SAME_REMEDY) if is_open and serves_all(answer.causes) else []
    tile = first_tile(answer, marked)
    said = f"So fire {tile.mark} ({tile.trial.change}) first{compared(tile, marked)}."
    return wrap(f"{said} {if_it(answer)}")


def first_tile(answer, marked: list):
    """The tile that tells most of the cause; one that serves two defects is one of the first."""
    wanted = next(each for each in answer.trials if each.name == answer.first.trial)
    tiles = [each for each in marked if each.trial.change == wanted.change]
    return next((each for each in tiles if each.defect == answer.defect), tiles[0])


def if_it(answer) -> str:
    """What each outcome of the tile that goes first would mean."""
    first = answer.first
    sound = "comes out sound"
    if answer.defect == "crazing":
        sound += " and is still so after a month"
    again = AGAIN.get(answer.defect, "fails again")
    return (
        f"If it {again}: {meaning(first.if_again, first.now)}. If it {sound}: "
        f"{meaning(first.if_sound, first.now)}."
    )


def serves_all(causes: list) -> bool:
    """Whether each fix is for each of several causes."""
    serves = [{*(each.name for each in cause.fixes), *cause.acts_too} for cause in causes]
    return len(serves) > 1 and all(each == serves[0] for each in serves)


def compared(tile, marked: list) -> str:
    """The tile it is compared with: the control, else the one of which only the cone is changed."""
    controls = [each for each in marked if each.trial.is_control]
    own = [each.mark for each in controls if each.defect == tile.defect]
    if controls:
        return f", beside the control {[*own, controls[0].mark][0]}"
    others = (each for each in marked if each is not tile)
    right = (each for each in others if each.trial.change.startswith("cone reached "))
    return "".join(f", beside {each.mark}" for each in right)


def _cause(place: int, cause, cautions: list[str]) -> list[str]:
    from diagnose.wording import listed

    title = cause.title[:1].upper() + cause.title[1:]
    lines = beside(f"{place}. ", f"{title}  ({percent(cause.share)})")
    for label, each in zip(("aim", *("" for _ in cause.say)), cause.say, strict=False):
        lines += _labelled(label, each)
    for text in cause.against[:1]:
        lines += _labelled("against", text)
    for text in cause.twins:
        lines += _labelled("twin", text)
    for each in cause.fixes:
        lines += _recipe_fix(each) if each.is_recipe else _step(each)
        for text in each.tried:
            lines += _labelled("", text)
    for text in cause.tried:
        lines += _labelled("tried", text)
    if cause.acts_too:
        lines += _labelled("also", f"{listed(cause.acts_too)} above, for this cause too.")
    is_tried = cause.fixes or cause.acts_too or cause.tried
    if cause.confirm and not is_tried:
        lines += _labelled("no tile", NO_TILE.format(cause.confirm[0]))
    for each in cause.advice or ([] if is_tried else [NO_AMOUNT]):
        lines += _labelled("fix", each)
    for text in dict.fromkeys(text for each in cause.fixes for text in each.remarks):
        lines += _labelled("note", text[:1].upper() + text[1:] + ".")
    if generic := by_generic(cause.fixes):
        told = f"Generic analysis of {listed(generic)}: yours may differ ('tiles material add')."
        lines += _labelled("note", told)
    for text in cautions:
        lines += _labelled("caution", text)
    return lines


def by_generic(fixes: list) -> list[str]:
    """The materials that some fixes reckon with a generic analysis, each once."""
    return list(dict.fromkeys(name for each in fixes for name in each.generic))


def _cautions(cause, told: set[str]) -> list[str]:
    """Each caution once on a screen, at the first cause that calls for it."""
    new = [text for text in dict.fromkeys(cause.cautions) if text not in told]
    told.update(new)
    return new


def _step(fix) -> list[str]:
    said = "; ".join(change.said for change in fix.changes)
    return [*_labelled(fix.name, f"{fix.title}: {said}."), *_spoils(fix)]


def _recipe_fix(fix) -> list[str]:
    per_hundred, _, own = fix.title.partition("; ")
    lines = _labelled(fix.name, f"{per_hundred} (parts per 100 of the base)")
    lines += _labelled("", f"{own[:1].upper()}{own[1:]}.") if own else []
    for each in fix.predictions:
        lines += _labelled("", estimated(each)) if each.low is not None else []
    plain = [each for each in fix.predictions if each.low is None and _moves(each)]
    if plain:
        told = "; ".join(f"{each.quantity} {each.before:.2f} -> {each.after:.2f}" for each in plain)
        lines += _labelled("", told)
    return [*lines, *_spoils(fix)]


def _moves(each) -> bool:
    return abs(each.change) >= 0.005


def estimated(each) -> str:
    """An estimate before and after a change of the recipe, with the range of the change."""
    is_melt = each.unit == "log10 Pa.s"
    name = each.quantity.replace("melt viscosity", "melt")
    told = f"{name} {each.before:.2f} -> {each.after:.2f} {each.unit}"
    change = f"{each.change:+.2f}, 90 % range {each.low:+.2f} to {each.high:+.2f}"
    words = f", {_melt_words(each)}" if is_melt else ""
    return f"{told} ({change}){words}"


def _melt_words(each) -> str:
    from tiles.chemistry.melt import word

    before, after = word(each.before), word(each.after)
    return f"stays {after}" if before == after else f"{before} to {after}"


def _spoils(fix) -> list[str]:
    return _labelled("", f"May spoil: {' '.join(fix.spoils)}") if fix.spoils else []


def _tiles(record, answers: list, marked: list, *, is_planned: bool) -> list[str]:
    from diagnose.fixes.trials import COOLER
    from diagnose.trials.controls import right_heat, why_no_control
    from tiles.cli.fix_plan import load_hints

    if not marked:
        return []
    width = max(len(each.mark) for each in marked)
    names, areas = max(len(each.trial.name) for each in marked), areas_told(record, marked)
    cooler = any(each.trial.is_control and COOLER in each.trial.change for each in marked)
    trials = [(each.mark, each.trial.change) for each in marked]
    has_control = any(each.trial.is_control for each in marked)
    right = right_heat(trials) if len(trials) > 1 and not has_control else None
    like = "as on the control" if cooler else f"as on {right[0]}" if right else "as on this tile"
    several = len({each.own_firing for each in marked}) > 1
    is_alone = all(each.trial.is_control for each in marked)
    heading = "Tile to fire:" if is_alone else f"Tiles to fire: one change on each, all else {like}"
    lines = ["", *wrap(heading)]
    if any(each.trial.recipe for each in marked):
        lines += wrap("Recipes in parts per 100 of the base, additions on top.")
    for each in marked:
        head = f"  {each.mark:<{width}}  {each.trial.name:<{names}}  "
        waits = " (on record already)" if each.waits and not is_planned else ""
        apart = f" (needs a firing of its own, {each.own_firing})" if each.own_firing else ""
        told = f"{weights(each.trial)}{areas.get(each.defect, '')}{apart if several else ''}"
        lines += beside(head, f"{told}{waits}")
    if not has_control:
        lines += wrap(why_no_control(record.mark, trials))
    lines += of_shelf(record, answers, marked)
    if is_planned:
        hint = with_db(load_hints(marked))
        return [*lines, f"On record as planned. {hint}"]
    if all(each.waits for each in marked):
        return lines
    them = "them" if len(marked) > 1 else "it"
    return [*lines, with_db(f"Put {them} on record: tiles fix {shell_word(record.mark)} --plan")]


def of_shelf(record, answers: list, marked: list, *, in_short: bool = False) -> list[str]:
    """What keeps the shelf whole, and when the tiles are to be looked at again."""
    from diagnose.next_tiles.safety import saves_shelf

    if not marked:
        return []
    shelf = dict.fromkeys((saves_shelf(record), *(each.hot_shelf for each in answers)))
    lines = wrap(" ".join(filter(None, shelf)))
    for each in answers:
        if any(one.defect == each.defect for one in marked):
            lines += wrap(look_again(each, in_short=in_short))
    return lines


def areas_told(record, marked: list, *, in_short: bool = False) -> dict[str, str]:
    """Which area the tiles for each fault are made as, where they are made as several."""
    from diagnose.measures.of_area import choose_area
    from tiles.records.spoken import spoken_layers

    areas = {each.defect: choose_area(record, None, each.defect) for each in marked}
    if len({area.number for area in areas.values() if area}) < 2:
        return {}
    return {
        defect: f" (area {area.number}{'' if in_short else f': {spoken_layers(area.layers)}'})"
        for defect, area in areas.items()
        if area
    }


def weights(trial) -> str:
    """A recipe in grams for a test batch of 100 g; for other trials the change."""
    if not trial.recipe:
        return trial.change
    lines = trial.recipe["lines"]
    base = ", ".join(
        f"{each['material']} {each['parts']:g}" for each in lines if not each["is_addition"]
    )
    extras = ", ".join(
        f"{each['material']} {each['parts']:g}" for each in lines if each["is_addition"]
    )
    return base + (f", plus {extras}" if extras else "")


def _labelled(label: str, text: str) -> list[str]:
    return beside(f"   {label:<{LABEL}} ", text)

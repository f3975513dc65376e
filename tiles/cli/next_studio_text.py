"""``tiles next`` for the whole studio, as text and as JSON."""

from collections.abc import Iterator
from dataclasses import dataclass

from tiles.cli.load_told import ALONE, meanwhile
from tiles.cli.marks import runs
from tiles.cli.next_loads import OVER, head
from tiles.cli.next_studio import (
    APART,
    BESIDE,
    FIRE,
    IS_SETTLED,
    LEFT,
    NOTHING,
    ONCE,
    ONE_SHELF,
    OWN_FIRING,
    SHARED,
    WAITS,
    Asked,
    ForStudio,
)
from tiles.cli.next_text import made_already, shares
from tiles.cli.prose import beside, counted, percent, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

LONG = 60
"""Lines of a screen that is read through; one that is longer is told in short (estimate)."""
IN_SHORT = frozenset({APART, NOTHING, ONCE, LEFT})
"""Where nothing can be done now: in short these are only counted."""


@dataclass(frozen=True)
class Detail:
    """How much is told: so many faults to fire for in full, and so many named of each other state.

    ``counted`` are the states of which only the number of faults is told.
    """

    to_fire: int | None = None
    named: int | None = None
    counted: frozenset[str] = frozenset()


_LESS = Detail(named=6), Detail(to_fire=4, named=3, counted=IN_SHORT), Detail(2, 2, IN_SHORT)


def as_dict(found: ForStudio, marked: list) -> list[dict]:
    """The documented JSON shape."""
    return [_as_dict(*each) for each in _with_marks(found, marked)]


def _as_dict(each: Asked, marked: list) -> dict:
    return {
        "of": each.fault.name,
        "defect": each.defect,
        "words": each.fault.words or None,
        "failed": len(each.fault.failed),
        "inspected": each.fault.tiles,
        "early": each.fault.early,
        "all_glazes": each.count.say if each.count else None,
        "last_seen": each.fault.last_seen.isoformat(),
        "mark": each.record.mark,
        "cone": each.cone,
        "state": each.state,
        "causes": shares(each.found.causes) if each.found else [],
        "waiting": [trial.mark for trial in each.fault.waiting],
        "tiles": [one.values for one in marked],
    }


def _with_marks(found: ForStudio, marked: list) -> list[tuple[Asked, list]]:
    """Each fault with its own of the marked tiles."""
    left = iter(marked)
    return [(each, [next(left) for _ in each.trials]) for each in found.asked]


def screen(
    found: ForStudio, marked: list, *, is_planned: bool, show_all: bool = False
) -> list[str]:
    """What a person reads, in short where it would be long. Every tile to fire stays."""
    if show_all:
        return _told(found, marked, Detail(), is_planned=is_planned)
    for detail in _LESS:
        lines = _told(found, marked, detail, is_planned=is_planned)
        if len(lines) <= LONG:
            break
    return lines


def _told(found: ForStudio, marked: list, detail: Detail, *, is_planned: bool) -> list[str]:
    """A shelf for each cone, then what needs no trial or is left for later."""
    to_fire = [each for each in _with_marks(found, marked) if each[0].state == FIRE]
    lines: list[str] = []
    firings = dict.fromkeys(map(_firing, to_fire))
    in_full = to_fire[: detail.to_fire]
    for of in sorted(firings, key=lambda each: each[0] is None):
        lines += _shelf(*of, [each for each in to_fire if _firing(each) == of], in_full)
    lines += _rest(found.asked, detail)
    if not to_fire:
        return lines[:-1]
    first = to_fire[0][0]
    shown = {seen.defect for look in first.record.inspections for seen in look.defects}
    which = f" --defect {shell_word(first.defect)}" if len(shown) > 1 else ""
    asked = f"tiles next {shell_word(first.record.mark)}{which}"
    if len(in_full) < len(to_fire):
        lines.append(with_db(f"What each tile changes, and why: {_command(found)} --all"))
    lines.append(with_db(f"What each outcome would mean: {asked}"))
    plan = with_db(f"Put them on record: {_command(found)} --plan")
    return lines if is_planned else [*lines, plan]


def _firing(asked: tuple[Asked, list]) -> tuple[str | None, str]:
    """Its cone, and its kiln where there are several."""
    return asked[0].cone, asked[0].found.kiln


def _shelf(
    cone: str | None, kiln: str, asked: list[tuple[Asked, list]], in_full: list
) -> Iterator[str]:
    """One firing: each fault with its tiles, those not ``in_full`` on a line each.

    What keeps the shelf whole is told of either.
    """
    from diagnose.wording import sentence

    many = counted(sum(len(marked) for _, marked in asked), "tile")
    where = f" in {kiln}" if kiln else ""
    to = f"For a firing to cone {cone}{where}" if cone else f"Cone not recorded{where}"
    yield from wrap(f"{to}, {many}:")
    yield ""
    for each, marked in (pair for pair in asked if pair in in_full):
        all_glazes = f" {sentence(each.count.say)}" if each.count else ""
        counts = head(each) if each.fault.is_of_load else f"{_counts(each)}.{all_glazes}"
        yield from wrap(f"{counts} {_causes(each)}", "   ")
        for one in marked:
            said = f"   {one.mark:<8} {one.trial.change}{_what_for(one.trial, each)}"
            yield from wrap(said, " " * 12)
        if each.fault.is_of_load:
            yield from wrap(f"   {meanwhile(each.found.load)}", "   ")
        if marked and each.found.saves_shelf:
            yield from wrap(f"   {each.found.saves_shelf}", "   ")
        yield ""
    in_short = [pair for pair in asked if pair not in in_full]
    for each, marked in in_short:
        tiles = ", ".join(runs([one.mark for one in marked]))
        yield from wrap(f"{_counts(each)}: {tiles}", "   ")
        if marked and each.found.saves_shelf:
            yield from wrap(f"   {each.found.saves_shelf}", "   ")
    if in_short:
        yield ""


def _causes(each: Asked) -> str:
    """The likeliest two."""
    from diagnose.next_tiles.choice import MOVED
    from diagnose.wording import sentence

    likely = [cause for cause in each.found.causes[:2] if cause[1] >= MOVED]
    told = (f"{title} ({percent(share)}{_but(title, each)})" for title, share in likely)
    return sentence(" or ".join(told))


def _but(title: str, each: Asked) -> str:
    return ", but your tiles speak against it" if title in each.found.against else ""


def _what_for(trial, each: Asked) -> str:
    """Which own tiles had its change, and what it is fired for, where that is no remedy."""
    if trial.is_control:
        return f" (the control{': ' + ALONE if each.fault.is_of_load else ''})"
    tile = next(one for one in each.found.tiles if one.trial is trial)
    areas = _areas(tile.sound_areas) if tile.sound_areas else ""
    own = f" (as {each.record.mark} {areas}, without the fault)" if areas else ""
    swap = " (does another glaze fail so as well?)" if tile.kind == "glaze" else ""
    return f"{made_already(tile)}{own}{swap}"


def _areas(numbers) -> str:
    from diagnose.wording import listed

    return f"area{'s' if len(numbers) > 1 else ''} {listed(list(map(str, numbers)))}"


def _counts(each: Asked) -> str:
    from tiles.records.words import OTHER_FAULT

    of = counted(each.fault.tiles, "tile")
    defect = "another fault" if each.defect == OTHER_FAULT else each.defect
    defect += f" ({each.fault.words})" if each.fault.words else ""
    early = f", {each.fault.early} more sound so far" if each.fault.early else ""
    early += f", more in firing {each.fault.but_load}" if each.fault.but_load else ""
    return f"{each.fault.name}: {defect} on {len(each.fault.failed)} of {of}{early}"


def _rest(asked: list[Asked], detail: Detail) -> list[str]:
    """What is settled, waits, cannot be told by a trial, or is left for later."""
    lines, only_counted = [], []
    for state, title in (
        (SHARED, "The trials above tell of these too, whatever the glaze:"),
        (BESIDE, "On tiles asked about for another fault, which the same trials may tell of:"),
        (OWN_FIRING, "A trial needs a firing of its own:"),
        (IS_SETTLED, "Little is open: prove the fix itself, or read what your trials told:"),
        (OVER, "A whole load failed, and what was made alike came out since: change no glaze:"),
        (WAITS, "Trials on record, to be fired or looked at:"),
        (APART, "Clay and glaze have no firing in common:"),
        (NOTHING, "No trial with what you own would tell:"),
        (ONCE, "Seen on one tile only, perhaps by chance:"),
        (LEFT, "Open too, left for another firing:"),
    ):
        of_state = [each for each in asked if each.state == state]
        if of_state and state in detail.counted:
            only_counted.append(f"{title} {counted(len(of_state), 'fault')} (--all)")
            continue
        lines += [title] if of_state else []
        typed = [_typed(each) for each in of_state[: detail.named]]
        wide = max(map(len, typed), default=0)
        for command, each in zip(typed, of_state, strict=False):
            lines += beside(f"   {command:<{wide}}  ", _said(each))
        more = len(of_state) - len(typed)
        lines += [f"   and {more} more (--all)"] if more else []
        lines += [""] if of_state else []
    return [*lines, *only_counted, ""] if only_counted else lines


def _typed(each: Asked) -> str:
    """The command that tells more of a fault; after trials only what worked once may be planned."""
    from diagnose.trials.worked import proven, worked_once

    tried = each.found.tried if each.found else []
    is_to_repeat = worked_once(tried) and not proven(tried)
    settled = "why" if tried and not is_to_repeat else "fix"
    command = settled if each.state == IS_SETTLED else "next"
    of = f" --defect {shell_word(each.defect)}" if each.state == BESIDE else ""
    return with_db(f"tiles {command} {shell_word(each.record.mark)}{of}")


def _said(each: Asked) -> str:
    if each.state == WAITS:
        marks = ", ".join(runs([trial.mark for trial in each.fault.waiting]))
        return f"{_counts(each)}: {marks}"
    if each.state == IS_SETTLED:
        title, share = each.found.causes[0]
        return f"{_counts(each)}: {title} ({percent(share)})"
    return _counts(each)


def _command(found: ForStudio) -> str:
    """The command as it was typed."""
    words = ["tiles next"]
    words += [f"--defect {shell_word(found.defect)}"] if found.defect else []
    words += [f"--cone {found.cone}"] if found.cone else []
    words += [f"--limit {found.most}"] if found.most != ONE_SHELF else []
    return " ".join(words)

"""Clean tiles that were looked at too early to tell of a fault that came late on their glaze."""

from collections.abc import Iterable
from dataclasses import dataclass, field

NO_PROOF = "Clean does not show that a glaze is safe for food."
SOON_DAYS = 45
"""Last looked at within so many days of the firing a tile may craze yet (estimate)."""
MOST_GLAZES = 3
"""Of so many glazes the tiles are named; a longer list would bury them."""


@dataclass(frozen=True)
class Early:
    """A glaze with a line on its clean areas that a look was too early for, and which these are.

    ``needed`` is from how many days after the firing on a look at any of them tells.
    """

    glaze: str
    line: str
    areas: frozenset[tuple[str, int]]
    needed: int


def no_proof(session, found: list) -> str:
    """What clean areas do not show: that they are safe for food, nor that they will not craze.

    That crazing can come months after a firing is common practice, no source.
    """
    from tiles.queries.days import days_looked

    clean = {each.mark for each in found if each.clean}
    looked = days_looked(session) if clean else {}
    days = [looked[mark] for mark in clean & looked.keys()]
    late = sum(until >= SOON_DAYS for until in days)
    if late == len(days):
        return NO_PROOF
    who = f"of the {len(days)} with a day of firing {late or 'none'}"
    did = "were" if late > 1 else "was"
    if len(days) == 1:
        who, did = "this one" if len(clean) == 1 else "the one with a day of firing", "was not"
    return (
        f"{NO_PROOF} Crazing can come months after the firing: {who} {did} looked at {SOON_DAYS} "
        "days after it or later."
    )


def told(early: list[Early]) -> list[str]:
    """The lines of a few glazes, and the names of the others."""
    lines = [each.line for each in early[:MOST_GLAZES]]
    if more := list(dict.fromkeys(each.glaze for each in early[MOST_GLAZES:])):
        from tiles.records.spoken import some

        lines.append(f"Look again at tiles of {some(more)}, too: --glaze NAME tells which.")
    return lines


@dataclass(frozen=True)
class Late:
    """What came late on the glazes and clays of some clean areas: read once for all that is told.

    ``seen`` has the rows of each such fault, as `days.days_seen` has them, of which any came late;
    ``records`` the tiles that tell how late, by their marks.
    """

    seen: dict[str, list] = field(default_factory=dict)
    records: dict = field(default_factory=dict)

    def of(self, marks: Iterable[str]) -> list:
        """The tiles with these marks."""
        return [self.records[each] for each in marks]


def came_late_on(session, found: list) -> Late:
    """What came late on the glazes and the clays of the clean ones of some areas.

    Whole tiles are read only of those on which a fault came late: all that were looked at with such
    a glaze, and those on such a clay that show it.

    Parameters
    ----------
    session : Session
        The database.
    found : list of Found
        The areas.
    """
    from diagnose.own_tiles.late_looks import COMES_LATE
    from tiles.queries.days import days_seen, marks_looked_at
    from tiles.records.reading import find_records

    clean = [each for each in found if each.clean]
    if not clean:
        return Late()
    seen = {fault: days_seen(session, fault) for fault in COMES_LATE}
    late = [row for rows in seen.values() for row in _late_of(rows)]
    glazes = {glaze for _mark, glaze, *_ in late} & {name for each in clean for name in each.glazes}
    clays = {clay for _mark, _glaze, clay, *_ in late} & {each.body for each in clean}
    marks = {mark for rows in seen.values() for mark, _, clay, *_ in rows if clay in clays}
    marks |= {*marks_looked_at(session, glazes)} if glazes else set()
    return Late(seen, {each.mark: each for each in find_records(session, sorted(marks))})


def looked_too_early(late: Late, found: list) -> list[Early]:
    """The glazes of clean areas that may yet show what others of it showed late.

    Parameters
    ----------
    late : Late
        What came late on these areas or more.
    found : list of Found
        Those of the areas that answer it that are shown.
    """
    clean = [each for each in found if each.clean]
    return [each for fault in late.seen for each in _of_fault(late, clean, fault)]


def _of_fault(late: Late, clean: list, defect: str) -> list[Early]:
    """Those of one fault."""
    from diagnose.own_tiles.areas import under
    from diagnose.own_tiles.late_looks import late_looks
    from tiles.records.mark_looks import natural_key

    names = {name for each in clean for name in each.glazes}
    names &= {glaze for _mark, glaze, *_ in _late_of(late.seen[defect])}
    areas = {(each.mark, each.area) for each in clean}
    records = late.of(sorted(late.records, key=natural_key)) if names else []
    found = []
    for glaze in sorted(names, key=natural_key):
        pairs = under(glaze, records)
        looks = late_looks(pairs, defect)
        early = {
            (record.mark, area.number): record
            for record, area in pairs
            if (record.mark, area.number) in areas and not looks.tells(record, area)
        }
        if early:
            line = _line(glaze, list(early.values()), pairs, looks)
            needed = looks.needed_everywhere(each.body.name for each in early.values())
            found.append(Early(glaze, line, frozenset(early), needed))
    return found


def _line(glaze: str, early: list, pairs: list, late) -> str:
    """Which tiles to look at again, those without a day of firing apart, and why."""
    from diagnose.own_tiles.late_looks import looked_said, looked_until
    from tiles.records.spoken import some

    days = [looked_until(each) for each in early if each.firing and each.firing.fired_on]
    marks: dict[bool, dict[str, None]] = {True: {}, False: {}}
    for each in early:
        marks[bool(each.firing and each.firing.fired_on)][each.mark] = None
    told = {
        True: f"last looked at {looked_said(days)} ({late.tells_from})" if days else "",
        False: "of which no day of firing is on record",
    }
    which = [f"{some(list(marks[dated]))}, {told[dated]}" for dated in marks if marks[dated]]
    said = late.said.replace(late.defect, f"{late.defect} of {glaze}", 1)
    return (
        f"Look again at {', and at '.join(which)}: {said}{_of_those_that_tell(early, pairs, late)}."
    )


def _of_those_that_tell(early: list, pairs: list, late) -> str:
    """How many of the tiles that can tell show it, on each of the clays in question."""
    from diagnose.own_tiles.areas import failed_by_mark
    from diagnose.wording import DID
    from tiles.records.words import same_name

    parts = []
    for clay in sorted({each.body.name for each in early}):
        on_clay = (each for each in pairs if same_name(each[0].body.name, clay))
        tell = failed_by_mark((each for each in on_clay if late.tells(*each)), late.defect)
        if tell:
            failed = sum(tell.values()) or "none"
            parts.append(
                f"of {len(tell)} on {clay} looked at late enough {failed} {DID[late.defect]}"
            )
    return f"; {', '.join(parts)}" if parts else ""


def came_late_on_clay(late: Late, clay: str, defect: str) -> list:
    """The tiles of a clay that show a fault, whatever the glaze, where any did so late."""
    here = [row for row in late.seen[defect] if row[2] == clay]
    return late.of(sorted({mark for mark, *_ in here})) if _late_of(here) else []


def _late_of(seen: list) -> list:
    """Those rows of a fault that was seen later than at unloading, as far as is known."""
    from diagnose.measures.looks import UNLOADED_WITHIN_DAYS

    return [
        (*made, fired_on, seen_on)
        for *made, fired_on, seen_on in seen
        if fired_on is None or (seen_on - fired_on).days > UNLOADED_WITHIN_DAYS
    ]

"""Clean tiles of any glaze looked at before a fault shows on their clay, which there comes late."""

from dataclasses import dataclass


@dataclass(frozen=True)
class EarlyOnClay:
    """A line on the clean areas on a clay that a look was too early for, and which these are.

    ``needed`` is from how many days after the firing on a look at any of them tells.
    """

    body: str
    line: str
    areas: frozenset[tuple[str, int]]
    needed: int


def early_on_clays(session, found: list, told: list) -> list[EarlyOnClay]:
    """The clays on which own tiles showed a fault late, with the clean areas looked at before that.

    Parameters
    ----------
    session : Session
        The database.
    found : list of Found
        Those of the areas that answer it that are shown.
    told : list of Early
        What is told of their glazes: those areas are not told again.
    """
    from diagnose.own_tiles.late_looks import COMES_LATE
    from tiles.queries.days import days_looked

    named = frozenset().union(*(each.areas for each in told))
    clean = [each for each in found if each.clean and (each.mark, each.area) not in named]
    looked = days_looked(session) if clean else {}
    dated = [each for each in clean if each.mark in looked]
    return [each for fault in COMES_LATE for each in _of_fault(session, dated, looked, fault)]


def _of_fault(session, clean: list, looked: dict[str, int], defect: str) -> list[EarlyOnClay]:
    """Those of one fault; whole tiles are read only of clays it came late on."""
    from tiles.queries.days import days_seen
    from tiles.queries.search import natural_key

    seen = days_seen(session, defect) if clean else []
    found = []
    for clay in sorted({each.body for each in clean}, key=natural_key):
        late = _late_on(session, clay, seen, defect)
        if not late.seen_after:
            continue
        needed = late.needed_on(clay)
        early = {
            (each.mark, each.area): each.mark
            for each in clean
            if each.body == clay and looked[each.mark] < needed
        }
        if early:
            marks = list(dict.fromkeys(early.values()))
            line = _line(clay, marks, [looked[each] for each in marks], late)
            found.append(EarlyOnClay(clay, line, frozenset(early), needed))
    return found


def _late_on(session, clay: str, seen: list, defect: str):
    """How late a fault came on a clay, whatever the glaze."""
    from diagnose.own_tiles.areas import looked_at
    from diagnose.own_tiles.late_looks import late_looks
    from tiles.cli.find_early import came_late
    from tiles.records.reading import find_records

    here = [row for row in seen if row[2] == clay]
    marks = sorted({mark for mark, *_ in here}) if came_late(here) else []
    records = find_records(session, marks) if marks else []
    return late_looks(looked_at(records), defect)


def _line(clay: str, marks: list[str], days: list[int], late) -> str:
    """Which tiles to look at again, and why."""
    from diagnose.own_tiles.late_looks import looked_said
    from tiles.records.spoken import some

    said = late.said.replace(late.defect, f"{late.defect} on {clay}, whatever the glaze,", 1)
    return (
        f"Look again at {some(marks)}, last looked at {looked_said(days)} ({late.tells_from}): "
        f"{said}."
    )

"""Clean tiles of any glaze looked at before a fault shows on their clay, which there comes late."""

from dataclasses import dataclass


@dataclass(frozen=True)
class EarlyOnClay:
    """A line on the clean areas on a clay that a look was too early for, and which these are.

    ``needed`` is from how many days after the firing on a look at any of them tells. Where a single
    tile of the clay showed the fault late, that is said, and no area is looked at too early for it.
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
    from diagnose.own_tiles.areas import looked_at
    from diagnose.own_tiles.late_looks import late_looks
    from tiles.queries.days import days_seen
    from tiles.queries.search import natural_key

    seen = days_seen(session, defect) if clean else []
    found = []
    for clay in sorted({each.body for each in clean}, key=natural_key):
        late = late_looks(looked_at(_that_show_it(session, clay, seen)), defect)
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
            days = {each.mark: looked[each.mark] for each in clean if each.body == clay}
            line = _of_one(late, days, marks) if late.only else _line(clay, marks, days, late)
            areas = frozenset(() if late.only else early)
            found.append(EarlyOnClay(clay, line, areas, needed))
    return found


def _that_show_it(session, clay: str, seen: list) -> list:
    """The tiles of a clay that show a fault, whatever the glaze, where any did so late."""
    from tiles.cli.find_early import came_late
    from tiles.records.reading import find_records

    here = [row for row in seen if row[2] == clay]
    marks = sorted({mark for mark, *_ in here}) if came_late(here) else []
    return find_records(session, marks) if marks else []


def _of_one(late, days: dict[str, int], early: list[str]) -> str:
    """That a single tile of a clay showed a fault late, and how many others were looked at so."""
    from diagnose.wording import sentence

    as_late, many = len(days) - len(early), len(days)
    here = f"{many} clean tile{'' if many == 1 else 's'}"
    looked = f"{as_late or 'none'} {'was' if as_late < 2 else 'were'} looked at about as late"
    return sentence(
        f"{late.only.said(late.defect)}. Of {here} there with a day of firing {looked}."
    )


def _line(clay: str, marks: list[str], days: dict[str, int], late) -> str:
    """Which tiles to look at again, and why."""
    from diagnose.own_tiles.late_looks import looked_said
    from tiles.records.spoken import some

    said = late.said.replace(late.defect, f"{late.defect} on {clay}, whatever the glaze,", 1)
    when = looked_said(days[each] for each in marks)
    return f"Look again at {some(marks)}, last looked at {when} ({late.tells_from}): {said}."

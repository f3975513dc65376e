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


def early_on_clays(session, late, found: list, told: list) -> list[EarlyOnClay]:
    """The clays on which own tiles showed a fault late, with the clean areas looked at before that.

    Parameters
    ----------
    session : Session
        The database.
    late : Late
        What came late on these areas or more.
    found : list of Found
        Those of the areas that answer it that are shown.
    told : list of Early
        What is told of their glazes: those areas are not told again.
    """
    from tiles.queries.days import days_looked

    named = frozenset().union(*(each.areas for each in told))
    clean = [each for each in found if each.clean and (each.mark, each.area) not in named]
    looked = days_looked(session) if clean else {}
    dated = [each for each in clean if each.mark in looked]
    return [each for fault in late.seen for each in _of_fault(late, dated, looked, fault)]


def _of_fault(known, clean: list, looked: dict[str, int], defect: str) -> list[EarlyOnClay]:
    """Those of one fault; ``known`` is what came late."""
    from diagnose.own_tiles.areas import looked_at
    from diagnose.own_tiles.late_looks import late_looks
    from tiles.cli.find_early import came_late_on_clay
    from tiles.records.mark_looks import natural_key

    found = []
    for clay in sorted({each.body for each in clean}, key=natural_key):
        late = late_looks(looked_at(came_late_on_clay(known, clay, defect)), defect)
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

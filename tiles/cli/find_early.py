"""Clean tiles that were looked at too early to tell of a fault that came late on their glaze."""

from dataclasses import replace


def too_early(session, search, found: list) -> list[str]:
    """One line for each glaze of clean areas that may yet show what others of it showed late.

    Parameters
    ----------
    session : Session
        The database.
    search : Search
        What was asked.
    found : list of Found
        The areas that answer it.
    """
    from diagnose.late_looks import COMES_LATE

    clean = [each for each in found if each.clean]
    return [line for defect in COMES_LATE for line in _of_fault(session, search, clean, defect)]


def _of_fault(session, search, clean: list, defect: str) -> list[str]:
    """The lines of one fault; whole tiles are read only of glazes on which it came late."""
    from diagnose.late_looks import late_looks
    from diagnose.own_areas import under
    from tiles.queries.search import Search, records_of
    from tiles.records.spoken import some

    areas = {(each.mark, each.area) for each in clean}
    names = {name for each in clean for name in each.glazes}
    lines = []
    for glaze in sorted(names & _came_late(session, defect) if names else ()):
        failed = records_of(session, Search(defect=defect, glazes=(glaze,)))
        late = late_looks(under(glaze, failed), defect)
        if not late.needed:
            continue
        records = records_of(session, replace(search, glazes=(*search.glazes, glaze)))
        early = [
            record.mark
            for record, area in under(glaze, records)
            if (record.mark, area.number) in areas and not late.tells(record, area)
        ]
        if early:
            lines.append(
                f"Look again at {some(list(dict.fromkeys(early)))}, last looked at within "
                f"{late.needed} days: half of the {defect} of {glaze} was seen {late.seen_after} "
                "days after the firing or later."
            )
    return lines


def _came_late(session, defect: str) -> set[str]:
    """The glazes on tiles on which it was seen later than at unloading, as far as is known."""
    from diagnose.measures_looks import UNLOADED_WITHIN_DAYS
    from tiles.queries.search import days_seen

    return {
        glaze
        for glaze, fired_on, seen_on in days_seen(session, defect)
        if fired_on is None or (seen_on - fired_on).days > UNLOADED_WITHIN_DAYS
    }

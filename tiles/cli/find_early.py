"""Clean tiles that were looked at too early to tell of a fault that came late on their glaze."""

MOST_GLAZES = 3
"""Of so many glazes the tiles are named; a longer list would bury them."""


def too_early(session, found: list) -> list[str]:
    """A line for each glaze of clean areas that may yet show what others of it showed late.

    Parameters
    ----------
    session : Session
        The database.
    found : list of Found
        Those of the areas that answer it that are shown.
    """
    from diagnose.own_tiles.late_looks import COMES_LATE

    clean = [each for each in found if each.clean]
    told = [line for fault in COMES_LATE for line in _of_fault(session, clean, fault)]
    lines = [line for _glaze, line in told[:MOST_GLAZES]]
    if more := list(dict.fromkeys(glaze for glaze, _line in told[MOST_GLAZES:])):
        from tiles.records.spoken import some

        lines.append(f"Look again at tiles of {some(more)}, too: --glaze NAME tells which.")
    return lines


def _of_fault(session, clean: list, defect: str) -> list[tuple[str, str]]:
    """Glazes and their lines for one fault; whole tiles are read only of glazes it came late on."""
    from diagnose.own_tiles.areas import under
    from diagnose.own_tiles.late_looks import late_looks
    from tiles.queries.days import days_seen
    from tiles.queries.search import natural_key
    from tiles.records.reading import find_records

    names = {name for each in clean for name in each.glazes}
    seen = days_seen(session, defect) if names else []
    names &= _came_late(seen)
    if not names:
        return []
    areas = {(each.mark, each.area) for each in clean if names & {*each.glazes}}
    marks = {mark for mark, _area in areas} | {
        mark for mark, glaze, *_days in seen if glaze in names
    }
    records = find_records(session, sorted(marks, key=natural_key))
    lines = []
    for glaze in sorted(names, key=natural_key):
        pairs = under(glaze, records)
        late = late_looks(pairs, defect)
        early = [
            record
            for record, area in pairs
            if (record.mark, area.number) in areas and not late.tells(record, area)
        ]
        if early:
            lines.append((glaze, _line(glaze, early, late)))
    return lines


def _line(glaze: str, early: list, late) -> str:
    """Which tiles to look at again, those without a day of firing apart, and why."""
    from tiles.records.spoken import some

    marks: dict[bool, dict[str, None]] = {True: {}, False: {}}
    for each in early:
        marks[bool(each.firing and each.firing.fired_on)][each.mark] = None
    told = {
        True: f"last looked at within {late.needed} days of the firing",
        False: "of which no day of firing is on record",
    }
    which = [f"{some(list(marks[dated]))}, {told[dated]}" for dated in marks if marks[dated]]
    return (
        f"Look again at {', and at '.join(which)}: half of the {late.defect} of {glaze} was seen "
        f"{late.seen_after} days after the firing or later."
    )


def _came_late(seen: list) -> set[str]:
    """The glazes on tiles on which a fault was seen later than at unloading, as far as is known."""
    from diagnose.measures.looks import UNLOADED_WITHIN_DAYS

    return {
        glaze
        for _mark, glaze, fired_on, seen_on in seen
        if fired_on is None or (seen_on - fired_on).days > UNLOADED_WITHIN_DAYS
    }

"""``tiles next`` of a whole studio where a whole load failed: one step for all of its tiles."""

from dataclasses import replace

OVER = "whole load"
"""The state of a load whose like came out since."""


def by_load(asked: list, trials: list, studio: tuple) -> list:
    """The open faults; what a load that failed as a whole shows is one, apart from all glazes.

    Only where that load is the first suspect, and so of the tile that is asked about for it.

    Parameters
    ----------
    asked : list of Asked
        The open faults, one for each glaze.
    trials : list of TileRecord
        Those that were looked at.
    studio : tuple
        What `next_of` wants: what is owned, every tile, the database, the counts over all glazes.
    """
    for defect in dict.fromkeys(each.fault.defect for each in asked):
        of_defect = [each for each in asked if each.fault.defect == defect]
        load = _load_of(of_defect, studio)
        found = load and _as_one(of_defect, load, trials, studio)
        if found:
            kept = [_but_load(each, load, trials) for each in of_defect]
            rest = [each for each in asked if each not in of_defect]
            asked = [found, *filter(None, kept), *rest]
    return asked


def look_into(each, left: int) -> None:
    """The state of the fault of a load, and its one tile where there is room."""
    from tiles.cli.next_studio import FIRE, LEFT

    if each.found.load.is_over:
        each.state = OVER
    else:
        each.trials = each.found.trials[:left]
        each.state = FIRE if each.trials else LEFT


def is_told_beside(each, asked: list) -> bool:
    """Whether the trials of another fault on fire test what all its tiles failed by, for all.

    A bisque or a clay that fails whatever the glaze is tried on one of them.
    """
    from tiles.cli.next_studio import FIRE

    return any(
        one.state == FIRE
        and one.defect == each.defect
        and one.count is not None
        and one.count.fails_together
        and _tests(one)
        and all(_is_on(one.count, each.defect, record) for record in each.fault.failed)
        for one in asked
        if one is not each and each.count is None
    )


def _is_on(count, defect: str, record) -> bool:
    from tiles.records.derived import shows

    failed = (area.number for area in record.areas if shows(record, area, defect))
    return all(count.holds_of(record, number) for number in failed)


def _tests(each) -> bool:
    """Whether one of its trials lies on the other side of its count."""
    from tiles.records import forms

    trials = (one.tile | {"mark": "-"} for one in each.trials if not one.is_control)
    return any(not each.count.holds_of(forms.read(forms.TileRecord, one, "-"), 1) for one in trials)


def head(each) -> str:
    """Its counts, that the load goes before any glaze, and how the like of its tiles did."""
    from diagnose.own_tiles.load_or_make import came_out

    again = came_out(each.count.of_load.again, "these", each.defect)
    first = "So first suspect the load, not how its tiles are made."
    return " ".join(filter(None, (each.found.load.say, first, again)))


def _load_of(of_defect: list, studio: tuple):
    """The load of some faults that failed as a whole; counted only where it well may have."""
    from diagnose.own_tiles.load import that_may_have_failed
    from tiles.records.words import OTHER_FAULT

    _owned, records, _db, count_of = studio
    defect = of_defect[0].fault.defect
    failed = {
        (record.mark, each.fault.name): record for each in of_defect for record in each.fault.failed
    }
    glazes = [(record, name) for (_mark, name), record in failed.items()]
    if defect == OTHER_FAULT or not that_may_have_failed(glazes, records):
        return None
    return count_of(defect).load


def _as_one(of_defect: list, load, trials: list, studio: tuple):
    """All that failed in a load as one open fault, with the tile that is asked about for it."""
    from diagnose.next_tiles.open_faults import OpenFault
    from diagnose.trials.tried import is_control
    from tiles.cli.next_of import next_of
    from tiles.cli.next_studio import Asked, cone_of

    marks = _of_load_alone(load)
    failed = [one for each in of_defect for one in each.fault.failed if one.mark in marks]
    waiting = [one for each in of_defect for one in each.fault.waiting if one.trial_of in marks]
    waiting = {each.mark: each for each in waiting if is_control(each)}
    if not failed:
        return None
    fault = OpenFault(
        f"firing {load.of_load.firing}",
        of_defect[0].fault.defect,
        failed=list({each.mark: each for each in failed}.values()),
        tiles=load.here[1],
        waiting=list(waiting.values()),
        is_of_load=True,
    )
    first = fault.record(trials)
    # What one of them tells by itself need not hold for another.
    other = fault.record(trials, {first.mark})
    for record in [first, *([other] if other is not first else [])]:
        _diagnosis, found = next_of(record, fault.defect, *studio)
        if found.is_of_load:
            return Asked(fault, record, cone_of(record), found=found, count=load)
    return None


def _of_load_alone(load) -> list[str]:
    """The tiles that failed in a load, but for those whose like failed in other loads as well."""
    from diagnose.own_tiles.load_or_make import fails_anywhere

    found = load.of_load
    return [each for each in found.marks if not fails_anywhere(each, found.again)]


def _but_load(each, load, trials: list):
    """A fault of a glaze without the tiles of a load; None where no other shows it."""
    from tiles.cli.next_studio import cone_of

    marks, fault = _of_load_alone(load), each.fault
    failed = [one for one in fault.failed if one.mark not in marks]
    if not failed:
        return None
    if len(failed) == len(fault.failed):
        return each
    own = {one.mark for one in failed}
    fault = replace(
        fault,
        failed=failed,
        tiles=fault.tiles - (len(fault.failed) - len(failed)),
        waiting=[one for one in fault.waiting if one.trial_of in own],
        but_load=load.of_load.firing,
    )
    record = fault.record(trials)
    return replace(each, fault=fault, record=record, cone=cone_of(record))

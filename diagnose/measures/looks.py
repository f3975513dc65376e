"""Measures of the looks: how bad the defect is, and when it was first seen."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.measures.application import Reading
from diagnose.view import View, severity_step, sightings
from tiles.records.words import SEVERITIES

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, InspectionRecord

UNLOADED_WITHIN_DAYS = 3
"""A first look this soon after the firing date is taken for the unloading (estimate)."""


def read(view: View) -> Iterator[Reading]:
    """How bad the defect is on the area at its worst; and when it was first seen there."""
    yield from _how_bad(view)
    yield from _first_seen(view)


def _how_bad(view: View) -> Iterator[Reading]:
    here = None, view.area and view.area.number
    seen = [each for each in sightings(view.record, view.defect) if each.area in here]
    worst = max((severity_step(each) or 0 for each in seen), default=0)
    if worst:
        yield "severity", SEVERITIES[worst - 1], f"logged as {SEVERITIES[worst - 1]}"


def _first_seen(view: View) -> Iterator[Reading]:
    """Days from the firing to the first sight of the defect on the area, where that can be known.

    A defect found at the first look, long after the firing, may have been there all along: then
    only the days nobody looked are given.
    """
    looks = sorted(view.record.inspections, key=lambda look: look.inspected_on)
    first = next((look for look in looks if saw(look, view.area, view.defect)), None)
    if first is None:
        return
    sound_before = [look for look in looks if look.inspected_on < first.inspected_on]
    fired_on = view.record.firing.fired_on if view.record.firing else None
    if sound_before:
        start = fired_on or sound_before[0].inspected_on
        days = (first.inspected_on - start).days
        if days < 0:  # a firing dated after the look: one of the dates is wrong
            return
        last = sound_before[-1].inspected_on
        said = f"first seen {_days(days)} after the firing, not there when looked at on {last}"
        if fired_on is None:
            said = f"first seen {_days(days)} after a look on {start} that did not find it"
        yield "days_to_first_seen", days, said
    elif fired_on is not None:
        days = (first.inspected_on - fired_on).days
        if 0 <= days <= UNLOADED_WITHIN_DAYS:
            yield "days_to_first_seen", days, f"seen at unloading, {_days(days)} after the firing"
        elif days > 0:
            said = f"there at the first look, {_days(days)} after the firing; nobody looked before"
            yield "days_before_first_look", days, said


def saw(look: "InspectionRecord", area: "AreaRecord | None", defect: str | None) -> bool:
    """Whether a look saw the defect on an area, or on the tile without naming one."""
    number = area.number if area else None
    return any(seen.defect == defect and seen.area in (None, number) for seen in look.defects)


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"

"""Whether an area with as much glaze as is usual failed as well, beside the one looked at."""

from collections.abc import Iterator

from diagnose.measures_application import Reading
from diagnose.view import View, sightings
from tiles.records.words import name_key

USUAL_COATS, USUAL_CLEAR = 3, 2
"""Brush coats of a glaze, and of a clear (common practice, as in ``fix_steps_coat``)."""
USUAL_MM = 0.5
"""The least that is usual of a dry coat. [mm]"""


def read(view: View) -> Iterator[Reading]:
    """The thickest other area of the same layers that failed, where its coat was a usual one."""
    if view.defect is None or view.top is None:
        return
    seen = {each.area for each in sightings(view.record, view.defect)}
    for area in reversed(view.record.areas):
        other = View(view.record, area)
        if area is view.area or _names(other) != _names(view) or area.number not in seen:
            continue
        if said := _usual_coat(other):
            yield "usual_coat_fails_too", "yes", f"area {area.number} with {said} has it too"
            return


def _names(view: View) -> list[str]:
    return [name_key(layer.glaze.name) for layer in view.layers]


def _usual_coat(view: View) -> str:
    """Its coat in words where there is as much of it as is usual, else empty."""
    top = view.top
    if top.thickness_mm is not None:
        return f"{top.thickness_mm:g} mm" if top.thickness_mm >= USUAL_MM else ""
    if top.coats is None or top.method not in (None, "brush"):
        return ""
    usual = USUAL_CLEAR if top.glaze.finish == "clear" else USUAL_COATS
    return f"{top.coats} coats" if top.coats >= usual else ""

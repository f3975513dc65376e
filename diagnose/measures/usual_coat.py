"""Whether an area with as much glaze as is usual failed as well, beside the one looked at."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.measures.application import Reading
from diagnose.measures.names import is_clear
from diagnose.view import View, sightings
from tiles.chemistry.slip import LEAST_COAT_MM

if TYPE_CHECKING:
    from tiles.records.forms import GlazeRecord

USUAL_COATS, USUAL_CLEAR, USUAL_DIPS = 3, 2, 1
"""Three brush coats of glaze are usual (walkerceramics.com.au, read), two of a clear and one dip
or pour of any (common practice)."""


def read(view: View) -> Iterator[Reading]:
    """The thickest other area of the same layers that failed, where its coat was a usual one."""
    if view.defect is None or view.top is None:
        return
    seen = {each.area for each in sightings(view.record, view.defect)}
    for area in reversed(view.record.areas):
        other = View(view.record, area)
        if area is view.area or other.stack != view.stack or area.number not in seen:
            continue
        if said := usual_coat(other):
            yield "usual_coat_fails_too", "yes", f"area {area.number} with {said} has it too"
            return


def usual_coat(view: View) -> str:
    """Its coat in words where there is as much of it as is usual, else empty."""
    top = view.top
    if top.thickness_mm is not None:
        return f"{top.thickness_mm:g} mm" if top.thickness_mm >= LEAST_COAT_MM else ""
    if top.coats is None or top.method not in (None, "brush"):
        return ""
    return f"{top.coats} coats" if top.coats >= usual_coats(top.glaze) else ""


def usual_coats(glaze: "GlazeRecord", method: str | None = None) -> int:
    """How many coats of a glaze are usual, put on so: brushed where that is not recorded."""
    if method in ("dip", "pour"):
        return USUAL_DIPS
    return USUAL_CLEAR if is_clear(glaze) else USUAL_COATS

"""Areas of own tiles that were looked at, by what lies on them: whatever is counted starts here.

Given the fault that is counted, or none of them all, areas of which nothing was seen but that they
are in pieces are left out: they could not have shown it. Under `OTHER_FAULT`, all are there.
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from diagnose.colour_layer import judged
from diagnose.view import View
from tiles.records.derived import shows
from tiles.records.gone import is_in_pieces
from tiles.records.words import OTHER_FAULT, same_name

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord

    Looked = tuple[TileRecord, AreaRecord]


def looked_at(records: "Iterable[TileRecord]", defect: str | None = None) -> "Iterator[Looked]":
    """Each area of the inspected tiles, with its tile."""
    for record in records:
        for area in record.areas if record.inspections else ():
            if defect == OTHER_FAULT or not is_in_pieces(record, area):
                yield record, area


def under(glaze: str, records: "Iterable[TileRecord]", defect: str | None = None) -> "list[Looked]":
    """Those whose uppermost glaze this is: the ones that tell how the glaze did."""
    return [each for each in looked_at(records, defect) if same_name(View(*each).glaze_name, glaze)]


def judged_as(glaze: str, records: "Iterable[TileRecord]", defect: str) -> "list[Looked]":
    """Those of which a fault lies in this glaze: of a colour under a clear it is the colour."""
    return [
        (record, area)
        for record, area in looked_at(records, defect)
        if same_name(judged(View(record, area, defect)).glaze_name, glaze)
    ]


def with_layer(
    glaze: str, records: "Iterable[TileRecord]", defect: str | None = None
) -> "list[Looked]":
    """Those with this glaze in any layer: the ones a person who asks for the glaze has in mind."""
    return [
        (record, area)
        for record, area in looked_at(records, defect)
        if any(same_name(layer.glaze.name, glaze) for layer in area.layers)
    ]


def failed_by_mark(areas: "Iterable[Looked]", defect: str) -> dict[str, bool]:
    """Each tile of some areas by its mark, and whether any of these shows the fault.

    Areas of one tile are no two witnesses.
    """
    found: dict[str, bool] = {}
    for record, area in areas:
        found[record.mark] = found.get(record.mark, False) or shows(record, area, defect)
    return found

"""Records as the flat form can tell them, to be compared."""

from tiles.records import forms
from tiles.records.clues import clues


def with_one_place(record: forms.TileRecord) -> forms.TileRecord:
    """The record with tile and area told apart only where there is something to tell apart.

    That a clay or glaze is retired stands in no row: it says nothing of the tile.
    """
    record = record.model_copy(deep=True)
    glazes = [layer.glaze for area in record.areas for layer in area.layers]
    for each in (record.body, *glazes):
        each.is_retired = False
    for area in record.areas:
        told = record.clues | area.clues
        area.clues = {k: v for k, v in told.items() if clues()[k].about == "area"}
        if len(record.areas) == 1:
            record.clues = {k: v for k, v in told.items() if clues()[k].about == "tile"}
    for look in record.inspections:
        look.defects.sort(key=lambda seen: (seen.area or 0, seen.defect))
        for seen in look.defects:
            seen.area = seen.area if len(record.areas) > 1 else None
    return record

"""A blank of a record filled in on a copy, so that every measure is read as if it were recorded.

Questions and notes both use it. The record itself is never changed, and nothing is stored.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.view import View, area_of
from tiles.records.clues import clues

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord


@dataclass(frozen=True)
class Field:
    """Where a value stands in a record: on the tile, its firing, the area or its top layer."""

    place: str
    name: str


FIELDS = {
    "bisque_cone": Field("tile", "bisque_cone"),
    "cone_reached": Field("tile", "cone_reached"),
    "stood": Field("tile", "stood"),
    "hold_min": Field("firing", "hold_min"),
    "rate_c_per_h": Field("firing", "rate_c_per_h"),
    "opened_c": Field("firing", "opened_c"),
    "atmosphere": Field("firing", "atmosphere"),
    "surface": Field("area", "surface"),
    "coats": Field("layer", "coats"),
    "thickness_mm": Field("layer", "thickness_mm"),
    "fired_thickness_mm": Field("layer", "fired_thickness_mm"),
    "method": Field("layer", "method"),
    "applied_on": Field("layer", "applied_on"),
    "beneath": Field("layer", "beneath"),
    "finish": Field("glaze", "finish"),
    "revived": Field("batch", "is_revived"),
    "dry_portion": Field("batch", "dry_portion"),
    "specific_gravity": Field("batch", "specific_gravity"),
    "absorption_pct": Field("body", "absorption_pct"),
}
"""Fields that a question or a note may fill, by name."""
OF_THE_TILE = ("tile", "area", "layer")
"""Places that belong to the one tile; the others are shared with further tiles."""


def is_shared(name: str) -> bool:
    """Whether the fact belongs to a firing, glaze, batch or body that other tiles share."""
    return name in FIELDS and FIELDS[name].place not in OF_THE_TILE


def filled(
    record: "TileRecord", area_number: int | None, name: str, value: object
) -> "TileRecord | None":
    """A copy of the record with one blank filled in.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    area_number : int or None
        The area that a clue or layer field is about.
    name : str
        A clue, or a key of `FIELDS`.
    value : object
        The answer, of the field's own type.

    Returns
    -------
    TileRecord or None
        None when it is recorded already, or there is no such layer to hold it.
    """
    if name in clues():
        return _with_clue(record, area_number, name, value)
    field = FIELDS[name]
    if field.place == "tile":
        return _changed(record, field.name, value)
    if field.place in ("firing", "body"):
        changed = _changed(_part(record, field.place), field.name, value)
        return changed and record.model_copy(update={field.place: changed})
    area = area_of(record, area_number)
    if area is None:
        return None
    if field.place == "area":
        changed = _changed(area, field.name, value)
    else:
        changed = _in_layer(record, area, field, value)
    return changed and _with_area(record, changed)


def is_filled(record: "TileRecord", area_number: int | None, name: str) -> bool:
    """Whether the record has an answer in this field or clue already."""
    if name in clues():
        area = area_of(record, area_number)
        return name in record.clues or bool(area and name in area.clues)
    area = area_of(record, area_number)
    owner = {
        "tile": record,
        "area": area,
        "layer": View(record, area).top,
        "firing": record.firing,
        "body": record.body,
    }
    place = FIELDS[name].place
    if place in ("glaze", "batch"):
        top = owner["layer"]
        holder = top and getattr(top, place)
    else:
        holder = owner[place]
    return holder is not None and getattr(holder, FIELDS[name].name) is not None


def _changed(part, name: str, value: object):
    return None if getattr(part, name) is not None else part.model_copy(update={name: value})


def _part(owner, place: str):
    """The firing, body, glaze or batch; an unnamed one where none was recorded."""
    from tiles.records import forms

    blank = {"firing": forms.FiringRecord, "batch": forms.BatchRecord}
    return getattr(owner, place) or blank[place].model_construct(name="")


def _in_layer(record, area: "AreaRecord", field: Field, value: object) -> "AreaRecord | None":
    top = View(record, area).top
    if top is None:
        return None
    if field.place == "layer":
        changed = _changed(top, field.name, value)
    else:
        inner = _changed(_part(top, field.place), field.name, value)
        changed = inner and top.model_copy(update={field.place: inner})
    layers = [changed if layer is top else layer for layer in area.layers]
    return changed and area.model_copy(update={"layers": layers})


def _with_area(record: "TileRecord", changed: "AreaRecord") -> "TileRecord":
    areas = [changed if area.number == changed.number else area for area in record.areas]
    return record.model_copy(update={"areas": areas})


def _with_clue(record, area_number: int | None, name: str, answer: object):
    area = area_of(record, area_number)
    if name in record.clues or (area and name in area.clues):
        return None
    if clues()[name].about == "area" and area is not None:
        changed = area.model_copy(update={"clues": area.clues | {name: answer}})
        return _with_area(record, changed)
    return record.model_copy(update={"clues": record.clues | {name: answer}})

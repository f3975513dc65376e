"""A blank of a record filled in on a copy, so that every measure is read as if it were recorded.

Questions and notes both use it. The record itself is never changed, and nothing is stored.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.view import View, area_of, seen_from
from tiles.records.clues import clues

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, LayerRecord, TileRecord


@dataclass(frozen=True)
class Field:
    """Where a value stands in a record: on the tile, its firing, the area, its top layer.

    Or on the colour next under that (``"colour"``).
    """

    place: str
    name: str


FIELDS = {
    "bisque_cone": Field("tile", "bisque_cone"),
    "cone_reached": Field("tile", "cone_reached"),
    "stood": Field("tile", "stood"),
    "shelf": Field("tile", "shelf"),
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
    "colour_applied_on": Field("colour", "applied_on"),
    "finish": Field("glaze", "finish"),
    "revived": Field("batch", "is_revived"),
    "dry_portion": Field("batch", "dry_portion"),
    "specific_gravity": Field("batch", "specific_gravity"),
    "absorption_pct": Field("body", "absorption_pct"),
    "body_colour": Field("body", "colour"),
}
"""Fields that a question or a note may fill, by name."""
OF_THE_TILE = ("tile", "area", "layer", "colour")
"""Places that belong to the one tile; the others are shared with further tiles."""


def is_shared(name: str) -> bool:
    """Whether the fact belongs to a firing, glaze, batch or body that other tiles share."""
    return name in FIELDS and FIELDS[name].place not in OF_THE_TILE


def is_of_layer(name: str) -> bool:
    """Whether the fact is held by the uppermost layer, its glaze or its batch."""
    return name in FIELDS and FIELDS[name].place in ("layer", "glaze", "batch")


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
    if is_filled(record, area_number, name):
        return None
    area = area_of(record, area_number)
    if name in clues():
        return _with_clue(record, area, name, value)
    place, new = FIELDS[name].place, {FIELDS[name].name: value}
    if place == "tile":
        return record.model_copy(update=new)
    if place in ("firing", "body"):
        return record.model_copy(update={place: _part(record, place).model_copy(update=new)})
    if area is None:
        return None
    if place == "area":
        return _with_area(record, area.model_copy(update=new))
    view = View(record, area)
    holder = _colour(view) if place == "colour" else view.top
    if holder is None:
        return None
    if place not in ("layer", "colour"):
        new = {place: _part(holder, place).model_copy(update=new)}
    layers = [each.model_copy(update=new) if each is holder else each for each in area.layers]
    return _with_area(record, area.model_copy(update={"layers": layers}))


def is_filled(record: "TileRecord", area_number: int | None, name: str) -> bool:
    """Whether the record has an answer in this field or clue already."""
    view = seen_from(record, area_number)
    if name in clues():
        return name in view.clues
    place = FIELDS[name].place
    if place in ("glaze", "batch"):
        holder = view.top and getattr(view.top, place)
    elif place in ("firing", "body"):
        holder = getattr(record, place)
    else:
        holder = {
            "tile": record,
            "area": view.area,
            "layer": view.top,
            "colour": _colour(view),
        }[place]
    return holder is not None and getattr(holder, FIELDS[name].name) is not None


def _colour(view: View) -> "LayerRecord | None":
    return view.colours[-1] if view.colours else None


def _part(owner, place: str):
    """The firing, body, glaze or batch; an unnamed one where none was recorded."""
    from tiles.records import forms

    blank = {"firing": forms.FiringRecord, "batch": forms.BatchRecord}
    return getattr(owner, place) or blank[place].model_construct(name="")


def _with_area(record: "TileRecord", changed: "AreaRecord") -> "TileRecord":
    areas = [changed if area.number == changed.number else area for area in record.areas]
    return record.model_copy(update={"areas": areas})


def _with_clue(
    record: "TileRecord", area: "AreaRecord | None", name: str, answer: object
) -> "TileRecord":
    """On the area where the clue is about one, else on the tile."""
    if clues()[name].about == "area" and area is not None:
        return _with_area(record, area.model_copy(update={"clues": area.clues | {name: answer}}))
    return record.model_copy(update={"clues": record.clues | {name: answer}})

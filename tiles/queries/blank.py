"""Tiles of which something that most answers rest on is not recorded."""

from collections.abc import Callable

from sqlalchemy import exists
from sqlalchemy.sql import ColumnElement

from tiles.records import derived, models
from tiles.records.forms import TileRecord

BLANK: dict[str, Callable[[TileRecord], bool]] = {
    "firing": lambda record: record.firing is None,
    "shelf": lambda record: record.shelf is None,
    "cone reached": lambda record: derived.cone_reached(record) is None,
    "bisque cone": lambda record: derived.bisque_cone(record) is None,
    "coats": lambda record: any(x.coats is None for x in derived.layers_of(record)),
    "thickness": lambda record: any(
        each.thickness_mm is None for each in derived.layers_of(record)
    ),
}
"""By its name whether it is not recorded of a tile, or of any layer on it."""


def is_blank(name: str, reached: ColumnElement, bisque: ColumnElement) -> ColumnElement[bool]:
    """SQL for the areas of which it is not recorded; of a layer, of any on the area.

    Parameters
    ----------
    name : str
        One of `BLANK`.
    reached, bisque : ColumnElement
        SQL for the cone a tile reached, and for that of its bisque.
    """
    tile, layer = models.Tile, models.Layer
    columns = {
        "firing": tile.firing_id,
        "shelf": tile.shelf,
        "cone reached": reached,
        "bisque cone": bisque,
    }
    if name in columns:
        return columns[name].is_(None)
    of_layer = {"coats": layer.coats, "thickness": layer.thickness_mm}[name]
    return exists().where(layer.area_id == models.Area.area_id, of_layer.is_(None))

"""Tile records from a frame in the flat form, as the learner's tests and the benches make it."""

from typing import TYPE_CHECKING

from tiles.exchange.flat_build import Builder, Row
from tiles.exchange.flat_cells import is_blank, read_cell
from tiles.exchange.flat_columns import by_name
from tiles.records.forms import TileRecord
from tiles.records.words import name_key

if TYPE_CHECKING:
    import pandas as pd


def records_from_frame(frame: "pd.DataFrame") -> list[TileRecord]:
    """The tiles of a frame; rows of one mark are one tile, each without a mark one of its own."""
    groups: dict[object, list[Row]] = {}
    for place, row in enumerate(_rows(frame)):
        mark = row.cells.get("mark")
        groups.setdefault(place if mark is None else name_key(mark), []).append(row)
    builder = Builder(is_strict=False)
    return [builder.tile(group) for group in groups.values()]


def row_records(frame: "pd.DataFrame") -> list[TileRecord]:
    """One record for each row, holding that area alone: rows of a tile need not agree."""
    builder = Builder(is_strict=False)
    return [builder.tile([row]) for row in _rows(frame)]


def _rows(frame: "pd.DataFrame") -> list[Row]:
    columns = {name: by_name()[name] for name in frame.columns}
    return [
        Row({k: read_cell(columns[k], v) for k, v in cells.items() if not is_blank(v)}, label)
        for label, cells in zip(frame.index, frame.to_dict("records"), strict=True)
    ]

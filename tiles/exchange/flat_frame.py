"""Tile records to and from a pandas data frame in the flat form."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tiles.errors import InvalidValue, TilesError, UnknownName, nearest
from tiles.exchange.flat_build import Builder, Row
from tiles.exchange.flat_cells import is_blank, read_cell
from tiles.exchange.flat_columns import FAULT_WORDS, REASON, by_name, columns
from tiles.exchange.flat_spread import spread
from tiles.records import forms
from tiles.records.words import name_key

if TYPE_CHECKING:
    import pandas as pd


def read_frame(file: Path) -> "pd.DataFrame":
    """A flat CSV file as a frame, unchecked, with every column as text: a cone stays ``05``.

    A later look is a row of its own: count tiles by their marks. One row for each area, as it
    came out in the end, has ``frame_from_records(records_from_frame(frame))``.
    """
    import pandas as pd

    return pd.read_csv(file, dtype=str, encoding="utf-8-sig", sep=None, engine="python")


def records_from_frame(frame: "pd.DataFrame") -> list[forms.TileRecord]:
    """The tiles of a frame, in the order of their first rows.

    Parameters
    ----------
    frame : pandas.DataFrame
        One row for each area of a tile; any of the columns of
        :func:`tiles.exchange.flat_csv.columns`. What is not known is None, NaN or blank. Rows of
        one mark are one tile. Without a mark each row is a tile of its own.

    Returns
    -------
    list of TileRecord
        A body or glaze without a name is called ``not recorded``.

    Raises
    ------
    InvalidValue, UnknownName
        The first cell that cannot be right, with its row (the frame's index) and column; or rows
        of one tile that do not agree.
    """
    rows = checked_rows(frame)
    groups: dict[Any, list[Row]] = {}
    for place, row in enumerate(rows):
        mark = row.cells.get("mark")
        groups.setdefault(place if mark is None else name_key(mark), []).append(row)
    builder = Builder(is_strict=False)
    return [builder.tile(group) for group in groups.values()]


def row_records(frame: "pd.DataFrame") -> list[forms.TileRecord]:
    """One record for each row, holding that area alone: as :func:`records_from_frame`.

    Rows stand for themselves, so the rows of a tile need not agree.
    """
    builder = Builder(is_strict=False)
    return [builder.tile([row]) for row in checked_rows(frame)]


def checked_rows(frame: "pd.DataFrame") -> list[Row]:
    """The filled cells of each row, checked; each different value of a column just once."""
    rows = [Row({}, label) for label in frame.index]
    for name in frame.columns:
        if name in (REASON, FAULT_WORDS):
            continue
        if name not in by_name():
            close = nearest(str(name), by_name())
            hint = f"{close!r}." if close else "one of tiles.exchange.flat_csv.columns()."
            raise UnknownName(f"the frame has a column {name!r}, which is not known.", hint)
        filled = frame[name].notna().to_numpy()
        values = frame[name].to_numpy(dtype=object)[filled]
        _read_column(name, values, [row for row, is_filled in zip(rows, filled, strict=True)
                                    if is_filled])  # fmt: skip
    return rows


def _read_column(name: str, values: Sequence[Any], rows: list[Row]) -> None:
    column, known = by_name()[name], {}
    for value, row in zip(values, rows, strict=True):
        if value not in known:
            try:
                known[value] = None if is_blank(value) else read_cell(column, value)
            except TilesError as error:
                message = f"{error.message.rstrip('.')} (row {row.number}, column {name})."
                raise InvalidValue(
                    message, error.hint, field=name, value=value, row=row.number
                ) from error
        if known[value] is not None:
            row.cells[name] = known[value]


def frame_from_records(records: Iterable[forms.TileRecord]) -> "pd.DataFrame":
    """Tiles as a frame with every flat column: numbers as floats, all else text, blanks NaN.

    Notes
    -----
    One row stands for all looks at an area, the worst of what they saw and the day of the last.
    What the flat form cannot carry is left out; see ``flat_csv.not_carried``.
    """
    import numpy as np
    import pandas as pd

    rows = [row for record in records for row in spread(record)]
    data = {}
    for column in columns():
        values = [row.get(column.name) for row in rows]
        if column.is_number:
            data[column.name] = pd.Series(values, dtype=float)
        else:
            data[column.name] = pd.Series(values, dtype=object).where(pd.notna, np.nan)
    return pd.DataFrame(data)

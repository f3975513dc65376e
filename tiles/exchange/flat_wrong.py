"""All that is wrong with the rows of a tile, so that a sheet is corrected once and not in waves."""

from collections.abc import Sequence
from dataclasses import replace

from tiles.errors import TilesError
from tiles.exchange.flat_build import NO_DAY, UNNAMED, Builder, Row
from tiles.exchange.flat_columns import FAULT_WORDS, by_name, columns
from tiles.exchange.flat_faults import FAULTS

_MOST = 8
_WHOLE = ("mark", "area")
"""Two rows may be alike, or not, only for what a bad cell should say."""
_OF_LOOK = {FAULTS, FAULT_WORDS, "inspected_on", "firing", "fired_on"}


def all_wrong(builder: Builder, rows: Sequence[Row], bad: set[str]) -> list[TilesError]:
    """What is wrong with a tile beside its bad cells, each thing as if the others were right.

    Parameters
    ----------
    builder : Builder
        One that is used for nothing else.
    rows : sequence of Row
        Those of the tile, without the bad cells.
    bad : set of str
        The columns of the bad cells: what hangs on one of them is not told.
    """
    rows = [replace(row, cells=dict(row.cells)) for row in rows]
    found: dict[str, TilesError] = {}
    for _each in range(_MOST):
        error = _first(builder, rows)
        if error is None or error.field in found or (error.field in _WHOLE and bad):
            break
        found[error.field] = error
        if not _put_right(rows, error):
            break
    return [error for column, error in found.items() if not _hangs_on(column, bad)]


def _first(builder: Builder, rows: Sequence[Row]) -> TilesError | None:
    try:
        builder.tile(rows)
    except TilesError as error:
        return error
    return None


def _put_right(rows: Sequence[Row], error: TilesError) -> bool:
    """Fill in what is blank, as a person would; anything else leaves open what would follow."""
    column = error.field
    known = by_name().get(column)
    can_be = known and known.field in ("name", "inspected_on")
    if not can_be or any(column in row.cells for row in rows):
        return False
    for row in rows:
        row.cells[column] = NO_DAY if column == "inspected_on" else UNNAMED
    return True


def _hangs_on(column: str, bad: set[str]) -> bool:
    if column == "inspected_on":
        return bool(bad & (_OF_LOOK | {each.name for each in columns() if each.part == "defect"}))
    return column in bad

"""Reading the sample's CSV files row by row, with the place of each row kept for error lines."""

import csv
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from tiles.errors import InvalidValue

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class Row:
    """One row: its filled-in cells by header (a blank cell is left out), and where it stands."""

    cells: dict[str, str]
    where: str

    def get(self, name: str) -> str | None:
        """The cell under this header, None when blank."""
        return self.cells.get(name)

    def only(self, *names: str) -> dict[str, str]:
        """The filled-in cells under these headers."""
        return {name: self.cells[name] for name in names if name in self.cells}

    def without(self, *names: str) -> dict[str, str]:
        """The filled-in cells under all other headers."""
        return {name: cell for name, cell in self.cells.items() if name not in names}


def read_rows(folder: Path, file: str) -> list[Row]:
    """All rows of one file.

    Raises
    ------
    InvalidValue
        The file is missing, or a row has more or fewer cells than the header.
    """
    path = Path(folder) / file
    if not path.is_file():
        raise InvalidValue(f"the sample has no {file} in {folder}.", "a folder with all its files.")
    # utf-8-sig: a spreadsheet that saved the file may have put a byte-order mark in front.
    with path.open(newline="", encoding="utf-8-sig") as opened:
        reader = csv.reader(opened)
        header = next(reader)
        return [_row(header, cells, f"{file}, row {reader.line_num}") for cells in reader]


def _row(header: list[str], cells: list[str], where: str) -> Row:
    if len(cells) != len(header):
        raise InvalidValue(
            f"{len(cells)} cells under {len(header)} headers ({where}).",
            "one cell for each header, empty where nothing is known.",
        )
    filled = {name: cell.strip() for name, cell in zip(header, cells, strict=True)}
    return Row({name: cell for name, cell in filled.items() if cell}, where)


def by(rows: list[Row], name: str) -> dict[str | None, list[Row]]:
    """The rows grouped by one of their cells, in file order."""
    groups: dict[str | None, list[Row]] = defaultdict(list)
    for row in rows:
        groups[row.get(name)].append(row)
    return groups


def named(records: dict, name: str | None, what: str, row: Row):
    """The record a cell points to; None for a blank cell.

    Raises
    ------
    InvalidValue
        The cell names something the sample does not hold.
    """
    if name is None:
        return None
    if name not in records:
        raise InvalidValue(
            f"{name!r} is not a {what} of the sample ({row.where}).", "the name as it is listed."
        )
    return records[name]

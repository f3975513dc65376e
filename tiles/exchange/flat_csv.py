"""Tiles as a flat CSV file: one row for each area of a tile, every column named and explained.

The flat form carries what a spreadsheet can: the glaze with one layer over and two under it, and
each later look at a tile as a further row of its mark and area. All else travels as JSON
(``tiles.exchange.json_file``).
"""

import csv
import io
import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import islice
from pathlib import Path
from typing import Any

from tiles.chemistry._tables import parted_into_cells
from tiles.errors import InvalidValue, TilesError, UnknownName, nearest
from tiles.exchange import flat_fault_words
from tiles.exchange.flat_build import Builder, Row
from tiles.exchange.flat_cells import Style, csv_text, is_blank, read_cell
from tiles.exchange.flat_columns import (
    FAULT_WORDS,
    NOT_RECORDED,
    PLACES,
    REASON,
    Column,
    by_name,
    columns,
)
from tiles.exchange.flat_faults import FAULTS, read_as, read_faults
from tiles.exchange.flat_headings import most_often
from tiles.exchange.flat_said import NOT_KNOWN, Said, as_meant, glaze_and_coats, refuse_two_counts
from tiles.exchange.flat_shared import Shared
from tiles.exchange.flat_spread import not_carried, not_carried_of_tile, rows_of
from tiles.exchange.flat_wrong import all_wrong
from tiles.exchange.text_file import read_text
from tiles.records import forms
from tiles.records.words import is_no_name, name_key

__all__ = ["Column", "Reading", "columns", "not_carried", "not_carried_of_tile", "read_file",
           "template", "write_file", "write_refused"]  # fmt: skip

_DELIMITERS = ",;\t|"
_SEPARATOR = re.compile(r'"?sep=([,;\t|])"?\s*?(?:\r\n|\n|\r)', re.IGNORECASE)
"""The first line by which a spreadsheet is told what stands between cells."""
_MOST_ABOVE = 6
_ALSO = (REASON, FAULTS, FAULT_WORDS)
"""Headings that are no column of the flat form but are understood in a file."""
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_COOL_CONE = re.compile(r"(?<!\d)[0o]\d", re.IGNORECASE)


@dataclass
class Reading:
    """What was read from a file.

    ``tiles`` are the good records, each with the number of its first row; ``problems`` every bad
    cell or row; ``rows`` all rows as they stand, by number, and ``groups`` the rows of each tile;
    ``blank_recipes`` the mark and layer wherever a glaze stands without a recipe; ``recipes`` glaze
    and recipe wherever there is one, on refused rows too; ``said`` the cells that were read
    otherwise than they stand, to be told; ``readable`` the good cells of each row.
    """

    source: str
    delimiter: str
    header: list[str]
    style: Style = field(default_factory=Style)
    tiles: list[tuple[int, forms.TileRecord]] = field(default_factory=list)
    problems: list[TilesError] = field(default_factory=list)
    rows: dict[int, list[str]] = field(default_factory=dict)
    groups: list[list[int]] = field(default_factory=list)
    blank_recipes: list[tuple[str, forms.LayerRecord]] = field(default_factory=list)
    recipes: list[tuple[str, forms.RecipeRecord]] = field(default_factory=list)
    said: list[Said] = field(default_factory=list)
    readable: list[Row] = field(default_factory=list)
    kept: Collection[str] = ()

    def refuse(self, problems: Iterable[TilesError]) -> None:
        """Add to what is wrong, and take the tiles of those rows from the good ones."""
        found = list(problems)
        rows = {error.row for error in found}
        refused = {group[0] for group in self.groups if not rows.isdisjoint(group)}
        self.problems += found
        self.tiles = [each for each in self.tiles if each[0] not in refused]

    def names(self) -> set[str]:
        """All that its cells say, as `name_key` has it, so every name that stands in it."""
        return {name_key(cell) for row in self.rows.values() for cell in row}

    def has_lost_zeros(self) -> bool:
        """Whether there are cones, and none with a 0: a spreadsheet took it away, most often."""
        told = self._cone_cells()
        has_cones = any(float(number) < 15 for cell in told for number in _NUMBER.findall(cell))
        return has_cones and not any(_COOL_CONE.search(cell) for cell in told)

    def digits_for_cones(self) -> list[str]:
        """The cones of a file that has none but 1 to 9, which may all have had a 0."""
        found = {number for cell in self._cone_cells() for number in _NUMBER.findall(cell)}
        is_digit = all(number.isascii() and 1 <= float(number) < 10 for number in found)
        return sorted(found, key=float) if is_digit and self.has_lost_zeros() else []

    def _cone_cells(self) -> list[str]:
        cones = [at for at, name in enumerate(self.header) if _is_cone(name)]
        cells = (row[at] for row in self.rows.values() for at in cones if at < len(row))
        return [cell for cell in cells if cell.strip()]


def read_file(
    file: Path,
    *,
    days: str | None = None,
    looked_when_fired: bool = False,
    fired_on: Mapping[str, date] | None = None,
    kept: Collection[str] = (),
) -> Reading:
    """Read and check a flat CSV file.

    Parameters
    ----------
    file : Path
        UTF-8, with or without byte-order mark; comma, semicolon, tab or | between cells.
    days : str, optional
        How days are written that are not year-month-day: ``dmy`` or ``mdy``.
    looked_when_fired : bool
        A result without a day of the look was seen on the day of its firing.
    fired_on : mapping, optional
        The days of firings on record, by their names in small letters.
    kept : collection of str
        Marks and names on record that say of themselves that none is known, such as "?".

    Returns
    -------
    Reading
        Good tiles and every problem. A tile is good only when all of its rows are.

    Raises
    ------
    InvalidValue, UnknownName
        The file cannot be read at all, or its header is wrong.
    """
    text = read_text(file, "CSV UTF-8")
    separator = _SEPARATOR.match(text)
    text, first = (text[separator.end() :], 2) if separator else (text, 1)
    with parted_into_cells(file.name):
        reading = _header(text, file.name, first)
        reading.kept = kept
        reading.style = Style(decimal_comma=reading.delimiter != ",", days=days)
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=reading.delimiter))
    readable: list[Row] = []
    cache: dict[tuple[str, str], tuple[dict, str]] = {}
    for number, cells in enumerate(rows[1:], start=first + 1):
        if all(is_blank(cell) for cell in cells):
            continue
        if all(is_blank(cell) for cell in cells[len(reading.header) :]):
            cells = cells[: len(reading.header)]
        reading.rows[number] = cells
        row = _row(reading, number, cells, cache)
        if row is not None:
            readable.append(row)
    _group(reading)
    builder = Builder(looked_when_fired=looked_when_fired, fired_on=fired_on or {})
    _build(reading, readable, builder)
    return reading


def _header(text: str, source: str, first_row: int) -> Reading:
    """The header by the delimiter under which it names most columns, without a blank end."""
    first = {sign: _headings(text, sign, 1) for sign in _DELIMITERS}
    rows = {sign: found[0] if found else [] for sign, found in first.items()}
    best = max(_DELIMITERS, key=lambda sign: (_known(rows[sign]), len(rows[sign])))
    header = rows[best]
    _refuse_lines_above(text, source, max(1, _known(header)), first_row)
    while header and not header[-1]:
        header.pop()
    _check_header(header, source)
    return Reading(source, best, header)


def _headings(text: str, sign: str, many: int) -> list[list[str]]:
    """The first rows, each as if it were the header."""
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=sign)
    return [[_heading(cell) for cell in row] for row in islice(rows, many)]


def _known(row: list[str]) -> int:
    return len(by_name().keys() & set(row))


def _refuse_lines_above(text: str, source: str, most: int, first_row: int) -> None:
    """A title or joined cells over the table: a row below has more than ``most`` headings."""
    for sign in _DELIMITERS:
        for number, row in enumerate(_headings(text, sign, _MOST_ABOVE), start=first_row):
            if _known(row) > most:
                raise InvalidValue(
                    f"the headings of {source} stand in row {number}, not in the first.",
                    "delete what is above them.",
                    row=number,
                )


def _heading(cell: str) -> str:
    """A heading as the flat form has it, whatever its capitals and blanks: "Fired on"."""
    plain = "_".join(cell.casefold().split())
    return plain if plain in by_name() or plain in _ALSO else cell.strip()


def _check_header(header: list[str], source: str) -> None:
    hint = "'tiles import --columns' for the columns, '--template' for an empty file."
    if not header or not any(header):
        raise InvalidValue(f"{source} has no header row.", hint)
    for place, name in enumerate(header, start=1):
        if not name:
            hint = "a header for it, or delete the column."
            raise InvalidValue(f"column {place} of {source} has no header.", hint)
        if header.count(name) > 1:
            raise InvalidValue(f"{source} has two columns {name!r}.", "one of them.", field=name)
    strange = [name for name in header if name not in by_name() and name not in _ALSO]
    if strange:
        told = ", ".join(f"{name!r}{_meant(name)}" for name in strange)
        are = "a heading that is" if len(strange) == 1 else "headings that are"
        raise UnknownName(
            f"{source} has {are} not of the flat form: {told}.", hint, field=strange[0]
        )
    beside = ("defect_", FAULT_WORDS)
    if FAULTS in header and (told := [each for each in header if each.startswith(beside)]):
        raise InvalidValue(
            f"{source} has a column {FAULTS!r} and a column {told[0]!r}.", "one way or the other."
        )
    for needed in ("mark", "body"):
        if needed not in header:
            raise InvalidValue(f"{source} has no column {needed!r}.", hint, field=needed)


def _meant(name: str) -> str:
    """What such a heading most often stands for, or the header most like it, to be told."""
    meant = most_often(name) or nearest(name, by_name())
    return f" (perhaps {meant})" if meant else ""


def _row(reading: Reading, number: int, cells: list[str], cache: dict) -> Row | None:
    """The good cells of a row, the problem of each other noted; None when they cannot be told."""
    if len(cells) != len(reading.header):
        reading.problems.append(_refuse_row(reading, number, cells))
        return None
    filled = {}
    for name, cell in zip(reading.header, cells, strict=True):
        if name == REASON or is_blank(cell):
            continue
        try:
            if (name, cell) not in cache:
                cache[name, cell] = _read(name, cell, reading)
            found, told = cache[name, cell]
            refuse_two_counts(filled, found)
        except TilesError as error:
            place = f"{reading.source}, row {number}, column {name}"
            error.message = f"{error.message.rstrip('.')} ({place})."
            error.row, error.field = number, error.field or name
            reading.problems.append(error)
            continue
        filled |= found
        reading.said += [Said(cell, told, name, number)] if told else []
    return Row(filled, number, reading.source)


def _refuse_row(reading: Reading, number: int, cells: list[str]) -> InvalidValue:
    """A row of too few or too many cells, or one into which a quotation mark drew the next ones."""
    hint = "one cell for each header, blank where nothing is known."
    if any("\n" in cell for cell in cells):
        hint = f"the quotation mark that is not closed; then {hint}"
    many = f"{len(cells)} cell{'s' * (len(cells) != 1)} under {len(reading.header)} headers"
    return InvalidValue(f"{many} ({reading.source}, row {number}).", hint, row=number)


def _read(name: str, cell: str, reading: Reading) -> tuple[dict, str]:
    """What a filled cell tells, by column; and what it was read as, where that is to be told."""
    if name == FAULT_WORDS:
        return {FAULT_WORDS: flat_fault_words.read(cell)}, ""
    if name == FAULTS:
        return read_faults(cell), read_as(cell)
    meant = as_meant(by_name()[name], cell.strip(), reading.kept)
    if not meant:
        return {}, NOT_KNOWN
    if layer := glaze_and_coats(by_name()[name], meant):
        read = {
            each: read_cell(by_name()[each], said, reading.style) for each, said in layer.items()
        }
        return read, " and ".join(f"{each} {said}" for each, said in read.items())
    told = meant if meant != cell.strip() else ""
    return {name: read_cell(by_name()[name], meant if told else cell, reading.style)}, told


def _is_cone(name: str) -> bool:
    return name in by_name() and by_name()[name].unit in ("cone", "cones")


def _group(reading: Reading) -> None:
    """The row numbers of each tile, by the mark as it is written; one without stands alone."""
    at = reading.header.index("mark")
    groups: dict[object, list[int]] = {}
    for number, cells in reading.rows.items():
        mark = name_key(cells[at]) if at < len(cells) else ""
        has_mark = mark in reading.kept or not is_no_name(mark)
        groups.setdefault(mark if has_mark else number, []).append(number)
    reading.groups = list(groups.values())


def _build(reading: Reading, readable: list[Row], builder: Builder) -> None:
    """The tiles of which every row is good. What a refused row tells of its glaze holds as well."""
    shared = Shared()
    refused = {error.row for error in reading.problems}
    checked = {row.number: row for row in readable if row.number not in refused}
    shared.gather(readable)
    reading.readable = readable
    reading.recipes = [each for row in readable for each in builder.recipes(row)]
    shared.fill(readable)
    by_number = {row.number: row for row in readable}
    for numbers in reading.groups:
        rows = [by_number[number] for number in numbers if number in by_number]
        if all(number in checked for number in numbers):
            try:
                reading.tiles.append((numbers[0], builder.tile(rows)))
                continue
            except TilesError:
                pass  # told with all else that is wrong with it
        if len(rows) == len(numbers):
            bad = {error.field for error in reading.problems if error.row in numbers}
            reading.problems += all_wrong(replace(builder, blank_recipes=[]), rows, bad)
    reading.blank_recipes = builder.blank_recipes


def template() -> str:
    """The header line of an empty file."""
    return ",".join(column.name for column in columns()) + "\n"


def write_file(file: Path, records: Iterable[forms.TileRecord], *, semicolons: bool = False) -> int:
    """Write tiles flat, and return how many rows that took.

    Columns that are blank on every row are left out, but for the few a reader expects. With
    ``semicolons`` those stand between cells, and numbers have decimal commas.
    """
    rows = [row for record in records for row in rows_of(record)]
    _tell_blank_recipes(rows)
    used = {"mark", "area", "body", "glaze", "inspected_on"}.union(*rows)
    shown = [column for column in columns() if column.name in used]
    # With a byte-order mark, or a spreadsheet garbles every letter beyond ASCII.
    with file.open("w", newline="", encoding="utf-8-sig") as opened:
        writer = csv.writer(opened, delimiter=";" if semicolons else ",", lineterminator="\n")
        more = [FAULT_WORDS] if FAULT_WORDS in used else []
        writer.writerow([*(column.name for column in shown), *more])
        for row in rows:
            values = ((column, row.get(column.name)) for column in shown)
            cells = [csv_text(*each, decimal_comma=semicolons) for each in values]
            writer.writerow([*cells, *(row.get(name) for name in more)])
    return len(rows)


def _tell_blank_recipes(rows: list[dict[str, Any]]) -> None:
    """Say so where a recipe is not recorded, or an import would take that of another row."""
    places = ["", *(f"{place}_" for place in PLACES)]
    known = {row[f"{at}glaze"] for row in rows for at in places if row.get(f"{at}recipe")}
    for row in rows:
        for at in places:
            is_told = any(header.startswith(f"{at}recipe") for header in row)
            if row.get(f"{at}glaze") in known and not is_told:
                row[f"{at}recipe"] = NOT_RECORDED


def write_refused(file: Path, reading: Reading, problems: Iterable[TilesError]) -> int:
    """Write the refused rows as they were read, with the reason; returns how many rows.

    A tile is refused whole, with all of its rows. The file can be corrected and imported: its
    ``refused_because`` column is overlooked.
    """
    reasons: dict[int, str] = {}
    rows_of_tile = {number: group for group in reading.groups for number in group}
    for error in problems:
        for number in rows_of_tile[error.row]:
            because = str(error) if number == error.row else f"row {error.row}: {error}"
            told = reasons.get(number)
            reasons[number] = f"{told} / {because}" if told else because
    keep = [at for at, name in enumerate(reading.header) if name != REASON]
    with file.open("w", newline="", encoding="utf-8-sig") as opened:
        writer = csv.writer(opened, delimiter=reading.delimiter, lineterminator="\n")
        writer.writerow([reading.header[at] for at in keep] + [REASON])
        for number, reason in sorted(reasons.items()):
            cells = reading.rows[number]
            cells += [""] * (len(reading.header) - len(cells))
            writer.writerow([cells[at] for at in keep] + cells[len(reading.header) :] + [reason])
    return len(reasons)

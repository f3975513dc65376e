"""Cells as people write them: what stands for not known, a number with its unit or with "about"."""

import re
from collections.abc import Collection
from dataclasses import dataclass

from tiles.errors import InvalidValue
from tiles.exchange.flat_columns import Column, header_of
from tiles.records.layered import coats_typed
from tiles.records.number_text import UNITS
from tiles.records.words import name_key, refuse_no_name

NOT_KNOWN = "not known"
"""What such a cell is read as, to be told; it is left blank."""
_UNKNOWN = frozenset(
    "? ?? ??? - -- --- – — n/a na n.a. n.k. nk unknown unsure".split()
    + ["not known", "don't know", "dont know", "no idea"]
)
_MAY_BE_NO = frozenset("- -- --- – — na n.a.".split())
"""In a cell for yes or no they may mean no."""
_READ_BY_ITSELF = ("defect", "recipe")
"""Parts in which a sign may mean none as well as not known."""
_ABOUT = r"(?:(?:ca|c|circa|approx(?:imately)?|about|abt|around|roughly)\b\.?|[~≈])?\s*"
_NUMBER = re.compile(
    rf"{_ABOUT}(?P<sign>[x×]\s*)?(?P<number>\d+(?:[.,]\d+)?)\s*(?P<unit>\D*)", re.I
)
_DEGREES = re.compile(rf"{_ABOUT}(?P<rest>\d.*)", re.I)


@dataclass(frozen=True)
class Said:
    """A cell that was read otherwise than it stands: what it says, and what it was read as."""

    value: str
    read_as: str
    column: str
    row: int


def as_meant(column: Column, cell: str, kept: Collection[str] = ()) -> str:
    """A cell as the flat form has it: blank where it says "not known", a number by itself.

    ``kept`` are marks and names such as "?" that are on record, as `name_key` has them.

    Raises
    ------
    InvalidValue
        What should be a name is none, such as "?".

    Examples
    --------
    >>> from tiles.exchange.flat_columns import by_name
    >>> as_meant(by_name()["thickness_mm"], "ca. 1mm"), as_meant(by_name()["shelf"], "?")
    ('1', '')
    >>> as_meant(by_name()["coats"], "2 or 3"), as_meant(by_name()["coats"], "x2")
    ('2 or 3', '2')
    """
    said = name_key(cell)
    if column.field == "mark" or (column.part in ("body", "glaze") and column.field == "name"):
        if said not in kept:
            refuse_no_name(cell, column.field if column.part == "tile" else column.part)
        return cell
    is_fact = column.part not in _READ_BY_ITSELF and column.field not in ("note", "remark")
    if said in _UNKNOWN and is_fact:
        is_open = column.unit == "yes / no" and said in _MAY_BE_NO
        return cell if is_open else ""
    return _number(column, cell.strip()) if column.is_number else cell


def _number(column: Column, cell: str) -> str:
    if column.unit in ("C", "C/h"):  # their letters tell C from F
        told = _DEGREES.fullmatch(cell)
        return told["rest"] if told else cell
    told, unit = _NUMBER.fullmatch(cell), UNITS.get(column.unit, "")
    if not told or (told["sign"] and column.unit != "coats"):
        return cell
    is_own = not told["unit"].strip() or re.fullmatch(unit, told["unit"].strip(), re.I)
    return told["number"] if is_own else cell


def glaze_and_coats(column: Column, cell: str) -> dict[str, str]:
    """The glaze and the coats of its layer, by column, where one cell has both: "leaf=3".

    Examples
    --------
    >>> from tiles.exchange.flat_columns import by_name
    >>> glaze_and_coats(by_name()["under_glaze"], "leaf=3")
    {'under_glaze': 'leaf', 'under_coats': '3'}
    """
    is_glaze = column.part == "glaze" and column.field == "name"
    typed = coats_typed(cell) if is_glaze else None
    if typed is None:
        return {}
    return {column.name: typed[0], header_of("layer", "coats", column.place): str(typed[1])}


def refuse_two_counts(before: dict, found: dict) -> None:
    """Refuse coats that a glaze's cell tells otherwise than the cell for them.

    Raises
    ------
    InvalidValue
        With both.
    """
    for column, value in found.items():
        if before.get(column, value) != value:
            raise InvalidValue(
                f"{column} is {before[column]} in one cell and {value} in another of its row",
                "one of them.",
            )


def lines(said: list[Said]) -> list[str]:
    """What was read otherwise than it stands, a line for each kind of reading."""
    from tiles.records.spoken import some

    unknown = [each for each in said if each.read_as == NOT_KNOWN]
    told = []
    if unknown:
        values = some(list(dict.fromkeys(repr(each.value.strip()) for each in unknown)), 4)
        columns = some(list(dict.fromkeys(each.column for each in unknown)))
        told.append(f"Read as not known, so left blank: {values} in {columns} ({_rows(unknown)}).")
    others = [each for each in said if each.read_as != NOT_KNOWN]
    for of_faults in (False, True):
        found = [each for each in others if (each.column == "faults") is of_faults]
        read = dict.fromkeys(f"{each.value.strip()!r} as {each.read_as}" for each in found)
        told += [f"Read {some(list(read), 6)} ({_rows(found)})."] if found else []
    return told


def _rows(said: list[Said]) -> str:
    from tiles.records.spoken import some

    rows = list(dict.fromkeys(str(each.row) for each in said))
    return f"row{'s' * (len(rows) > 1)} {some(rows)}"

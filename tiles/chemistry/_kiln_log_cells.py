"""Numbers in the cells of a kiln log, and the ones that can be read in two ways."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from tiles.chemistry._cone_chart import celsius_to_fahrenheit, fahrenheit_to_celsius
from tiles.errors import InvalidValue

HOTTEST_LOG_C = 1420.0
"""Above this a temperature in C is not one of a potter's kiln (cone 14 is down by 1384 C)."""
HOTTEST_LOG_F = celsius_to_fahrenheit(HOTTEST_LOG_C)

NEAR_BY = 100.0
"""Readings next to each other are hardly farther apart. [C] or [F], estimate."""

HOT = 200.0
"""A log that nowhere gets this hot is none of a firing. [C] or [F], estimate."""

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?", re.ASCII | re.IGNORECASE)
_TWO_WAYS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}", re.ASCII)
_BOTH_MARKS = re.compile(r"[+-]?\d{1,3}(?:(,\d{3})+\.|(\.\d{3})+,)\d+", re.ASCII)


@dataclass(frozen=True)
class Cell:
    """One value of a log file as it is written, and where it stands."""

    file: str
    row: int
    text: str

    def wrong(self, told: str, hint: str = "") -> InvalidValue:
        """The error about this cell, with its place."""
        return InvalidValue(
            f"{self.file}, row {self.row}: {told}", hint, row=self.row, value=self.text
        )


def read_decimal(cell: Cell, what: str) -> float:
    """The number in a cell; a lone comma or point is the decimal mark."""
    text = cell.text
    if _BOTH_MARKS.fullmatch(text):  # the last mark is the decimal one: 1,031.5 or 1.031,5
        return float("".join(re.split(r"[.,]", text)[:-1]) + "." + re.split(r"[.,]", text)[-1])
    if not _NUMBER.fullmatch(text):
        raise cell.wrong(f"{what} {text!r} is not a number.")
    return float(text.replace(",", "."))


def grouped(cell: Cell) -> int | None:
    """The whole number a cell is when its only mark parts the thousands, as in 1,031; or None."""
    return int(re.sub(r"[.,]", "", cell.text)) if _TWO_WAYS.fullmatch(cell.text) else None


def two_readings(cell: Cell, what: str) -> InvalidValue:
    """The error about a cell that is one number with a decimal mark and another without."""
    decimal = cell.text.replace(",", ".")
    return cell.wrong(
        f"{what} {cell.text!r} is either {decimal} or {grouped(cell)}.",
        f"write {grouped(cell)} without a mark, or {decimal}0 with one more decimal.",
    )


def read_heats(cells: list[Cell], unit: str) -> list[float]:
    """Temperatures of a column. [C].

    Raises
    ------
    InvalidValue
        Something is no number, or 1,031 stands where it may well be 1031.
    """
    heats = [read_decimal(each, "temperature") for each in cells]
    # A column read as C may hold F, so the hottest of F bounds both.
    unsure = [(grouped(each) or math.inf) <= HOTTEST_LOG_F for each in cells]
    is_firing = max(heats, default=0.0) >= HOT
    for place, cell in enumerate(cells):
        if unsure[place] and not (is_firing and _is_among(place, heats, unsure)):
            raise two_readings(cell, "temperature")
    return [fahrenheit_to_celsius(each) for each in heats] if unit == "F" else heats


def _is_among(place: int, heats: list[float], unsure: list[bool]) -> bool:
    """Whether the nearest sure readings before and after are about as high."""
    before = _first_sure(range(place, -1, -1), unsure)
    after = _first_sure(range(place, len(heats)), unsure)
    sure = [each for each in (before, after) if each is not None]
    return bool(sure) and all(abs(heats[each] - heats[place]) <= NEAR_BY for each in sure)


def _first_sure(places: Iterable[int], unsure: list[bool]) -> int | None:
    return next((each for each in places if not unsure[each]), None)

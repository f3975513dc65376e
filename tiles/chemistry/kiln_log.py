"""A kiln's log of time and temperature: read from CSV, checked, and summed up near the top."""

import csv
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from tiles.chemistry._cone_chart import fahrenheit_to_celsius
from tiles.chemistry._kiln_log_cells import HOTTEST_LOG_C, Cell, read_heats
from tiles.chemistry._kiln_log_sense import refuse_unbelievable
from tiles.chemistry._kiln_log_times import read_times
from tiles.chemistry._number import read_number
from tiles.chemistry._tables import parted_into_cells, text_in
from tiles.errors import InvalidValue, Questioned

COLDEST_LOG_C = -60.0

HOLD_BAND_C = 5.0
"""Time within this of the peak counts as hold. [C], estimate."""

MOST_HEADERS = 6
"""Headers of a file without the right ones that are told."""

TOP_SPAN_C = 100.0
"""The heating rate is told over the last 100 C, as cone charts ask. [C]."""

_TIME_COLUMNS = {
    "time_h": "h",
    "hours": "h",
    "time_hours": "h",
    "time_min": "min",
    "minutes": "min",
    "time_s": "s",
    "time": "clock",
    "timestamp": "clock",
    "date_time": "clock",
}
_TEMPERATURE_COLUMNS = {
    "temperature_c": "C",
    "temp_c": "C",
    "temperature": "C",
    "temp": "C",
    "temperature_f": "F",
    "temp_f": "F",
}


def read_log(file: str | Path) -> list[tuple[float, float]]:
    """Readings of a kiln log file, as (hours, temperature [C]) from the first reading on.

    Parameters
    ----------
    file : str or Path
        CSV with a header, separated by comma, semicolon or tab. Time in ``time_h``, ``time_min``,
        ``time_s``, or as a clock (``time``: 18:30 or 2026-03-01 18:30).
        Temperature in ``temperature_c`` (or just ``temperature``), or ``temperature_f``.

    Returns
    -------
    list of (float, float)
        Checked as `check_log` does.

    Raises
    ------
    InvalidValue
        A column is missing, a value cannot be read or can be read in two ways or is what no
        kiln does, time does not rise.
    Questioned
        Temperatures said to be in C that only make sense in F.

    Notes
    -----
    A clock without a date is taken to pass midnight where it falls back by 18 hours or more; any
    other fall is refused, as is every fall of a clock with a date. Readings of one minute of a
    clock without seconds are spread evenly over that minute. 1,031 or 1.031 is read as a decimal
    only where the readings around it are as low.
    """
    path = Path(file)
    header, *rows = _rows(path)
    names = header.names
    time_at, time_unit = _column(names, _TIME_COLUMNS, path.name, "time", "time_h")
    heat_at, heat_unit = _column(
        names, _TEMPERATURE_COLUMNS, path.name, "temperature", "temperature_c"
    )
    for row in rows:
        if len(row.values) <= max(time_at, heat_at):
            raise InvalidValue(f"{row.place}: {len(row.values)} value(s) only.", row=row.number)
    hours = read_times([row.cell(time_at) for row in rows], time_unit)
    heats = read_heats([row.cell(heat_at) for row in rows], heat_unit)
    readings = [(each - hours[0], heat) for each, heat in zip(hours, heats, strict=True)]
    numbers = [row.number for row in rows]
    checked = _checked(readings, f"{path.name}, row", numbers)
    refuse_unbelievable(checked, path.name, numbers)
    return checked


def is_taken_as_celsius(file: str | Path) -> bool:
    """Whether a log file names no unit of temperature, so that it is read in C on trust."""
    return not {"temp", "temperature"}.isdisjoint(_rows(Path(file))[0].names)


@dataclass(frozen=True)
class _Row:
    file: str
    number: int
    values: list[str]

    @property
    def place(self) -> str:
        return f"{self.file}, row {self.number}"

    @property
    def names(self) -> list[str]:
        """The values as names of columns: Time (min) is time_min."""
        return [re.sub(r"[^a-z]+", "_", each.casefold()).strip("_") for each in self.values]

    def cell(self, column: int) -> Cell:
        return Cell(self.file, self.number, self.values[column].strip())


def _rows(path: Path) -> list[_Row]:
    """Rows that hold something, by their line in the file."""
    lines = text_in(path).splitlines()
    reader = csv.reader(lines, delimiter=_delimiter(lines))
    with parted_into_cells(path.name):
        rows = [_Row(path.name, reader.line_num, row) for row in reader if any(map(str.strip, row))]
    if not rows:
        raise InvalidValue(f"{path.name} is empty.", "a CSV with the columns time_h,temperature_c.")
    return rows


def _delimiter(lines: list[str]) -> str:
    header = next((each for each in lines if each.strip()), "")
    return next((each for each in ("\t", ";") if each in header), ",")


def _column(
    header: list[str], known: dict[str, str], file: str, what: str, usual: str
) -> tuple[int, str]:
    found = [(place, known[each]) for place, each in enumerate(header) if each in known]
    if len(found) != 1:
        how_many = "no column" if not found else "more than one column"
        raise InvalidValue(
            f"{file} has {how_many} of {what} (columns: {_in_short(header)}).",
            f"one column named {usual}.",
            field=what,
        )
    return found[0]


def _in_short(header: list[str]) -> str:
    """The first few headers; a sheet of tiles has seventy."""
    more = len(header) - MOST_HEADERS
    return ", ".join([*header[:MOST_HEADERS], *([f"{more} more"] if more > 0 else [])])


def check_log(log: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """The readings of a log as numbers, once they can be one.

    Raises
    ------
    InvalidValue
        Fewer than two readings, a time that does not rise, something that is no number.
    Questioned
        Temperatures that only make sense in F.
    """
    try:
        readings = [(float(hours), float(temperature)) for hours, temperature in log]
    except (TypeError, ValueError) as error:
        raise InvalidValue(
            f"A kiln log needs pairs of numbers ({error}).",
            "hours and temperature [C] per reading.",
        ) from error
    return _checked(readings, "Reading", range(1, len(readings) + 1))


def _checked(
    readings: list[tuple[float, float]], named: str, rows: Sequence[int]
) -> list[tuple[float, float]]:
    """The readings, once they can be a log; an error says ``named`` and the row."""
    if len(readings) < 2:
        raise InvalidValue(f"A log of {len(readings)} reading(s) shows no heating.", "a full log.")
    for row, (hours, temperature) in zip(rows, readings, strict=True):
        if not (math.isfinite(hours) and math.isfinite(temperature)):
            raise InvalidValue(f"{named} {row} is not a number: {hours}, {temperature}.", row=row)
        if temperature < COLDEST_LOG_C:
            raise InvalidValue(f"{named} {row}: {temperature:g} C is no kiln temperature.", row=row)
    for row, (before, after) in zip(rows[1:], pairwise(readings), strict=True):
        if after[0] <= before[0]:
            raise InvalidValue(
                f"{named} {row}: time {after[0]:g} h does not come after {before[0]:g} h.",
                "readings in the order of time, without repeats.",
                field="hours",
                value=after[0],
                row=row,
            )
    peak = max(temperature for _, temperature in readings)
    _ask_about_fahrenheit(peak, f"The log peaks at {peak:g} C.", "name its column temperature_f")
    return readings


def check_temperature(temperature_c: float) -> float:
    """A kiln temperature as a float. [C].

    Raises
    ------
    InvalidValue
        It is no number, or colder than any kiln.
    Questioned
        It only makes sense in F.
    """
    what, hint = "The temperature", "1030 for 1030 C."
    read_c = read_number(temperature_c, what, hint, "temperature_c")
    if read_c < COLDEST_LOG_C:
        told = f"{what} {read_c:g} C is no kiln temperature."
        raise InvalidValue(told, hint, field="temperature_c", value=temperature_c)
    _ask_about_fahrenheit(read_c, f"{what} is {read_c:g} C.", "turn it into C")
    return read_c


def _ask_about_fahrenheit(highest_c: float, told: str, what_to_do: str) -> None:
    if highest_c > HOTTEST_LOG_C:
        raise Questioned(
            f"{told} Is it in F?",
            f"{what_to_do}: {highest_c:g} F is {fahrenheit_to_celsius(highest_c):.0f} C.",
            field="temperature_c",
            value=highest_c,
        )


def rate_near_top_c_per_h(readings: list[tuple[float, float]]) -> float | None:
    """Heating rate over the last 100 C of the climb. [C/h], None when the log shows no climb."""
    peak = max(temperature for _, temperature in readings)
    bottom = max(peak - TOP_SPAN_C, readings[0][1])
    # The last degrees creep into the hold, so the climb is timed to just below the peak.
    top = peak - HOLD_BAND_C if peak - HOLD_BAND_C > bottom else peak
    hours = _first_time_h(readings, top) - _first_time_h(readings, bottom)
    return (top - bottom) / hours if hours > 0 else None


def _first_time_h(readings: list[tuple[float, float]], temperature: float) -> float:
    if readings[0][1] >= temperature:
        return readings[0][0]
    for (start_h, start_c), (end_h, end_c) in pairwise(readings):
        if start_c < temperature <= end_c:
            return start_h + (temperature - start_c) / (end_c - start_c) * (end_h - start_h)
    return readings[-1][0]


def hold_min(readings: list[tuple[float, float]]) -> float:
    """Time spent within `HOLD_BAND_C` of the peak. [min]."""
    floor = max(temperature for _, temperature in readings) - HOLD_BAND_C
    hours = 0.0
    for (start_h, start_c), (end_h, end_c) in pairwise(readings):
        low, high = sorted((start_c, end_c))
        if high >= floor:
            inside = 1.0 if low >= floor else (high - floor) / (high - low)
            hours += inside * (end_h - start_h)
    return 60 * hours


def longest_gap_near_top_min(readings: list[tuple[float, float]]) -> float:
    """Longest time between two readings, one of them within 100 C of the peak. [min]."""
    floor = max(temperature for _, temperature in readings) - TOP_SPAN_C
    return 60 * max(
        after[0] - before[0]
        for before, after in pairwise(readings)
        if max(before[1], after[1]) > floor
    )

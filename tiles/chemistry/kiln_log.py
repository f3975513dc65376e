"""A kiln's log of time and temperature: read from CSV, checked, and summed up near the top."""

import csv
import math
import re
from collections.abc import Iterable
from datetime import datetime
from itertools import pairwise
from pathlib import Path

from tiles.chemistry._cone_chart import fahrenheit_to_celsius
from tiles.errors import InvalidValue, Questioned

ABSOLUTE_ZERO_C = -273.15
COLDEST_LOG_C = -60.0
HOTTEST_LOG_C = 1420.0
"""Above this a temperature in C is not one of a potter's kiln (cone 14 is down by 1384 C)."""

HOLD_BAND_C = 5.0
"""Time within this of the peak counts as hold. [C], estimate."""

TOP_SPAN_C = 100.0
"""The heating rate is told over the last 100 C, as cone charts ask. [C]."""

_HOURS_PER = {"h": 1.0, "hours": 1.0, "min": 1 / 60, "minutes": 1 / 60, "s": 1 / 3600}
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
        ``time_s``, or as a clock (``time``: 18:30 or 2026-03-01 18:30, running over midnight).
        Temperature in ``temperature_c`` (or just ``temperature``), or ``temperature_f``.

    Returns
    -------
    list of (float, float)
        Checked as `check_log` does.

    Raises
    ------
    InvalidValue
        A column is missing, a value cannot be read, time does not rise.
    Questioned
        Temperatures said to be in C that only make sense in F.
    """
    path = Path(file)
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    rows = [row for row in csv.reader(lines, delimiter=_delimiter(lines)) if any(row)]
    if not rows:
        raise InvalidValue(f"{path.name} is empty.", "a CSV with the columns time_h,temperature_c.")
    header = [re.sub(r"[^a-z]+", "_", each.casefold()).strip("_") for each in rows[0]]
    time_at, time_unit = _column(header, _TIME_COLUMNS, path.name, "time", "time_h")
    heat_at, heat_unit = _column(
        header, _TEMPERATURE_COLUMNS, path.name, "temperature", "temperature_c"
    )
    readings: list[tuple[float, float]] = []
    for number, row in enumerate(rows[1:], start=2):
        if len(row) <= max(time_at, heat_at):
            raise InvalidValue(f"{path.name}, row {number}: {len(row)} value(s) only.", row=number)
        hours = _hours(row[time_at], time_unit, path.name, number)
        if time_unit == "clock" and readings and hours < readings[-1][0]:
            # A clock without a date starts again at midnight.
            hours += 24 * math.ceil((readings[-1][0] - hours) / 24)
        heat = _number(row[heat_at], path.name, number, "temperature")
        readings.append((hours, fahrenheit_to_celsius(heat) if heat_unit == "F" else heat))
    start = readings[0][0] if readings else 0.0
    return check_log((hours - start, heat) for hours, heat in readings)


def _delimiter(lines: list[str]) -> str:
    header = lines[0] if lines else ""
    return next((each for each in ("\t", ";") if each in header), ",")


def _column(
    header: list[str], known: dict[str, str], file: str, what: str, usual: str
) -> tuple[int, str]:
    found = [(place, known[each]) for place, each in enumerate(header) if each in known]
    if len(found) != 1:
        how_many = "no column" if not found else "more than one column"
        raise InvalidValue(
            f"{file} has {how_many} of {what} (columns: {', '.join(header)}).",
            f"one column named {usual}.",
            field=what,
        )
    return found[0]


def _number(text: str, file: str, row: int, what: str) -> float:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise InvalidValue(
            f"{file}, row {row}: {what} {text!r} is not a number.", row=row, value=text
        ) from None


def _hours(text: str, unit: str, file: str, row: int) -> float:
    if unit != "clock":
        return _number(text, file, row, "time") * _HOURS_PER[unit]
    if clock := re.fullmatch(r"\s*(\d+):(\d\d)(?::(\d\d))?\s*", text):
        hours, minutes, seconds = (int(each or 0) for each in clock.groups())
        return hours + minutes / 60 + seconds / 3600
    try:
        moment = datetime.fromisoformat(text.strip())
        return (moment.replace(tzinfo=None) - datetime(2000, 1, 1)).total_seconds() / 3600
    except ValueError:
        raise InvalidValue(
            f"{file}, row {row}: time {text!r} is no clock time.",
            "18:30, or name the column time_h or time_min.",
            row=row,
            value=text,
        ) from None


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
    if len(readings) < 2:
        raise InvalidValue(f"A log of {len(readings)} reading(s) shows no heating.", "a full log.")
    for row, (hours, temperature) in enumerate(readings, start=1):
        if not (math.isfinite(hours) and math.isfinite(temperature)):
            raise InvalidValue(f"Reading {row} is not a number: {hours}, {temperature}.", row=row)
        if temperature < COLDEST_LOG_C:
            raise InvalidValue(f"Reading {row}: {temperature:g} C is no kiln temperature.", row=row)
    for row, (before, after) in enumerate(pairwise(readings), start=2):
        if after[0] <= before[0]:
            raise InvalidValue(
                f"Reading {row}: time {after[0]:g} h does not come after {before[0]:g} h.",
                "readings in the order of time, without repeats.",
                field="hours",
                value=after[0],
                row=row,
            )
    _ask_about_fahrenheit(max(temperature for _, temperature in readings))
    return readings


def _ask_about_fahrenheit(peak: float) -> None:
    if peak > HOTTEST_LOG_C:
        raise Questioned(
            f"The log peaks at {peak:g} C. Is it in F?",
            f"name its column temperature_f: {peak:g} F is {fahrenheit_to_celsius(peak):.0f} C.",
            field="temperature_c",
            value=peak,
        )


def rate_near_top_c_per_h(readings: list[tuple[float, float]]) -> float:
    """Heating rate over the last 100 C of the climb. [C/h], infinite when it cannot be told."""
    peak = max(temperature for _, temperature in readings)
    bottom = max(peak - TOP_SPAN_C, readings[0][1])
    # The last degrees creep into the hold, so the climb is timed to just below the peak.
    top = peak - HOLD_BAND_C if peak - HOLD_BAND_C > bottom else peak
    hours = _first_time_h(readings, top) - _first_time_h(readings, bottom)
    return (top - bottom) / hours if hours > 0 else math.inf


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

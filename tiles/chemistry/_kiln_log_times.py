"""The time column of a kiln log, as hours."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import groupby, pairwise

from tiles.chemistry._kiln_log_cells import Cell, grouped, read_decimal, two_readings

MIDNIGHT_FALL_H = 18.0
"""A clock without a date that falls back this far has passed midnight. [h], estimate."""

MOST_PER_MINUTE = 60
"""More readings than this in one minute, and the clock has stopped. Estimate."""

_HOURS_PER = {"h": 1.0, "min": 1 / 60, "s": 1 / 3600}
_CLOCK = re.compile(r"(\d+):([0-5]\d)(?::([0-5]\d(?:[.,]\d+)?))?", re.ASCII)
_HAS_SECONDS = re.compile(r":\d\d:\d\d")
_CLOCK_HINT = "18:30 or 2026-03-01 18:30, or name the column time_h or time_min."
_CLOCK_CHANGE = "log in UTC (2026-03-01 18:30Z), or in hours since the start as time_h."


def read_times(cells: list[Cell], unit: str) -> list[float]:
    """Times of a column. [h], from whatever start.

    Parameters
    ----------
    cells : list of Cell
        As they stand in the file.
    unit : str
        ``h``, ``min``, ``s`` or ``clock``.

    Raises
    ------
    InvalidValue
        Something is no time, can be read in two ways, or a clock falls back.
    """
    if unit == "clock":
        return _read_clock(cells)
    times = [read_decimal(each, "time") for each in cells]
    if unit != "h":  # a thousand hours is no firing, a thousand minutes is
        _refuse_grouped(cells)
    return [each * _HOURS_PER[unit] for each in times]


def _refuse_grouped(cells: list[Cell]) -> None:
    """Refuse 1,020 unless another cell shows that the comma is the decimal mark."""
    with_comma = [each for each in cells if "," in each.text]
    if all(grouped(each) is not None for each in with_comma):
        for cell in with_comma:
            raise two_readings(cell, "time")


def _read_clock(cells: list[Cell]) -> list[float]:
    is_dated = _CLOCK.fullmatch(cells[0].text) is None if cells else False
    hours = _dated_hours(cells) if is_dated else _past_midnight([_clock_h(each) for each in cells])
    for (earlier, before), (cell, after) in pairwise(zip(cells, hours, strict=True)):
        if after < before:
            raise cell.wrong(
                f"time {cell.text!r} comes after {earlier.text!r}: the rows are out of order, or "
                "the clock was put back.",
                _CLOCK_CHANGE,
            )
    return list(_spread(cells, hours))


def _clock_h(cell: Cell) -> float:
    found = _CLOCK.fullmatch(cell.text)
    if not found:
        raise cell.wrong(f"time {cell.text!r} is no clock time like the rows before.", _CLOCK_HINT)
    hours, minutes, seconds = (float((each or "0").replace(",", ".")) for each in found.groups())
    return hours + minutes / 60 + seconds / 3600


def _dated_hours(cells: list[Cell]) -> list[float]:
    """Hours since a day long past; times with their distance from UTC are told in UTC."""
    moments = [_moment(each) for each in cells]
    for cell, moment in zip(cells, moments, strict=True):
        if (moment.tzinfo is None) != (moments[0].tzinfo is None):
            raise cell.wrong(
                f"time {cell.text!r} and {cells[0].text!r} of row {cells[0].row}: only one of them "
                "tells its distance from UTC.",
                "the same form in every row.",
            )
    start = datetime(2000, 1, 1, tzinfo=moments[0].tzinfo and UTC)
    return [(each - start).total_seconds() / 3600 for each in moments]


def _moment(cell: Cell) -> datetime:
    if _CLOCK.fullmatch(cell.text):
        raise cell.wrong(f"time {cell.text!r} has no date, and rows before have.", _CLOCK_HINT)
    try:
        moment = datetime.fromisoformat(cell.text)
    except ValueError:
        moment = None
    if moment is None or ":" not in cell.text:
        raise cell.wrong(f"time {cell.text!r} is no clock time.", _CLOCK_HINT)
    return moment


def _past_midnight(hours: list[float]) -> list[float]:
    """The hours of a clock without a date, going on over midnight."""
    days = 0
    running = hours[:1]
    for before, after in pairwise(hours):
        days += before - after >= MIDNIGHT_FALL_H
        running.append(after + 24 * days)
    return running


def _spread(cells: list[Cell], hours: list[float]) -> Iterator[float]:
    """Readings of the same minute, of a clock without seconds, evenly over that minute."""
    for hour, found in groupby(zip(cells, hours, strict=True), key=lambda each: each[1]):
        same = [cell for cell, _ in found]
        if any(_HAS_SECONDS.search(each.text) for each in same):
            yield from (hour for _ in same)  # a repeat, which the check of the log refuses
            continue
        if len(same) > MOST_PER_MINUTE:
            raise same[-1].wrong(
                f"{len(same)} readings at {same[0].text!r}: the clock stood still."
            )
        yield from (hour + place / len(same) / 60 for place in range(len(same)))

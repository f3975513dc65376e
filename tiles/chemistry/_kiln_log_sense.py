"""Whether a kiln can have done what a log says: one false reading, a wrong unit of time."""

from collections.abc import Sequence
from itertools import pairwise

from tiles.errors import InvalidValue

FASTEST_RISE_C_PER_H, LEAST_RISE_C = 6000.0, 200.0
FASTEST_FALL_C_PER_H, LEAST_FALL_C = 30000.0, 300.0
"""No kiln heats faster, nor cools faster when it is opened red hot (estimates); smaller jumps are
let pass."""
FASTEST_CLIMB_C_PER_H, SLOWEST_CLIMB_C_PER_H = 3000.0, 3.0
"""Mean rate from the first reading to the peak beyond which the unit of time is doubted."""
LEAST_CLIMB_C = 300.0


def refuse_unbelievable(
    readings: Sequence[tuple[float, float]], file: str, rows: Sequence[int]
) -> None:
    """Raise where a log tells what no kiln does.

    Parameters
    ----------
    readings : sequence of (hours, temperature_c)
        In the order of time.
    file, rows
        Name of the file and the row of each reading.

    Raises
    ------
    InvalidValue
        The whole climb is too fast or too slow, so the unit of time may be another; or two
        neighbouring readings differ by more than a kiln can do.
    """
    for row, ((h, before), (later, after)) in zip(rows[1:], pairwise(readings), strict=True):
        step, rate = after - before, abs(after - before) / (later - h)
        is_rise = step >= LEAST_RISE_C and rate > FASTEST_RISE_C_PER_H
        if is_rise or (-step >= LEAST_FALL_C and rate > FASTEST_FALL_C_PER_H):
            raise InvalidValue(
                f"{file}, row {row}: {before:g} C, then {after:g} C {60 * (later - h):.3g} min "
                "later: no kiln does that.",
                "delete the row with the false reading.",
                field="temperature",
                value=after,
                row=row,
            )
    _refuse_wrong_time(readings, file)


def _refuse_wrong_time(readings: Sequence[tuple[float, float]], file: str) -> None:
    start, first = readings[0]
    at, peak = max(readings, key=lambda each: each[1])
    if peak - first < LEAST_CLIMB_C:
        return
    rate = (peak - first) / (at - start)
    if SLOWEST_CLIMB_C_PER_H <= rate <= FASTEST_CLIMB_C_PER_H:
        return
    unit = "min or s" if rate < SLOWEST_CLIMB_C_PER_H else "h"
    raise InvalidValue(
        f"{file} climbs {rate:.2g} C/h on average, which no kiln does.",
        f"check the unit of time: name the column for times in {unit}, such as time_min or time_h.",
        field="time",
        value=rate,
    )

"""From a kiln's log of time and temperature to the cone it should have reached.

Each cone collects heat work, 1 being its end point. The chart fixes how much: heated at a constant
rate r a cone is down at the published temperature, so the work summed up to there, times r, must
equal r. Between published rates that sum follows ln(sum) = a - q / T, as a thermally activated
process does, and work adds up whatever the order (the additivity rule). A log at a constant
published rate therefore gives back the chart; holds and slow cooling add their own share.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from tiles.chemistry._cone_chart import end_point, published_rates
from tiles.chemistry._cone_scale import CONES, HALF, cone_at, read_cone, step
from tiles.chemistry._number import read_number, read_positive
from tiles.chemistry.kiln_log import (
    ABSOLUTE_ZERO_C,
    check_log,
    hold_min,
    longest_gap_near_top_min,
    rate_near_top_c_per_h,
)
from tiles.errors import OutOfRange

SLOWEST_C_PER_H, FASTEST_C_PER_H = 15.0, 150.0
"""Span of the published heating rates. [C/h]."""

LONG_GAP_MIN = 30.0
"""Readings farther apart than this near the top are warned about. [min], estimate."""


@dataclass(frozen=True)
class HeatWork:
    """What a kiln log says about the cone reached.

    ``nearest`` is the nearest whole or half cone, ``position`` its place on the scale [cone steps],
    ``cooler`` the hottest whole cone that is down and ``hotter`` the next one. ``peak_c`` [C],
    ``rate_c_per_h`` over the last 100 C, ``hold_min`` within 5 C of the peak. ``cautions`` are
    plain sentences; ``status`` is ``memory`` when a remembered chart row was used.
    """

    nearest: str
    position: float
    cooler: str
    hotter: str
    peak_c: float
    rate_c_per_h: float
    hold_min: float
    status: str
    cautions: tuple[str, ...]


@cache
def _knots(cone: str) -> tuple[tuple[float, float], ...]:
    """Published (1 / temperature [1/K], ln rate) of a cone, slowest rate first."""
    points = [end_point(cone, rate) for rate in published_rates(cone)]
    return tuple(
        (1 / (each.temperature_c - ABSOLUTE_ZERO_C), math.log(each.rate_c_per_h)) for each in points
    )


def _line(cone: str, temperature_c: float) -> tuple[float, float]:
    """The a and q of ln(sum) = a - q / T that hold at a temperature."""
    knots = _knots(cone)
    inverse = 1 / (temperature_c - ABSOLUTE_ZERO_C)
    for (slower_inverse, slower_log), (faster_inverse, faster_log) in pairwise(knots):
        if faster_inverse <= inverse <= slower_inverse:
            q = (faster_log - slower_log) / (slower_inverse - faster_inverse)
            return slower_log + q * slower_inverse, q
    # Outside the published points the slope over all of them, anchored at the nearer end: a single
    # neighbouring pair is too noisy to extrapolate from.
    (first_inverse, first_log), (last_inverse, last_log) = knots[0], knots[-1]
    q = (last_log - first_log) / (first_inverse - last_inverse)
    anchor_inverse, anchor_log = knots[0] if inverse > first_inverse else knots[-1]
    return anchor_log + q * anchor_inverse, q


def _summed(cone: str, temperature_c: float) -> float:
    """Heat work up to a temperature, times the constant heating rate. [C/h]."""
    a, q = _line(cone, temperature_c)
    return math.exp(a - q / (temperature_c - ABSOLUTE_ZERO_C))


def work_per_hour(cone: str, temperature_c: float) -> float:
    """Heat work a cone collects in an hour at a steady temperature. [1/h], 1 being its end point.

    Examples
    --------
    >>> round(work_per_hour("05", 1020), 2)
    1.38

    Source
    ------
    CONE-CHART-2016, through the model described at the top of this module.
    """
    _, q = _line(cone, temperature_c)
    kelvin = temperature_c - ABSOLUTE_ZERO_C
    return _summed(cone, temperature_c) * q / kelvin**2


def heat_work(cone: str, log: Sequence[tuple[float, float]]) -> float:
    """Share of a cone's end point that a log of (hours, temperature [C]) collects; 1 is down."""
    total = 0.0
    for (start_h, start_c), (end_h, end_c) in pairwise(log):
        hours = end_h - start_h
        if abs(end_c - start_c) < 0.05:
            total += work_per_hour(cone, (start_c + end_c) / 2) * hours
        else:
            rate = (end_c - start_c) / hours
            total += (_summed(cone, end_c) - _summed(cone, start_c)) / rate
    return total


def hold_needed_min(cone: str, temperature_c: float, rate_c_per_h: float = 60.0) -> float:
    """Minutes of hold at a temperature that bring a cone down, after heating at a rate. [min].

    0 when the cone is down before the hold begins.

    Raises
    ------
    UnknownCone, InvalidValue
        Not a cone; a rate that is not above 0.

    Notes
    -----
    A hold of one to two hours is said to be worth a cone, and 40 min from cone 6 to 8 and 75 min
    from 4 to 6 have been measured (HOLD-REPORTS). This model gives 45 min and 223 min for those
    two, and for a single cone from 5 min (1 to 2, 5 C apart) to hours (07 to 06), the median being
    about three quarters of an hour at 60 C/h. Only a witness cone decides.

    Examples
    --------
    >>> round(hold_needed_min("04", 1031, 60))      # stopped where cone 05 is down
    150

    Source
    ------
    CONE-CHART-2016, through the model described at the top of this module.
    """
    name = _whole(cone)
    read_positive(rate_c_per_h, "rate_c_per_h", "a rate such as 60 C/h.")
    read_number(temperature_c, "The temperature", "1030 for 1030 C.", "temperature_c")
    missing = 1 - _summed(name, temperature_c) / rate_c_per_h
    return max(0.0, 60 * missing / work_per_hour(name, temperature_c))


def _whole(cone: str) -> str:
    name = read_cone(cone)
    if name.endswith(HALF):
        raise OutOfRange(
            f"Heat work is known for whole cones only, not {name}.", "a whole cone.", field="cone"
        )
    return name


def cone_reached(log: Iterable[tuple[float, float]]) -> HeatWork:
    """The cone a firing should have reached, from its log.

    Parameters
    ----------
    log : iterable of (hours, temperature_c)
        Time since any start, rising. [h]; kiln temperature. [C].

    Returns
    -------
    HeatWork

    Raises
    ------
    InvalidValue
        Fewer than two readings, a time that does not rise, something that is no number.
    Questioned
        Temperatures that only make sense in F.
    OutOfRange
        Too cool for cone 022 or hotter than cone 14.

    Notes
    -----
    A thermocouple reads one place, the ware another, so this is what the log implies; the witness
    cone beside the ware decides.

    Examples
    --------
    >>> ramp = [(0.0, 20.0), (8.0, 931.0), (9.0 + 2 / 3, 1031.0)]      # the last 100 C at 60 C/h
    >>> cone_reached(ramp).nearest
    '05'
    >>> cone_reached([*ramp, (11.0, 1031.0)]).nearest                   # and held 80 min
    '04'

    Source
    ------
    CONE-CHART-2016, through the model described at the top of this module.
    """
    readings = check_log(log)
    works = {cone: heat_work(cone, readings) for cone in CONES}
    down = [cone for cone in CONES if works[cone] >= 1]
    peak = max(temperature for _, temperature in readings)
    if not down or down[-1] == CONES[-1]:
        side = "too little for cone 022" if not down else "more than cone 14"
        raise OutOfRange(f"This log, peak {peak:g} C, is {side}.", "a complete log in C.")
    cooler = down[-1]
    hotter = CONES[CONES.index(cooler) + 1]
    over, under = math.log(works[cooler]), -math.log(works[hotter])
    position = step(cooler) + over / (over + under)
    rate = rate_near_top_c_per_h(readings)
    statuses = {end_point(each).status for each in (cooler, hotter)}
    return HeatWork(
        nearest=cone_at(position),
        position=position,
        cooler=cooler,
        hotter=hotter,
        peak_c=peak,
        rate_c_per_h=rate,
        hold_min=hold_min(readings),
        status="memory" if "memory" in statuses else "read",
        cautions=_cautions(rate, longest_gap_near_top_min(readings)),
    )


def _cautions(rate: float, gap_min: float) -> tuple[str, ...]:
    found = []
    if not SLOWEST_C_PER_H <= rate <= FASTEST_C_PER_H:
        told = "cannot be told" if math.isinf(rate) else f"is {rate:.0f} C/h"
        found.append(
            f"The rate near the top {told}; the chart covers {SLOWEST_C_PER_H:g} to "
            f"{FASTEST_C_PER_H:g} C/h, so this is extrapolated."
        )
    if gap_min > LONG_GAP_MIN:
        found.append(
            f"Readings near the top are up to {gap_min:.0f} min apart: straight lines are assumed."
        )
    return tuple(found)

"""From a kiln's log of time and temperature to the cone it should have reached.

The model, and what of it comes from the published chart, is told in ``_heatwork_model``. A cone is
taken to be down when half a degree more, half the chart's rounding, would do it.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiles.chemistry import _heatwork_model as _model
from tiles.chemistry._cone_chart import HALF_A_ROUNDING, end_point, published_rates
from tiles.chemistry._cone_scale import CONES, HALF, cone_at, read_cone, step
from tiles.chemistry._number import read_number, read_positive
from tiles.chemistry.kiln_log import (
    TOP_SPAN_C,
    check_log,
    check_temperature,
    hold_min,
    longest_gap_near_top_min,
    rate_near_top_c_per_h,
)
from tiles.errors import OutOfRange

SLOWEST_C_PER_H, FASTEST_C_PER_H = 15.0, 150.0
"""Span of the published heating rates. [C/h]."""

LONG_GAP_MIN = 30.0
"""Readings farther apart than this near the top are warned about. [min], estimate."""

LONGEST_HOLD_MIN = 1440.0
"""A hold longer than this is not told: even the slowest published rate climbs 360 C in a day."""

COOLEST_PEAK_C, HOTTEST_PEAK_C, PEAK_TOLERANCE_C = 400.0, 1600.0, 0.05
"""Between these every cone goes down, at any rate and hold of a kiln; how near it is told. [C]."""


@dataclass(frozen=True)
class HeatWork:
    """What a kiln log says about the cone reached.

    ``nearest`` is the nearest whole or half cone, ``position`` its place on the scale [cone steps],
    ``cooler`` the hottest whole cone that is down and ``hotter`` the next one, None after cone 14.
    ``peak_c`` [C], ``rate_c_per_h`` over the last 100 C, None when the log shows no climb,
    ``hold_min`` within 5 C of the peak. ``cautions`` are plain sentences; ``status`` is ``memory``
    when one of the chart rows the answer lies at or between is a remembered one.
    """

    nearest: str
    position: float
    cooler: str
    hotter: str | None
    peak_c: float
    rate_c_per_h: float | None
    hold_min: float
    status: str
    cautions: tuple[str, ...]


def work_per_hour(cone: str, temperature_c: float) -> float:
    """Heat work a cone collects in an hour at a steady temperature. [1/h], 1 being its end point.

    Raises
    ------
    UnknownCone, InvalidValue, Questioned
        Not a cone; no temperature of a kiln, or one that only makes sense in F.
    OutOfRange
        A half cone.

    Examples
    --------
    >>> round(work_per_hour("05", 1020), 2)
    1.38

    Source
    ------
    CONE-CHART-2016, through the model of `_heatwork_model`.
    """
    return _model.work_per_hour(_whole(cone), check_temperature(temperature_c))


def heat_work(cone: str, log: Sequence[tuple[float, float]]) -> float:
    """Share of a cone's end point that a log of (hours, temperature [C]) collects; 1 is down.

    Raises
    ------
    UnknownCone, InvalidValue, Questioned
        Not a cone; the log cannot be one, as `check_log` says.
    OutOfRange
        A half cone.
    """
    return _model.collected(_whole(cone), check_log(log))


def hold_needed_min(cone: str, temperature_c: float, rate_c_per_h: float = 60.0) -> float:
    """Minutes of hold at a temperature that bring a cone down, after heating at a rate. [min].

    0 when the cone is down before the hold begins.

    Raises
    ------
    UnknownCone, InvalidValue
        Not a cone; a rate that is not above 0; no temperature of a kiln.
    Questioned
        A temperature that only makes sense in F.
    OutOfRange
        A half cone; so cool that the hold would last more than a day.

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
    CONE-CHART-2016, through the model of `_heatwork_model`.
    """
    name = _whole(cone)
    rate = read_positive(rate_c_per_h, "rate_c_per_h", "a rate such as 60 C/h.")
    read_c = check_temperature(temperature_c)
    log_work = _model.log_summed(name, read_c) - math.log(rate)
    if _model.is_down(name, log_work, read_c):
        return 0.0
    missing, per_min = 1 - math.exp(log_work), _model.work_per_hour(name, read_c) / 60
    if missing > per_min * LONGEST_HOLD_MIN:
        raise OutOfRange(
            f"Cone {name} would need more than a day of hold at {read_c:g} C.",
            f"a temperature nearer to {end_point(name).temperature_c:.0f} C.",
            field="temperature_c",
            value=temperature_c,
        )
    return missing / per_min


def peak_needed_c(cone: str, rate_c_per_h: float = 60.0, held_min: float = 0.0) -> float:
    """Peak that brings a cone down, heated at a rate and then held there. [C].

    Parameters
    ----------
    cone : str
        A whole cone, or a half one, which is put midway.
    rate_c_per_h : float
        Heating rate over the last 100 C or so; beyond the published ones it is extrapolated. [C/h].
    held_min : float
        Hold at the peak. [min].

    Raises
    ------
    UnknownCone, InvalidValue
        Not a cone; a rate that is not above 0; a hold that is no number.

    Examples
    --------
    >>> round(peak_needed_c("05", 60)), round(peak_needed_c("05", 60, held_min=30))
    (1031, 1021)

    Source
    ------
    CONE-CHART-2016, through the model of `_heatwork_model`.
    """
    name = read_cone(cone)
    rate = read_positive(rate_c_per_h, "rate_c_per_h", "a rate such as 60 C/h.")
    hours = read_number(held_min, "The hold", "minutes, such as 15.", "held_min") / 60
    if name.endswith(HALF):
        below = int(step(name))
        around = (peak_needed_c(each, rate, held_min) for each in CONES[below : below + 2])
        return sum(around) / 2
    low, high = COOLEST_PEAK_C, HOTTEST_PEAK_C
    while high - low > PEAK_TOLERANCE_C:
        middle = (low + high) / 2
        climbed = math.exp(_model.log_summed(name, middle) - math.log(rate))
        work = climbed + hours * _model.work_per_hour(name, middle)
        low, high = (low, middle) if work >= 1 else (middle, high)
    return (low + high) / 2


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
    CONE-CHART-2016, through the model of `_heatwork_model`.
    """
    readings = check_log(log)
    peak = max(temperature for _, temperature in readings)
    log_works = {cone: _log(_model.collected(cone, readings)) for cone in CONES}
    cooler, hotter, position = _place(log_works, peak)
    rate = rate_near_top_c_per_h(readings)
    statuses = {_status(each, log_works[each], peak) for each in (cooler, hotter) if each}
    return HeatWork(
        nearest=cone_at(position),
        position=position,
        cooler=cooler,
        hotter=hotter,
        peak_c=peak,
        rate_c_per_h=rate,
        hold_min=hold_min(readings),
        status="memory" if "memory" in statuses else "read",
        cautions=_cautions(rate, readings),
    )


def _log(work: float) -> float:
    return math.log(work) if work > 0 else -math.inf


def _place(log_works: dict[str, float], peak_c: float) -> tuple[str, str | None, float]:
    """The hottest cone that is down, the next one, and the place between them. [cone steps]."""
    down = [cone for cone, work in log_works.items() if _model.is_down(cone, work, peak_c)]
    if not down:
        raise _beyond(peak_c, f"too little for cone {CONES[0]}")
    cooler = down[-1]
    if cooler == CONES[-1]:
        if _model.log_work_moved(cooler, log_works[cooler], peak_c, -HALF_A_ROUNDING) > 0:
            raise _beyond(peak_c, f"more than cone {cooler}")
        return cooler, None, step(cooler)
    hotter = CONES[CONES.index(cooler) + 1]
    over, under = max(0.0, log_works[cooler]), -log_works[hotter]
    return cooler, hotter, step(cooler) + over / (over + under)


def _beyond(peak_c: float, side: str) -> OutOfRange:
    return OutOfRange(f"This log, peak {peak_c:g} C, is {side}.", "a complete log in C.")


def _status(cone: str, log_work: float, peak_c: float) -> str:
    """``memory`` when a chart row the answer lies at or between is a remembered one.

    The rows are found by the constant rate at which the same peak is the same heat work.
    """
    slowest, fastest = (
        _model.log_summed(cone, peak_c + moved) - log_work
        for moved in (-HALF_A_ROUNDING, HALF_A_ROUNDING)
    )
    rates = published_rates(cone)
    rows = [each for each in rates if slowest <= math.log(each) <= fastest]
    if not rows:
        below = [each for each in rates if math.log(each) < slowest]
        # Beyond the published rates the slope over all of them is used: the first and the last.
        between = 0 < len(below) < len(rates)
        rows = rates[len(below) - 1 : len(below) + 1] if between else (rates[0], rates[-1])
    return "memory" if "memory" in {end_point(cone, each).status for each in rows} else "read"


def _cautions(rate: float | None, readings: Sequence[tuple[float, float]]) -> tuple[str, ...]:
    found = []
    slowest, fastest = SLOWEST_C_PER_H - HALF_A_ROUNDING, FASTEST_C_PER_H + HALF_A_ROUNDING
    if rate is None or not slowest <= rate <= fastest:
        told = "cannot be told" if rate is None else f"is {rate:.0f} C/h"
        found.append(
            f"The rate near the top {told}; the chart covers {SLOWEST_C_PER_H:g} to "
            f"{FASTEST_C_PER_H:g} C/h, so this is extrapolated."
        )
    gap_min = longest_gap_near_top_min(readings)
    if gap_min > LONG_GAP_MIN:
        found.append(
            f"Readings near the top are up to {gap_min:.0f} min apart: straight lines are assumed."
        )
    start_c = readings[0][1]
    if start_c > max(temperature for _, temperature in readings) - TOP_SPAN_C:
        found.append(f"The log begins at {start_c:.0f} C: the heat work before that is missing.")
    return tuple(found)

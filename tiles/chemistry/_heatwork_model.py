"""The heat work of cones, as the published chart fixes it. Use it through ``heatwork``.

Each cone collects heat work, 1 being its end point. The chart fixes how much: heated at a constant
rate r a cone is down at the published temperature, so the work summed up to there, times r, must
equal r. Between published rates that sum follows ln(sum) = a - q / T, as a thermally activated
process does, and work adds up whatever the order (the additivity rule). A log at a constant
published rate therefore gives back the chart; holds and slow cooling add their own share.
"""

import math
from collections.abc import Sequence
from functools import cache
from itertools import pairwise

from tiles.chemistry._cone_chart import HALF_A_ROUNDING, end_point, published_rates

ABSOLUTE_ZERO_C = -273.15


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


def log_summed(cone: str, temperature_c: float) -> float:
    """Logarithm of the heat work up to a temperature times the constant heating rate [C/h]."""
    a, q = _line(cone, temperature_c)
    return a - q / (temperature_c - ABSOLUTE_ZERO_C)


def _summed(cone: str, temperature_c: float) -> float:
    return math.exp(log_summed(cone, temperature_c))


def work_per_hour(cone: str, temperature_c: float) -> float:
    """Heat work a cone collects in an hour at a steady temperature. [1/h]."""
    _, q = _line(cone, temperature_c)
    kelvin = temperature_c - ABSOLUTE_ZERO_C
    return _summed(cone, temperature_c) * q / kelvin**2


def collected(cone: str, log: Sequence[tuple[float, float]]) -> float:
    """Share of a cone's end point that a checked log collects."""
    total = 0.0
    for (start_h, start_c), (end_h, end_c) in pairwise(log):
        hours = end_h - start_h
        if abs(end_c - start_c) < 0.05:
            total += work_per_hour(cone, (start_c + end_c) / 2) * hours
        else:
            rate = (end_c - start_c) / hours
            total += (_summed(cone, end_c) - _summed(cone, start_c)) / rate
    return total


def log_work_moved(cone: str, log_work: float, peak_c: float, moved_c: float) -> float:
    """Logarithm of the work a log would have collected with its peak moved by some degrees."""
    return log_work + log_summed(cone, peak_c + moved_c) - log_summed(cone, peak_c)


def is_down(cone: str, log_work: float, peak_c: float) -> bool:
    """Whether a cone is down, or would be half a degree hotter: the chart is no finer."""
    return log_work_moved(cone, log_work, peak_c, HALF_A_ROUNDING) >= 0

"""The cones around a temperature, by the published end points. Use it through ``cones``."""

from bisect import bisect_left
from dataclasses import dataclass

from tiles.chemistry._cone_chart import (
    HALF_A_ROUNDING,
    MEDIUM_RATE_C_PER_H,
    end_points,
    fahrenheit_to_celsius,
)
from tiles.chemistry._cone_scale import cone_at, step
from tiles.chemistry._number import read_number
from tiles.errors import OutOfRange


@dataclass(frozen=True)
class ConeReading:
    """Where a temperature lies among the cones at one heating rate.

    ``cooler`` and ``hotter`` are the whole cones around it (the same one within half a degree of
    its end point), ``nearest`` the nearest whole or half cone, ``position`` its place on the scale
    [cone steps].
    """

    cooler: str
    hotter: str
    nearest: str
    position: float
    status: str


def cone_for(
    temperature_c: float,
    rate_c_per_h: float = MEDIUM_RATE_C_PER_H,
    cone_type: str = "self-supporting",
) -> ConeReading:
    """The cones around a temperature reached at a heating rate, without a hold.

    Parameters
    ----------
    temperature_c : float
        Highest temperature reached. [C].
    rate_c_per_h : float
        Heating rate over the last 100 C or so. [C/h].
    cone_type : str
        One of `CONE_TYPES`.

    Raises
    ------
    OutOfRange
        Temperature or rate outside the published chart; asks about F where that would fit.

    Notes
    -----
    The chart is rounded to whole degrees, so a temperature within half a degree of an end point is
    that end point: 1945 F (1062.8 C), as the chart prints cone 04, is cone 04.

    Examples
    --------
    >>> reading = cone_for(1040, 60)
    >>> reading.cooler, reading.hotter, reading.nearest
    ('05', '04', '04½')

    Source
    ------
    CONE-CHART-2016
    """
    ladder = end_points(rate_c_per_h, cone_type)
    reached = [point.temperature_c for point in ladder]
    read_c = _read_temperature(temperature_c, rate_c_per_h, reached)
    above = bisect_left(reached, read_c)
    hotter = ladder[above]
    cooler = hotter if reached[above] == read_c else ladder[above - 1]
    span = hotter.temperature_c - cooler.temperature_c
    share = (read_c - cooler.temperature_c) / span if span else 0.0
    position = step(cooler.cone) + share * (step(hotter.cone) - step(cooler.cone))
    return ConeReading(
        cooler=cooler.cone,
        hotter=hotter.cone,
        nearest=cone_at(position),
        position=position,
        status="memory" if "memory" in (cooler.status, hotter.status) else "read",
    )


def _read_temperature(temperature: float, rate: float, reached: list[float]) -> float:
    """The temperature, or the end point it is within half a degree of. [C]."""
    span = f"{reached[0]:.0f} to {reached[-1]:.0f} C"
    hint = f"a temperature from {span}."
    number = read_number(temperature, "The temperature", hint, "temperature_c")
    closest = min(reached, key=lambda each: abs(each - number))
    if abs(closest - number) <= HALF_A_ROUNDING:
        return closest
    if reached[0] <= number <= reached[-1]:
        return number
    if reached[0] <= fahrenheit_to_celsius(number) <= reached[-1]:
        hint = f"{number:g} F is {fahrenheit_to_celsius(number):.0f} C; is it in F?"
    raise OutOfRange(
        f"{number:g} C is outside the cones published at {rate:g} C/h ({span}).",
        hint,
        field="temperature_c",
        value=temperature,
    )

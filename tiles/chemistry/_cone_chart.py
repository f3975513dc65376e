"""Published end points of pyrometric cones by heating rate. Use it through ``cones``."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from tiles.chemistry._cone_scale import CONES, HALF, read_cone, step
from tiles.chemistry._number import brief, read_number
from tiles.chemistry._tables import read_table
from tiles.errors import InvalidValue, OutOfRange

MEDIUM_RATE_C_PER_H = 60.0
"""The middle one of the published heating rates, and the one assumed when none is given."""

HALF_A_ROUNDING = 0.5
"""Half the unit the chart is rounded to, 1 C and 1 C/h: nothing within it differs. [C], [C/h]."""

CONE_TYPES = (
    "self-supporting",
    "large",
    "small",
    "self-supporting iron-free",
    "large iron-free",
)


@dataclass(frozen=True)
class EndPoint:
    """Temperature at which a cone has bent, at one heating rate near the top.

    ``status`` is ``read`` (from the published chart) or ``memory`` (the chart as remembered: to be
    confirmed). ``is_estimated`` is True for a half step or a rate between published ones.
    """

    cone: str
    rate_c_per_h: float
    temperature_c: float
    status: str
    is_estimated: bool = False

    @property
    def temperature_f(self) -> float:
        """The same temperature. [F]."""
        return celsius_to_fahrenheit(self.temperature_c)


def celsius_to_fahrenheit(temperature_c: float) -> float:
    """Degrees Fahrenheit. [F].

    Examples
    --------
    >>> celsius_to_fahrenheit(1063)
    1945.4
    """
    return temperature_c * 9 / 5 + 32


def fahrenheit_to_celsius(temperature_f: float) -> float:
    """Degrees Celsius. [C].

    Examples
    --------
    >>> fahrenheit_to_celsius(1940)
    1060.0
    """
    return (temperature_f - 32) * 5 / 9


def read_cone_type(text: str) -> str:
    """The type's name on the chart, whatever its capitals.

    Raises
    ------
    InvalidValue
        Not one of `CONE_TYPES`.

    Examples
    --------
    >>> read_cone_type("Small")
    'small'
    """
    name = " ".join(text.casefold().split()) if isinstance(text, str) else text
    if name not in CONE_TYPES:
        raise InvalidValue(
            f"{brief(text)} is not a type of cone on the chart.",
            f"one of: {', '.join(CONE_TYPES)}.",
            field="cone_type",
            value=text,
        )
    return name


def _chart(cone_type: str) -> dict[str, dict[float, tuple[float, str]]]:
    """Cone -> heating rate -> (temperature, status), for one type of cone."""
    return _chart_of(read_cone_type(cone_type))


@cache
def _chart_of(cone_type: str) -> dict[str, dict[float, tuple[float, str]]]:
    chart: dict[str, dict[float, tuple[float, str]]] = {}
    for row in read_table("cones"):
        if row["cone_type"] == cone_type:
            rates = chart.setdefault(row["cone"], {})
            rates[float(row["heating_rate_c_per_h"])] = (float(row["temperature_c"]), row["status"])
    return chart


def published_rates(cone: str, cone_type: str = "self-supporting") -> tuple[float, ...]:
    """Heating rates at which the chart gives this cone, slowest first. [C/h].

    A half step has the rates both its neighbours have.

    Examples
    --------
    >>> published_rates("05"), published_rates("022")
    ((15.0, 60.0, 150.0), (60.0, 150.0))
    """
    chart = _chart(cone_type)
    shared = [set(chart.get(each, {})) for each in _whole_neighbours(read_cone(cone))]
    return tuple(sorted(set.intersection(*shared)))


def usual_rate_c_per_h(cone_type: str) -> float:
    """The rate to assume when none is given: the medium one, or the nearest published. [C/h].

    Examples
    --------
    >>> usual_rate_c_per_h("self-supporting"), usual_rate_c_per_h("small")
    (60.0, 300.0)
    """
    return min(_all_rates(cone_type), key=lambda rate: abs(rate - MEDIUM_RATE_C_PER_H))


def _all_rates(cone_type: str) -> tuple[float, ...]:
    return tuple(sorted({each for rates in _chart(cone_type).values() for each in rates}))


def _whole_neighbours(cone: str) -> tuple[str, ...]:
    if not cone.endswith(HALF):
        return (cone,)
    cooler = int(step(cone))
    return CONES[cooler], CONES[cooler + 1]


def temperatures(cone: str, cone_type: str = "self-supporting") -> list[EndPoint]:
    """End points of a cone at each published heating rate, slowest first.

    Raises
    ------
    UnknownCone
        As `read_cone`.

    Examples
    --------
    >>> [(each.rate_c_per_h, each.temperature_c) for each in temperatures("05")]
    [(15.0, 1021.0), (60.0, 1031.0), (150.0, 1044.0)]
    """
    return [end_point(cone, rate, cone_type) for rate in published_rates(cone, cone_type)]


def end_point(
    cone: str, rate_c_per_h: float = MEDIUM_RATE_C_PER_H, cone_type: str = "self-supporting"
) -> EndPoint:
    """End point of a cone at a heating rate, with how far it is published.

    Parameters
    ----------
    cone : str
        Any spelling `read_cone` takes; a half step is put midway and said to be estimated.
    rate_c_per_h : float
        Heating rate over the last 100 C or so. [C/h].
    cone_type : str
        One of `CONE_TYPES`.

    Raises
    ------
    UnknownCone
        Not a cone.
    OutOfRange
        The rate is outside those published for this cone and type.

    Notes
    -----
    Between published rates the temperature is linear in the logarithm of the rate, as a thermally
    activated process is over a short span. Published values are returned unchanged. The chart is
    for the rate near the end, without a hold. It is rounded to whole C/h, so a rate less than half
    a C/h beyond its slowest or fastest is taken as that one.

    Examples
    --------
    >>> end_point("05½").temperature_c, end_point("05½").is_estimated
    (1014.5, True)

    Source
    ------
    CONE-CHART-2016
    """
    name = read_cone(cone)
    rates = published_rates(name, cone_type)
    read_rate = _read_rate(name, rate_c_per_h, rates, cone_type)
    slower = max(rate for rate in rates if rate <= read_rate)
    faster = min(rate for rate in rates if rate >= read_rate)
    rows = [_chart(cone_type)[each] for each in _whole_neighbours(name)]
    at_slower = sum(row[slower][0] for row in rows) / len(rows)
    at_faster = sum(row[faster][0] for row in rows) / len(rows)
    share = 0.0 if slower == faster else math.log(read_rate / slower) / math.log(faster / slower)
    statuses = {row[rate][1] for row in rows for rate in (slower, faster)}
    return EndPoint(
        cone=name,
        rate_c_per_h=read_rate,
        temperature_c=at_slower + share * (at_faster - at_slower),
        status="memory" if "memory" in statuses else "read",
        is_estimated=slower != faster or len(rows) > 1,
    )


def _read_rate(cone: str, rate: float, rates: tuple[float, ...], cone_type: str) -> float:
    """The rate as a float within the published ones, or why it is not. [C/h]."""
    if not rates:
        raise OutOfRange(
            f"The chart gives no temperature for cone {cone} of type {cone_type}.",
            "a self-supporting cone.",
            field="cone",
            value=cone,
        )
    hint = f"a rate from {rates[0]:g} to {rates[-1]:g} C/h."
    number = read_number(rate, "The heating rate", hint, "rate_c_per_h")
    if number <= 0:
        raise InvalidValue(
            f"A heating rate must be above 0, not {rate:zg}.",
            hint,
            field="rate_c_per_h",
            value=rate,
        )
    if not _covers(rates, number):
        raise _rate_outside(cone, number, rates, cone_type)
    return min(max(number, rates[0]), rates[-1])


def _rate_outside(cone: str, rate: float, rates: tuple[float, ...], cone_type: str) -> OutOfRange:
    span = f"{rates[0]:g} to {rates[-1]:g} C/h" if len(rates) > 1 else f"{rates[0]:g} C/h"
    hint = f"a rate of {span}."
    if rate > rates[-1] and _covers(rates, rate / 1.8):
        hint = f"{rate:g} F/h is {rate / 1.8:.0f} C/h; is it in F?"
    return OutOfRange(
        f"Heating rate {rate:g} C/h is outside the published {span} for {cone_type} cone {cone}.",
        hint,
        field="rate_c_per_h",
        value=rate,
    )


def temperature_c(
    cone: str, rate_c_per_h: float = MEDIUM_RATE_C_PER_H, cone_type: str = "self-supporting"
) -> float:
    """Temperature at which a cone has bent, heated at a rate; see `end_point`. [C].

    Examples
    --------
    >>> temperature_c("05"), temperature_c("5")
    (1031.0, 1186.0)
    """
    return end_point(cone, rate_c_per_h, cone_type).temperature_c


def end_points(
    rate_c_per_h: float = MEDIUM_RATE_C_PER_H, cone_type: str = "self-supporting"
) -> list[EndPoint]:
    """End points of every whole cone the chart covers at this rate, coolest first.

    Raises
    ------
    OutOfRange
        The chart covers no cone at this rate.

    Examples
    --------
    >>> [end_points(rate)[0].cone for rate in (15, 60)]
    ['019', '022']
    """
    chart = _chart(cone_type)
    _read_rate(f"{CONES[0]} to {CONES[-1]}", rate_c_per_h, _all_rates(cone_type), cone_type)
    covered = [each for each in CONES if each in chart and _covers(chart[each], rate_c_per_h)]
    return [end_point(each, rate_c_per_h, cone_type) for each in covered]


def _covers(rates: Iterable[float], rate: float) -> bool:
    return min(rates) - HALF_A_ROUNDING <= rate <= max(rates) + HALF_A_ROUNDING

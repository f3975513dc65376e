"""Second-order mixture polynomials and interval widths: the form both fitted glass models take.

A property is a sum over oxides of a factor times the mole fraction, plus pair terms, a factor times
the product of two mole fractions (Scheffé's mixture polynomial). A pair may name a sum of oxides
(`tiles.chemistry._glass.SUMS`). Shipped factors live in one small TOML file for each property.
"""

import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any

from tiles.chemistry._glass import Glass
from tiles.chemistry._tables import DATA

PAIR = " x "


@cache
def read_coefficients(name: str) -> dict[str, Any]:
    """The shipped coefficients of one property: a few tables of numbers."""
    with (DATA / f"{name}_coefficients.toml").open("rb") as file:
        return tomllib.load(file)


def term(glass: Glass, name: str) -> Any:
    """Mole fraction of an oxide or sum, or the product of two for ``A x B``."""
    return polynomial(glass, {name: 1.0})


def polynomial(glass: Glass, factors: Mapping[str, float]) -> Any:
    """Sum of factor x term."""
    of, total = glass.quantities, 0.0
    for (first, second), factor in zip(_parted(tuple(factors)), factors.values(), strict=True):
        fraction = of[first] / 100.0
        total = total + factor * (fraction * of[second] / 100.0 if second else fraction)
    return total


@cache
def _parted(names: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """Both names of each pair; the second is empty where it is none."""
    parts = (name.partition(PAIR) for name in names)
    return tuple((first, second) for first, _, second in parts)


def shared_width_parts(
    glass: Glass, centre: Mapping[str, float], spread: Mapping[str, float]
) -> dict[str, Any]:
    """What widens an interval whatever the property; every part is 0 or more.

    Returns
    -------
    dict
        ``constant`` 1; ``distance`` from the middle of the measured glasses; ``outside`` how far
        beyond them; ``scarce`` mole fraction of oxides with few measurements, in tenths.
    """
    return {
        "constant": glass["SiO2"] * 0.0 + 1.0,
        "distance": glass.distance(centre, spread),
        "outside": glass.outside(),
        "scarce": glass.quantities["scarce"] / 10.0,
    }


def width(parts: Mapping[str, Any], factors: Mapping[str, float]) -> Any:
    """Distance from the estimate to one end of its interval."""
    return sum(factor * parts[name] for name, factor in factors.items())

"""Viscosity of the molten glaze at a temperature, with a 90 % interval, and a plain word for it."""

from collections.abc import Mapping
from typing import Any

from tiles.chemistry._answer import Estimate, as_answer, difference_of
from tiles.chemistry._glass import Glass, glass_of, read_glass
from tiles.chemistry._mixture import (
    polynomial,
    read_coefficients,
    shared_width_parts,
    width,
)
from tiles.chemistry._number import read_number
from tiles.chemistry._temperature import read_temperature

UNIT = "log10 Pa.s"
LOWEST_C, HIGHEST_C = 600.0, 1500.0
HIGHEST_T0_K = 750.0
LOWEST_B_K = 1500.0
"""Bounds on T0 and B, beyond every measured glass: viscosity falls with heat for any glaze."""

STIFF_FROM, STIFF_AT_MOST = 3.5, 2.5
"""Log10 viscosity [Pa.s] from which a melt is less sure, and the log units that count at most."""

WORDS = ((4.0, "stiff"), (3.0, "healing"), (2.25, "fluid"), (float("-inf"), "runny"))
"""Lowest log10 viscosity [Pa.s] of each word."""


def estimate(oxides: Any, temperature_c: Any) -> Any:
    """Viscosity of the melt at a temperature, log10 Pa.s, with a 90 % interval.

    Parameters
    ----------
    oxides : Mapping[str, float], pandas.Series or pandas.DataFrame
        Mol % of each oxide (any positive total is scaled to 100; F in mol per 100 mol of oxides).
        Never weight %: the two cannot be told apart, so nothing warns of it; turn an analysis
        into moles first (`tiles.chemistry.oxides.moles`).
    temperature_c : float, array-like or pandas.Series
        Temperature of the melt. [C], 600 to 1500. For a frame one number, or one per row: a list
        or an array by position, a Series by its index.

    Returns
    -------
    Estimate or pandas.DataFrame
        ``value``, ``low`` and ``high``: attributes for one glass, columns for a frame.

    Raises
    ------
    UnknownName
        An oxide is not in the oxide table.
    InvalidValue
        A bad composition, a temperature that is not a number, or temperatures that cannot be
        matched to the rows.
    OutOfRange
        A temperature outside 600-1500 C.

    Notes
    -----
    Vogel-Fulcher-Tammann: log10 viscosity = A + B / (T - T0), with B and T0 second-order mixture
    polynomials. Best between 900 and 1350 C; the interval widens outside. It describes the
    liquid: undissolved grains, crystals and bubbles make a real glaze stiffer.

    Examples
    --------
    >>> soda_lime = {"SiO2": 74, "Na2O": 16, "CaO": 10}
    >>> hot, cool = estimate(soda_lime, 1200), estimate(soda_lime, 1000)
    >>> hot.value < cool.value
    True

    Source
    ------
    SCIGLASS-2019, fitted by ``tests/fitting/melt.py``.
    """
    glass = read_glass(oxides)
    temperature = _read_temperature(glass, temperature_c)
    return by_coefficients(glass, temperature, read_coefficients("melt"))


def _read_temperature(glass: Glass, temperature_c: Any) -> Any:
    return read_temperature(glass, temperature_c, "Melt viscosity", (LOWEST_C, HIGHEST_C))


def log10_viscosity(
    glass: Glass, temperature_c: Any, coefficients: Mapping[str, Mapping[str, float]]
) -> Any:
    """The curve itself, without an interval. [log10 Pa.s]."""
    numbers = glass.numbers
    b_k = numbers.maximum(LOWEST_B_K, 1000 * polynomial(glass, coefficients["b"]))
    t0_k = numbers.minimum(HIGHEST_T0_K, 1000 * polynomial(glass, coefficients["t0"]))
    return coefficients["curve"]["a"] + b_k / (temperature_c + 273.15 - t0_k)


def width_parts(
    glass: Glass,
    temperature_c: Any,
    value: Any,
    centre: Mapping[str, float],
    spread: Mapping[str, float],
) -> dict[str, Any]:
    """What widens the interval: as for every property, a stiff melt, heat outside 900-1350 C.

    A stiff melt is less sure, because near T0 a small error of T0 is a large one of viscosity.
    """
    beyond = glass.numbers.maximum
    return {
        **shared_width_parts(glass, centre, spread),
        "stiff": glass.numbers.minimum(STIFF_AT_MOST, beyond(0.0, value - STIFF_FROM)),
        "cold": beyond(0.0, 900.0 - temperature_c) / 100,
        "hot": beyond(0.0, temperature_c - 1350.0) / 100,
    }


def by_coefficients(
    glass: Glass, temperature_c: Any, coefficients: Mapping[str, Mapping[str, float]]
) -> Any:
    """The estimate from a checked composition and a set of coefficients."""
    value = log10_viscosity(glass, temperature_c, coefficients)
    centre, spread = coefficients["centre"], coefficients["spread"]
    parts = width_parts(glass, temperature_c, value, centre, spread)
    low = value - width(parts, coefficients["low"])
    high = value + width(parts, coefficients["high"])
    return as_answer(glass, value, low, high, UNIT)


def middle(moles: Mapping[str, Any], temperature_c: float, **many: Any) -> Any:
    """The value of `estimate` alone, for a search that asks for thousands. [log10 Pa.s].

    ``moles`` are those of an analysed recipe, in any total: they are not checked again. With
    ``numbers=numpy`` each amount may be an array, for many recipes at once.

    Raises
    ------
    OutOfRange
        A temperature outside 600-1500 C.

    Examples
    --------
    >>> soda_lime = {"SiO2": 74, "Na2O": 16, "CaO": 10}
    >>> middle(soda_lime, 1100) == estimate(soda_lime, 1100).value
    True
    """
    glass = glass_of(moles, **many)
    temperature = _read_temperature(glass, temperature_c)
    return log10_viscosity(glass, temperature, read_coefficients("melt"))


def difference(
    first: Mapping[str, float], second: Mapping[str, float], temperature_c: float
) -> Estimate:
    """Log10 viscosity of the second melt less that of the first at one temperature, +/- 90 %.

    Parameters
    ----------
    first, second : Mapping[str, float]
        Mol % of each oxide.
    temperature_c : float
        Temperature of both. [C], 600 to 1500.

    Returns
    -------
    Estimate
        [log10 Pa.s]; -1 means ten times as fluid. Narrower than either melt's own interval when
        the two are alike.

    Notes
    -----
    Held-out errors of glass pairs from one group of sources, within 30 C of each other, grow with
    the square root of the mol % exchanged; the factor is the 90 % quantile of those pairs.

    Source
    ------
    SCIGLASS-2019, fitted by ``tests/fitting/melt.py``.
    """
    coefficients = read_coefficients("melt")
    glasses = [read_glass(first), read_glass(second)]
    temperature_c = _read_temperature(glasses[0], temperature_c)
    one, other = (by_coefficients(glass, temperature_c, coefficients) for glass in glasses)
    return difference_of(glasses, (one, other), coefficients)


def word(log10_viscosity_pa_s: float) -> str:
    """A potter's word for a melt at the top of its firing: stiff, healing, fluid or runny.

    Parameters
    ----------
    log10_viscosity_pa_s : float
        Viscosity at the cone's end-point temperature. [log10 Pa.s]

    Returns
    -------
    str
        ``stiff`` from 4: brush marks, craters and pinholes stay. ``healing`` from 3: the surface
        levels and the glaze stays where it was put. ``fluid`` from 2.25: it moves a millimetre or
        more down an upright wall, breaks over edges and pools. ``runny`` below: 5 mm and more.

    Notes
    -----
    The limits are worked out, not measured on glazes. 20 minutes at the top, a melt 0.3 mm thick of
    2500 kg/m3 and 0.3 N/m. Running: mean speed of a film on an upright wall, density x g x
    thickness^2 / (3 viscosity), gives 1 mm at 10^2.95 and 5 mm at 10^2.25 Pa.s. Levelling: a
    5 mm wave fades to 1/e in 3 viscosity wave^4 / (16 pi^4 tension thickness^3), 20 minutes at
    10^3.9 Pa.s. A thicker coat runs sooner: the speed goes with the square of the thickness.

    Examples
    --------
    >>> word(3.4), word(1.9)
    ('healing', 'runny')

    Source
    ------
    ORCHARD-1962 for levelling; the draining film is textbook mechanics. Limits rounded.
    """
    field = "log10_viscosity_pa_s"
    value = read_number(log10_viscosity_pa_s, "The viscosity", "a log10 Pa.s such as 3.2.", field)
    return next(name for lowest, name in WORDS if value >= lowest)


def words_within(answer: Estimate) -> tuple[str, ...]:
    """Every word the 90 % interval of a viscosity touches, stiffest first.

    Examples
    --------
    >>> words_within(Estimate(3.2, 2.9, 3.6, UNIT))
    ('healing', 'fluid')
    """
    stiffest, runniest = word(answer.high), word(answer.low)
    names = [name for _, name in WORDS]
    return tuple(names[names.index(stiffest) : names.index(runniest) + 1])

"""Thermal expansion of a glaze's glass, with a 90 % interval.

The estimate is a second-order mixture polynomial fitted to measured glasses; `appen` gives Appen's
published additive factors as a second opinion.
"""

from collections.abc import Mapping
from typing import Any

from tiles.chemistry._answer import Estimate, as_answer, difference_of
from tiles.chemistry._appen import appen
from tiles.chemistry._glass import Glass, glass_of, read_glass
from tiles.chemistry._mixture import (
    polynomial,
    read_coefficients,
    shared_width_parts,
    width,
)

UNIT = "1e-6/K"
USUAL_MARGIN_PPM_PER_K = (0.5, 1.5)
"""How far a glaze is usually put below its body. [1e-6/K]; estimate from stress arithmetic."""

__all__ = ["appen", "by_coefficients", "difference", "estimate", "middle"]


def estimate(oxides: Any) -> Any:
    """Mean linear thermal expansion of a glaze's glass below its transition, with a 90 % interval.

    Parameters
    ----------
    oxides : Mapping[str, float], pandas.Series or pandas.DataFrame
        Mol % of each oxide (any positive total is scaled to 100; F in mol per 100 mol of oxides).
        A frame has one column per oxide, one row per glass; a Series is one glass. Never
        weight %: the two cannot be told apart, so nothing warns of it; turn an analysis into
        moles first (`tiles.chemistry.oxides.moles`).

    Returns
    -------
    Estimate or pandas.DataFrame
        ``value``, ``low`` and ``high`` [1e-6/K]: attributes for one glass, columns for a frame.

    Raises
    ------
    UnknownName
        An oxide is not in the oxide table.
    InvalidValue
        A negative or absent amount, an empty composition, or one without SiO2.

    Notes
    -----
    The interval is where nine of ten published measurements of such a glass fall; it holds the
    scatter between laboratories (about 0.3) and between temperature ranges (20-300 to 50-400 C),
    and widens away from the measured glasses. Colourants, crystals, opacifiers and lead are
    outside what was fitted: ``remarks`` say so.

    Examples
    --------
    >>> found = estimate({"SiO2": 74, "Na2O": 16, "CaO": 10})
    >>> 9.0 < found.value < 10.0 and found.low < found.value < found.high
    True

    Source
    ------
    SCIGLASS-2019, fitted by ``tests/fitting/expansion.py``.
    """
    return by_coefficients(read_glass(oxides), read_coefficients("expansion"))


def by_coefficients(glass: Glass, coefficients: Mapping[str, Mapping[str, float]]) -> Any:
    """The estimate from a checked composition and a set of coefficients."""
    value = _polynomials(glass, coefficients)
    parts = shared_width_parts(glass, coefficients["centre"], coefficients["spread"])
    low = value - width(parts, coefficients["low"])
    high = value + width(parts, coefficients["high"])
    return as_answer(glass, value, low, high, UNIT)


def middle(moles: Mapping[str, Any], **many: Any) -> Any:
    """The value of `estimate` alone, for a search that asks for thousands. [1e-6/K].

    ``moles`` are those of an analysed recipe, in any total: they are not checked again. With
    ``numbers=numpy`` each amount may be an array, for many recipes at once.

    Examples
    --------
    >>> middle({"SiO2": 74, "Na2O": 16}) == estimate({"SiO2": 74, "Na2O": 16}).value
    True
    """
    return _polynomials(glass_of(moles, **many), read_coefficients("expansion"))


def _polynomials(glass: Glass, coefficients: Mapping[str, Mapping[str, float]]) -> Any:
    return polynomial(glass, coefficients["factors"]) + polynomial(glass, coefficients["pairs"])


def difference(first: Mapping[str, float], second: Mapping[str, float]) -> Estimate:
    """Expansion of the second glass less that of the first, with a 90 % interval.

    Parameters
    ----------
    first, second : Mapping[str, float]
        Mol % of each oxide.

    Returns
    -------
    Estimate
        [1e-6/K]. Narrower than either glass's own interval when the two are alike.

    Notes
    -----
    Held-out errors of glass pairs from one laboratory grow with the square root of the mol %
    exchanged (half the sum of all changes); the factor is the 90 % quantile of those pairs.
    It is the interval for both glasses measured in one place and one way.

    Source
    ------
    SCIGLASS-2019, fitted by ``tests/fitting/expansion.py``.
    """
    coefficients = read_coefficients("expansion")
    glasses = [read_glass(first), read_glass(second)]
    one, other = (by_coefficients(glass, coefficients) for glass in glasses)
    return difference_of(glasses, (one, other), coefficients)

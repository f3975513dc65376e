"""Surface tension of the molten glaze, by the additive factors of Kucuk, Clare and Jones."""

from typing import Any

from tiles.chemistry._answer import as_answer
from tiles.chemistry._appen import published_factors
from tiles.chemistry._glass import Glass, read_glass
from tiles.chemistry._temperature import read_temperature

UNIT = "mN/m"
PUBLISHED_C = 1400.0
LOWEST_C, HIGHEST_C = 900.0, 1500.0
SHARE = 0.05
PER_UNKNOWN_PERCENT = 3.0
PER_100_C = 2.0
"""Half widths: share of the value, mN/m for each mol % without a factor, and for each 100 C."""


def estimate(oxides: Any, temperature_c: Any = PUBLISHED_C) -> Any:
    """Surface tension of the melt with an interval. [mN/m].

    Parameters
    ----------
    oxides : Mapping[str, float], pandas.Series or pandas.DataFrame
        Mol % of each oxide (any positive total is scaled to 100), never weight %.
    temperature_c : float, array-like or pandas.Series
        One temperature, or one per row of a frame. [C], 900 to 1500; the factors are published
        for 1400.

    Returns
    -------
    Estimate or pandas.DataFrame
        ``value``, ``low`` and ``high``: attributes for one glass, columns for a frame.

    Raises
    ------
    UnknownName, InvalidValue
        As for `tiles.chemistry.melt.estimate`.
    OutOfRange
        A temperature outside 900-1500 C.

    Notes
    -----
    271.2 mN/m plus a factor for each mol %; silica and soda have none. Iron counts as two FeO for
    one Fe2O3. Below 1400 C, 4 mN/m are added for each 100 C (from memory). The interval is not
    fitted: 5 % is the upper error the authors give for their measurements, and 3 mN/m for each
    mol % of an oxide without a factor and 2 mN/m for each 100 C from 1400 are estimates of ours.

    Examples
    --------
    >>> round(estimate({"SiO2": 74, "Na2O": 16, "CaO": 10}).value, 1)
    304.6

    Source
    ------
    KUCUK-1999; DIETZEL-1942 for the temperature coefficient.
    """
    glass = read_glass(oxides)
    span = (LOWEST_C, HIGHEST_C)
    temperature_c = read_temperature(glass, temperature_c, "Surface tension", span)
    factors = published_factors("Kucuk")
    per_100_c = published_factors("Dietzel")["per 100 C"]
    steps = (temperature_c - PUBLISHED_C) / 100
    value = factors["constant"] + per_100_c * steps + _sum_of_factors(glass, factors)
    unknown = _without_factor(glass, factors)
    half = SHARE * value + PER_UNKNOWN_PERCENT * unknown + PER_100_C * abs(steps)
    remarks = ()
    if glass.index is None and unknown > 1:
        remarks = (f"{unknown:.1f} mol % have no published factor and count like silica",)
    return as_answer(glass, value, value - half, value + half, UNIT, remarks)


def _sum_of_factors(glass: Glass, factors: dict[str, float]) -> Any:
    iron = 2 * factors["FeO"] * glass["Fe2O3"]
    return iron + sum(factors[oxide] * glass[oxide] for oxide in factors if oxide in glass.percent)


def _without_factor(glass: Glass, factors: dict[str, float]) -> Any:
    known = {*factors, "Fe2O3"}
    return sum(amount for oxide, amount in glass.percent.items() if oxide not in known)

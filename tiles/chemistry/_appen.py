"""Appen's additive expansion factors: a published second opinion on the fitted estimate."""

from functools import cache
from typing import Any

from tiles.chemistry._glass import ALKALIS, EARTHS, Glass, read_glass
from tiles.chemistry._tables import read_table


@cache
def published_factors(name: str) -> dict[str, float]:
    """Term -> factor of one published set (`data/factors.csv`)."""
    return {
        row["term"]: float(row["factor"]) for row in read_table("factors") if row["set"] == name
    }


def appen(oxides: Any) -> Any:
    """Mean linear expansion, 20-400 C, by Appen's additive factors.

    Parameters
    ----------
    oxides : Mapping[str, float], pandas.Series or pandas.DataFrame
        Mol % of each oxide (any positive total is scaled to 100), never weight %.

    Returns
    -------
    float or pandas.Series
        [1e-6/K]; one per row of a frame.

    Raises
    ------
    UnknownName, InvalidValue
        As for `tiles.chemistry.expansion.estimate`.

    Notes
    -----
    Against 1500 measured glasses: mean absolute error 0.54, 0.31 too high on average. Silica's
    factor falls by 1 for each mol % above 67, titania's by 1.5 above 50; boron's goes from 0 to
    -50 with psi = (alkalis + earths - alumina) / boron up to 4; potash counts 420 without soda.
    Lead is taken as 160, the middle of its range. An oxide without a factor counts as 0.

    Examples
    --------
    >>> round(appen({"SiO2": 74.0, "Na2O": 16.0, "CaO": 10.0}), 2)
    9.91

    Source
    ------
    APPEN-1970, factors from memory; the rules reproduce an independent calculation.
    """
    glass = read_glass(oxides)
    percent, most, least = glass.percent, glass.numbers.maximum, glass.numbers.minimum
    factors = published_factors("Appen")
    fixed = sum(factors[oxide] * percent[oxide] for oxide in factors if oxide in percent)
    silica = percent["SiO2"]
    rules = -most(0.0, silica - 67) * silica
    rules = rules - 1.5 * most(0.0, least(30.0, silica - 50)) * percent["TiO2"]
    rules = rules + factors["B2O3 per psi"] * _psi(glass) * percent["B2O3"]
    change = factors["K2O without soda"] - factors["K2O"]
    rules = rules + change * (percent["Na2O"] < 1.0) * percent["K2O"]
    total = (fixed + rules) / 1000
    if glass.index is None:
        return total
    import pandas as pd

    return pd.Series(total, index=glass.index, name="appen")


def _psi(glass: Glass) -> Any:
    """Flux left over by alumina, per boron; 0 to 4."""
    spare = glass.total((*ALKALIS, *EARTHS, "MnO")) - glass["Al2O3"]
    ratio = spare / (glass["B2O3"] + 1e-10)
    return glass.numbers.maximum(0.0, glass.numbers.minimum(4.0, ratio))

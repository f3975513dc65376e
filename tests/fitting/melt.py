"""Fit the viscosity coefficients: ``python -m tests.fitting.melt`` writes and scores them.

Form: log10 viscosity = A + B / (T - T0), one A, with B and T0 second-order mixture polynomials of a
short list of pairs fixed beforehand: alumina and boron with the fluxes, the fluxes among themselves
and the mixed-alkali pairs. The scores printed come from fits that saw nothing of the groups scored.
"""

from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd

from tests.fitting import _measured as data
from tests.fitting import _solve as solve
from tests.fitting._vft import solve_vft
from tiles.chemistry import melt
from tiles.chemistry._mixture import PAIR, term

SINGLE = (
    *("SiO2", "Al2O3", "B2O3", "Li2O", "Na2O", "K2O", "MgO", "CaO", "SrO", "BaO", "ZnO"),
    *("TiO2", "ZrO2", "P2O5", "F", "minor"),
)
PAIRS = tuple(
    a + PAIR + b
    for a, b in (
        *(("Al2O3", "alkalis"), ("Al2O3", "earths"), ("Al2O3", "Al2O3"), ("Al2O3", "B2O3")),
        *(("B2O3", "alkalis"), ("B2O3", "earths"), ("B2O3", "B2O3")),
        *(("alkalis", "alkalis"), ("alkalis", "earths"), ("earths", "earths")),
        *(("Na2O", "K2O"), ("Li2O", "soda and potash")),
    )
)
NAMES = (*SINGLE, *PAIRS)
TAKEN_LIKE = {"PbO": "BaO", "SnO2": "ZrO2"}
"""Hardly measured, so given the factors of the oxide that acts most like it. An estimate."""
BEND = 0.2
RIDGE = 1e-4
END_SHARE = 0.958
OUTSIDE = 0.15
"""Log units added for each step outside the measured glasses. An estimate."""
STIFF, COOL_C = 4.0, 1000.0
"""Scored apart, because low-fire answers are often stiff: log10 viscosity [Pa.s] from, below C."""
COMMON = (
    *("SiO2", "Al2O3", "B2O3", "Li2O", "Na2O", "K2O", "MgO", "CaO", "SrO", "BaO", "ZnO"),
    *("TiO2", "ZrO2"),
)
FILE = Path(melt.__file__).parent / "data" / "melt_coefficients.toml"


@cache
def _tables():
    table = data.viscosity()
    glass = data.glass_of(table)
    terms = np.column_stack([term(glass, name) for name in NAMES])
    return table, glass, terms, table["temperature_C"].to_numpy()


def in_range(table: pd.DataFrame) -> np.ndarray:
    """Points between 900 and 1350 C, where glazes melt and the scores are taken."""
    return table["temperature_C"].between(900, 1350).to_numpy()


@cache
def _weights() -> np.ndarray:
    """Every glass counts alike, big groups a little less, points far from 900-1350 C less."""
    table, _, _, temperature_c = _tables()
    weight = 1.0 / table.groupby("id")["id"].transform("size").to_numpy()
    glasses = table.groupby("group")["id"].transform("nunique").to_numpy()
    beyond = np.maximum(0, 900 - temperature_c) + np.maximum(0, temperature_c - 1350)
    return weight * glasses**-0.25 * np.exp(-beyond / 100)


def _fit_curve(rows: np.ndarray) -> dict[str, dict[str, float]]:
    table, _, terms, temperature_c = _tables()
    kelvin = (temperature_c + 273.15) / 1000
    measured = table[data.VISCOSITY].to_numpy()
    a, *factors = solve_vft(
        terms[rows], kelvin[rows], measured[rows], _weights()[rows], BEND, RIDGE
    )
    found = {"curve": {"a": float(a)}}
    for name, values in zip(("b", "t0"), factors, strict=True):
        found[name] = solve.as_numbers(NAMES, values)
        found[name] |= {oxide: found[name][like] for oxide, like in TAKEN_LIKE.items()}
    return found


def fit(rows: np.ndarray | None = None, seed: int = 0) -> dict[str, dict[str, float]]:
    """Every coefficient, from the given rows (default: all); widths from errors of inner folds."""
    table, *_ = _tables()
    rows = np.ones(len(table), bool) if rows is None else rows
    return {**_fit_curve(rows), **_interval(rows, *_inner_error(rows, seed))}


def _inner_error(rows: np.ndarray, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Error and estimate of each point, from fits that saw nothing of its group."""
    table, glass, _, temperature_c = _tables()
    fold = table["split"].map(data.folds(table["split"], 8, seed + 1000)).to_numpy()
    estimated = np.zeros(len(table))
    for number in range(8):
        curve = _fit_curve(rows & (fold != number))
        unseen = rows & (fold == number)
        estimated[unseen] = melt.log10_viscosity(glass, temperature_c, curve)[unseen]
    return table[data.VISCOSITY].to_numpy() - estimated, estimated


def _interval(rows, error, estimated) -> dict[str, dict[str, float]]:
    table, glass, _, temperature_c = _tables()
    centre = {oxide: round(float(glass[oxide][rows].mean()), 1) for oxide in COMMON}
    spread = {oxide: round(float(glass[oxide][rows].std()), 1) for oxide in COMMON}
    parts = melt.width_parts(glass, temperature_c, estimated, centre, spread)
    columns = np.column_stack(list(parts.values()))
    weight = np.where(in_range(table), 1.0, 0.3)
    ends = {
        end: solve.end_factors(columns[rows], sign * error[rows], weight[rows], END_SHARE)
        for end, sign in (("low", -1.0), ("high", 1.0))
    }
    for values in ends.values():
        # No viscosity was measured far outside the window, so nothing was learnt about it.
        values[list(parts).index("outside")] = OUTSIDE
    return {
        **{end: solve.as_numbers(list(parts), values) for end, values in ends.items()},
        "difference": {"per_root_percent": _difference(rows & in_range(table), error)},
        "centre": centre,
        "spread": spread,
    }


def _difference(rows, error) -> float:
    """As for expansion, from pairs of one group measured within 30 C of each other."""
    table, glass, _, temperature_c = _tables()
    amounts = np.column_stack(list(glass.percent.values()))[rows]
    first, second, weight = solve.pairs_within(table["split"].to_numpy()[rows], 2000)
    moved = np.abs(amounts[first] - amounts[second]).sum(axis=1) / 2
    apart_c = np.abs(temperature_c[rows][first] - temperature_c[rows][second])
    near = (moved > 0.2) & (moved < 15) & (apart_c < 30)
    apart = np.abs(error[rows][first] - error[rows][second])[near] / np.sqrt(moved[near])
    return solve.weighted_quantile(apart, weight[near], 0.9)


def held_out(count: int = 10, seed: int = 0) -> pd.DataFrame:
    """Value, low and high for each point from a fit that saw nothing of its group."""
    table, *_ = _tables()
    fold = table["split"].map(data.folds(table["split"], count, seed))
    answers = []
    for number in range(count):
        held = table[fold == number]
        coefficients = fit((fold != number).to_numpy(), seed)
        answer = melt.by_coefficients(
            data.glass_of(held), held["temperature_C"].to_numpy(), coefficients
        )
        answers.append(answer.assign(**coefficients["difference"]))
    return pd.concat(answers).loc[table.index]


def scores(answers: pd.DataFrame) -> dict[str, float]:
    """Mean absolute error and coverage at 900-1350 C, overall and by region."""
    table = data.viscosity()
    used = in_range(table)
    table, answers = table[used], answers[used]
    measured = table[data.VISCOSITY]
    error = (answers["value"] - measured).abs()
    covered = (answers["low"] <= measured) & (measured <= answers["high"])
    clean, cool = table["suspect"] == 0, table["temperature_C"] < COOL_C
    found = {"mae": error.mean(), "mae without suspect": error[clean].mean()}
    found |= {f"mae {region}": error[table["region"] == region].mean() for region in data.REGIONS}
    found["coverage"] = covered.mean()
    found["coverage without suspect"] = covered[clean].mean()
    for region in data.REGIONS:
        found[f"coverage {region}"] = covered[table["region"] == region].mean()
    stiff = answers["value"] >= STIFF
    found["coverage stiff"], found["coverage cool"] = covered[stiff].mean(), covered[cool].mean()
    found["mean width"] = (answers["high"] - answers["low"]).mean()
    return {name: round(float(value), 4) for name, value in found.items()}


def difference_coverage(answers: pd.DataFrame) -> dict[str, float]:
    """Coverage of differences between held-out melts of one group within 30 C, at 900-1350 C."""
    table, _, _, temperature_c = _tables()
    used = in_range(table)
    return solve.difference_coverage(
        answers[used],
        table.loc[used, data.VISCOSITY].to_numpy(),
        data.glass_of(table[used]),
        table.loc[used, "split"].to_numpy(),
        lambda first, second: np.abs(temperature_c[used][first] - temperature_c[used][second]) < 30,
    )


DIGITS = {
    **{"curve": 3, "b": 2, "t0": 3, "low": 3, "high": 3},
    **{"difference": 3, "centre": 1, "spread": 1},
}


def as_text(coefficients: dict[str, dict[str, float]]) -> str:
    """The coefficient file."""
    tables = [solve.toml_table(name, coefficients[name], DIGITS[name]) for name in DIGITS]
    heading = "# b and t0 in 1000 K for a whole mole fraction; written by tests/fitting.\n"
    return data.NOTICE + heading + "".join(tables)


if __name__ == "__main__":
    FILE.write_text(as_text(fit()), encoding="utf-8")
    print(FILE.name, FILE.stat().st_size, "bytes")
    for repeat in range(3):
        print("groups left out, repeat", repeat, scores(answers := held_out(10, repeat)))
        print("    differences", difference_coverage(answers))

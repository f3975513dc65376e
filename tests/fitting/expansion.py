"""Fit the expansion coefficients: ``python -m tests.fitting.expansion`` writes and scores them.

Form: a second-order mixture polynomial. It starts from every oxide and every pair of the thirteen
common ones (silica's own pairs follow from the sum of 100) and drops the pairs that say least.
Nothing is chosen by looking at the scores of held-out groups, so the scores printed are honest: in
each fold the choice of pairs, the factors and the interval are all made without the groups scored.
"""

from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd

from tests.fitting import _measured as data
from tests.fitting import _solve as solve
from tiles.chemistry import expansion
from tiles.chemistry._mixture import PAIR, shared_width_parts, term

SINGLE = (
    *("SiO2", "Al2O3", "B2O3", "Li2O", "Na2O", "K2O", "MgO", "CaO", "SrO", "BaO", "ZnO", "PbO"),
    *("TiO2", "ZrO2", "SnO2", "P2O5", "F", "minor"),
)
COMMON = (
    *("Al2O3", "B2O3", "Li2O", "Na2O", "K2O", "MgO", "CaO", "SrO", "BaO", "ZnO", "TiO2", "ZrO2"),
)
PAIRS = tuple(a + PAIR + b for i, a in enumerate(COMMON) for b in COMMON[i:])
COUNT = 56
BEND = 0.3
END_SHARE = 0.96
FILE = Path(expansion.__file__).parent / "data" / "expansion_coefficients.toml"


@cache
def _tables():
    wide, check = data.expansion_wide(), data.expansion_check()
    glass, check_glass = data.glass_of(wide), data.glass_of(check)
    names = (*SINGLE, *PAIRS)
    terms = np.column_stack([term(glass, name) for name in names])
    check_terms = np.column_stack([term(check_glass, name) for name in names])
    return wide, check, glass, check_glass, terms, check_terms


def _fit_weight(wide: pd.DataFrame, outside: np.ndarray) -> np.ndarray:
    """Sources with many rows count less; glasses far from glazes hardly at all."""
    return np.sqrt(wide["weight"].to_numpy()) * np.exp(-outside)


def _width_weight(wide: pd.DataFrame, outside: np.ndarray) -> np.ndarray:
    """Full weight for the glasses sampled evenly over glaze types, less for the rest."""
    inside = wide["in_glaze_window"].to_numpy() == 1
    weight = np.where(inside, 0.15, 0.0)
    weight[wide["id"].isin(data.expansion_check()["id"]).to_numpy()] = 1.0
    far = np.where(inside, 0.0, np.sqrt(wide["weight"].to_numpy()) * np.exp(-outside / 3))
    return weight + far * 0.4 * weight.sum() / far.sum()


def fit(rows: np.ndarray | None = None, seed: int = 0) -> dict[str, dict[str, float]]:
    """Every coefficient, from the given rows of the wide table (default: all).

    The interval comes from errors of inner folds, so it is as wide as for glasses never seen.
    """
    wide, _, glass, _, terms, _ = _tables()
    rows = np.ones(len(wide), bool) if rows is None else rows
    outside = glass.outside()
    weight = _fit_weight(wide, outside)
    measured, split = wide[data.EXPANSION].to_numpy(), wide["split"].to_numpy()
    kept = solve.drop_terms(
        terms[rows], measured[rows], weight[rows], split[rows], len(SINGLE), COUNT, BEND
    )
    terms = terms[:, kept]
    factors, _ = solve.robust_factors(terms[rows], measured[rows], weight[rows], BEND)
    found = solve.as_numbers([(*SINGLE, *PAIRS)[column] for column in kept], factors)
    error = _inner_error(terms, measured, weight, rows, seed)
    return {
        "factors": {name: found[name] for name in SINGLE},
        "pairs": {name: value for name, value in found.items() if PAIR in name},
        **_interval(wide, glass, rows, error, outside),
    }


def _inner_error(terms, measured, weight, rows, seed) -> np.ndarray:
    wide = _tables()[0]
    fold = wide["split"].map(data.folds(wide["split"], 8, seed + 1000)).to_numpy()
    error = np.zeros(len(wide))
    for number in range(8):
        seen, unseen = rows & (fold != number), rows & (fold == number)
        factors, _ = solve.robust_factors(terms[seen], measured[seen], weight[seen], BEND)
        error[unseen] = measured[unseen] - terms[unseen] @ factors
    return error


def _interval(wide, glass, rows, error, outside) -> dict[str, dict[str, float]]:
    inside = rows & (wide["in_glaze_window"].to_numpy() == 1)
    common = ("SiO2", *COMMON)
    centre = {oxide: round(float(glass[oxide][inside].mean()), 1) for oxide in common}
    spread = {oxide: round(float(glass[oxide][inside].std()), 1) for oxide in common}
    parts = shared_width_parts(glass, centre, spread)
    columns = np.column_stack(list(parts.values()))
    weight = _width_weight(wide, outside)
    used = rows & (inside | (np.arange(len(wide)) % 3 == 0)) & (outside < 6)
    ends = {
        end: solve.end_factors(columns[used], sign * error[used], weight[used], END_SHARE)
        for end, sign in (("low", -1.0), ("high", 1.0))
    }
    return {
        **{end: solve.as_numbers(list(parts), values) for end, values in ends.items()},
        "difference": {"per_root_percent": _difference(wide, glass, inside, error)},
        "centre": centre,
        "spread": spread,
    }


def _difference(wide, glass, inside, error) -> float:
    """Error of a difference, per root of the mol % exchanged, from pairs of one first author."""
    amounts = np.column_stack(list(glass.percent.values()))[inside]
    first, second, weight = solve.pairs_within(wide["split"].to_numpy()[inside], 400)
    moved = np.abs(amounts[first] - amounts[second]).sum(axis=1) / 2
    near = (moved > 0.2) & (moved < 15)
    apart = np.abs(error[inside][first] - error[inside][second])[near] / np.sqrt(moved[near])
    return solve.weighted_quantile(apart, weight[near], 0.91)


def held_out(count: int = 10, seed: int = 0) -> pd.DataFrame:
    """Value, low and high for each check glass from a fit that saw nothing of its groups."""
    wide, check, *_ = _tables()
    answers = []
    fold_of = data.folds(check["split"], count, seed)
    for number in range(count):
        rows = (wide["split"].map(fold_of) != number).to_numpy()
        held = check[check["split"].map(fold_of) == number]
        coefficients = fit(rows, seed)
        answer = expansion.by_coefficients(data.glass_of(held), coefficients)
        answers.append(answer.assign(**coefficients["difference"]))
    return pd.concat(answers).loc[check.index]


def scores(answers: pd.DataFrame) -> dict[str, float]:
    """Mean absolute error and coverage, overall and by region."""
    check = data.expansion_check()
    measured = check[data.EXPANSION]
    error = (answers["value"] - measured).abs()
    covered = (answers["low"] <= measured) & (measured <= answers["high"])
    clean = check["suspect"] == 0
    found = {"mae": error.mean(), "mae without suspect": error[clean].mean()}
    found |= {f"mae {region}": error[check["region"] == region].mean() for region in data.REGIONS}
    found["coverage"] = covered.mean()
    found["coverage without suspect"] = covered[clean].mean()
    for region in data.REGIONS:
        found[f"coverage {region}"] = covered[check["region"] == region].mean()
    found["mean width"] = (answers["high"] - answers["low"]).mean()
    return {name: round(float(value), 4) for name, value in found.items()}


def difference_coverage(answers: pd.DataFrame) -> dict[str, float]:
    """Coverage of differences between held-out glasses of one group, by mol % exchanged."""
    check = data.expansion_check()
    return solve.difference_coverage(
        answers, check[data.EXPANSION].to_numpy(), data.glass_of(check), check["split"].to_numpy()
    )


DIGITS = {"factors": 2, "pairs": 1, "low": 3, "high": 3, "difference": 3, "centre": 1, "spread": 1}


def as_text(coefficients: dict[str, dict[str, float]]) -> str:
    """The coefficient file."""
    tables = [solve.toml_table(name, coefficients[name], DIGITS[name]) for name in DIGITS]
    heading = "# 1e-6/K for a whole mole fraction; written by tests/fitting.\n"
    return data.NOTICE + heading + "".join(tables)


if __name__ == "__main__":
    FILE.write_text(as_text(fit()), encoding="utf-8")
    print(FILE.name, FILE.stat().st_size, "bytes")
    for repeat in range(3):
        print("groups left out, repeat", repeat, scores(answers := held_out(10, repeat)))
        print("    differences", difference_coverage(answers))

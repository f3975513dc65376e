"""Robust least squares, choice of terms, and interval widths; no randomness anywhere."""

from collections.abc import Sequence

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_matrix, eye, hstack

RIDGE = 1e-5


def robust_factors(terms: np.ndarray, measured: np.ndarray, weight: np.ndarray, bend: float):
    """Factors by Huber's loss (square up to ``bend``, then straight), with the final weights."""
    current = weight
    scale = np.sqrt((terms**2).mean(axis=0)) + 1e-12
    scaled = terms / scale
    ridge = np.eye(terms.shape[1]) * RIDGE * weight.sum()
    for _ in range(12):
        normal = scaled.T @ (scaled * current[:, None]) + ridge
        factors = np.linalg.solve(normal, scaled.T @ (current * measured))
        error = np.abs(measured - scaled @ factors)
        current = weight * np.minimum(1.0, bend / np.maximum(error, 1e-9))
    return factors / scale, current


def drop_terms(
    terms: np.ndarray,
    measured: np.ndarray,
    weight: np.ndarray,
    group: np.ndarray,
    kept_always: int,
    count: int,
    bend: float,
) -> list[int]:
    """Columns left when pair terms that say least are dropped one by one.

    Each step drops the term with the smallest product of its loss of fit and its t value, the
    latter from a variance that treats each group of sources as one observation.
    """
    scale = np.sqrt((terms**2).mean(axis=0)) + 1e-12
    terms = terms / scale
    factors, robust = robust_factors(terms, measured, weight, bend)
    error = np.clip(measured - terms @ factors, -1.0, 1.0)
    normal = terms.T @ (terms * robust[:, None]) / robust.sum()
    codes = np.unique(group, return_inverse=True)[1]
    by_group = np.zeros((codes.max() + 1, terms.shape[1]))
    np.add.at(by_group, codes, terms * (robust * error)[:, None])
    spread = by_group.T @ by_group / robust.sum() ** 2
    target = normal @ factors
    left = list(range(terms.shape[1]))
    while len(left) > count:
        inverse = np.linalg.inv(normal[np.ix_(left, left)] + np.eye(len(left)) * RIDGE)
        now = inverse @ target[left]
        variance = np.diag(inverse @ spread[np.ix_(left, left)] @ inverse)
        worth = now**2 / np.sqrt(np.diag(inverse) * variance)
        droppable = [place for place, column in enumerate(left) if column >= kept_always]
        left.pop(min(droppable, key=lambda place: worth[place]))
    return left


def end_factors(parts: np.ndarray, error: np.ndarray, weight: np.ndarray, share: float):
    """Factors of one interval end: ``share`` of the errors below it (quantile regression, >= 0)."""
    count, width = parts.shape
    weight = weight / weight.sum()
    cost = np.concatenate([np.zeros(width), weight * share, weight * (1 - share)])
    equal = hstack([csr_matrix(parts), eye(count), -eye(count)]).tocsc()
    found = linprog(cost, A_eq=equal, b_eq=error, bounds=(0, None), method="highs")
    return found.x[:width]


def weighted_quantile(values: np.ndarray, weight: np.ndarray, share: float) -> float:
    """The value below which ``share`` of the weight lies."""
    order = np.argsort(values, kind="stable")
    reached = np.cumsum(weight[order]) / weight.sum()
    return float(values[order][np.searchsorted(reached, share)])


def pairs_within(group: np.ndarray, most: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Pairs of rows of the same group, at most ``most`` evenly taken from each, and a weight."""
    first, second, weight = [], [], []
    order = np.argsort(group, kind="stable")
    for rows in np.split(order, np.flatnonzero(np.diff(group[order])) + 1):
        one, other = np.triu_indices(len(rows), 1)
        taken = np.unique(np.linspace(0, len(one) - 1, min(most, len(one))).astype(int))
        first.append(rows[one[taken]])
        second.append(rows[other[taken]])
        weight.append(np.full(len(taken), 1 / max(1, len(taken)) ** 0.5))
    return np.concatenate(first), np.concatenate(second), np.concatenate(weight)


def difference_coverage(answers, measured, glass, group, comparable=None) -> dict[str, float]:
    """Share of measured differences inside their interval, pairs of one group of sources."""
    amounts = np.column_stack(list(glass.percent.values()))
    first, second, weight = pairs_within(group, 2000)
    if comparable is not None:
        alike = comparable(first, second)
        first, second, weight = first[alike], second[alike], weight[alike]
    moved = np.abs(amounts[first] - amounts[second]).sum(axis=1) / 2
    value, half = answers["value"].to_numpy(), (answers["high"] - answers["low"]).to_numpy() / 2
    width = answers["per_root_percent"].to_numpy()[first] * np.sqrt(moved)
    width = np.minimum(width, np.hypot(half[first], half[second]))
    off = (value[first] - value[second]) - (measured[first] - measured[second])
    covered = np.abs(off) <= width
    found = {}
    for low, high in ((0.2, 2), (2, 5), (5, 15), (0.2, 15)):
        near = (moved >= low) & (moved < high)
        found[f"{low:g}-{high:g} mol %"] = round(
            float(np.average(covered[near], weights=weight[near])), 3
        )
    return found


def toml_table(name: str, numbers: dict[str, float], digits: int) -> str:
    """One table of a coefficient file, rounded."""
    lines = [f"[{name}]"]
    for key, number in numbers.items():
        quoted = key if key.isalnum() else f'"{key}"'
        lines.append(f"{quoted} = {round(number, digits) + 0.0:.{digits}f}")
    return "\n".join(lines) + "\n"


def as_numbers(names: Sequence[str], values: np.ndarray) -> dict[str, float]:
    """Name -> plain number."""
    return {name: float(value) for name, value in zip(names, values, strict=True)}

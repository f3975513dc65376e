"""The chance of each defect on each area, and its main cause."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tests.bench.second import fit, flow, holes, surface
from tests.bench.second.scale import NOISE
from tests.bench.second.state import Account, State

MECHANISMS: dict[str, Callable[[State], Account]] = {
    "crazing": fit.crazing,
    "shivering": fit.shivering,
    "crawling": flow.crawling,
    "pinholes": holes.pinholes,
    "blisters": holes.blisters,
    "running": flow.running,
    "underfired": flow.underfired,
    "bloating": fit.bloating,
    "dunting": fit.dunting,
    "unwanted matt": surface.unwanted_matt,
    "specks": surface.specks,
    "colour shift": surface.colour_shift,
    "cloudiness": surface.cloudiness,
    "metal marking": surface.metal_marking,
}

INTERCEPTS = {
    "crazing": -1.116, "shivering": -1.394, "crawling": -1.734, "pinholes": -1.979,
    "blisters": -1.82, "running": -0.872, "underfired": -1.117, "bloating": -1.113,
    "dunting": -1.298, "unwanted matt": -1.358, "specks": -1.176, "colour shift": -0.813,
    "cloudiness": -0.151, "metal marking": -1.392,
}  # fmt: skip
"""Set on pilot studios (none of them scored) so that defects come as often as is usual."""

UNKNOWN = "hidden habit of this glaze, or chance"


@dataclass(frozen=True)
class Chances:
    """For each defect the chance that it comes about, its main cause, and what could tell."""

    chance: dict[str, np.ndarray]
    cause: dict[str, list[str]]
    deciding: dict[str, list[str]]


def work_out(rng: np.random.Generator, rows: list[dict]) -> Chances:
    """The chances of all areas of a studio."""
    state = State(rows)
    spread = 0.35 * min(1, NOISE + 0.3)
    of_studio = {defect: rng.normal(0, spread) for defect in MECHANISMS}
    found = Chances({}, {}, {})
    for defect, account_of in MECHANISMS.items():
        account = account_of(state)
        logit, size = _weigh(account)
        logit = logit + (_habit(rows, defect) + of_studio[defect] + INTERCEPTS[defect])
        chance = 1 / (1 + np.exp(-logit)) * account.gate
        found.chance[defect] = np.clip(chance, 1e-4, 0.985)
        told = _main_cause(account, size, rows, defect)
        found.cause[defect], found.deciding[defect] = told
    return found


def _habit(rows: list[dict], defect: str) -> np.ndarray:
    """What nobody could have recorded, in log-odds."""

    def of(row: dict) -> float:
        lasting = row["glaze"]["habit"][defect] + row["body"]["habit"][defect]
        once = NOISE * row["firing"]["habit"][defect]
        return lasting + once + 0.45 * NOISE * row["habit"][defect]

    return np.array([of(row) for row in rows])


def _weigh(account: Account) -> tuple[np.ndarray, np.ndarray]:
    """Log-odds of the defect, and what each mechanism adds to them."""
    rest = account.rest
    activation = np.array([each.activation for each in account.mechanisms])
    strength = np.array([each.strength for each in account.mechanisms])[:, None]
    if account.adds:
        size = strength * activation
        return np.log(rest / (1 - rest)) + size.sum(axis=0), size
    hazard = -np.log(1 - np.clip(strength * activation, 0, 0.97))
    total = hazard.sum(axis=0)

    def log_odds(x: np.ndarray) -> np.ndarray:
        return np.log(1 - (1 - rest) * np.exp(-x)) + x - np.log(1 - rest)

    return log_odds(total), log_odds(total) - log_odds(total - hazard)


def _main_cause(account: Account, size: np.ndarray, rows: list[dict], defect: str):
    """The mechanism furthest above this studio's usual, unless a hidden habit outdoes it."""
    above = size - size.mean(axis=1, keepdims=True)
    habit = np.array([row["glaze"]["habit"][defect] for row in rows])
    first = above.argmax(axis=0)
    known = np.take_along_axis(above, first[None], axis=0)[0] > np.maximum(0.2, habit)
    names = [(each.cause, each.deciding) for each in account.mechanisms]
    pairs = [names[i] if k else (UNKNOWN, "") for i, k in zip(first, known, strict=True)]
    return [cause for cause, _ in pairs], [deciding for _, deciding in pairs]

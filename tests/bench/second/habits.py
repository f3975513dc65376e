"""How the people of the second studio work and what they never write down; its kilns."""

import numpy as np

from tests.bench.second.scale import WRITES

_OFTEN_WRITTEN = (
    "coats", "method", "applied_on", "bisque_cone", "target_cone", "stood", "form", "shelf",
    "surface", "kiln", "fired_on", "glaze_cone_low", "glaze_finish", "glaze_kind", "body_kind",
    "body_colour", "body_cone_low", "recipe", "under_glaze", "under_coats", "glaze_colour",
    "atmosphere",
)  # fmt: skip
_SELDOM_WRITTEN = {
    "thickness_mm": 1.3, "cone_reached": 0.9, "witness_cones": 0.8, "hold_min": 0.7,
    "rate_c_per_h": 1.0, "opened_c": 1.4, "fired_thickness_mm": 3.0,
    "batch_specific_gravity": 1.4, "batch_sieve_mesh": 1.6, "body_absorption_pct": 1.0,
    "peak_c": 1.2, "glazed_on": 1.5, "beneath": 1.7, "batch_is_revived": 0.8,
    "glaze_supplied_as": 0.5, "under_thickness_mm": 2.5, "bisque_rate_c_per_h": 2.0,
    "bisque_fired_on": 1.0,
}  # fmt: skip
"""How much more trouble a field is than the usual one, in log-odds of a blank (estimates)."""

_MAY_LACK = ("metal marking", "bloating", "specks", "cloudiness", "colour shift")
"""Defects for which some studios have no word and so record nothing."""


def make_habits(rng: np.random.Generator) -> dict:
    """One studio's habits; shares are between 0 and 1."""
    return {
        "blank": _blanks(rng),
        "clue": float(np.clip(rng.beta(1.3 + 2 * WRITES, 3.5 - WRITES), 0, 1)),
        "thick": np.exp(rng.normal(0, 0.18)),
        "dusty": rng.beta(1.2, 5),
        "wipes": rng.beta(2, 2),
        "patience": rng.beta(2, 2),
        "stirs": rng.beta(5, 2),
        "eye": rng.uniform(0.75, 0.97),
        "no_word": {defect for defect in _MAY_LACK if rng.random() < 0.2},
        "users": [_user(rng) for _ in range(rng.integers(1, 5))],
        "brushes": rng.beta(3, 1.5),
    }


def _blanks(rng: np.random.Generator) -> dict[str, float]:
    """The chance of a blank in each field."""
    lazy = rng.uniform(0.10, 0.40)
    usual = np.log(lazy / (1 - lazy)) - 0.5 * WRITES

    def chance(trouble: float) -> float:
        return float(1 / (1 + np.exp(-(usual + trouble + rng.normal(0, 0.7)))))

    blank = {field: chance(0.0) for field in _OFTEN_WRITTEN}
    return blank | {field: chance(trouble) for field, trouble in _SELDOM_WRITTEN.items()}


def _user(rng: np.random.Generator) -> dict[str, float]:
    return {
        "hand": np.exp(rng.normal(0, 0.15)),
        "carelessness": rng.choice([0.5, 1.0, 1.0, 2.2]),
        "shares_brushes": rng.beta(1.5, 4),
    }


def make_kilns(rng: np.random.Generator) -> list[dict]:
    """One to three electric kilns."""
    return [_kiln(rng, number) for number in range(rng.choice([1, 2, 3], p=[0.4, 0.45, 0.15]))]


def _kiln(rng: np.random.Generator, number: int) -> dict:
    """Offsets and spreads in cones, rates in deg C per hour, holds in minutes."""
    return {
        "name": ["big kiln", "small kiln", "test kiln"][number],
        "offset": rng.normal(0, 0.45),
        "drift": rng.normal(-0.15, 0.3),
        "cold_floor": abs(rng.normal(0, 0.45)),
        "spread": rng.uniform(0.1, 0.35),
        "rate": rng.choice([60, 80, 100, 130, 160]) * np.exp(rng.normal(0, 0.05)),
        "hold": float(rng.choice([0, 0, 5, 10, 15, 20, 30])),
        "opened": rng.normal([125, 95, 110][number], 35),
        "slow": rng.beta(1.5, 4) if number == 0 else rng.beta(1, 8),
        "fast": rng.beta(1, 9) if number < 2 else rng.beta(2, 4),
        "has_vent": rng.random() < 0.7,
        "debris": rng.beta(1, 6),
    }

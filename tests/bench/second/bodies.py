"""The clay bodies of the second studio, with the gas, iron and salts a potter cannot read off.

Expansions [1e-6/K], absorptions [%] and their spreads are estimates within the range of the trade.
"""

import numpy as np

_FIELDS = (
    "name", "kind", "colour", "cone_low", "cone_high", "expansion", "expansion_sd",
    "absorption", "absorption_sd", "gas", "iron", "salts", "grog",
)  # fmt: skip
LOW = [
    ("red earthenware", "earthenware", "red", "06", "02", 6.6, 0.45, 12, 2, 0.55, 0.35, 0.45, 0),
    ("white low fire", "earthenware", "white", "06", "04", 7.3, 0.5, 14, 2, 0.15, 0.02, 0.15, 0),
    ("buff earthenware", "earthenware", "buff", "06", "03", 6.3, 0.45, 13, 2, 0.3, 0.15, 0.3, 0),
    ("grogged terracotta", "earthenware", "red", "08", "03", 6.5, 0.45, 13, 2, 0.6, 0.45, 0.6, 1),
    ("white talc casting clay", "earthenware", "white", "06", "04", 7.6, 0.5, 15, 2, 0.2, 0.02,
     0.1, 0),
]  # fmt: skip
MID = [
    ("buff stoneware", "stoneware", "buff", "4", "6", 6.1, 0.4, 3, 1, 0.35, 0.3, 0.2, 0),
    ("white stoneware", "stoneware", "white", "4", "6", 6.4, 0.4, 2, 0.8, 0.15, 0.05, 0.1, 0),
    ("speckled stoneware", "stoneware", "grey", "4", "6", 6.0, 0.4, 3, 1, 0.65, 0.9, 0.2, 0),
    ("mid-range porcelain", "porcelain", "white", "5", "6", 5.9, 0.4, 0.8, 0.4, 0.08, 0.02,
     0.05, 0),
    ("dark brown stoneware", "stoneware", "brown", "4", "6", 6.1, 0.45, 2.5, 1, 0.85, 0.5,
     0.35, 0),
    ("grogged hand-building stoneware", "stoneware", "buff", "4", "7", 5.7, 0.4, 4, 1.3, 0.4,
     0.35, 0.2, 1),
]  # fmt: skip


def make_bodies(rng: np.random.Generator, kind: str, count: int) -> list[dict]:
    """The bodies of a studio of one kind: ``low``, ``mid`` or ``mixed``."""
    return [_made(rng, dict(zip(_FIELDS, row, strict=False)), row[-1])
            for row in _chosen(rng, kind, count)]  # fmt: skip


def _chosen(rng: np.random.Generator, kind: str, count: int) -> list[tuple]:
    low = [(*row, "low") for row in LOW]
    mid = [(*row, "mid") for row in MID]
    pool = {"low": low, "mid": mid, "mixed": low + mid}[kind]
    if kind != "mixed":
        pool = pool + [("second " + row[0], *row[1:]) for row in pool]
    must = [low[0], low[1], mid[0]] if kind == "mixed" else pool[:2]
    rest = [row for row in pool if row not in must]
    more = max(0, min(count, len(pool)) - len(must))
    return must + [rest[i] for i in rng.permutation(len(rest))[:more]]


def _made(rng: np.random.Generator, row: dict, band: str) -> dict:
    """One body: its family's figures and how far this clay lies from them."""

    def near(usual: float) -> float:
        return float(np.clip(usual * np.exp(rng.normal(0, 0.35)), 0, 1.2))

    body = {key: row[key] for key in ("name", "kind", "colour", "cone_low", "cone_high", "grog")}
    body["band"] = band
    body["expansion"] = row["expansion"] + rng.normal(0, row["expansion_sd"])
    body["absorption"] = max(0.3, row["absorption"] + rng.normal(0, row["absorption_sd"]))
    for key in ("gas", "iron", "salts"):
        body[key] = near(row[key])
    body["weight"] = rng.gamma(1.2)
    body["limit_shift"] = rng.normal(0, 0.35)
    body["is_measured"] = rng.random() < 0.12
    return body

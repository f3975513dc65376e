"""Bisque loads and glaze firings of the second studio, in order of date; heat in cone places."""

import numpy as np

from tests.bench.second.scale import DEFECTS, PLACE

BISQUE_CONES = {"low": ["06", "05", "04", "04", "03"], "mid": ["08", "06", "06", "05", "04"]}
GLAZE_CONES = {"low": ["06", "05", "05", "04"], "mid": ["5", "6", "6"]}
LIMITS = {"low": ("08", "04"), "mid": ("4", "7")}


def make_bisques(rng: np.random.Generator, n_tiles: int) -> dict[str, list[dict]]:
    """The bisque loads of each band."""
    return {band: _bisques(rng, band, max(2, n_tiles // 30)) for band in BISQUE_CONES}


def _bisques(rng: np.random.Generator, band: str, count: int) -> list[dict]:
    usual = PLACE[rng.choice(BISQUE_CONES[band])]
    loads = [_bisque(rng, f"B{band[0]}{number + 1}", usual) for number in range(count)]
    for load in loads:
        load["reached"] = load["target"] + rng.normal(0, 0.5)
        load["rate"] = rng.uniform(140, 220) if load["is_fast"] else rng.uniform(60, 120)
    return loads


def _bisque(rng: np.random.Generator, name: str, usual: int) -> dict:
    return {
        "name": name,
        "target": usual + (rng.random() < 0.15) * rng.choice([-2, -1, 1]),
        "is_fast": rng.random() < 0.25,
        "is_airless": rng.random() < 0.2,
    }


def make_firings(
    rng: np.random.Generator, n_tiles: int, kind: str, kilns: list[dict], span_days: float
) -> list[dict]:
    """Glaze firings until every tile has been in one."""
    loads, left = [], n_tiles
    shares = np.r_[0.6, 0.4, 0.3][: len(kilns)]
    while left > 0:
        size = min(left, int(rng.integers(5, 22)))
        left -= size
        band = kind if kind != "mixed" else rng.choice(["low", "mid"], p=[0.6, 0.4])
        kiln = kilns[rng.choice(len(kilns), p=shares / shares.sum())]
        loads.append({"size": size, "band": band, "kiln": kiln})
    days = np.sort(rng.uniform(0, span_days, len(loads)))
    usual = {band: PLACE[rng.choice(cones)] for band, cones in GLAZE_CONES.items()}
    for number, (load, day) in enumerate(zip(loads, days, strict=True)):
        load |= {"day": day, "name": f"F{number + 1}"}
        _fire(rng, load, usual[load["band"]])
    return loads


def _fire(rng: np.random.Generator, load: dict, usual: int) -> None:
    """What was set and what came of it."""
    kiln, limits = load["kiln"], [PLACE[cone] for cone in LIMITS[load["band"]]]
    target = usual + rng.choice([-1, 0, 0, 0, 1])
    load["target"] = int(np.clip(target, *limits))
    changed = (rng.random() < 0.2) * rng.choice([-10, 10, 20, 30])
    load["hold"] = max(0.0, kiln["hold"] + changed)
    load["rate"] = kiln["rate"] * (1 if rng.random() < 0.8 else rng.choice([0.6, 1.6]))
    usual_level = load["target"] + kiln["offset"] + kiln["drift"] * load["day"] / 700
    load["level"] = usual_level + rng.normal(0, 0.3) + load["hold"] / 60
    waited = kiln["opened"] + rng.normal(0, 30)
    load["opened"] = max(35.0, waited + (rng.random() < 0.08) * 110)
    load["is_slow"] = rng.random() < kiln["slow"]
    load["is_fast"] = (not load["is_slow"]) and rng.random() < kiln["fast"]
    load["is_unvented"] = (not kiln["has_vent"]) or rng.random() < 0.1
    load["habit"] = {defect: rng.normal(0, 0.3) for defect in DEFECTS}
    load["debris"] = kiln["debris"] * rng.uniform(0.4, 1.6)

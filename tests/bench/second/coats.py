"""The coats of one tile: test tiles often carry one, two and three coats side by side."""

import numpy as np

from tests.bench.second.scale import ramp

MM_PER_COAT = {"brush": 0.25, "dip": 0.42, "pour": 0.42, "spray": 0.2}


def coat_areas(rng: np.random.Generator, habits: dict, tile: dict) -> list[dict]:
    """The areas of a tile, each with its own coats, thickness [mm] and look of the raw coat."""
    is_stepped = rng.random() < (0.16 if tile["method"] == "brush" else 0.06)
    count = rng.choice([2, 3]) if is_stepped else 1
    usual = _usual_coats(rng, tile["method"])
    is_recoated_dry = rng.random() < 0.45 * (1 - habits["patience"])
    areas = []
    for place in range(count):
        coats = place + 1 if is_stepped else usual
        area = dict(tile)
        area |= {"area": place + 1, "coats": coats}
        area["thickness_mm"] = _thickness_mm(rng, habits, tile, coats)
        area["is_recoated_dry"] = is_recoated_dry and coats > 1
        area |= _raw_coat(rng, area)
        areas.append(area)
    return areas


def _usual_coats(rng: np.random.Generator, method: str) -> int:
    if method == "brush":
        return int(rng.choice([1, 2, 3, 4, 5], p=[0.1, 0.3, 0.4, 0.15, 0.05]))
    return int(rng.choice([1, 2, 3], p=[0.65, 0.28, 0.07]))


def _thickness_mm(rng: np.random.Generator, habits: dict, tile: dict, coats: int) -> float:
    """Later coats add a little less; a dip draws by density and by the thirst of the bisque."""
    per_coat = MM_PER_COAT[tile["method"]] * habits["thick"] * tile["user"]["hand"]
    per_coat *= np.exp(tile["glaze"]["coat_factor"])
    if tile["method"] in ("dip", "pour"):
        thirst = 0.75 + 0.02 * tile["bisque_absorption"]
        per_coat *= np.exp(2.2 * (tile["specific_gravity"] - 1.5)) * thirst
    refired = 1.3 if tile["is_refired"] else 1
    return per_coat * coats**0.92 * np.exp(rng.normal(0, 0.16)) * refired


def _raw_coat(rng: np.random.Generator, area: dict) -> dict:
    """What the raw coat looked like before the firing, and the coats of colour beneath."""
    thickness, clay, revived = area["thickness_mm"], area["glaze"]["clay"], area["is_revived"]
    drawn = (area["method"] in ("dip", "pour")) * ramp(area["bisque_absorption"], 12, 20)
    cracks = 0.03 + 0.3 * ramp(thickness, 0.9, 1.6) + 0.35 * ramp(clay, 18, 32) + 0.15 * revived
    powders = 0.06 + 0.25 * revived + 0.15 * ramp(clay, 10, 4)
    pits = 0.05 + 0.12 * drawn + 0.08 * area["is_recoated_dry"]
    return {
        "is_thick_at_edges": rng.random() < 0.12 + 0.2 * ramp(thickness, 0.7, 1.4),
        "under_coats": _under_coats(rng, area),
        "is_cracked": rng.random() < cracks,
        "is_powdery": rng.random() < powders,
        "is_pitted": rng.random() < pits,
    }


def _under_coats(rng: np.random.Generator, area: dict) -> int:
    if area["is_over_colour"]:
        return int(rng.choice([1, 2, 3, 4, 5], p=[0.2, 0.25, 0.35, 0.15, 0.05]))
    return int(area["is_over_glaze"]) * int(rng.integers(1, 3))

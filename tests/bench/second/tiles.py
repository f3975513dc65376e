"""The tiles of the second studio as they really were: one dictionary an area, all facts known."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tests.bench.second.coats import coat_areas
from tests.bench.second.scale import DEFECTS, PLACE


@dataclass(frozen=True)
class Workshop:
    """What a studio has: people, clay, glazes, underglazes and loads."""

    kind: str
    habits: dict
    bodies: list[dict]
    glazes: list[dict]
    underglazes: list[str]
    bisques: dict[str, list[dict]]
    firings: list[dict]


def make_tiles(rng: np.random.Generator, shop: Workshop) -> list[dict]:
    """Every area of every tile, in the order they were fired."""
    areas, number, buckets = [], 0, {}
    for firing in shop.firings:
        for _ in range(firing["size"]):
            number += 1
            tile = {"mark": f"T-{number}", "firing": firing}
            candidates = _choose_materials(rng, shop, tile)
            _place(rng, tile)
            tile["method"] = _method(rng, shop.habits["brushes"])
            _layer(rng, shop, tile, candidates)
            tile |= _handling(rng, shop.habits, tile)
            tile |= _chances(rng, tile)
            bucket = (tile["specific_gravity"], tile["is_revived"])
            # One bucket of a glaze serves a whole firing.
            bucket = buckets.setdefault((tile["glaze"]["name"], firing["name"]), bucket)
            tile["specific_gravity"], tile["is_revived"] = bucket
            areas += coat_areas(rng, shop.habits, tile)
    return areas


def _weighted(rng: np.random.Generator, choices: Sequence[dict]) -> dict:
    weights = [each["weight"] for each in choices]
    return choices[rng.choice(len(choices), p=np.array(weights) / sum(weights))]


def _choose_materials(rng: np.random.Generator, shop: Workshop, tile: dict) -> list[dict]:
    """Glaze, body, bisque load and person; returns the glazes that came into question."""
    firing, band = tile["firing"], tile["firing"]["band"]
    if shop.kind == "mixed" and rng.random() < 0.02:  # a tile in the wrong load
        band = "low" if band == "mid" else "mid"
    of_band = [each for each in shop.glazes if each["band"] == band]
    ready = [each for each in of_band if each["from_day"] <= firing["day"]]
    candidates = ready or of_band or shop.glazes
    tile["glaze"] = _weighted(rng, candidates)
    tile["body"] = _weighted(
        rng, [each for each in shop.bodies if each["band"] == band] or shop.bodies
    )
    loads = shop.bisques[tile["body"]["band"]]
    when = firing["day"] / (shop.firings[-1]["day"] + 1)
    tile["bisque"] = loads[min(len(loads) - 1, int(when * len(loads)))]
    users = shop.habits["users"]
    tile["user"] = users[rng.integers(len(users))]
    return candidates


def _place(rng: np.random.Generator, tile: dict) -> None:
    """Shelf, form and the heat that reached the tile, in cone places."""
    tile["shelf"] = rng.choice(["top", "middle", "bottom"])
    forms = ["flat", "angle", "curved", "vessel"]
    tile["form"] = rng.choice(forms, p=[0.45, 0.3, 0.1, 0.15])
    firing, kiln = tile["firing"], tile["firing"]["kiln"]
    loss = kiln["cold_floor"] if tile["shelf"] == "bottom" else 0
    tile["reached"] = firing["level"] - loss + rng.normal(0, kiln["spread"])


def _method(rng: np.random.Generator, brushes: float) -> str:
    others = (1 - brushes) * np.array([0.65, 0.2, 0.15])
    return rng.choice(["brush", "dip", "pour", "spray"], p=[brushes, *others])


def _layer(rng: np.random.Generator, shop: Workshop, tile: dict, candidates: list[dict]) -> None:
    """What lies beneath: an underglaze, another glaze, or nothing."""
    clear = tile["glaze"]["finish"] == "clear"
    over_colour = rng.random() < (0.25 if clear else 0.07)
    over_glaze = not over_colour and rng.random() < 0.09
    beneath = None
    if over_colour:
        beneath = shop.underglazes[rng.integers(len(shop.underglazes))]
    if over_glaze:
        other = candidates[rng.integers(len(candidates))]
        beneath = None if other is tile["glaze"] else other["name"]
    tile["beneath"] = beneath
    tile["is_over_colour"] = over_colour and beneath is not None
    tile["is_over_glaze"] = over_glaze and beneath is not None


def _stood(rng: np.random.Generator, form: str) -> str:
    if form == "flat":
        return "flat" if rng.random() < 0.5 else "upright"
    return rng.choice(["upright", "sloped"], p=[0.8, 0.2])


def _handling(rng: np.random.Generator, habits: dict, tile: dict) -> dict:
    """How the tile was handled up to the day somebody looked at it."""
    return {
        "stood": _stood(rng, tile["form"]),
        "is_dusty": rng.random() < habits["dusty"],
        "is_wiped": rng.random() < habits["wipes"],
        "is_greasy": rng.random() < 0.07,
        "is_textured": rng.random() < (0.5 if tile["body"]["grog"] else 0.15),
        "is_refired": rng.random() < 0.035,
        "look_days": _look_days(rng),
        "is_soaked": rng.random() < 0.08,
        "is_damp": rng.random() < 0.12,
        "is_stirred": rng.random() < habits["stirs"],
        "shares_brushes": rng.random() < tile["user"]["shares_brushes"],
    }


def _look_days(rng: np.random.Generator) -> float:
    return float(np.ceil(rng.exponential(4) if rng.random() < 0.8 else rng.exponential(120)))


def _chances(rng: np.random.Generator, tile: dict) -> dict:
    """Shape, jar and luck of the tile."""
    dries = tile["glaze"]["half_dry_share"]
    return {
        "is_wide": rng.random() < 0.04,
        "is_uneven": rng.random() < 0.1,
        "is_inside_only": tile["form"] == "vessel" and rng.random() < 0.3,
        "is_near_foot": rng.random() < 0.2,
        "has_chrome": rng.random() < 0.1,
        "is_inspected": rng.random() < 0.94,
        "habit": {defect: rng.normal() for defect in DEFECTS},
        "is_half_dry": rng.random() < dries,
        "is_revived": rng.random() < 0.5 * dries,
        "is_unsieved": rng.random() < 0.06,
        "specific_gravity": float(np.clip(rng.normal(1.5, 0.07), 1.28, 1.75)),
        "bisque_absorption": _bisque_absorption(rng, tile),
    }


def _bisque_absorption(rng: np.random.Generator, tile: dict) -> float:
    """Water that the bisque drinks, less the hotter it was fired. [%]"""
    body = tile["body"]
    usual = body["absorption"] * (1.15 if body["band"] == "low" else 1)
    usual += 9 if body["band"] == "mid" else 0
    denser = 1.2 * (tile["bisque"]["reached"] - PLACE["04"] + 1) * 0.6
    return float(np.clip(usual - denser + rng.normal(0, 1), 1, 26))

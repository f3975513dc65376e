"""The tiles of a simulated studio as they really were: one entry an area, all facts known."""

import numpy as np

from tests.bench.studio import Studio, Table


def make(studio: Studio, n_tiles: int) -> Table:
    """Every area of ``n_tiles`` tiles with its true coat, heat, clay and handling."""
    tile = _tiles(studio, n_tiles)
    area = _areas(studio, tile)
    _coat(studio, area)
    _under_and_over(studio, area)
    _heat(studio, area)
    return area


def _tiles(studio: Studio, n: int) -> Table:
    rng, firing = studio.rng, studio.firing
    at = np.sort(rng.integers(0, firing["day"].size, n))
    low, day = firing["is_low"][at], firing["day"][at]
    person = rng.choice(studio.person["heavy"].size, n, p=studio.person["popular"])
    made = rng.uniform(4, 40, n)
    bisque = np.searchsorted(studio.bisque["day"], day - made).clip(1) - 1
    late = rng.random(n) < 0.3
    return {
        "tile": np.arange(n),
        "firing": at,
        "day": day,
        "bisque": bisque,
        "person": person,
        "body": _pick(rng, studio.body, low, studio.body["is_low"]),
        "shelf": rng.integers(0, 3, n),
        "upright": rng.random(n) < 0.7,
        "look_days": np.where(late, rng.exponential(90, n) + 14, rng.integers(1, 4, n)).round(),
        "dusty": rng.random(n) < studio.person["dusty"][person],
        "greasy": rng.random(n) < studio.person["greasy"][person],
        "wiped": studio.person["wipes"][person] & (rng.random(n) < 0.8),
        "damp": rng.random(n) < 0.05,
        "soaked": late & (rng.random(n) < 0.35),
        "shared": rng.random(n) < studio.person["shares"][person],
        "areas": rng.choice([1, 2, 3], n, p=(0.8, 0.06, 0.14)),
    }


def _pick(rng, table: Table, wanted_low: np.ndarray, is_low: np.ndarray) -> np.ndarray:
    """A body of the right range for each tile, the popular ones more often; 2 % mistaken."""
    picked = np.empty(wanted_low.size, int)
    for low in (True, False):
        here = wanted_low == low
        weight = table["popular"] * np.where(is_low == low, 1.0, 0.02 if is_low.any() else 1.0)
        picked[here] = rng.choice(weight.size, here.sum(), p=weight / weight.sum())
    return picked


def _areas(studio: Studio, tile: Table) -> Table:
    rng = studio.rng
    area = {name: np.repeat(values, tile["areas"]) for name, values in tile.items()}
    counts = tile["areas"]
    area["area"] = np.concatenate([np.arange(1, c + 1) for c in counts])
    # A tile with areas shows one glaze in one, two and three coats; few carry several glazes.
    low = studio.firing["is_low"][tile["firing"]]
    glaze = np.array([_glaze(studio, *each) for each in zip(tile["day"], low, strict=True)])
    area["glaze"] = np.repeat(glaze, counts)
    other = (
        (area["area"] == 2) & (counts.repeat(counts) == 2) & (rng.random(area["tile"].size) < 0.7)
    )
    for at in np.flatnonzero(other):
        area["glaze"][at] = _glaze(
            studio, area["day"][at], studio.firing["is_low"][area["firing"][at]]
        )
    area["batch"] = _batch(studio, area)
    area["textured"] = rng.random(area["tile"].size) < 0.15
    area["refired"] = np.repeat(rng.random(counts.size) < 0.03, counts)
    return area


def _glaze(studio: Studio, day: float, is_low: bool) -> int:
    """A glaze in use on that day; one in sixty is taken from the wrong range."""
    glaze = studio.glaze
    weight = glaze["popular"] * ((glaze["start"] <= day) & (day <= glaze["end"]))
    weight = weight * np.where(glaze["is_low"] == is_low, 1.0, 0.012)
    if weight.sum() == 0:
        weight = glaze["popular"] * np.where(glaze["is_low"] == is_low, 1.0, 0.012)
    return int(studio.rng.choice(weight.size, p=weight / weight.sum()))


def _batch(studio: Studio, area: Table) -> np.ndarray:
    """The newest batch of the glaze that was there on the day."""
    batch, found = studio.batch, np.zeros(area["tile"].size, int)
    for glaze in np.unique(area["glaze"]):
        rows = np.flatnonzero(batch["glaze"] == glaze)
        here = area["glaze"] == glaze
        place = np.searchsorted(batch["from"][rows], area["day"][here], side="right") - 1
        found[here] = rows[place.clip(0)]
    return found


def _coat(studio: Studio, area: Table) -> None:
    """Coats, and the dry coat [mm] that hand, slop and bisque make of them."""
    rng, n = studio.rng, area["tile"].size
    brush = studio.glaze["brush"][area["glaze"]] & (rng.random(n) < 0.95)
    coats = np.where(brush, rng.choice([2, 3, 4, 5], n, p=(0.28, 0.5, 0.15, 0.07)),
                     rng.choice([1, 2, 3], n, p=(0.7, 0.25, 0.05)))  # fmt: skip
    stepped = np.repeat(np.bincount(area["tile"]) == 3, np.bincount(area["tile"]))
    coats = np.where(stepped, area["area"], coats)
    gravity = studio.batch["gravity"][area["batch"]]
    suction = np.exp(-0.09 * (studio.bisque["cone"][area["bisque"]] - 18))
    per_coat = np.where(brush, 0.24, 0.42 * ((gravity - 1) / 0.47) ** 1.3 * suction)
    heavy = studio.person["heavy"][area["person"]]
    area["brush"], area["coats"] = brush, coats
    area["mm"] = per_coat * coats * heavy * np.exp(rng.normal(0, 0.2, n))
    area["fired_mm"] = area["mm"] * 0.5 * np.exp(rng.normal(0, 0.08, n))
    area["dry_between"] = (coats > 1) & (rng.random(n) < studio.person["waits"][area["person"]])
    area["unstirred"] = rng.random(n) > studio.person["stirs"][area["person"]]
    area["pitted"] = rng.random(n) < np.where(brush, 0.05, 0.10 * suction)


def _under_and_over(studio: Studio, area: Table) -> None:
    """Underglaze beneath, mostly under a clear, and a second glaze overlapping."""
    rng, n = studio.rng, area["tile"].size
    finish = studio.glaze["finish"][area["glaze"]]
    by_tile = rng.random(area["tile"].max() + 1)[area["tile"]]
    has_under = by_tile < np.where(finish == 0, 0.45, 0.06)
    area["under_coats"] = np.where(has_under, rng.choice([1, 2, 3, 4, 6], n,
                                   p=(0.15, 0.3, 0.35, 0.13, 0.07)), 0)  # fmt: skip
    area["under_heat"] = has_under * rng.beta(2, 3, n)
    overlap = (rng.random(n) < 0.09) & ~has_under
    partner = np.array([_glaze(studio, d, studio.firing["is_low"][f])
                        for d, f in zip(area["day"], area["firing"], strict=True)])  # fmt: skip
    area["partner"] = np.where(overlap & (partner != area["glaze"]), partner, -1)
    area["partner_mm"] = (area["partner"] >= 0) * rng.uniform(0.2, 0.6, n)


def _heat(studio: Studio, area: Table) -> None:
    """Heat at the tile's own place, on the cone scale, and what follows for clay and melt."""
    rng, firing = studio.rng, area["firing"]
    shelf = studio.kiln["shelf"][studio.firing["kiln"][firing], area["shelf"]]
    noise = rng.normal(0, 0.15, area["tile"].max() + 1)[area["tile"]]
    area["reached"] = studio.firing["reached"][firing] + shelf + noise
    area["over_glaze"] = area["reached"] - studio.glaze["mature"][area["glaze"]]
    hottest = np.maximum(area["reached"], studio.bisque["cone"][area["bisque"]])
    short = (studio.body["mature"][area["body"]] - hottest).clip(0)
    area["body_short"] = short
    absorption = studio.body["absorption"][area["body"]] * (1 + 0.09 * np.minimum(short, 4))
    area["absorption"] = absorption
    expansion = studio.glaze["expansion"][area["glaze"]] + studio.batch["shift"][area["batch"]]
    area["gap"] = expansion - (studio.body["expansion"][area["body"]] - 0.10 * np.minimum(short, 5))
    area["total_mm"] = area["mm"] + area["partner_mm"]
    area["total_fired_mm"] = area["fired_mm"] + 0.5 * area["partner_mm"]

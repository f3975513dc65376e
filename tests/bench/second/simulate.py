"""One studio of the second kind, in the shape in which the bench judges the first."""

import numpy as np
import pandas as pd

from tests.bench.second import seeing
from tests.bench.second.bodies import make_bodies
from tests.bench.second.chances import Chances, work_out
from tests.bench.second.firings import make_bisques, make_firings
from tests.bench.second.glazes import make_glaze
from tests.bench.second.habits import make_habits, make_kilns
from tests.bench.second.scale import DEFECTS, NOISE
from tests.bench.second.tiles import Workshop, make_tiles
from tests.bench.second.writing import write
from tests.bench.simulate import Simulated
from tiles.exchange.flat_columns import defect_column

SERIES = 777
"""Keeps these studios apart from others made with the same seed."""


def simulate(n_tiles: int, seed: int) -> Simulated:
    """A studio of ``n_tiles`` tiles; the same seed gives the same studio.

    Parameters
    ----------
    n_tiles : int
        Tiles, not rows: some tiles have two or three areas.
    seed : int
        Which studio.

    Returns
    -------
    Simulated
        The truth has for each defect ``chance:``, ``noted:``, ``real:``, ``cause:`` and
        ``deciding:``, as in the first bench; causes go by words of their own.
    """
    rng = np.random.default_rng([SERIES, seed, n_tiles])
    shop = _make_workshop(rng, n_tiles)
    rows = make_tiles(rng, shop)
    found = work_out(rng, rows)
    seen = seeing.note(rng, found.chance, shop.habits["eye"])
    frame = write(rng, shop.habits, rows, seen.word)
    return Simulated(frame, _truth(found, seen), DEFECTS)


def _make_workshop(rng: np.random.Generator, n_tiles: int) -> Workshop:
    kind = rng.choice(["low", "mid", "mixed"], p=[0.42, 0.18, 0.40])
    habits = make_habits(rng)
    usual_glazes = round(1.9 * n_tiles**0.56 * np.exp(rng.normal(0, 0.25)))
    n_glazes = int(np.clip(usual_glazes, 5, 100))
    n_bodies = int(np.clip(3 + rng.poisson(0.4 * np.log(n_tiles / 15)), 3, 8))
    span_days = float(np.clip(n_tiles * rng.uniform(2, 5), 60, 1500))
    bodies = make_bodies(rng, kind, n_bodies)
    glazes = _make_glazes(rng, kind, n_glazes, span_days)
    underglazes = _make_underglazes(rng)
    for glaze in glazes:
        glaze["habit"] = {defect: rng.normal(0, 0.62 * NOISE) for defect in DEFECTS}
    for body in bodies:
        body["habit"] = {defect: rng.normal(0, 0.3 * NOISE) for defect in DEFECTS}
    kilns = make_kilns(rng)
    bisques = make_bisques(rng, n_tiles)
    firings = make_firings(rng, n_tiles, kind, kilns, span_days)
    return Workshop(kind, habits, bodies, glazes, underglazes, bisques, firings)


def _make_glazes(rng: np.random.Generator, kind: str, count: int, span_days: float) -> list[dict]:
    """Glazes, of which the first four are there from the start."""
    names: set[str] = set()
    glazes = []
    for number in range(count):
        band = kind
        if kind == "mixed":
            is_low = number < 2 or (number > 3 and rng.random() < 0.6)
            band = "low" if is_low else "mid"
        glaze = make_glaze(rng, band, names)
        glaze["from_day"] = 0 if number < 4 else rng.uniform(0, 0.85 * span_days)
        glazes.append(glaze)
    return glazes


def _make_underglazes(rng: np.random.Generator) -> list[str]:
    words = rng.permutation(["leaf", "night", "brick", "straw", "coal"])[:3]
    rng.beta(1.5, 3, size=3)  # Not used: it keeps each seed's studio what it was.
    return [f"{word} underglaze" for word in words]


def _truth(found: Chances, seen: seeing.Seen) -> pd.DataFrame:
    truth = {}
    for defect in DEFECTS:
        name = defect_column(defect)
        truth[f"chance:{name}"] = found.chance[defect]
        truth[f"noted:{name}"] = seen.chance[defect]
        truth[f"real:{name}"] = seen.real[defect]
        truth[f"cause:{name}"] = found.cause[defect]
        truth[f"deciding:{name}"] = [each.replace(", ", ";") for each in found.deciding[defect]]
    return pd.DataFrame(truth)

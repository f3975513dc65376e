"""A class whose glazes have habits of their own, in the shape of the other benches.

Here no trade physics is at work: each of some glazes fails in one company (three coats, one clay,
over the underglaze, in the kiln that fires hot, from one bucket, on one bisque) and nowhere else,
besides faults that come by luck. It judges what is learned from own tiles alone, `diagnose.learning
.pairs` above all; its figures are invented and tune nothing.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from tests.bench.simulate import Simulated
from tiles.exchange.flat_columns import columns, defect_column

DEFECTS = ("crawling", "crazing", "running", "pinholes", "blisters", "colour shift", "specks")
CLAYS = (("red clay", "earthenware", "red"), ("white clay", "earthenware", "white"),
         ("buff clay", "earthenware", "buff"))  # fmt: skip
HABITS, TILES_A_FIRING = 6, 12
BLANK = {"thickness_mm": 0.5, "bisque_cone": 0.4, "cone_reached": 0.5, "coats": 0.15, "batch": 0.2}
"""How often each of these is not written down."""
COMPANY = {
    "three coats": lambda habit, tile: tile["coats"] == 3,
    "a clay": lambda habit, tile: tile["body"] == habit.clay,
    "an underglaze": lambda habit, tile: tile["under_glaze"] is not None,
    "heat": lambda habit, tile: tile["cone_reached"] == "04",
    "a bucket": lambda habit, tile: tile["batch"].endswith("second"),
    "soft bisque": lambda habit, tile: tile["bisque_cone"] == "06",
    "a kiln": lambda habit, tile: tile["kiln"] == "south kiln",
    "thick on soft bisque": lambda h, t: t["coats"] == 3 and t["bisque_cone"] == "06",
    "everywhere": lambda habit, tile: True,
}


@dataclass(frozen=True)
class Habit:
    """One glaze that has a fault with this chance in one company."""

    glaze: str
    company: str
    defect: str
    chance: float
    clay: str


def simulate(n_tiles: int, seed: int) -> Simulated:
    """A class of ``n_tiles`` tiles of one area; the same seed gives the same class.

    ``truth`` has ``noted:`` and ``chance:`` of each defect, which are the same here.
    """
    rng = np.random.default_rng(seed)
    glazes = [f"glaze {n}" for n in range(rng.integers(7, 13))]
    finish = dict(zip(glazes, rng.choice(["gloss", "clear", "matt", "satin"], len(glazes)),
                      strict=True))  # fmt: skip
    clays = CLAYS[: rng.integers(2, 4)]
    habits = [
        Habit(rng.choice(glazes), rng.choice(list(COMPANY)), rng.choice(DEFECTS[:6]),
              rng.choice([0.6, 0.75, 0.9]), clays[rng.integers(len(clays))][0])
        for _ in range(HABITS)
    ]  # fmt: skip
    luck = {defect: rng.choice([0.01, 0.03, 0.06]) for defect in DEFECTS}
    tiles = _tiles(rng, n_tiles, clays, finish, is_hot=rng.random() < 0.5)
    chances = [[_chance(defect, tile, habits, luck) for defect in DEFECTS] for tile in tiles]
    return Simulated(_written(rng, tiles, np.array(chances)), _truth(np.array(chances)), DEFECTS)


def _tiles(rng, n_tiles: int, clays, finish: dict[str, str], *, is_hot: bool) -> list[dict]:
    firings = -(-n_tiles // TILES_A_FIRING)
    kilns = rng.choice(["north kiln", "south kiln"], firings)
    often = rng.dirichlet(np.full(len(finish), 1.5))
    return [
        _tile(rng, at, rng.choice(list(finish), p=often), finish, clays[rng.integers(len(clays))],
              kilns[at // TILES_A_FIRING], is_hot)
        for at in range(n_tiles)
    ]  # fmt: skip


def _tile(rng, at: int, glaze: str, finish: dict[str, str], clay, kiln: str, is_hot: bool) -> dict:
    coats = int(rng.choice([1, 2, 2, 3, 3]))
    is_over = rng.random() < 0.25
    day = pd.Timestamp("2026-01-10") + pd.Timedelta(weeks=at // TILES_A_FIRING)
    return {
        "mark": f"T-{at}", "body": clay[0], "body_kind": clay[1], "body_colour": clay[2],
        "glaze": glaze, "glaze_finish": finish[glaze], "coats": coats,
        "glaze_cone_low": "06", "glaze_cone_high": "04",
        "thickness_mm": round(max(0.15, rng.normal(0.32, 0.06) * coats), 2),
        "under_glaze": "leaf underglaze" if is_over else None,
        "under_glaze_role": "underglaze" if is_over else None,
        "bisque_cone": rng.choice(["06", "04"]), "firing": f"F{at // TILES_A_FIRING}",
        "kiln": kiln, "target_cone": "05", "fired_on": str(day.date()),
        "cone_reached": "04" if is_hot and kiln == "south kiln" else "05",
        "batch": f"{glaze} {rng.choice(['first', 'second'])}", "inspected_on": str(day.date()),
    }  # fmt: skip


def _chance(defect: str, tile: dict, habits: list[Habit], luck: dict[str, float]) -> float:
    sound = 1 - luck[defect]
    for habit in habits:
        if (habit.glaze, habit.defect) == (tile["glaze"], defect):
            sound *= 1 - habit.chance * COMPANY[habit.company](habit, tile)
    return 1 - sound


def _written(rng, tiles: list[dict], chances: np.ndarray) -> pd.DataFrame:
    """The frame as the class keeps it: outcomes, and blanks where nobody wrote anything."""
    frame = pd.DataFrame(tiles).reindex(columns=[each.name for each in columns()])
    came = rng.random(chances.shape) < chances
    for at, defect in enumerate(DEFECTS):
        frame[defect_column(defect)] = np.where(came[:, at], "moderate", "none")
    for column, share in BLANK.items():
        frame.loc[rng.random(len(frame)) < share, column] = None
    frame = frame.astype({each.name: float for each in columns() if each.is_number})
    return frame.where(frame.notna(), np.nan)


def _truth(chances: np.ndarray) -> pd.DataFrame:
    told = {defect_column(defect): chances[:, at] for at, defect in enumerate(DEFECTS)}
    return pd.DataFrame({f"{kind}:{name}": p for name, p in told.items()
                         for kind in ("chance", "noted")})  # fmt: skip

"""The room: its habits and people, its kilns and firings, its clay bodies."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from tests.bench.third.tools import TODAY, pick

# kind, colour, low, high, expansion, its sd, absorption %, gas, iron specks, carbon, lime, talc,
# grog, silica excess, cones over the bag's range before it bloats.
# Expansions and absorptions are of the size of suppliers' sheets (ceramixaustralia.com.au,
# riverbottompottery.com, potters.org: read); gas, carbon and the like: estimates.
_BODY_KINDS = {
    "white talc": ("earthenware", "white", 16, 18, 7.8, .35, 14, .20, .02, .05, 0, 1, 0, .1, 2.5),
    "white school": ("earthenware", "white", 16, 19, 6.8, .35, 13, .25, .03, .1, 0, 0, .1, .5, 3),
    "red": ("earthenware", "red", 16, 19, 6.7, .5, 11, .50, .15, .5, .4, 0, .1, .2, 1.5),
    "terracotta grog": ("earthenware", "red", 17, 20, 6.5, .4, 10, .55, .2, .5, .3, 0, .8, .2, 2),
    "buff": ("stoneware", "buff", 25, 27, 6.2, .35, 2.5, .40, .3, .3, 0, 0, .3, .3, 1.5),
    "speckle": ("stoneware", "speckled", 26, 27, 6.1, .3, 2.5, .60, .95, .5, 0, 0, .3, .3, 1.0),
    "white stone": ("stoneware", "white", 25, 27, 6.3, .3, 2.0, .20, .05, .1, 0, 0, .1, .4, 2),
    "dark": ("stoneware", "dark brown", 25, 27, 6.1, .35, 2.0, .85, .3, .9, 0, 0, .2, .2, .4),
    "porcelain": ("porcelain", "white", 26, 27, 5.8, .3, .8, .10, .03, .05, 0, 0, 0, .3, 1.2),
    "wide stone": ("stoneware", "buff", 27, 31, 5.9, .35, 5, .35, .3, .3, 0, 0, .5, .5, 4),
    "raku": ("stoneware", "buff", 20, 30, 5.0, .3, 9, .3, .15, .2, 0, 0, 1, .2, 6),
}  # fmt: skip
_BODY_FIELDS = ("kind", "colour", "low", "high", "exp", "exp_sd", "absorption", "gas", "iron",
                "carbon", "lime", "talc", "grog", "silica", "spare")  # fmt: skip
_LOW_BODIES = {"white talc": 3, "white school": 3, "red": 3, "terracotta grog": 1, "raku": .4,
               "wide stone": .25}  # fmt: skip
_MID_BODIES = {"buff": 3, "speckle": 2, "white stone": 3, "dark": 1.2, "porcelain": 1.5,
               "wide stone": .8, "raku": .3}  # fmt: skip
_LOOKS = ("north", "river", "old", "house", "smooth", "school", "valley", "number two", "coarse")


@dataclass
class Room:
    """What a studio is and does by habit; every number is hidden from the record."""

    kind: str
    skips_dusting: float
    greasy: float
    shares_brushes: float
    stirs: float
    opens_hot: float
    loads_damp: float
    humid: float
    shelf_dirt: float
    sieves: float
    care_in_looking: float
    days: float
    start: np.datetime64
    bands: dict


def make_room(rng: np.random.Generator, n_tiles: int) -> Room:
    """A classroom (low fire), a small mid-range studio, or a place that does both."""
    kind = pick(rng, {"classroom": 0.42, "mid range": 0.36, "mixed": 0.22})
    tidy = rng.normal() - (0.7 if kind == "classroom" else 0)

    def odds(base):
        lean = np.log(base / (1 - base)) - 0.5 * tidy + rng.normal(0, 0.4)
        return float(1 / (1 + np.exp(-lean)))

    days = float(np.clip(120 + n_tiles * rng.uniform(0.6, 1.6), 150, 1050))
    bands = {"classroom": {"low": 1.0}, "mid range": {"mid": 1.0},
             "mixed": {"low": rng.uniform(.35, .65), "mid": .5}}[kind]  # fmt: skip
    return Room(
        kind=kind, skips_dusting=odds(.22), greasy=odds(.035), shares_brushes=odds(.09),
        stirs=1 - odds(.07), opens_hot=odds(.13), loads_damp=odds(.025), humid=rng.uniform(0, 1),
        shelf_dirt=odds(.06), sieves=1 - odds(.16), care_in_looking=float(rng.normal(0, .5)),
        days=days, start=TODAY - np.timedelta64(int(days) + int(rng.integers(5, 90)), "D"),
        bands=bands,
    )  # fmt: skip


def make_people(rng: np.random.Generator, room: Room) -> pd.DataFrame:
    """Who glazes: how thick, how dusty, how well they write things down."""
    n = int(rng.integers(2, 6)) if room.kind == "mid range" else int(rng.integers(3, 8))
    return pd.DataFrame({
        "thick": np.exp(rng.normal(0, .17, n)),
        "uneven": np.abs(rng.normal(.12, .08, n)),
        "dusty": rng.normal(0, .6, n),
        "writes": np.clip(rng.normal(0, .5, n), -1, 1),
        "share": rng.dirichlet(np.full(n, 2.0)),
    })  # fmt: skip


def make_kilns(rng: np.random.Generator, room: Room) -> pd.DataFrame:
    """Kilns with their habit (cones off target), slow drift, uneven shelves and cooling."""
    n = 1 + int(rng.random() < (0.35 if room.kind != "mixed" else 0.7))
    n += int(rng.random() < 0.12)
    names = rng.choice(["big kiln", "front loader", "small kiln", "back room kiln", "old kiln",
                        "test kiln"], n, replace=False)  # fmt: skip
    gas = (rng.random(n) < (0.15 if room.kind != "classroom" else 0)).astype(float)
    return pd.DataFrame({
        "name": names, "gas": gas,
        "habit": rng.normal(.0, .42, n),
        "drift": -np.abs(rng.normal(0, .4, n)) * (rng.random(n) < .6),
        "uneven": np.abs(rng.normal(0, .45, n)) + .2 * gas,
        "tilt": rng.normal(0, 1, n),
        "cool": rng.normal(0, 1, n),
        "vent": rng.random(n) < .55,
        "rate": rng.uniform(55, 150, n),
        "hold": rng.choice([0., 5., 10., 15., 20., 30.], n, p=[.3, .15, .2, .15, .1, .1]),
    })  # fmt: skip


def make_firings(rng: np.random.Generator, room: Room, kilns: pd.DataFrame, n_tiles: int):
    """Glaze firings in order of time, about a dozen tiles each."""
    n = max(3, round(n_tiles / rng.uniform(7, 16)))
    day = np.sort(rng.uniform(0, room.days, n))
    kiln = rng.integers(0, len(kilns), n)
    k = kilns.iloc[kiln].reset_index(drop=True)
    bands = list(room.bands)
    weight = np.array([room.bands[b] for b in bands])
    band = rng.choice(bands, n, p=weight / weight.sum())
    usual = {"low": rng.choice([16., 17., 18.], p=[.25, .45, .3]),
             "mid": rng.choice([26., 27.], p=[.4, .6])}  # fmt: skip
    target = np.array([usual[b] for b in band])
    target += rng.choice([-1.0, 0.0, 1.0], n, p=[0.1, 0.82, 0.08])
    target = np.where(band == "mid", np.clip(target, 25, 27), np.clip(target, 15, 18))
    slip = np.where(rng.random(n) < 0.03, rng.choice([-2.0, -1.0, 1.0, 2.0], n), 0.0)
    rate = np.clip(k["rate"] * np.exp(rng.normal(0, 0.25, n)), 25, 300)
    hold = np.where(rng.random(n) < 0.75, k["hold"], rng.choice([0.0, 10.0, 20.0, 40.0, 60.0], n))
    over = k["habit"] + k["drift"] * day / 365 + rng.normal(0, 0.25, n) + slip
    over += 0.011 * np.maximum(hold - 12, 0) - 0.0015 * (rate - 90)
    mixed_up = (band == "low") & (rng.random(n) < 0.006)
    opened = np.where(rng.random(n) < room.opens_hot, rng.normal(215, 45, n), rng.normal(85, 25, n))
    return pd.DataFrame({
        "name": [f"G{i + 1:03d}" for i in range(n)], "day": day, "kiln": kiln, "band": band,
        "target": target, "rate": rate, "hold": hold, "over": np.where(mixed_up, 9 + over, over),
        "slip": slip, "opened": np.clip(opened, 25, 380),
        "slow_cool": np.clip(k["cool"] * .6 + rng.normal(0, .7, n), -2.5, 2.5),
        "stale": (~k["vent"].to_numpy(bool) & (rng.random(n) < .45)) | (rng.random(n) < .05),
        "reduced": np.where(k["gas"] > 0, rng.random(n) < .75, rng.random(n) < .02).astype(float),
        "chrome": rng.random(n) < .15, "debris": rng.random(n) < room.shelf_dirt,
    })  # fmt: skip


def make_bisques(rng: np.random.Generator, room: Room, n_firings: int) -> pd.DataFrame:
    """Bisque firings: the habit of the house, and when it was fast, short or packed airless."""
    usual = {"low": rng.choice([16., 17., 18., 19.], p=[.2, .2, .45, .15]),
             "mid": rng.choice([14., 15., 16., 18.], p=[.15, .15, .5, .2])}  # fmt: skip
    rows = []
    quick = rng.uniform(70, 150)
    several = max(2, int(n_firings * 0.8))
    for i in range(several):
        day = -10.0 if i == 0 else (i + rng.uniform(-0.3, 0.3)) / several * room.days
        for band in room.bands:
            target = usual[band] + rng.choice([-1, 0, 1], p=[0.08, 0.86, 0.06])
            rows.append({
                "name": f"B{i + 1:02d}{band[0]}", "band": band, "day": day, "target": target,
                "heat": target + rng.normal(0, .5) - .5 * (rng.random() < .15),
                "rate": quick * np.exp(rng.normal(0, .25)),
                "airless": float(rng.random() < .15),
            })  # fmt: skip
    return pd.DataFrame(rows)


def make_bodies(rng: np.random.Generator, room: Room) -> pd.DataFrame:
    """Three to eight bodies; each bag differs from the type it is sold as."""
    n = int(rng.integers(3, 6)) if room.kind != "mixed" else int(rng.integers(4, 9))
    chosen = []
    for band in room.bands:
        pool = dict(_LOW_BODIES if band == "low" else _MID_BODIES)
        for _ in range(max(2, round(n / len(room.bands)))):
            if pool:
                name = pick(rng, pool)
                pool.pop(name)
                chosen.append((band, name))
    rows, used = [], set()
    for band, kind in chosen:
        row = dict(zip(_BODY_FIELDS, _BODY_KINDS[kind], strict=True))
        look = rng.choice([w for w in _LOOKS if w not in used])
        used.add(look)
        row |= {"name": f"{look} {kind.replace(' stone', ' stoneware')}", "band": band,
                "type": kind}  # fmt: skip
        row["exp"] += rng.normal(0, 0.5 * row["exp_sd"])
        row["absorption"] *= np.exp(rng.normal(0, 0.2))
        for field in ("gas", "iron", "carbon", "silica"):
            row[field] = float(np.clip(row[field] * np.exp(rng.normal(0, 0.2)), 0, 1.3))
        row["spare"] += rng.normal(0, 0.3)
        row["share"] = rng.gamma(1.5) * (0.35 if row["low"] - 18 > 1 and band == "low" else 1)
        row["tested_exp"] = row["exp"] + rng.normal(0, 0.3)
        row["sheet_absorption"] = row["absorption"] * np.exp(rng.normal(0, 0.15))
        rows.append(row)
    return pd.DataFrame(rows)

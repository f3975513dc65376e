"""Every area of every tile as it really was made and fired: the hidden truth, before any defect."""

import numpy as np
import pandas as pd

from tests.bench.third.tools import up


def _by_time(rng, tiles: pd.DataFrame, glazes: pd.DataFrame, role: str) -> np.ndarray:
    """A glaze of the role and band for each tile among those already bought; new ones more."""
    share, came = glazes["share"].to_numpy(), glazes["came"].to_numpy()
    band, is_role = glazes["band"].to_numpy(), (glazes["role"] == role).to_numpy()
    chosen = np.full(len(tiles), -1)
    for i, (day, tile_band) in enumerate(zip(tiles["day"], tiles["band"], strict=True)):
        weight = share * is_role * (band == tile_band) * (came <= day)
        weight = weight * (1 + 3.0 * (day - came < 40) * (came > 0))
        if weight.sum() > 0:
            chosen[i] = rng.choice(len(weight), p=weight / weight.sum())
    return chosen


def make_tiles(rng: np.random.Generator, n: int, room, people, kilns, firings, bisques, bodies,
               glazes) -> pd.DataFrame:  # fmt: skip
    """One row a tile: who, when, which clay and glaze, and the state of bisque and room."""
    load = rng.dirichlet(np.full(len(firings), 3.0))
    firing = np.sort(rng.choice(len(firings), n, p=load))
    f = firings.iloc[firing].reset_index(drop=True)
    t = pd.DataFrame({"firing": firing, "day": f["day"], "band": f["band"]})
    session = firing * 3 + rng.integers(0, 2, n)
    of = pd.factorize(session)[0]
    k = of.max() + 1
    t["session"] = of
    t["person"] = rng.choice(len(people), k, p=people["share"])[of]
    t.loc[rng.random(n) < 0.3, "person"] = rng.integers(len(people))
    t["glaze"] = _by_time(rng, t, glazes, "glaze")
    other = rng.random(n) < (0.025 if room.kind == "mixed" else 0.004)
    wrong = rng.choice(np.flatnonzero(glazes["role"] == "glaze"), n)
    t["glaze"] = np.where(other | (t["glaze"] < 0), wrong, t["glaze"])
    finish = glazes["finish"].to_numpy()[t["glaze"]]
    layer = rng.random(n)
    under_way = np.where(finish == "clear", 0.62, 0.05)
    t["under"] = np.where(layer < under_way, _by_time(rng, t, glazes, "underglaze"), -1)
    lap = (layer > 0.92) & (t["under"] < 0)
    second = _by_time(rng, t, glazes, "glaze")
    t["under"] = np.where(lap & (second != t["glaze"]), second, t["under"])
    t["body"] = _bodies_for(rng, t, bodies, glazes)
    # bisque: the load of the session, close in time
    made = bisques["day"].to_numpy()
    is_low = (bisques["band"] == "low").to_numpy()
    ready = (made[None, :] <= t["day"].to_numpy()[:, None] - 9.5) | (made[None, :] < 0)
    ready &= is_low[None, :] == (t["band"] == "low").to_numpy()[:, None]
    t["bisque"] = np.where(ready, made[None, :], -99.0).argmax(axis=1)
    b = bisques.iloc[t["bisque"]].reset_index(drop=True)
    t["bisque_heat"] = b["heat"].to_numpy() + rng.normal(0, 0.2, n)
    t["bisque_rate"], t["bisque_airless"] = b["rate"].to_numpy(), b["airless"].to_numpy()
    # the room on that day
    dusty = people["dusty"].to_numpy()[t["person"]]
    lean = np.log(room.skips_dusting / (1 - room.skips_dusting)) + dusty
    t["open_days"] = (rng.gamma(1.2, 4, k))[of]
    t["wiped"] = rng.random(n) > 1 / (1 + np.exp(-lean - 0.4))
    t["dusty"] = rng.random(k)[of] < 1 / (1 + np.exp(-(lean - 0.3 + 0.08 * t["open_days"])))
    t["dust"] = t["dusty"] * np.where(t["wiped"], 0.35, 1.0) * rng.uniform(0.7, 1, n)
    t["greasy"] = (rng.random(n) < room.greasy) * np.where(t["wiped"], 0.5, 1.0)
    t["shared"] = (rng.random(k)[of] < room.shares_brushes).astype(float)
    t["stirred"] = (rng.random(n) < room.stirs).astype(float)
    t["damp"] = (rng.random(k)[of] < room.loads_damp) * (rng.random(n) < 0.9)
    t["form"] = rng.choice(["flat", "angle", "curved", "vessel"], n, p=[0.45, 0.3, 0.15, 0.1])
    t["stood"] = np.where(t["form"] == "flat", rng.choice(["flat", "sloped", "upright"], n,
                          p=[.45, .2, .35]), np.where(t["form"] == "angle", "upright",
                          rng.choice(["upright", "sloped"], n, p=[.75, .25])))  # fmt: skip
    t["refired"] = rng.random(n) < 0.025
    t["wax"] = rng.random(n) < 0.08
    # the kiln
    t["shelf"] = rng.choice(["top", "middle", "bottom"], n)
    kk = kilns.iloc[f["kiln"]].reset_index(drop=True)
    height = t["shelf"].map({"top": 1.0, "middle": 0.1, "bottom": -1.0}).to_numpy()
    t["shelf_off"] = height * np.sign(kk["tilt"]) * kk["uneven"] + rng.normal(0, 0.1, n)
    t["target"], t["over_kiln"] = f["target"], f["over"]
    t["heat"] = np.clip(f["target"] + f["over"] + t["shelf_off"], 8, 31)
    for name in ("rate", "hold", "opened", "slow_cool", "stale", "reduced", "chrome", "debris"):
        t[name] = f[name].to_numpy()
    t["wait"] = np.where(rng.random(n) < 0.75, rng.gamma(1.2, 1.5, n), rng.gamma(1.5, 35, n))
    return t


def _bodies_for(rng, t, bodies, glazes) -> np.ndarray:
    """Bodies of the band; a pair known to craze badly is met less often."""
    chosen = np.zeros(len(t), int)
    exp, share = bodies["exp"].to_numpy(), bodies["share"].to_numpy()
    g_exp = glazes["exp"].to_numpy()[t["glaze"]]
    stray = rng.random(len(t)) < 0.008
    for i, band in enumerate(t["band"]):
        fits = (bodies["band"] == band).to_numpy() | stray[i]
        weight = share * fits * np.exp(-0.8 * np.clip(g_exp[i] - exp - 0.3, 0, 2))
        chosen[i] = rng.choice(len(weight), p=weight / weight.sum())
    return chosen


def make_areas(rng, room, t, people, buckets, bodies, glazes) -> pd.DataFrame:
    """One row an area: coats and the real thickness of the dry coat [mm]."""
    n = len(t)
    split = rng.random(n) < 0.10
    copies = np.where(split, rng.choice([2, 3], n, p=[0.6, 0.4]), 1)
    a = t.loc[np.repeat(np.arange(n), copies)].reset_index(names="tile")
    m = len(a)
    a["area"] = a.groupby("tile").cumcount() + 1
    a["row_split"] = np.repeat(split, copies)
    finish = glazes["finish"].to_numpy()[a["glaze"]]
    supplied = glazes["supplied"].to_numpy()[a["glaze"]]
    brush = np.repeat(rng.random(n), copies) < np.where(supplied == "dry", 0.12, 0.86)
    a["method"] = np.where(brush, "brush", np.where(np.repeat(rng.random(n), copies) < .82,
                           "dip", "pour"))  # fmt: skip
    a["bucket"] = _bucket_of(a, buckets)
    b = buckets.iloc[a["bucket"]].reset_index(drop=True)
    normal = np.where(finish == "clear", 2.4, 3.0)
    coats = np.where(brush, np.clip(np.round(rng.normal(normal, .85, m)), 1, 6),
                     1 + (rng.random(m) < .22))  # fmt: skip
    a["coats"] = np.where(a["row_split"], np.where(brush, a["area"], np.minimum(a["area"], 3)),
                          coats)  # fmt: skip
    p = people.iloc[a["person"]].reset_index(drop=True)
    hand = np.where(brush, p["thick"], p["thick"] ** 0.5)
    suck = 1 - 0.07 * np.clip(a["bisque_heat"] - 16, -3, 5)
    slop = np.exp(3.2 * (b["gravity"] - 1.49)) * (1 + 0.25 * b["half_dry"])
    per = np.where(brush, 0.135 * (1 + 0.25 * (finish == "matt")), 0.38 * suck)
    more = np.where(brush, a["coats"], a["coats"] ** 0.8)
    a["coat"] = np.clip(per * more * hand * slop * np.exp(rng.normal(0, 0.11, m)), 0.05, 2.5)
    usual = np.select(
        [finish == "clear", np.isin(finish, ["matt", "textured"])], [0.36, 0.55], 0.45
    )
    a["thick"] = a["coat"] / usual * (1 + p["uneven"] * np.isin(a["form"], ["angle", "vessel"]))
    a["thin_lot"] = np.where(a["stirred"] > 0, 0.0, 1.0)
    is_colour = (a["under"] >= 0) & (glazes["role"].to_numpy()[a["under"]] == "underglaze")
    a["over_colour"] = is_colour
    a["overlap"] = (a["under"] >= 0) & ~is_colour
    a["under_coats"] = np.where(a["under"] >= 0, np.where(is_colour, np.clip(np.round(
        rng.normal(2.7, 1.0, m)), 1, 6), rng.integers(1, 4, m)), 0)  # fmt: skip
    a["under_load"] = a["under_coats"] * p["thick"] * np.exp(rng.normal(0, 0.15, m))
    a["powder_dry"] = ((a["coats"] > 1) & (rng.random(m) < 0.11)).astype(float)
    a["textured"] = np.repeat(rng.random(n) < 0.12, copies)
    a["handling"] = rng.normal(0, 1, m)
    cracked = -2.9 + 1.6 * up(a["thick"], 1.3, 2.3) + 1.2 * a["powder_dry"] + .9 * np.clip(
        glazes["shrinks"].to_numpy()[a["glaze"]], -1, 2) + 1.0 * b["revived"]  # fmt: skip
    a["raw_cracked"] = rng.random(m) < 1 / (1 + np.exp(-cracked))
    return a


def _bucket_of(a: pd.DataFrame, buckets: pd.DataFrame) -> np.ndarray:
    """The bucket in use that day: the last one begun."""
    glaze, start = buckets["glaze"].to_numpy(), buckets["start"].to_numpy()
    first = np.searchsorted(glaze, a["glaze"].to_numpy())
    count = np.bincount(glaze, minlength=glaze.max() + 1)[a["glaze"]]
    chosen = first.copy()
    for extra in range(1, count.max()):
        at = np.minimum(first + extra, len(glaze) - 1)
        later = (extra < count) & (start[at] <= a["day"].to_numpy())
        chosen = np.where(later, at, chosen)
    return chosen

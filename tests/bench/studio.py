"""One simulated studio: its bodies, glazes, batches, kilns, firings, people and habits.

Tables are dicts of equally long numpy arrays, one entry a body, a glaze and so on. What a table
holds is the truth; ``records.py`` decides how much of it gets written down.
"""

from dataclasses import dataclass
from datetime import date

import numpy as np

from tests.bench import recipes
from tiles.chemistry.cones import step

Table = dict[str, np.ndarray]
FIRST_DAY = date(2019, 9, 2)
SETTINGS, SETTING_SHARES = ("low", "mid", "both"), (0.6, 0.2, 0.2)
MID_FLUIDITY = -1.45
"""Usual log fluidity index of the mid-range families; hotter firings make up for it."""


@dataclass
class Studio:
    """A studio; ``days`` is how long it has kept its records."""

    rng: np.random.Generator
    days: int
    body: Table
    glaze: Table
    mixes: list
    batch: Table
    kiln: Table
    bisque: Table
    firing: Table
    person: Table

    def bump(self, sd: float = 0.35) -> float:
        """A factor by which a mechanism is stronger or weaker in this studio than in others."""
        return float(np.exp(self.rng.normal(0, sd)))


def make(n_tiles: int, seed: int) -> Studio:
    """A studio that has fired ``n_tiles`` tiles."""
    rng = np.random.default_rng([seed, n_tiles])
    years = float(np.clip(0.35 * n_tiles**0.42 * rng.uniform(0.7, 1.4), 0.4, 9))
    days = int(365 * years)
    setting = str(rng.choice(SETTINGS, p=SETTING_SHARES))
    body = _bodies(rng, setting)
    glaze, mixes = _glazes(rng, n_tiles, setting, days, body)
    kiln = _kilns(rng)
    return Studio(
        rng,
        days,
        body,
        glaze,
        mixes,
        _batches(rng, glaze, days),
        kiln,
        _bisques(rng, max(2, n_tiles // 22), days),
        _firings(rng, max(3, n_tiles // 11), days, setting, kiln),
        _people(rng, int(rng.integers(2, 5 + n_tiles // 60))),
    )


def _is_low(rng: np.random.Generator, setting: str, n: int) -> np.ndarray:
    return rng.random(n) < {"low": 1.0, "mid": 0.0, "both": 0.6}[setting]


def _bodies(rng: np.random.Generator, setting: str) -> Table:
    n = int(rng.integers(2, 6))
    low = _is_low(rng, setting, n)
    if setting == "both":
        low[:2] = (True, False)
    is_red = rng.random(n) < 0.45
    expansion = np.where(low, np.where(is_red, 7.75, 8.25), 7.35) + rng.normal(0, 0.45, n)
    return {
        "is_low": low,
        "is_red": is_red,
        "expansion": expansion,
        "absorption": np.where(low, rng.normal(13, 2, n), rng.gamma(4, 0.8, n)).clip(0.3, 20),
        "gas": rng.gamma(1.2, 0.5, n) * np.where(is_red, 1.5, 0.7),
        "specks": (rng.random(n) < 0.2) * rng.uniform(0.5, 1.5, n),
        "mature": np.where(low, step("04") + rng.normal(0, 0.6, n), step("6") - 0.5),
        "says_expansion": rng.random(n) < 0.5,
        "popular": rng.dirichlet(np.full(n, 1.5)),
    }


def _glazes(rng, n_tiles: int, setting: str, days: int, body: Table) -> tuple[Table, list]:
    n = round(1.9 * n_tiles**0.57)
    low = _is_low(rng, setting, n)
    is_recipe = rng.random(n) < rng.choice([0.2, 0.5, 0.8])
    home = {b: body["expansion"][body["is_low"] == b] for b in (True, False)}
    mixes = [
        _kept_mix(rng, bool(lo), home[bool(lo)]) if r else None
        for r, lo in zip(is_recipe, low, strict=True)
    ]
    table = _jars(rng, n, low, home)
    for at, mix in enumerate(mixes):
        if mix is not None:
            _write_mix(rng, table, at, mix, bool(low[at]))
    start = np.where(rng.random(n) < 0.5, 0, rng.uniform(0, 0.8 * days, n))
    table |= {
        "is_low": low,
        "is_recipe": is_recipe,
        "mature": np.where(low, step("05"), step("6") - 0.5) + rng.choice([-1, 0, 0, 0.5], n),
        "start": start,
        "end": np.where(rng.random(n) < 0.6, days + 1, start + rng.uniform(0.2, 1.2, n) * days),
        "popular": rng.permutation(1.0 / np.arange(1, n + 1) ** 0.8),
        "brush": rng.random(n) < np.where(is_recipe, 0.25, 0.85),
        "specks": (rng.random(n) < 0.12) * rng.uniform(0.3, 1.2, n),
    }
    return table, mixes


def _kept_mix(rng, is_low: bool, home: np.ndarray):
    """People go on with the recipes that fit their clay tolerably."""
    for _ in range(12):
        mix = recipes.draw(rng, is_low)
        gap = mix.expansion - (home.mean() if home.size else 8.0)
        if rng.random() < np.exp(-0.5 * ((gap + 0.5) / 0.8) ** 2):
            break
    return mix


def _jars(rng, n: int, low: np.ndarray, home: dict) -> Table:
    """What is in a jar; nobody in the studio knows it."""
    centre = np.where(low, *(home[b].mean() if home[b].size else 7.7 for b in (True, False)))
    finish = rng.choice(4, n, p=(0.22, 0.5, 0.12, 0.16))  # clear, gloss, satin, matt
    return {
        "finish": finish,
        "expansion": centre - 0.75 + rng.normal(0, 0.42, n),
        "fluidity": rng.normal(0, 0.45, n) - 0.35 * (finish >= 2),
        "clay": rng.gamma(5, 2.4, n) + 5.0 * (finish == 3),
        "loss": rng.gamma(3, 1.4, n),
        "haze": rng.beta(1.3, 3, n),
        "opacity": rng.gamma(1, 3, n) * (finish > 0),
    }


def _write_mix(rng, table: Table, at: int, mix, is_low: bool) -> None:
    table["expansion"][at] = mix.expansion + rng.normal(0, 0.3)
    table["fluidity"][at] = mix.fluidity - (0 if is_low else MID_FLUIDITY) + rng.normal(0, 0.15)
    table["clay"][at], table["loss"][at] = mix.clay_pct, mix.loss_pct
    table["haze"][at], table["opacity"][at] = mix.haze, mix.opacity
    clear = mix.opacity < 1 and rng.random() < 0.5
    table["finish"][at] = 3 if mix.is_matt else 0 if clear else 1


def _batches(rng, glaze: Table, days: int) -> Table:
    """One or more buckets or jars of each glaze, in order of time."""
    counts = 1 + rng.poisson(np.clip(days / 420, 0.2, 4), glaze["start"].size)
    of = np.repeat(np.arange(counts.size), counts)
    n = of.size
    recipe = glaze["is_recipe"][of]
    order = np.concatenate([np.arange(c) for c in counts])
    span = (np.minimum(glaze["end"], days) - glaze["start"])[of].clip(1)
    revived = (~recipe) & (order > 0) & (rng.random(n) < 0.4)
    return {
        "glaze": of,
        "order": order,
        "from": glaze["start"][of] + span * order / counts[of],
        "is_revived": revived,
        "gum_lost": revived * rng.beta(2, 2, n),
        "gravity": np.where(recipe, rng.normal(1.47, 0.06, n), 1.5).clip(1.25, 1.8),
        "mesh": rng.choice([40, 60, 80, 100], n, p=(0.15, 0.25, 0.4, 0.2)),
        "is_part": (~recipe) & (rng.random(n) < 0.12),
        "slip": (rng.random(n) < 0.06) * rng.normal(0, 1, n),
        "shift": rng.normal(0, 0.2, n),
    }


def _kilns(rng) -> Table:
    n = int(rng.integers(1, 4))
    return {
        "offset": rng.normal(-0.1, 0.4, n),
        "drift": rng.normal(0.12, 0.2, n),
        "shelf": rng.normal(0, 0.3, (n, 3)) - [0, 0, 0.25],
        "vented": rng.random(n) < 0.6,
        "cools": rng.choice([60.0, 90.0, 140.0], n),
        "popular": rng.dirichlet(np.full(n, 2.0)),
    }


def _bisques(rng, n: int, days: int) -> Table:
    habit = rng.choice([step("04"), step("05"), step("06"), step("03")], p=(0.5, 0.2, 0.2, 0.1))
    change = rng.random(n) < 0.18
    cone = habit + np.where(change, rng.choice([-2.0, -1.0, 1.0], n), 0)
    return {
        "day": np.sort(rng.uniform(0, days, n)),
        "target": cone,
        "cone": cone + rng.normal(0, 0.4, n),
        "rate": 95 * np.exp(rng.normal(0, 0.35, n)),
        "airless": rng.random(n) < 0.2,
    }


def _firings(rng, n: int, days: int, setting: str, kiln: Table) -> Table:
    low = _is_low(rng, setting, n)
    if setting == "both":
        low[:2] = (True, False)
    low_habit, mid_habit = rng.choice([-1.0, 0, 0, 1.0]), rng.choice([-1.0, 0, 0])
    which = rng.choice(kiln["offset"].size, n, p=kiln["popular"])
    day = np.sort(rng.uniform(0, days, n))
    target = np.where(low, step("05") + low_habit, step("6") + mid_habit)
    target = target + np.where(rng.random(n) < 0.15, rng.choice([-1.0, 1.0], n), 0)
    hold = rng.choice([0, 5, 10, 15, 20, 30, 60], n, p=(0.2, 0.15, 0.25, 0.18, 0.12, 0.07, 0.03))
    heat = kiln["offset"][which] + kiln["drift"][which] * day / 365 % 0.7
    return {
        "day": day,
        "is_low": low,
        "kiln": which,
        "target": target,
        "rate": 105 * np.exp(rng.normal(0, 0.35, n)),
        "hold": hold.astype(float),
        "reached": target + heat + 0.55 * np.log1p(hold / 25) - 0.4 + rng.normal(0, 0.2, n),
        "opened": np.clip(75 * np.exp(rng.normal(0.1, 0.42, n)), 30, 320),
        "cooling": kiln["cools"][which] * np.exp(rng.normal(0, 0.25, n)),
    }


def _people(rng, n: int) -> Table:
    return {
        "heavy": np.exp(rng.normal(0, 0.22, n)),
        "dusty": rng.beta(1.5, 5, n),
        "greasy": rng.beta(1, 14, n),
        "wipes": rng.random(n) < 0.55,
        "stirs": rng.beta(6, 1.5, n),
        "waits": rng.beta(2, 6, n),
        "shares": rng.beta(1.5, 5, n),
        "misses": rng.uniform(0.02, 0.12, n),
        "popular": rng.dirichlet(np.full(n, 1.2)),
    }

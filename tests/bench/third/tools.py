"""Small helpers: cone names, graded curves and draws."""

from functools import cache

import numpy as np

DEFECTS = ("crazing", "shivering", "crawling", "pinholes", "blisters", "running", "underfired",
           "bloating", "unwanted matt", "specks", "colour shift", "cloudiness",
           "metal marking")  # fmt: skip
CONES = tuple(f"0{n}" for n in range(22, 0, -1)) + tuple(str(n) for n in range(1, 15))
STEP = {name: place for place, name in enumerate(CONES)}
TODAY = np.datetime64("2026-11-28")


def cone_name(step: float) -> str:
    """The nearest whole cone of a place on the scale (``05`` is 17, ``5`` is 26)."""
    return CONES[int(np.clip(round(float(step)), 0, len(CONES) - 1))]


def cone_names(steps: np.ndarray) -> np.ndarray:
    """Cone names of many places; NaN stays blank."""
    return np.array([None if np.isnan(s) else cone_name(s) for s in steps], dtype=object)


@cache
def cone_celsius() -> np.ndarray:
    """Temperature of each cone at a medium rate [C], from the program's chart."""
    from tiles.chemistry import cones

    places = np.arange(STEP["010"], STEP["10"] + 1)
    known = [cones.temperature_c(CONES[p]) for p in places]
    return np.interp(np.arange(len(CONES)), places, known)


def celsius(steps: np.ndarray) -> np.ndarray:
    """Temperature at which a place on the cone scale bends [C]."""
    return np.interp(steps, np.arange(len(CONES)), cone_celsius())


def up(x: np.ndarray, start: float, full: float) -> np.ndarray:
    """A graded switch: 0 at ``start``, 1 at ``full``, soft at both ends; works downwards too."""
    t = np.clip((np.asarray(x, dtype=float) - start) / (full - start), 0, 1)
    return t * t * (3 - 2 * t)


def beyond(x: np.ndarray, start: float, unit: float = 1.0) -> np.ndarray:
    """How far beyond ``start``, in units; 0 before it."""
    return np.maximum(0.0, (np.asarray(x, dtype=float) - start) / unit)


def pick(rng: np.random.Generator, options: dict) -> object:
    """One key of ``options``, by weight."""
    names = list(options)
    weights = np.array([options[n] for n in names], dtype=float)
    return names[rng.choice(len(names), p=weights / weights.sum())]


def days(start: np.datetime64, numbers: np.ndarray) -> np.ndarray:
    """Dates as ISO text, never after today."""
    found = start + np.round(numbers).astype("timedelta64[D]")
    return np.minimum(found, TODAY).astype(str).astype(object)

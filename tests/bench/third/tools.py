"""Small helpers: cone names, graded curves and draws."""

from functools import cache

import numpy as np

from tests.bench.second.scale import cone_name
from tiles.chemistry.cones import CONES, temperature_c

DEFECTS = ("crazing", "shivering", "crawling", "pinholes", "blisters", "running", "underfired",
           "bloating", "unwanted matt", "specks", "colour shift", "cloudiness",
           "metal marking")  # fmt: skip
TODAY = np.datetime64("2026-11-28")


def cone_names(steps: np.ndarray) -> np.ndarray:
    """Cone names of many places; NaN stays blank."""
    return np.array([None if np.isnan(s) else cone_name(s) for s in steps], dtype=object)


@cache
def cone_celsius() -> np.ndarray:
    """Temperature of each cone at a medium rate [C], from the program's chart."""
    places = np.arange(CONES.index("010"), CONES.index("10") + 1)
    known = [temperature_c(CONES[p]) for p in places]
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

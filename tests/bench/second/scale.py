"""The cone scale as places in order, and what the whole of the second studio shares."""

import numpy as np

from tiles.chemistry.cones import CONES
from tiles.chemistry.cones import temperature_c as bends_at_c

DEFECTS = (
    "crazing", "shivering", "crawling", "pinholes", "blisters", "running", "underfired",
    "bloating", "dunting", "unwanted matt", "specks", "colour shift", "cloudiness",
    "metal marking",
)  # fmt: skip

NOISE = 0.3
"""Scales what nobody could have recorded: habits of a glaze, body, firing and tile."""

WRITES = 1.0
"""How much is written down; higher is more."""

PLACE = {cone: place for place, cone in enumerate(CONES)}
_TEMPERATURE_C = np.array([bends_at_c(cone) for cone in CONES], float)


def cone_name(place: float) -> str:
    """The cone nearest to a place on the scale."""
    return CONES[int(np.clip(np.rint(place), 0, len(CONES) - 1))]


def temperature_c(place: float) -> float:
    """The temperature at which the cone of a place bends. [deg C]"""
    return float(np.interp(place, np.arange(len(CONES)), _TEMPERATURE_C))


def ramp(x, start: float, full: float) -> np.ndarray:
    """0 up to ``start``, 1 from ``full`` on, straight between."""
    return np.clip((np.asarray(x, float) - start) / (full - start), 0, 1)

"""Pyrometric cones: the ordered scale of names, and the published end points by heating rate.

A cone's name is text and stays text: 05 and 5 are nine steps apart. Whole cones run from 022 to 01
and from 1 to 14; half steps are written as the trade does (5½ between 5 and 6, 05½ between 06
and 05).
"""

from tiles.chemistry._cone_chart import (
    CONE_TYPES,
    MEDIUM_RATE_C_PER_H,
    ConeReading,
    EndPoint,
    celsius_to_fahrenheit,
    cone_for,
    end_point,
    fahrenheit_to_celsius,
    published_rates,
    temperature_c,
    temperatures,
)
from tiles.chemistry._cone_scale import (
    BAND_LIMITS,
    CONES,
    HALF,
    LOW_FIRE,
    MID_RANGE,
    band,
    compare,
    cone_at,
    cones_between,
    in_range,
    read_cone,
    step,
    steps_between,
    steps_outside,
)

__all__ = [
    "BAND_LIMITS",
    "CONES",
    "CONE_TYPES",
    "HALF",
    "LOW_FIRE",
    "MEDIUM_RATE_C_PER_H",
    "MID_RANGE",
    "ConeReading",
    "EndPoint",
    "band",
    "celsius_to_fahrenheit",
    "compare",
    "cone_at",
    "cone_for",
    "cones_between",
    "end_point",
    "fahrenheit_to_celsius",
    "in_range",
    "published_rates",
    "read_cone",
    "step",
    "steps_between",
    "steps_outside",
    "temperature_c",
    "temperatures",
]

"""Pyrometric cones: the ordered scale of names, and the published end points by heating rate.

A cone's name is text and stays text: 05 and 5 are nine steps apart. Whole cones run from 022 to 01
and from 1 to 14; half steps are written as the trade does (5½ between 5 and 6, 05½ between 06
and 05).
"""

from tiles.chemistry._cone_chart import (
    CONE_TYPES,
    HALF_A_ROUNDING,
    MEDIUM_RATE_C_PER_H,
    EndPoint,
    celsius_to_fahrenheit,
    end_point,
    end_points,
    fahrenheit_to_celsius,
    published_rates,
    read_cone_type,
    temperature_c,
    temperatures,
    usual_rate_c_per_h,
)
from tiles.chemistry._cone_of_set_point import refuse_temperatures, temperature_said
from tiles.chemistry._cone_reading import ConeReading, cone_for
from tiles.chemistry._cone_scale import (
    BAND_LIMITS,
    CONES,
    HALF,
    HOTTEST_C,
    band,
    cone_at,
    cones_between,
    for_sheets,
    in_range,
    read_cone,
    step,
    steps_between,
    steps_outside,
    with_other_zero,
)

"""Defects of gas in the melt: pinholes and blisters."""

import numpy as np

from tests.bench.second.scale import PLACE, ramp
from tests.bench.second.state import HEAT, THICKNESS, Account, Mechanism, State

BISQUE = "bisque_cone, cone_reached"


def pinholes(s: State) -> Account:
    """Gas of body, bisque and recipe comes through; time and a fluid melt heal the holes."""
    mid_cool = ramp(PLACE["06"] - s.bisque, -0.5, 2.5)
    too_cool = np.where(s.low > 0, ramp(-s.bisque_over_glaze, -1.2, 1.5), mid_cool)
    mechanisms = [
        Mechanism("bisque cooler than the glaze firing", BISQUE, 1.8, too_cool),
        Mechanism("body gives off gas", "body, body_colour", 1.4, ramp(s.gas, 0.15, 0.9)),
        Mechanism("fast end of the firing", "rate_c_per_h", 0.8, ramp(s.rate, 90, 180)),
        Mechanism("no hold to heal", "hold_min", 0.9, ramp(-s.hold, -14, 0)),
        Mechanism("coat too thick", THICKNESS, 1.3, ramp(s.thickness_mm, 0.65, 1.4)),
        Mechanism("gassy raw materials", "recipe", 1.1, ramp(s.loss, 5, 14)),
        Mechanism("colour carbonates", "recipe", 0.5, s.carbonates),
        Mechanism("glaze short of its cone, not healed", HEAT, 0.8, ramp(s.short, 0.3, 1.6)),
        Mechanism("overfired", HEAT, 0.7, ramp(s.over, 1.1, 2.3)),
        Mechanism("stiff melt", "recipe", 0.8, s.stiff),
        Mechanism("textured or grogged surface", "surface", 0.8, s.row("is_textured")),
        Mechanism("dust", "clue_bisque_dusty", 0.6, s.dust),
        Mechanism("pits in the raw coat", "clue_raw_coat_pitted", 1.6, s.row("is_pitted")),
        Mechanism("bisque fast or airless", "bisque_rate_c_per_h, clue_bisque_packed_airless",
                  0.8, s.bisque_fast_or_airless),
        Mechanism("fired glaze over, refired", "clue_fired_before", 0.5, s.row("is_refired")),
    ]  # fmt: skip
    return Account(0.035, mechanisms, adds=True)


def blisters(s: State) -> Account:
    """A melt that boils, or gas sealed in below it."""
    mid_cool = ramp(PLACE["06"] - s.bisque, 0, 2.5)
    too_cool = np.where(s.low > 0, ramp(-s.bisque_over_glaze, 0, 2), mid_cool)
    hot_hold = ramp(s.hold, 20, 50) * ramp(s.over, -0.5, 1)
    rushed = ramp(s.rate, 100, 180) * ramp(-s.hold, -10, 0)
    return Account(0.008, [
        Mechanism("overfired", HEAT, 0.5, ramp(s.over, 0.8, 2.6)),
        Mechanism("coat much too thick", THICKNESS, 0.45, ramp(s.thickness_mm, 0.9, 1.8)),
        Mechanism("long hold on a hot firing", "hold_min", 0.25, hot_hold),
        Mechanism("two glazes one over the other", "under_glaze", 0.2, s.row("is_over_glaze")),
        Mechanism("gassy recipe sealed early", "recipe", 0.25, ramp(s.loss, 8, 15)),
        Mechanism("damp when loaded", "clue_loaded_damp", 0.22, s.row("is_damp")),
        Mechanism("bisque too cool", BISQUE, 0.18, too_cool * ramp(s.gas, 0.1, 0.8)),
        Mechanism("fast finish without hold", "rate_c_per_h, hold_min", 0.15, rushed),
        Mechanism("wrong load: far over", HEAT, 0.8, ramp(s.over, 4, 7)),
        Mechanism("refired", "clue_fired_before", 0.2, s.row("is_refired")),
    ])  # fmt: skip

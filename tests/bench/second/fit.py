"""Defects of glaze and body together: crazing, shivering, dunting, bloating."""

import numpy as np

from tests.bench.second.scale import PLACE, ramp
from tests.bench.second.state import HEAT, THICKNESS, Account, Mechanism, State


def crazing(s: State) -> Account:
    """A glaze in tension cracks; heat short of the body, damp and cold draughts add to it."""
    too_cool = s.low * ramp(PLACE["04"] - s.bisque, -0.5, 2.5)
    late = s.porous * ramp(s.row("look_days"), 12, 120)
    washed = s.porous * s.row("is_soaked")
    body_heat = "cone_reached, bisque_cone, body_cone_low"
    mechanisms = [
        Mechanism("glaze expands too much for this body", "recipe, body, glaze_finish",
                  4.2, ramp(s.gap, -1.6, 1.6)),
        Mechanism("coat too thick for the fit", THICKNESS, 1.3, ramp(s.thickness_mm, 0.7, 1.5)),
        Mechanism("body not fired to its range", body_heat, 1.5, ramp(s.body_short, 0, 3)),
        Mechanism("bisque too cool at low fire", "bisque_cone", 0.9, too_cool),
        Mechanism("glaze short of its cone", HEAT, 0.8, ramp(s.short, 0.7, 2.2)),
        Mechanism("opened hot", "opened_c", 1.1, ramp(s.opened, 120, 240)),
        Mechanism("porous body took up damp with time", "body_absorption_pct, inspected_on",
                  1.7, late),
        Mechanism("soaked or washed, porous body", "clue_washed_or_soaked", 1.2, washed),
        Mechanism("a crackle glaze", "glaze_finish", 3.0, s.finish("crackle")),
        Mechanism("cooled fast", "clue_cooled_fast", 0.5, s.fast),
    ]  # fmt: skip
    return Account(0.03, mechanisms, adds=True)


def shivering(s: State) -> Account:
    """A glaze squeezed too hard flakes from edges; so does what never bonded."""
    at_edges = ramp(-s.gap, 0.8, 2.5) * s.angled * ramp(s.thickness_mm, 0.5, 1.2)
    unclean = np.maximum(s.dust, s.row("is_greasy"))
    lithia = s.each(lambda r: "spodumene" in r["glaze"]["parts"])
    return Account(0.006, [
        Mechanism("glaze squeezed too much by the body", "recipe, body",
                  0.6, ramp(-s.gap, 1.3, 3.4)),
        Mechanism("squeezed, and flaking at edges", "recipe, form, thickness_mm", 0.3, at_edges),
        Mechanism("thick underglaze or slip not bonded", "under_coats",
                  0.2, ramp(s.colour_coats, 2.5, 5)),
        Mechanism("dust or grease under the coat", "clue_bisque_dusty, clue_bisque_greasy",
                  0.12, unclean),
        Mechanism("lithia-rich glaze", "recipe", 0.2, lithia),
    ])  # fmt: skip


def dunting(s: State) -> Account:
    """Cold air on hot ware, uneven walls, and a glaze that squeezes one side."""
    one_sided = np.maximum(s.row("is_inside_only"), 0.25) * ramp(-s.gap, 1.0, 3)
    return Account(0.005, [
        Mechanism("opened hot", "opened_c", 0.22, ramp(s.opened, 130, 240)),
        Mechanism("cooled fast", "clue_cooled_fast", 0.18, s.fast),
        Mechanism("wide flat piece", "clue_wide_flat_piece", 0.25, s.row("is_wide")),
        Mechanism("uneven wall", "clue_wall_uneven", 0.12, s.row("is_uneven")),
        Mechanism("glaze squeezes, one side only", "recipe, clue_glazed_inside_only",
                  0.3, one_sided),
        Mechanism("refired", "clue_fired_before", 0.15, s.row("is_refired")),
    ])  # fmt: skip


def bloating(s: State) -> Account:
    """A body past its range seals and swells on the gas still in it."""
    range_told = "cone_reached, body_cone_high"
    left_in = s.bisque_fast_or_airless * ramp(s.gas, 0.25, 0.9)
    return Account(0.004, [
        Mechanism("body over its range", range_told, 0.6, ramp(s.body_over, 0.3, 2.2)),
        Mechanism("low-fire clay in a hot firing", range_told, 0.8, ramp(s.body_over, 4, 7)),
        Mechanism("gas left by a fast or airless bisque",
                  "bisque_rate_c_per_h, clue_bisque_packed_airless", 0.12, left_in),
        Mechanism("dark gassy clay", "body", 0.06, ramp(s.gas, 0.5, 1)),
    ])  # fmt: skip

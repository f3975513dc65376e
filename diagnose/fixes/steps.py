"""Which steps act on which cause. None of them touches a recipe, so they serve jars as well."""

from collections.abc import Callable

from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.steps_body import (
    bisque_first,
    denser_bisque,
    enough_bisque,
    hotter_bisque,
    other_body,
    round_rims,
    slower_bisque,
    softer_bisque,
)
from diagnose.fixes.steps_coat import (
    bare_foot,
    clean_bisque,
    clear_over,
    one_glaze,
    other_order,
    recoat_damp,
    recoat_dry,
    stir,
    thicken_slop,
    thicken_watery,
    thicker,
    thin_slop,
    thinner,
    thinner_if_it_crawled,
    whole_bag,
)
from diagnose.fixes.steps_colour import (
    colour_fired_on,
    fewer_colour_coats,
    nothing_beneath,
    other_clear,
    other_colour,
)
from diagnose.fixes.steps_fire import (
    cool_faster,
    cool_for_crystals,
    cool_slower,
    cooler,
    dry_first,
    hold,
    hotter_in_range,
    in_range,
    leave_shut,
    open_later,
    other_shelf,
    reach_cone,
    shorter_hold,
    slower_end,
    the_right_shelf,
)
from diagnose.fixes.steps_jar import new_jar, other_batch
from diagnose.own_tiles.right_shelf import right_shelf

Maker = Callable[[Bench], Step | None]

STEPS: dict[str, tuple[Maker, ...]] = {
    "coat_too_thick": (thinner, thin_slop),
    "coat_too_thin": (thicken_watery, thicker, thicken_slop),
    "clear_too_thin": (thicker,),
    "chrome_tin_base": (other_clear,),
    "zinc_chrome_brown": (other_clear,),
    "coat_shrinks": (thinner,),
    "inside_corner": (thinner,),
    "dirty_bisque": (clean_bisque,),
    "greasy_bisque": (clean_bisque,),
    "colour_beneath": (colour_fired_on, fewer_colour_coats, nothing_beneath),
    "colour_fluxes": (other_colour, nothing_beneath, fewer_colour_coats),
    "coats_left_dry": (recoat_damp,),
    "recoated_wet": (recoat_dry,),
    "settled_jar": (stir, other_batch),
    "part_bag": (whole_bag, other_batch),
    "revived_jar": (other_batch, new_jar),
    "gelled_slop": (other_batch,),
    "weighing_slip": (other_batch,),
    "overlap": (one_glaze, thinner),
    "glaze_beneath": (other_order, one_glaze),
    "glaze_near_foot": (bare_foot,),
    "fluid_recipe": (thinner, bare_foot),
    "wash_without_flux": (clear_over,),
    "bisque_too_dense": (softer_bisque,),
    "bisque_too_cool": (enough_bisque, thinner_if_it_crawled),
    "body_underfired": (denser_bisque, other_body),
    "moisture_expansion": (denser_bisque, other_body),
    "small_margin": (denser_bisque, other_body),
    "poor_fit": (other_body, denser_bisque),
    "body_changed": (denser_bisque, other_body),
    "raku_body": (other_body,),
    "too_much_compression": (other_body, thinner),
    "body_shrinks_much": (other_body,),
    "lithium_rich": (other_body, thinner),
    "sharp_edges": (round_rims,),
    "body_overfired": (other_body,),
    "gassy_body": (slower_bisque, other_body, hotter_bisque),
    "lime_grains": (other_body,),
    "iron_in_body": (other_body,),
    "red_body": (other_body, thinner),
    "bisque_fast_airless": (slower_bisque,),
    "glaze_on_greenware": (bisque_first,),
    "fast_or_no_hold": (hold, slower_end),
    "trapped_bubbles": (hold, slower_end),
    "gassy_recipe": (hold,),
    "stiff_melt": (hold, thinner),
    "kiln_short": (reach_cone, hold),
    "overfired": (reach_cone, shorter_hold),
    "cone_mix_up": (in_range,),
    "record_contradicts": (in_range,),
    "above_its_range": (in_range,),
    "below_its_range": (hotter_in_range,),
    "hold_too_long": (shorter_hold,),
    "red_burnt_out": (cooler, shorter_hold),
    "stain_past_limit": (cooler,),
    "cold_shelf": (other_shelf,),
    "damp_ware": (dry_first,),
    "opened_hot": (open_later,),
    "cooled_fast": (cool_slower,),
    "wide_flat_piece": (cool_slower,),
    "uneven_wall": (cool_slower,),
    "no_time_for_crystals": (leave_shut, cool_for_crystals),
    "slow_cooling": (cool_faster,),
    "boron_crystals": (thinner, cool_faster),
}
"""The steps for a cause, the first that can be worked out going first."""


def makers(bench: Bench) -> tuple[Maker, ...]:
    """The steps for its cause; none for the whole load where only the tile's own shelf was off."""
    if right_shelf(bench.record, bench.cause):
        return (the_right_shelf,)
    return STEPS.get(bench.cause, ())


def steps_for(bench: Bench) -> list[Step]:
    """The steps that can be worked out for this tile and this cause, each of a kind once."""
    made = [each for make in makers(bench) if (each := make(bench))]
    by_key: dict[str, Step] = {}
    for each in made:
        by_key.setdefault(each.key, each)
    return list(by_key.values())

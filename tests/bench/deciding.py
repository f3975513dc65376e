"""Which columns could tell that a cause was at work: any one of them is enough."""

_HEAT = ("cone_reached",)
_COAT = ("thickness_mm", "fired_thickness_mm", "coats", "clue_worst_where_thick")
_DUST = ("clue_bisque_dusty", "clue_bisque_wiped")
_SAME = {
    "coat_too_thick": _COAT,
    "coat_too_thin": _COAT[:3],
    "dirty_bisque": _DUST,
    "greasy_bisque": ("clue_bisque_greasy", "clue_bare_spots_like_fingers"),
    "colour_beneath": ("under_coats", "clue_only_over_colour"),
    "revived_jar": ("batch_is_revived", "clue_raw_coat_powdery"),
    "coats_left_dry": ("clue_coats_left_powder_dry",),
    "refired_glaze": ("applied_on",),
    "damp_ware": ("clue_loaded_damp",),
    "bisque_too_dense": ("bisque_cone",),
    "bisque_too_cool": ("bisque_cone",),
    "bisque_fast_airless": ("clue_bisque_packed_airless", "bisque_rate_c_per_h"),
    "gassy_body": ("body_colour",),
    "fast_or_no_hold": ("hold_min", "rate_c_per_h"),
    "raw_coat_pits": ("clue_raw_coat_pitted",),
    "rough_surface": ("surface",),
    "gassy_recipe": ("recipe",),
    "overfired": _HEAT,
    "cone_mix_up": (*_HEAT, "target_cone"),
    "kiln_short": _HEAT,
    "cold_shelf": ("shelf", "clue_one_shelf_only"),
    "hold_too_long": ("hold_min",),
    "overlap": ("under_glaze", "clue_only_in_overlaps"),
    "fluid_recipe": ("recipe",),
    "refractory_recipe": ("recipe",),
    "weighing_slip": ("batch",),
    "settled_jar": ("clue_glaze_stirred",),
    "part_bag": ("batch_dry_portion",),
    "slow_cooling": ("clue_cooled_slowly",),
    "alumina_high": ("recipe",),
    "coat_shrinks": ("recipe",),
    "iron_in_body": ("clue_specks_on_bare_clay",),
    "colour_not_dispersed": ("batch_sieve_mesh",),
    "shared_tools": ("clue_shared_brushes",),
    "dried_crust": ("batch_is_revived",),
    "kiln_debris": ("stood",),
    "boron_crystals": ("recipe",),
    "red_body": ("body_colour",),
    "too_much_compression": ("recipe",),
    "slip_not_bonded": ("under_coats",),
    "poor_fit": ("recipe",),
    "body_underfired": ("cone_reached", "bisque_cone"),
    "moisture_expansion": ("clue_came_later", "clue_washed_or_soaked", "body_absorption_pct"),
    "opened_hot": ("opened_c",),
    "unknown": (),
}


def columns_for(cause: str) -> tuple[str, ...]:
    """The columns any one of which would tell of the cause; none for what nobody can know."""
    return _SAME[cause]

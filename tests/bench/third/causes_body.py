"""How glaze and body part company, and how coats and clay fail: fit, crawl, specks, bloat.

Each function takes the hidden facts ``x`` (a frame, one row an area) and returns
``[(cause, hazard, deciding columns)]``; a hazard of 1 alone gives a chance of 1 - exp(-1).
Sizes are a potter's judgement of how often each cause is met (estimates).
"""

import numpy as np

from tests.bench.third.tools import beyond, up

COAT = "thickness_mm;fired_thickness_mm;coats"
HEAT = "cone_reached;witness_cones;target_cone;peak_c"
FIT = "glaze;body;recipe;body_expansion_ppm_per_k"


def crazing(x) -> list:
    """Glaze in tension: fit first, the rest only tips what is near the edge."""
    near = up(x.margin, -1.1, 0.3)
    immature = beyond(x.b_low, x.heat)
    bisque_short = (x.low & (x.bisque_heat < 17.5) & (x.heat < 17.5)) * up(x.bisque_heat, 18, 15)
    porous = up(x.absorbs, 4, 14)
    late = up(np.log1p(x.wait), 1.0, 4.2)
    fresh = (x.finish == "crackle") | (x.b_type == "raku") & (x.finish != "matt")
    return [
        ("fit", 1.25 * up(x.margin, -.15, 1.25) + .5 * beyond(x.margin, 1.0), FIT),
        ("thick", .50 * up(x.thick, 1.25, 2.3) * up(x.margin, -.9, .3), COAT),
        ("body underfired", .60 * up(immature, .4, 3) * near + .30 * bisque_short * near,
         f"body_cone_low;bisque_cone;{HEAT}"),
        ("glaze short", .45 * up(x.short_kiln, .5, 1.8) * near, HEAT),
        ("opened hot", .35 * up(x.opened, 140, 280) * up(x.margin, -.7, .3),
         "opened_c;clue_pinged_on_opening"),
        ("crackle glaze", np.where(fresh, 1.3, 0.0) * up(x.margin, -1, .8),
         "glaze_finish;clue_body_for_thermal_shock"),
        ("moisture", .75 * porous * late * (.5 + .7 * x.humid) * up(x.margin, -1.2, .1),
         "body_absorption_pct;inspected_on;clue_came_later"),
        ("batch changed", .9 * up(x.batch_shift, .15, .6) * near, "batch;clue_new_batch_only"),
        ("other", .008 + 0 * x.margin, ""),
    ]  # fmt: skip


def shivering(x) -> list:
    """Glaze squeezed off; slip and dust make a weak bond give way sooner."""
    squeezed = up(-x.margin, 1.1, 2.5)
    some = up(-x.margin, 0.3, 1.7)
    return [
        ("too much compression", .75 * squeezed, FIT),
        ("lithia glaze", .45 * up(x.lithia, .12, .3) * up(-x.margin, .5, 1.8), "recipe;glaze"),
        ("siliceous body", .35 * up(x.b_silica, .4, 1.0) * some, "body"),
        ("layer below not bonded", .55 * x.over_colour * up(x.under_load, 2.8, 5.2)
         * (.35 + .65 * some), "under_coats;under_role"),
        ("dust or grease", .45 * np.clip(x.dust + x.greasy, 0, 1) * (.2 + .8 * some),
         "clue_bisque_dusty;clue_bisque_greasy;clue_bisque_wiped"),
        ("thick", .35 * up(x.thick, 1.5, 2.5) * up(-x.margin, .6, 1.8), COAT),
        ("other", .004 + 0 * x.margin, ""),
    ]  # fmt: skip


def crawling(x) -> list:
    """The coat cracks as it dries, or does not wet; melt that flows heals a little."""
    heal = 1.25 - 0.5 * np.clip(x.fluid, 0, 1)
    dense = up(x.bisque_heat, 18.2, 21) * (~x.low) + up(x.bisque_heat, 20, 22) * x.low
    out = [
        ("thick", .95 * up(x.thick, 1.25, 2.2) * (.7 + .5 * up(x.shrinks, 0, 1)), COAT),
        ("dust or grease", .50 * x.dust * (.7 + .6 * up(x.thick, .8, 1.6)) + .6 * x.greasy,
         "clue_bisque_dusty;clue_bisque_wiped;clue_bisque_greasy"),
        ("wax", .25 * x.wax, "clue_wax_near"),
        ("colour below", .50 * x.over_colour * up(x.under_load, 2.8, 5) * (.6 + x.refractory),
         "under_coats;under_glaze;under_role"),
        ("revived jar", .60 * x.revived, "batch_is_revived;clue_jar_half_dry"),
        ("coat shrinks", .75 * up(x.shrinks, .35, 1.8) * (.35 + .65 * up(x.thick, .7, 1.5)),
         "recipe;glaze;clue_raw_coat_cracked"),
        ("recoated powder-dry", .35 * x.powder_dry * (.5 + up(x.thick, 1, 2)),
         "clue_coats_left_powder_dry;clue_raw_coat_cracked"),
        ("dense bisque or refire", .45 * dense + .7 * x.refired, "bisque_cone;clue_fired_before"),
        ("damp, fast start", .35 * x.damp * up(x.rate, 70, 180), "clue_loaded_damp;rate_c_per_h"),
        ("inside corner", .14 * np.isin(x.form, ["angle", "vessel"]) * up(x.thick, 1.0, 2.0),
         f"form;{COAT}"),
        ("stiff opaque melt", .30 * up(x.opacifier, 8, 18) * up(x.short, -1.0, .8), "recipe"),
    ]  # fmt: skip
    return [(c, h * heal, d) for c, h, d in out] + [("other", 0.007 + 0 * x.margin, "")]


def specks(x) -> list:
    """What fell in; a dark or opaque coat hides it."""
    seen = 1.15 - 0.6 * x.dark
    pale = 1 - 0.45 * x.opaque
    out = [
        ("shared brushes", .60 * x.shared * np.where(x.method == "brush", 1, .4),
         "clue_shared_brushes"),
        ("kiln crumbs", .50 * x.debris * np.where(x.shelf == "top", .5, 1.0)
         * np.where(x.stood == "upright", .6, 1.2), "shelf;stood;firing"),
        ("dust", .15 * x.dust, "clue_bisque_dusty;clue_bisque_wiped"),
        ("half-dry jar", .60 * x.half_dry, "clue_jar_half_dry"),
        ("iron in the clay", .90 * up(x.b_iron, .25, 1.0) * pale * (.6 + .4 * up(x.heat, 24, 28)),
         "body;body_colour"),
        ("coarse colour", .80 * x.coarse * np.isin(
            x.colour_class, ["cobalt", "copper", "iron", "black", "lilac", "chrome", "rutile"]),
         "batch_sieve_mesh;recipe;clue_colour_stirred_in_dry"),
        ("neighbour's colour", .12 * x.chrome * np.isin(x.colour_class, ["white", "tin white"]),
         "clue_chrome_in_load"),
    ]  # fmt: skip
    return [(c, h * seen, d) for c, h, d in out] + [("other", 0.008 + 0 * x.margin, "")]


def bloating(x) -> list:
    """The clay itself swells: too hot, wrong clay, or carbon not burnt out."""
    over = x.heat - x.b_high
    core = x.b_carbon * (.55 * up(x.bisque_rate, 90, 190) + .45 * x.bisque_airless
                         + .25 * up(16 - x.bisque_heat, 0, 3))  # fmt: skip
    hot = up(over, -1.0, 1.5)
    wrong = over > 4
    return [
        ("over the clay's range", np.where(wrong, 0, 1.5 * up(over, x.b_spare - .9,
                                                             x.b_spare + 1.8)),
         f"body_cone_high;{HEAT}"),
        ("wrong clay for the firing", np.where(wrong, 2.2, 0.0), f"body_cone_high;{HEAT}"),
        ("carbon core", 1.1 * up(core, .2, .9) * (.2 + .8 * hot),
         "body;bisque_rate_c_per_h;clue_bisque_packed_airless;clue_grey_core"),
        ("reduction", .25 * x.reduced * x.b_carbon * hot, "atmosphere"),
        ("long hold", .3 * up(x.hold, 25, 70) * hot * x.b_gas, "hold_min"),
        ("other", .003 + 0 * x.margin, ""),
    ]  # fmt: skip

"""Yes / no clues as people fill them: some before firing, some only after a fault was noted."""

import numpy as np
import pandas as pd


def _before(x, k, b, room) -> dict:
    """Clues about what was done and fired: name -> (truth, chance a studio uses it, slip)."""
    return {
        "bisque_wiped": (x["wiped"] > 0, .55, .04), "bisque_dusty": (x["dusty"] > 0, .55, .06),
        "bisque_greasy": (x["greasy"] > 0, .15, .10), "wax_near": (x["wax"] > 0, .2, .02),
        "water_drop_stands": (x["bisque_heat"] > 19.3, .10, .05),
        "water_drop_vanishes": (x["bisque_heat"] < 15, .10, .08),
        "bisque_packed_airless": (x["bisque_airless"] > 0, .15, .10),
        "raw_coat_cracked": (x["raw_cracked"] > 0, .30, .04),
        "raw_coat_powdery": (x["powder_dry"] > 0, .12, .15),
        "raw_coat_pitted": (x["raw_pitted"] > 0, .2, .05),
        "coats_left_powder_dry": (x["powder_dry"] > 0, .25, .10),
        "shared_brushes": (x["shared"] > 0, .55, .06),
        "glaze_stirred": (x["stirred"] > 0, .55, .05),
        "jar_half_dry": (k["half_dry"] > 0, .50, .04),
        "hard_layer_in_bucket": (x["stirred"] < 1, .15, .2),
        "colour_stirred_in_dry": (k["coarse"] > 0, .30, .06),
        "label_sensitive_red": (x["sensitive"] > 0, .35, .02),
        "wrong_jar_possible": (x["wrong_jar"] > 0, .35, .03),
        "body_has_talc": (b["talc"] > 0, .25, .03),
        "body_for_thermal_shock": (b["type"] == "raku", .25, .01),
        "loaded_damp": (x["damp"] > 0, .50, .04), "fired_before": (x["refired"] > 0, .35, .01),
        "cooled_slowly": (x["slow_cool"] > .8, .25, .08),
        "cooled_fast": (x["slow_cool"] < -1.0, .2, .08),
        "fired_longer_than_usual": (x["over_kiln"] > .8, .15, .15),
        "glaze_kiln_unvented": (x["stale"] > 0, .30, .06),
        "smoke_in_firing": (x["reduced"] > 0, .15, .04),
        "chrome_in_load": (x["chrome"] > 0, .2, .06),
        "grey_core": (b["carbon"] * (1 + x["bisque_airless"]) > 1.0, .08, .08),
    }  # fmt: skip


# Looks: clue -> (fault, causes that make it true, chance of yes for them, for other causes)
_AFTER = {
    "cracks_close_together": ("crazing", ("fit", "crackle glaze"), .6, .2),
    "came_later": ("crazing", ("moisture",), .85, .08),
    "starts_at_bare_clay": ("crazing", ("moisture",), .5, .08),
    "pinged_on_opening": ("crazing", ("opened hot", "fit"), .5, .15),
    "sharp_flakes_lift": ("shivering", ("too much compression", "lithia glaze"), .85, .6),
    "flakes_carry_slip": ("shivering", ("layer below not bonded",), .8, .08),
    "flakes_at_rims": ("shivering", ("too much compression", "siliceous body"), .7, .4),
    "bare_spots_like_fingers": ("crawling", ("dust or grease",), .3, .02),
    "bare_spots_like_drops": ("crawling", ("wax",), .75, .04),
    "bare_edges_rolled": ("crawling", ("thick", "coat shrinks"), .85, .65),
    "in_inside_corners": ("crawling", ("inside corner",), .85, .05),
    "only_over_colour": ("crawling", ("colour below",), .8, .05),
    "holes_reach_clay": ("pinholes", ("dirty body", "rough surface", "bisque too cool"), .65, .35),
    "follows_tool_marks": ("pinholes", ("rough surface",), .65, .04),
    "grain_in_holes": ("pinholes", ("dust",), .5, .05),
    "hole_rims_raised": ("blisters", ("overfired", "long hold"), .8, .65),
    "only_in_overlaps": ("blisters", ("overlap",), .8, .03),
    "worst_where_thick": ("cloudiness", ("thick",), .8, .3),
    "round_bubbles_under_lens": ("cloudiness", ("gas from the body", "fast end"), .7, .2),
    "blue_white_where_thick": ("cloudiness", ("boron, little alumina", "slow cooling"), .65, .12),
    "gritty_surface": ("underfired", ("kiln short", "cold shelf", "wrong range"), .75, .4),
    "one_shelf_only": ("underfired", ("cold shelf",), .55, .08),
    "smooth_dull": ("unwanted matt", ("slow cooling", "recipe matt"), .75, .3),
    "glossy_where_thick": ("unwanted matt", ("thin",), .75, .15),
    "lump_in_clay": ("bloating", ("carbon core", "over the clay's range"), .85, .7),
    "specks_on_bare_clay": ("specks", ("iron in the clay",), .85, .06),
    "specks_on_top_faces": ("specks", ("kiln crumbs",), .6, .08),
    "specks_of_other_colour": ("specks", ("shared brushes",), .65, .12),
}  # fmt: skip


def answers(rng, room, x, buckets, bodies, severity, causes, tile) -> pd.DataFrame:
    """The clue columns, yes, no or blank; a studio uses only some of them."""
    k = buckets.iloc[x["bucket"]].reset_index(drop=True)
    b = bodies.iloc[x["body"]].reset_index(drop=True)
    n, n_tiles = len(x), tile.max() + 1
    first = np.unique(tile, return_index=True)[1]
    keen = np.exp(rng.normal(0.6, 0.4))
    found = {}
    for name, (truth, used, slip) in _before(x, k, b, room).items():
        truth = np.asarray(truth, dtype=bool)
        if not name.startswith(("raw_coat", "coats_left", "wax")):
            truth = truth[first][tile]
        rate = rng.uniform(0.6, 0.9) if rng.random() < used * keen else 0.0
        wrong = rng.random(n_tiles)[tile] < slip
        # A yes is remembered more often than a no.
        filled = rng.random(n_tiles)[tile] < np.where(truth, rate, rate * 0.8)
        found[f"clue_{name}"] = np.where(filled, np.where(truth ^ wrong, "yes", "no"), None)
    for name, (fault, causing, yes, else_yes) in _AFTER.items():
        rate = rng.uniform(0.3, 0.8) if rng.random() < 0.4 * keen else 0.0
        right = np.isin(causes[fault].astype(str), causing)
        said = np.where(rng.random(n) < np.where(right, yes, else_yes), "yes", "no")
        filled = (severity[fault] > 0) & (rng.random(n) < rate)
        said = np.where(filled, said, None)
        if name in ("pinged_on_opening", "one_shelf_only", "specks_on_bare_clay"):
            said = said[first][tile]
        found[f"clue_{name}"] = said
    return pd.DataFrame(found, dtype=object)

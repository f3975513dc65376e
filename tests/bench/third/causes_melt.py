"""What the fire and the melt do: gas, flow, dullness, colour, cloud. See ``causes_body``."""

import numpy as np

from tests.bench.third.causes_body import COAT, HEAT
from tests.bench.third.tools import beyond, up

WRONG = "glaze_cone_low;glaze_cone_high"
SHORT_SIGNS = f"{HEAT};shelf"


def _share_of_short(x):
    """How a shortage of heat divides: kiln, shelf, a glaze of another range, a stiff one."""
    parts = {
        "kiln short": np.clip(-x.over_kiln, 0, 4), "cold shelf": np.clip(-x.shelf_off, 0, 3),
        "wrong range": np.clip(x.g_low - x.target, 0, 12) * 1.5,
        "refractory": np.clip(x.melts - x.g_low, 0, 3) + .02,
    }  # fmt: skip
    total = sum(parts.values())
    return {name: value / total for name, value in parts.items()}


def pinholes(x) -> list:
    """Gas through a melt that does not close again; hold and flow heal."""
    heal = (1.35 - 0.55 * np.clip(x.fluid, 0, 1)) * (1.2 - 0.5 * up(x.hold, 2, 18))
    cool_bisque = np.where(x.low, up(x.heat - x.bisque_heat, -1.6, 1.5),
                           .8 * up(16 - x.bisque_heat, -.3, 3))  # fmt: skip
    gas = 0.35 + 0.9 * x.b_gas
    out = [
        ("bisque too cool", np.where(x.low, .75, .55) * cool_bisque * gas,
         "bisque_cone;target_cone;cone_reached"),
        ("bisque fast or airless", .45 * gas * up(.6 * up(x.bisque_rate, 90, 200)
         + .5 * x.bisque_airless, .1, .9), "bisque_rate_c_per_h;clue_bisque_packed_airless"),
        ("dirty body", .35 * up(x.b_gas, .35, 1.0), "body;body_colour"),
        ("thick", .45 * up(x.thick, 1.2, 2.2), COAT),
        ("fast end", .40 * up(x.rate, 95, 190) * up(12 - x.hold, 0, 10), "rate_c_per_h;hold_min"),
        ("no hold", .16 * up(10 - x.hold, 0, 9) * gas, "hold_min"),
        ("raw carbonates", .45 * up(x.loi, 6.5, 12) + .2 * up(x.carbonate, 2, 5), "recipe;glaze"),
        ("dust", .25 * x.dust, "clue_bisque_dusty;clue_bisque_wiped"),
        ("rough surface", .30 * (.75 * x.textured + .5 * up(x.b_grog, .3, 1)), "surface;body"),
        ("overfired", .35 * up(x.over, -.3, 1.5), HEAT),
        ("short and stiff", .30 * up(x.short, .2, 1.8), HEAT),
        ("air in the coat", .20 * (x.raw_pitted), "clue_raw_coat_pitted"),
    ]  # fmt: skip
    return [(c, h * heal * 0.72, d) for c, h, d in out] + [("other", 0.007 + 0 * x.heat, "")]


def blisters(x) -> list:
    """Bubbles too large to heal."""
    gassy = up(x.loi, 6, 12)
    thick = up(x.thick, 1.25, 2.4)
    return [
        ("overfired", 1.1 * up(x.over, -.4, 1.6) * (.7 + .4 * gassy), HEAT),
        ("long hold", .45 * up(x.hold, 22, 60) * up(x.over, -1.6, .5), "hold_min"),
        ("thick", .60 * thick * (.6 + .6 * gassy), COAT),
        ("overlap", .35 * x.overlap * (.4 + thick), "under_glaze;under_coats"),
        ("gassy glaze", .45 * gassy * (.3 + .7 * up(x.thick, .8, 1.6)), "recipe;glaze"),
        ("bisque too cool", .35 * (.4 + x.b_gas) * np.where(
            x.low, up(x.heat - x.bisque_heat, -1, 2), .7 * up(16 - x.bisque_heat, 0, 3)),
         "bisque_cone;target_cone;cone_reached"),
        ("damp ware", .50 * x.damp, "clue_loaded_damp"),
        ("fast end, no hold", .28 * up(x.rate, 110, 200) * up(12 - x.hold, 0, 12),
         "rate_c_per_h;hold_min"),
        ("reduction", .35 * x.reduced * (.3 + x.b_gas), "atmosphere"),
        ("other", .006 + 0 * x.heat, ""),
    ]  # fmt: skip


def running(x) -> list:
    """Too fluid, too much of it, and a wall to run down."""
    wall = np.select([x.stood == "upright", x.stood == "sloped"], [1.0, 0.5], 0.07)
    flow = 0.25 + 1.1 * np.clip(x.fluid, 0, 1.3)
    warm = up(x.heat - x.melts, 0.2, 2.6)
    off_range = x.g_high + 3.5 < x.target
    out = [
        ("overfired", np.where(off_range, 0, 1.15 * up(x.over, -.7, 1.5)) * flow, HEAT),
        ("long hold", .35 * up(x.hold, 18, 55) * warm * flow, "hold_min"),
        ("thick", .85 * up(x.thick, 1.2, 2.3) * flow * (.3 + .7 * warm), COAT),
        ("two glazes", .75 * x.overlap * flow * (.5 + .7 * up(x.thick, .7, 1.6)) * (.4 + .6 * warm),
         "under_glaze;under_coats;under_role"),
        ("fluid glaze", .55 * up(x.fluid, .55, 1.15) * (.35 + .65 * warm), "recipe;glaze"),
        ("wrong range", np.where(off_range, 2.6, 0), f"{WRONG};target_cone"),
        ("bad batch", .9 * np.clip(x.wrong, 0, 1) + .3 * x.part_bag,
         "batch;batch_dry_portion;clue_new_batch_only"),
    ]  # fmt: skip
    return [(c, h * wall, d) for c, h, d in out] + [("other", 0.004 + 0 * x.heat, "")]


def underfired(x) -> list:
    """Not melted: heat short of what this glaze needs, or hardly any glaze."""
    part = _share_of_short(x)
    dull = 1.5 * up(x.short, -0.15, 1.7) + 0.6 * beyond(x.short, 1.5, 2)
    return [
        ("kiln short", dull * part["kiln short"], HEAT),
        ("cold shelf", dull * part["cold shelf"], SHORT_SIGNS),
        ("wrong range", dull * part["wrong range"], f"{WRONG};target_cone"),
        ("refractory glaze", dull * part["refractory"], "recipe;glaze"),
        ("thin", .80 * up(x.thick, .62, .25) * (.6 + .6 * up(x.short, -1.2, .8)), COAT),
        ("not stirred", .22 * x.thin_lot * (.5 + up(x.thick, .9, .4)),
         "clue_glaze_stirred;clue_hard_layer_in_bucket"),
        ("bad batch", .9 * np.clip(-x.wrong, 0, 1) + .25 * x.part_bag,
         "batch;batch_dry_portion;clue_new_batch_only"),
        ("other", .006 + 0 * x.heat, ""),
    ]  # fmt: skip


def unwanted_matt(x) -> list:
    """Dull where gloss was meant; a matt glaze cannot have it."""
    meant = np.select([np.isin(x.finish, ["gloss", "clear", "crackle"]), x.finish == "satin"],
                      [1.0, .35], .03)  # fmt: skip
    out = [
        ("kiln short", .85 * up(x.short, -.7, .9) * up(x.short, 3.0, 1.2), SHORT_SIGNS),
        ("thin", .80 * up(x.thick, .72, .3), COAT),
        ("colour below drank it", .50 * x.over_colour * up(x.under_load, 2.9, 5.2)
         * up(x.thick, 1.5, .6), "under_coats;coats;thickness_mm"),
        ("not stirred", .20 * x.thin_lot, "clue_glaze_stirred"),
        ("slow cooling", .65 * up(x.slow_cool, .4, 1.8) * (.2 + .8 * np.clip(x.crystals, 0, 1.2)),
         "clue_cooled_slowly;recipe"),
        ("recipe matt", .85 * up(x.ratio, 7.3, 5.0), "recipe;glaze"),
        ("bad batch", .6 * np.clip(-x.wrong, 0, 1) + .15 * x.part_bag, "batch;batch_dry_portion"),
        ("stale air", .12 * x.stale, "clue_glaze_kiln_unvented"),
    ]  # fmt: skip
    return [(c, h * meant, d) for c, h, d in out] + [("other", 0.006 + 0 * x.heat, "")]


def colour_shift(x) -> list:
    """Not the colour meant."""
    kind = x.colour_class
    coloured = np.where(np.isin(kind, ["none"]), 0.12, np.where(np.isin(kind, ["white"]), 0.4, 1.0))
    chem = (np.isin(kind, ["pink"]) * (.9 * up(x.zinc, .8, 4) + .5 * up(x.magnesia, .08, .3)
                                       + .5 * up(x.lime, .4, .15))
            + np.isin(kind, ["chrome"]) * .9 * up(x.zinc, 1, 5)
            + np.isin(kind, ["cobalt", "lilac"]) * .5 * up(x.magnesia, .18, .4)
            + np.isin(kind, ["copper"]) * .4 * up(x.carbonate, 3.5, 6))  # fmt: skip
    shows = np.isin(x.b_colour, ["red", "dark brown", "buff", "speckled"]) * (1 - x.opaque)
    return [
        ("thin", .75 * up(x.thick, .8, .35) * coloured * (.6 + .5 * (1 - x.opaque)), COAT),
        ("sensitive red burnt", x.sensitive * (.85 * up(x.heat - x.g_high, -1.2, 1.0)
         + .30 * up(x.hold, 15, 45) + .1), f"clue_label_sensitive_red;{HEAT}"),
        ("sensitive red, stale air", .60 * x.sensitive * x.stale,
         "clue_label_sensitive_red;clue_glaze_kiln_unvented"),
        ("wrong jar", 1.4 * x.wrong_jar, "clue_wrong_jar_possible"),
        ("overfired", .65 * up(x.over, -.6, 1.4) * coloured * x.fades, HEAT),
        ("kiln short", .40 * up(x.short, 0, 1.6) * coloured, HEAT),
        ("body shows", .28 * shows * (.4 + .8 * up(x.thick, 1.1, .5)) * (.3 + .7 * coloured),
         "body_colour;body;coats"),
        ("not stirred", .38 * x.thin_lot * coloured, "clue_glaze_stirred"),
        ("chemistry", .85 * chem, "recipe;glaze;glaze_colour"),
        ("reduction", .55 * x.reduced * coloured * np.where(x.band == "mid", .5, 1),
         "atmosphere;clue_smoke_in_firing"),
        ("chrome fume", .8 * x.chrome * (kind == "tin white"), "clue_chrome_in_load;recipe"),
        ("other", .008 + 0 * x.heat, ""),
    ]  # fmt: skip


def cloudiness(x) -> list:
    """Milk in what should be clear: mostly a thick clear."""
    through = np.select([x.finish == "clear", np.isin(x.finish, ["gloss", "crackle"])],
                        [1.0, .55], .08) * (1 - .9 * x.opaque)  # fmt: skip
    boron = up(x.boron - np.where(x.low, 0.5, 0.15), 0.1, 0.65)
    out = [
        ("thick", .95 * up(x.thick, 1.1, 2.1), COAT),
        ("colour below", .55 * x.over_colour * up(x.under_load, 2.7, 5.0),
         "under_coats;under_glaze"),
        ("kiln short", .65 * up(x.short, -.6, 1.2), SHORT_SIGNS),
        ("boron over lime or red body", .55 * boron * x.b_lime, "recipe;body;body_colour"),
        ("boron, little alumina", .50 * boron * up(x.alumina, np.where(x.low, .27, .36),
                                                   np.where(x.low, .14, .22)), "recipe;glaze"),
        ("slow cooling", .40 * boron * up(x.slow_cool, .2, 1.7) + .2 * x.lime
         * up(x.slow_cool, .8, 2), "clue_cooled_slowly;recipe"),
        ("gas from the body", .45 * up(x.b_gas, .3, 1.0) * up(x.thick, .7, 1.5),
         "body;bisque_cone"),
        ("fast end", .28 * up(x.rate, 100, 190) * up(15 - x.hold, 0, 12), "rate_c_per_h;hold_min"),
    ]  # fmt: skip
    return [(c, h * through, d) for c, h, d in out] + [("other", 0.004 + 0 * x.heat, "")]


def metal_marking(x) -> list:
    """A surface hard and rough enough to file a spoon."""
    dull = np.select([x.finish == "matt", x.finish == "textured", x.finish == "satin"],
                     [1.0, .7, .45], 0.0)  # fmt: skip
    return [
        ("matt surface", .40 * dull, "glaze_finish"),
        ("opacifier", .35 * up(x.opacifier, 6, 14) * (.5 + .5 * dull), "recipe;glaze_colour"),
        ("rough from short firing", .30 * up(x.short, -.2, 1.5), HEAT),
        ("crystals", .35 * np.clip(x.crystals, 0, 1.2) * up(x.slow_cool, .2, 1.7),
         "clue_cooled_slowly;recipe"),
        ("other", .004 + 0 * x.heat, ""),
    ]  # fmt: skip

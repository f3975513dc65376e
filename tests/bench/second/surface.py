"""Defects of surface and colour: matt, specks, colour shift, cloudiness, metal marking."""

import numpy as np

from tests.bench.second.scale import ramp
from tests.bench.second.state import HEAT, THICKNESS, Account, Mechanism, State


def unwanted_matt(s: State) -> Account:
    """Not melted through, or crystals in slow cooling; no fault in a glaze meant to be matt."""
    zinc, magnesia, lime = (s.computed(oxide) for oxide in ("ZnO", "MgO", "CaO"))
    earths = np.maximum(ramp(magnesia, 0.2, 0.4), ramp(lime, 0.55, 0.8))
    crystals = s.slow * np.maximum(ramp(zinc, 0.15, 0.4), earths)
    zircon = ramp(s.computed("zirconium silicate"), 8, 14)
    crowded = np.maximum(ramp(s.computed("rutile"), 3, 8), zircon)
    alumina = ramp(-s.computed("acid to alumina"), -7.2, -4.8)
    mechanisms = [
        Mechanism("fired short of its cone", HEAT, 0.5, ramp(s.short, 0.2, 1.8)),
        Mechanism("coat too thin", THICKNESS, 0.4, ramp(-s.thickness_mm, -0.45, -0.18)),
        Mechanism("alumina high for the silica", "recipe", 0.45, alumina),
        Mechanism("slow cooling grew crystals", "clue_cooled_slowly", 0.25, s.slow),
        Mechanism("slow cooling of a lime, zinc or magnesia glaze", "recipe, clue_cooled_slowly",
                  0.3, crystals),
        Mechanism("rutile or opacifier crowds the melt", "recipe", 0.25, crowded),
        Mechanism("thick underglaze drank the clear", "under_coats",
                  0.35, ramp(s.colour_coats, 2, 5)),
        Mechanism("not stirred", "clue_glaze_stirred", 0.12, s.unstirred),
    ]  # fmt: skip
    gate = np.where(s.finish("matt") > 0, 0.15, np.where(s.finish("satin") > 0, 0.5, 1.0))
    return Account(0.012, mechanisms, gate=gate)


def _coarse(s: State) -> np.ndarray:
    """A colour mixed in the studio through a wide mesh; a liquid jar comes ground."""

    def mixed_here(row: dict) -> bool:
        glaze = row["glaze"]
        return bool(glaze["extras"]) and not (glaze["is_jar"] and glaze["is_liquid"])

    return ramp(-s.of("glaze", "sieve_mesh"), -80, -35) * s.each(mixed_here)


def specks(s: State) -> Account:
    """Iron of the clay, colour not dispersed, and what falls or is carried in."""
    crumbs = ramp(s.debris, 0.1, 0.5) * (1 - 0.6 * (s.upright > 0.7))
    return Account(0.02, [
        Mechanism("iron in the clay", "body", 0.4, ramp(s.of("body", "iron"), 0.2, 1)),
        Mechanism("colour not sieved fine", "batch_sieve_mesh", 0.35, _coarse(s)),
        Mechanism("colour stirred in dry", "clue_colour_stirred_in_dry",
                  0.35, s.row("is_unsieved")),
        Mechanism("shared brushes", "clue_shared_brushes", 0.28, s.row("shares_brushes")),
        Mechanism("half-dry jar crust", "clue_jar_half_dry", 0.22, s.row("is_half_dry")),
        Mechanism("kiln crumbs on upper faces", "stood, kiln", 0.3, crumbs),
        Mechanism("dust", "clue_bisque_dusty", 0.12, s.dust),
    ])  # fmt: skip


def colour_shift(s: State) -> Account:
    """Too thin, too hot or too cool for the colour; a body, a vapour or stale air changes it."""
    red = s.of("glaze", "is_red") * np.maximum(ramp(s.over, -0.5, 1), s.unvented)
    warm = s.each(lambda r: r["body"]["colour"] in ("red", "brown"))
    blush = s.row("has_chrome") * ramp(s.computed("tin oxide"), 2, 5)
    copper = ramp(s.computed("copper carbonate"), 3, 6)
    mechanisms = [
        Mechanism("coat too thin", THICKNESS, 1.7, ramp(-s.thickness_mm, -0.55, -0.2)),
        Mechanism("overfired", HEAT, 1.4, ramp(s.over, 0.4, 2)),
        Mechanism("sensitive red overheated or stale air",
                  "clue_label_sensitive_red, glaze_colour, cone_reached", 2.0, red),
        Mechanism("dark body shows through", "body_colour, glaze_finish",
                  1.5, warm * s.of("glaze", "is_translucent")),
        Mechanism("not stirred", "clue_glaze_stirred", 0.9, s.unstirred),
        Mechanism("fired short, colour pale", HEAT, 0.8, ramp(s.short, 0.8, 2)),
        Mechanism("chrome blush on tin", "clue_chrome_in_load, recipe", 2.0, blush),
        Mechanism("shared brushes", "clue_shared_brushes", 0.5, s.row("shares_brushes")),
        Mechanism("copper too strong or lost", "recipe", 0.8, copper),
        Mechanism("kiln unvented", "clue_glaze_kiln_unvented", 0.3, s.unvented),
    ]  # fmt: skip
    return Account(0.03, mechanisms, adds=True)


def cloudiness(s: State) -> Account:
    """Bubbles and boron clouds in a clear glaze; hardly seen in an opaque one."""
    boron = ramp(s.computed("B2O3"), 0.4, 0.95) * ramp(-s.computed("Al2O3"), -0.35, -0.15)
    warm = s.each(lambda r: r["body"]["colour"] in ("red", "brown"))
    mechanisms = [
        Mechanism("clear too thick", THICKNESS, 2.4, ramp(s.thickness_mm, 0.5, 1.2)),
        Mechanism("short of its cone", HEAT, 1.4, ramp(s.short, 0.2, 1.6)),
        Mechanism("boron rich, little alumina", "recipe", 1.3, boron),
        Mechanism("red body gassing into clear", "body_colour", 1.0, warm),
        Mechanism("thick underglaze below", "under_coats", 1.0, ramp(s.colour_coats, 2, 5)),
        Mechanism("fast finish", "rate_c_per_h", 0.7, ramp(s.rate, 100, 180)),
        Mechanism("slow cooling", "clue_cooled_slowly", 0.7, s.slow),
        Mechanism("no hold", "hold_min", 0.5, ramp(-s.hold, -12, 0)),
    ]
    see_through = np.where(s.of("glaze", "is_translucent") > 0, 0.25, 0.06)
    gate = np.where(s.finish("clear") > 0, 1.0, see_through)
    return Account(0.03, mechanisms, adds=True, gate=gate)


def metal_marking(s: State) -> Account:
    """A rough surface files metal off the knife."""
    matt = s.finish("matt") + 0.5 * s.finish("satin")
    zircon = ramp(s.computed("zirconium silicate"), 5, 13)
    return Account(0.008, [
        Mechanism("matt surface", "glaze_finish", 0.3, matt),
        Mechanism("zircon grains", "recipe", 0.3, zircon),
        Mechanism("short of its cone, rough", HEAT, 0.2, ramp(s.short, 0.3, 1.6)),
        Mechanism("slow cooling crystals", "clue_cooled_slowly", 0.12, s.slow),
    ])  # fmt: skip

"""Defects of how the coat lies and melts: crawling, running, underfired."""

import numpy as np

from tests.bench.second.scale import ramp
from tests.bench.second.state import HEAT, THICKNESS, Account, Mechanism, State


def crawling(s: State) -> Account:
    """A coat that shrinks, cracks or does not grip rolls back; a stiff melt stays so."""
    return Account(0.015, _shrinking(s) + _not_gripping(s) + _beneath_and_melt(s))


def _shrinking(s: State) -> list[Mechanism]:
    zinc, borate = s.parts("zinc oxide"), s.parts("colemanite")
    raw = np.maximum(ramp(zinc, 4, 10), ramp(borate, 15, 38))
    return [
        Mechanism("coat too thick", THICKNESS, 0.6, ramp(s.thickness_mm, 0.75, 1.6)),
        Mechanism("too much raw clay shrinks in drying", "recipe", 0.35, ramp(s.clay, 16, 32)),
        Mechanism("raw zinc or borate shrinks", "recipe", 0.22, raw),
    ]


def _not_gripping(s: State) -> list[Mechanism]:
    old_jar = np.maximum(s.row("is_revived"), 0.6 * s.row("is_half_dry"))
    return [
        Mechanism("dusty bisque", "clue_bisque_dusty, clue_bisque_wiped", 0.35, s.dust),
        Mechanism("greasy bisque", "clue_bisque_greasy", 0.4, s.row("is_greasy")),
        Mechanism("coat cracked in drying", "clue_raw_coat_cracked", 0.45, s.row("is_cracked")),
        Mechanism("next coat over powder-dry coat", "beneath, clue_coats_left_powder_dry",
                  0.22, s.row("is_recoated_dry")),
        Mechanism("revived or half-dry jar", "batch_is_revived, clue_jar_half_dry",
                  0.2, old_jar),
    ]  # fmt: skip


def _beneath_and_melt(s: State) -> list[Mechanism]:
    opaque = s.stiff * ramp(s.opacity, 0.5, 1)
    salts = ramp(s.of("body", "salts"), 0.3, 0.8)
    return [
        Mechanism("thick underglaze below", "under_coats", 0.3, ramp(s.colour_coats, 2, 5)),
        Mechanism("glaze over fired glaze", "applied_on, clue_fired_before",
                  0.5, s.row("is_refired")),
        Mechanism("bisque too dense to take the coat", "bisque_cone, body_absorption_pct",
                  0.3, ramp(s.row("bisque_absorption"), 8, 3)),
        Mechanism("stiff opacified melt", "recipe", 0.25, opaque),
        Mechanism("inside angles", "form", 0.12, s.angled),
        Mechanism("damp and fired fast", "clue_loaded_damp", 0.18, s.row("is_damp")),
        Mechanism("body salts", "body", 0.12, salts),
        Mechanism("dusting coat", "clue_raw_coat_powdery", 0.2, s.row("is_powdery")),
    ]  # fmt: skip


def running(s: State) -> Account:
    """Heat, a thick coat and a fluid melt together, on a wall that slopes."""
    iron = ramp(s.computed("red iron oxide"), 5, 10)
    low_down = np.maximum(s.row("is_near_foot"), 0.6 * s.row("is_thick_at_edges"))
    mechanisms = [
        Mechanism("overfired", HEAT, 3.0, ramp(s.over, 0.2, 2.2)),
        Mechanism("coat too thick", THICKNESS, 2.2, ramp(s.thickness_mm, 0.6, 1.5)),
        Mechanism("two glazes overlap", "under_glaze", 1.6, s.row("is_over_glaze")),
        Mechanism("fluid glaze", "recipe", 1.6, s.fluid),
        Mechanism("long hold", "hold_min", 0.7, ramp(s.hold, 12, 45)),
        Mechanism("copper, manganese or much iron thins the melt", "recipe",
                  0.7, np.maximum(s.carbonates, iron)),
        Mechanism("glaze near the foot", "clue_glaze_near_foot, clue_thick_at_edges",
                  0.8, low_down),
        Mechanism("wrong load: far over", HEAT, 4.0, ramp(s.over, 4, 7)),
    ]  # fmt: skip
    return Account(0.015, mechanisms, adds=True, gate=0.05 + 0.95 * s.upright)


def underfired(s: State) -> Account:
    """Too little heat for the glaze, or too little glaze."""
    stiff_recipe = ramp(-s.computed("acid to alumina"), -6, -4) * ramp(s.stiff, 0.1, 0.8)
    return Account(0.006, [
        Mechanism("fired short of its cone", HEAT, 0.7, ramp(s.short, 0.4, 2.4)),
        Mechanism("coat too thin", THICKNESS, 0.4, ramp(-s.thickness_mm, -0.4, -0.14)),
        Mechanism("stiff recipe", "recipe", 0.2, stiff_recipe),
        Mechanism("not stirred", "clue_glaze_stirred", 0.1, s.unstirred),
        Mechanism("wrong load: far short", HEAT, 0.9, ramp(s.short, 4, 7)),
    ])  # fmt: skip

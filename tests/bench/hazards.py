"""How each defect comes about: hazards of its causes, which add up.

The chance of a defect is ``1 - exp(-sum of hazards)``. Every hazard is a smooth function of what
really happened (Hill curves, normal and Gompertz distributions, power laws) times a factor of
this studio's own; its figures are estimates within the range of trade practice. Names of causes
are the keys agreed for the rule base; ``UNKNOWN`` is what nobody could have recorded.
"""

from collections.abc import Callable

import numpy as np
from scipy.special import ndtr

from tests.bench.studio import Studio, Table

UNKNOWN = "unknown"
Hazards = dict[str, np.ndarray]


def hill(x, half: float, power: float) -> np.ndarray:
    """Rises from 0 to 1, a half at ``half``."""
    raised = np.power(np.maximum(x, 0) / half, power)
    return raised / (1 + raised)


def crazing(s: Studio, a: Table) -> Hazards:
    """A glaze in tension cracks at once; damp, heat and thickness use up what margin there is."""
    start = 0.42 + s.rng.normal(0, 0.12)
    thick = np.log(a["total_fired_mm"] / 0.32).clip(-1, 1.5)
    late = 1 - np.exp(-(a["look_days"] * np.where(a["soaked"], 3.0, 1.0)) / 120)
    swell = 0.95 * hill(a["absorption"], 11, 3) * late
    opened = s.firing["opened"][a["firing"]]
    fit = 1.6 * ndtr((a["gap"] - start) / 0.3)
    damp = 1.6 * ndtr((a["gap"] + swell - start) / 0.3) - fit
    pooled = ndtr((a["gap"] - start + 0.45) / 0.35) * hill(thick, 0.75, 4)
    hot = ndtr((a["gap"] - start + 0.55) / 0.3) * hill(opened, 190, 7)
    too_cool = a["body_short"] > 0.8
    return {
        "poor_fit": fit * ~too_cool,
        "body_underfired": fit * too_cool,
        "moisture_expansion": damp * s.bump(),
        "coat_too_thick": 1.1 * pooled * s.bump(),
        "opened_hot": 0.9 * hot * s.bump(0.5),
        UNKNOWN: np.full(a["gap"].size, 0.008),
    }


def shivering(s: Studio, a: Table) -> Hazards:
    """Glaze under more compression than its bond bears; a slip that lets go."""
    return {
        "too_much_compression": 0.9 * ndtr((-a["gap"] - 2.05) / 0.3) * (0.5 + a["total_fired_mm"]),
        "slip_not_bonded": 0.10 * hill(a["under_coats"], 5, 5) * s.bump(),
        "dirty_bisque": 0.03 * (a["dusty"] & ~a["wiped"]) * s.bump(),
        UNKNOWN: np.full(a["gap"].size, 0.004),
    }


def crawling(s: Studio, a: Table) -> Hazards:
    """A coat that cracks, or does not grip, rolls back when it melts; a stiff melt stays so."""
    g = a["glaze"]
    stiff = np.exp(-0.55 * s.glaze["fluidity"][g] + 0.03 * s.glaze["opacity"][g])
    limit = (1.85 + s.rng.normal(0, 0.12)) / (1 + 0.022 * (s.glaze["clay"][g] - 12).clip(-8))
    thick = hill(a["total_mm"], limit, 8)
    shrinking = hill(s.glaze["clay"][g], 27, 6) * hill(a["total_mm"], 1.0, 3)
    over_colour = hill(a["under_coats"] * (0.5 + a["under_heat"]), 4.2, 4)
    gum = s.batch["gum_lost"][a["batch"]]
    dense = hill(s.bisque["cone"][a["bisque"]] - 17, 3.2, 5)
    return {
        "coat_too_thick": 1.3 * stiff * thick * s.bump(),
        "coat_shrinks": 0.5 * stiff * shrinking * s.bump(),
        "dirty_bisque": 0.12 * stiff * (a["dusty"] & ~a["wiped"]) * s.bump(),
        "greasy_bisque": 0.3 * (a["greasy"] & ~a["wiped"]) * s.bump(),
        "colour_beneath": 0.9 * stiff * over_colour * s.bump(),
        "revived_jar": 0.22 * gum * s.bump(),
        "coats_left_dry": 0.10 * stiff * (a["dry_between"] & (a["coats"] > 2)) * s.bump(),
        "bisque_too_dense": 0.20 * dense * s.bump(),
        "refired_glaze": 0.7 * a["refired"] * s.bump(),
        "damp_ware": 0.15 * a["damp"] * s.bump(),
        UNKNOWN: np.full(g.size, 0.006),
    }


def pinholes(s: Studio, a: Table) -> Hazards:
    """Gas comes through the melt; time and fluidity heal the holes."""
    g, f, b = a["glaze"], a["firing"], a["bisque"]
    heal = np.exp(-s.firing["hold"][f] / 12) * np.power(s.firing["rate"][f] / 105, 1.2)
    stiff = np.exp(-0.8 * s.glaze["fluidity"][g] - 0.35 * a["over_glaze"].clip(-2, 1))
    scar = (0.15 + heal) * stiff
    low = s.firing["is_low"][f]
    cool = np.where(low, a["reached"] - s.bisque["cone"][b] - 0.2, 15.2 - s.bisque["cone"][b])
    airless = s.bisque["airless"][b] * hill(s.bisque["rate"][b], 110, 4)
    body_gas = s.body["gas"][a["body"]]
    return {
        "bisque_too_cool": 0.42 * scar * ndtr(cool / 0.6) * (0.5 + body_gas) * s.bump(),
        "bisque_fast_airless": 0.25 * scar * airless * s.bump(),
        "gassy_body": 0.05 * scar * body_gas**2 * s.bump(),
        "coat_too_thick": 0.35 * scar * hill(a["total_fired_mm"], 0.68, 6) * s.bump(),
        "fast_or_no_hold": 0.08 * heal**2 * stiff * s.bump(),
        "dirty_bisque": 0.09 * scar * (a["dusty"] & ~a["wiped"]) * s.bump(),
        "raw_coat_pits": 0.35 * scar * a["pitted"] * s.bump(),
        "rough_surface": 0.07 * scar * a["textured"] * s.bump(),
        "gassy_recipe": 0.28 * scar * hill(s.glaze["loss"][g], 10.5, 7) * s.bump(),
        UNKNOWN: np.full(g.size, 0.008),
    }


def blisters(s: Studio, a: Table) -> Hazards:
    """A melt that boils, or gas caught under a thick coat."""
    f, g = a["firing"], a["glaze"]
    over = a["over_glaze"]
    hot = 1.2 * ndtr((over - 2.4) / 0.5)
    far = over > 3.5
    cool = hill(a["reached"] - s.bisque["cone"][a["bisque"]] + 1, 2.2, 4)
    rush = np.exp(-s.firing["hold"][f] / 7) * np.power(s.firing["rate"][f] / 105, 1.3)
    return {
        "overfired": hot * ~far * s.bump(),
        "cone_mix_up": hot * far,
        "hold_too_long": 0.3 * hill(s.firing["hold"][f], 48, 6) * s.bump(),
        "coat_too_thick": 0.5 * hill(a["total_fired_mm"], 0.95, 7) * s.bump(),
        "gassy_recipe": 0.2 * hill(s.glaze["loss"][g], 13.5, 6) * s.bump(),
        "bisque_too_cool": 0.08 * cool * s.firing["is_low"][f] * s.bump(),
        "fast_or_no_hold": 0.02 * rush * s.bump(),
        "damp_ware": 0.2 * a["damp"] * s.bump(),
        "refired_glaze": 0.2 * a["refired"] * s.bump(),
        UNKNOWN: np.full(g.size, 0.008),
    }  # fmt: skip


def running(s: Studio, a: Table) -> Hazards:
    """Flow down an upright wall goes with fluidity times the square of the coat."""
    g, f = a["glaze"], a["firing"]
    slip = s.batch["slip"][a["batch"]]
    parts = {
        "coat_too_thick": 2.0 * np.log(a["fired_mm"] / 0.33).clip(-1.5),
        "overlap": 1.5 * (a["partner"] >= 0) + 0.8 * a["partner_mm"],
        "overfired": 0.95 * a["over_glaze"].clip(-3, 9),
        "fluid_recipe": 1.4 * s.glaze["fluidity"][g],
        "hold_too_long": 0.022 * (s.firing["hold"][f] - 12),
        "weighing_slip": 1.6 * slip,
    }
    total = sum(parts.values()) + np.where(a["upright"], 0.0, -3.2)
    hazard = 0.9 * np.exp(-np.exp(-(total - 1.9 + s.rng.normal(0, 0.2)) / 0.75))
    hazards = _shared_out(hazard, parts)
    far = a["over_glaze"] > 3.5
    hazards["cone_mix_up"] = hazards["overfired"] * far
    hazards["overfired"] = hazards["overfired"] * ~far
    return hazards | {UNKNOWN: np.full(g.size, 0.004)}


def _shared_out(hazard: np.ndarray, parts: Hazards) -> Hazards:
    """A hazard of several factors divided among those that raise it."""
    raising = {name: np.maximum(part, 0.02) for name, part in parts.items()}
    whole = sum(raising.values())
    return {name: hazard * part / whole for name, part in raising.items()}


def underfired(s: Studio, a: Table) -> Hazards:
    """Too little heat for the glaze, too little glaze for the clay, or not the whole glaze."""
    g = a["glaze"]
    dry = 1.5 * ndtr((-a["over_glaze"] - 1.75) / 0.35)
    far, shelf = a["over_glaze"] < -3.5, s.kiln["shelf"][s.firing["kiln"][a["firing"]], a["shelf"]]
    cold = (shelf < -0.35) & ~far
    return {
        "kiln_short": dry * ~far * ~cold * s.bump(),
        "cold_shelf": dry * cold * s.bump(),
        "cone_mix_up": dry * far,
        "coat_too_thin": 0.8 * (1 - hill(a["fired_mm"], 0.10, 6)) * s.bump(),
        "settled_jar": 0.04 * a["unstirred"] * s.bump(),
        "part_bag": 0.22 * s.batch["is_part"][a["batch"]] * s.bump(),
        "refractory_recipe": 0.3 * hill(-s.glaze["fluidity"][g], 1.0, 6) * s.bump(),
        UNKNOWN: np.full(g.size, 0.006),
    }


def unwanted_matt(s: Studio, a: Table) -> Hazards:
    """A gloss that crystallised, or never became glossy."""
    g, f = a["glaze"], a["firing"]
    meant = s.glaze["finish"][g] >= 2
    slow = hill(95 / s.firing["cooling"][f], 1.6, 7)
    hazards = {
        "kiln_short": 0.5 * ndtr((-a["over_glaze"] - 1.6) / 0.4) * s.bump(),
        "slow_cooling": 0.22 * slow * np.exp(0.5 * s.glaze["fluidity"][g]) * s.bump(),
        "alumina_high": 0.25 * hill(s.glaze["clay"][g], 24, 5) * s.bump(),
        "coat_too_thin": 0.25 * (1 - hill(a["fired_mm"], 0.13, 6)) * s.bump(),
        "colour_beneath": 0.16 * hill(a["under_coats"], 4, 4) * s.bump(),
        "settled_jar": 0.03 * a["unstirred"] * s.bump(),
        UNKNOWN: np.full(g.size, 0.008),
    }
    return {name: each * np.where(meant, 0.05, 1.0) for name, each in hazards.items()}


def specks(s: Studio, a: Table) -> Hazards:
    """Grains: of the clay, of other colours, of the jar, of the kiln."""
    g, batch = a["glaze"], a["batch"]
    pale = np.where(s.glaze["finish"][g] == 0, 1.2, 0.8)
    return {
        "iron_in_body": 0.25 * s.body["specks"][a["body"]] * pale * s.bump(),
        "colour_not_dispersed": 0.22 * s.glaze["specks"][g] * (90 / s.batch["mesh"][batch]) ** 0.9,
        "shared_tools": 0.12 * a["shared"] * pale * s.bump(),
        "dried_crust": 0.07 * s.batch["is_revived"][batch] * s.bump(),
        "kiln_debris": 0.025 * ~a["upright"] * s.bump(),
        UNKNOWN: np.full(g.size, 0.01),
    }


def cloudiness(s: Studio, a: Table) -> Hazards:
    """A clear that is not clear: too thick, hazy by its boron, gassed from below, not melted."""
    g, f = a["glaze"], a["firing"]
    clear = s.glaze["finish"][g] == 0
    depth = hill(a["total_fired_mm"], 0.42, 4)
    slow = np.sqrt(95 / s.firing["cooling"][f])
    hazards = {
        "coat_too_thick": 0.75 * depth * s.bump(),
        "boron_crystals": 0.9 * s.glaze["haze"][g] ** 1.3 * (0.3 + depth) * slow * s.bump(),
        "red_body": 0.12 * s.body["is_red"][a["body"]] * (0.4 + depth) * s.bump(),
        "kiln_short": 0.55 * ndtr((-a["over_glaze"] - 1.0) / 0.5) * s.bump(),
        "fast_or_no_hold": 0.22 * np.exp(-s.firing["hold"][f] / 8) * s.bump(),
        "colour_beneath": 0.45 * hill(a["under_coats"], 3.8, 4) * s.bump(),
        UNKNOWN: np.full(g.size, 0.02),
    }
    return {name: each * np.where(clear, 1.0, 0.03) for name, each in hazards.items()}


MECHANISMS: dict[str, Callable[[Studio, Table], Hazards]] = {
    "crazing": crazing,
    "shivering": shivering,
    "crawling": crawling,
    "pinholes": pinholes,
    "blisters": blisters,
    "running": running,
    "underfired": underfired,
    "unwanted matt": unwanted_matt,
    "specks": specks,
    "cloudiness": cloudiness,
}

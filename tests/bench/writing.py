"""What a simulated studio writes down: the flat columns, with its habits, slips and blanks."""

from datetime import timedelta

import numpy as np
import pandas as pd

from tests.bench.studio import FIRST_DAY, Studio, Table
from tiles.chemistry.cones import CONES, cone_at, step
from tiles.exchange.flat_columns import by_name

FINISHES = np.array(["clear", "gloss", "satin", "matt"])
SHELVES = np.array(["top", "middle", "bottom"])

# How often studios never write a field, by how much trouble it is (estimates).
NEVER = {
    "thickness_mm": 0.22, "fired_thickness_mm": 0.85, "cone_reached": 0.12, "bisque_cone": 0.12,
    "bisque_rate_c_per_h": 0.6, "rate_c_per_h": 0.35, "hold_min": 0.2, "opened_c": 0.35,
    "shelf": 0.3, "stood": 0.25, "surface": 0.4, "method": 0.2, "coats": 0.03, "recipe": 0.15,
    "body_absorption_pct": 0.6, "batch": 0.4, "batch_specific_gravity": 0.5,
    "batch_sieve_mesh": 0.5, "batch_is_revived": 0.3, "batch_dry_portion": 0.5, "kiln": 0.2,
    "glaze_finish": 0.1, "glaze_cone": 0.1, "body_cone": 0.15, "under_coats": 0.15,
    "applied_on": 0.4, "target_cone": 0.03, "body_colour": 0.2, "body_kind": 0.15,
    "bisque_firing": 0.4,
}  # fmt: skip
CLUE_NEVER, CLUE_BLANK, CLUE_SLIP = 0.35, (0.3, 0.8), 0.06


def day_text(days: np.ndarray) -> np.ndarray:
    """Days since the first one as dates."""
    return np.array([(FIRST_DAY + timedelta(days=int(d))).isoformat() for d in days])


def cone_text(places: np.ndarray, *, halves: bool = False) -> np.ndarray:
    """The cone nearest to each place on the scale."""
    top = len(CONES) - 1
    rounded = (np.round(2 * places) / 2 if halves else np.round(places)).clip(0, top)
    names = {place: cone_at(float(place)) for place in np.unique(rounded)}
    return np.array([names[place] for place in rounded], dtype=object)


def write(studio: Studio, area: Table) -> pd.DataFrame:
    """The frame as the studio kept it, without results; names of columns as in the flat CSV."""
    told: dict[str, np.ndarray] = {}
    for part in (_marks, _clay, _glaze, _batch, _coat, _layers, _fired, _bisqued, _clues):
        told |= part(studio, area)
    blank = _Blanks(studio, area)
    for name, values in told.items():
        told[name] = blank.out(name, np.asarray(values, dtype=object))
    return pd.DataFrame(told)


class _Blanks:
    """Which cells stay blank: by tile, firing, batch, glaze or body, as they are written."""

    def __init__(self, studio: Studio, area: Table):
        self.rng, self.area = studio.rng, area
        self.care = float(studio.rng.uniform(0.05, 0.32))
        self.never: dict[str, bool] = {}

    def out(self, name: str, values: np.ndarray) -> np.ndarray:
        """The values with the studio's blanks in them."""
        if name.startswith("clue_"):
            gone = self._clue(name)
        else:
            field = name.removesuffix("_low").removesuffix("_high")
            if field not in NEVER:
                return values
            if field not in self.never:
                self.never[field] = self.rng.random() < NEVER[field]
            gone = self.never[field] | self._by(self._unit(field), self.care)
        return np.where(gone, None, values)

    def _unit(self, field: str) -> str:
        if field.startswith("bisque_"):
            return "bisque"
        for start, unit in (("body_", "body"), ("glaze_", "glaze"), ("recipe", "glaze"),
                            ("batch", "batch")):  # fmt: skip
            if field.startswith(start):
                return unit
        is_of_firing = field in ("rate_c_per_h", "hold_min", "opened_c", "kiln", "target_cone")
        return "firing" if is_of_firing else "tile"

    def _by(self, unit: str, rate: float) -> np.ndarray:
        which = self.area[unit]
        return (self.rng.random(which.max() + 1) < rate)[which]

    def _clue(self, name: str) -> np.ndarray:
        if self.rng.random() < CLUE_NEVER:
            return np.ones(self.area["tile"].size, bool)
        return self._by("tile", float(self.rng.uniform(*CLUE_BLANK)))


def _named(prefix: str, which: np.ndarray) -> np.ndarray:
    return np.array([f"{prefix} {n + 1}" for n in which], dtype=object)


def _marks(s: Studio, a: Table) -> dict:
    return {
        "mark": np.array([f"T-{n + 1}" for n in a["tile"]]),
        "area": a["area"],
        "surface": np.where(a["textured"], "textured", "smooth"),
        "stood": np.where(a["upright"], "upright", "flat"),
        "shelf": SHELVES[a["shelf"]],
    }


def _clay(s: Studio, a: Table) -> dict:
    b, body = a["body"], s.body
    low = body["is_low"][b]
    said = body["absorption"] * np.exp(s.rng.normal(0, 0.12, body["absorption"].size))
    sheet = body["expansion"] + s.rng.normal(0, 0.2, body["expansion"].size)
    return {
        "body": _named("body", b),
        "body_kind": np.where(low, "earthenware", "stoneware"),
        "body_colour": np.where(body["is_red"][b], "red", "white"),
        "body_cone_low": np.where(low, "06", "4"),
        "body_cone_high": np.where(low, "02", "6"),
        "body_absorption_pct": said.round(1)[b],
        "body_expansion_ppm_per_k": np.where(body["says_expansion"], sheet.round(1), None)[b],
    }


def _glaze(s: Studio, a: Table) -> dict:
    g, glaze = a["glaze"], s.glaze
    mature = glaze["mature"][g]
    texts = np.array([mix.text if mix else None for mix in s.mixes], dtype=object)
    return {
        "glaze": _named("glaze", g),
        "glaze_kind": np.where(glaze["is_recipe"][g], "recipe", "jar"),
        "glaze_role": np.full(g.size, "glaze"),
        "glaze_finish": FINISHES[glaze["finish"][g]],
        "glaze_cone_low": cone_text(mature - 0.9),
        "glaze_cone_high": cone_text(mature + 0.9),
        "recipe": texts[g],
    }


def _batch(s: Studio, a: Table) -> dict:
    i, batch = a["batch"], s.batch
    gravity = batch["gravity"] + s.rng.normal(0, 0.015, batch["gravity"].size)
    recipe = s.glaze["is_recipe"][a["glaze"]]
    return {
        "batch": np.array([f"lot {n + 1}" for n in batch["order"][i]], dtype=object),
        "batch_is_revived": np.where(recipe, None, np.where(batch["is_revived"][i], "yes", "no")),
        "batch_dry_portion": np.where(batch["is_part"][i], "part of bag", None),
        "batch_specific_gravity": np.where(recipe, gravity.round(2)[i], None),
        "batch_sieve_mesh": np.where(recipe, batch["mesh"][i], None),
    }


def _coat(s: Studio, a: Table) -> dict:
    rng, n = s.rng, a["mm"].size
    read = a["mm"] * np.exp(rng.normal(0, 0.12, n))
    fired = a["fired_mm"] * np.exp(rng.normal(0, 0.1, n))
    return {
        "coats": a["coats"].astype(float),
        "thickness_mm": read.round(1).clip(0.1),
        "fired_thickness_mm": fired.round(2).clip(0.05),
        "method": np.where(a["brush"], "brush", "dip"),
        "applied_on": np.where(a["refired"], "fired glaze", "bisque"),
    }


def _layers(s: Studio, a: Table) -> dict:
    colour, over = a["under_coats"] > 0, a["partner"] >= 0
    name = np.where(colour, "underglaze", np.where(over, _named("glaze", a["partner"]), None))
    role = np.where(colour, "underglaze", np.where(over, "glaze", None))
    return {
        "under_glaze": name,
        "under_glaze_role": role,
        "under_coats": np.where(colour, a["under_coats"], None),
    }


def _fired(s: Studio, a: Table) -> dict:
    rng, f, firing = s.rng, a["firing"], s.firing
    per_tile = rng.normal(0, 0.2, a["tile"].max() + 1)[a["tile"]]
    opened = firing["opened"] + rng.normal(0, 8, firing["opened"].size)
    return {
        "firing": _named("firing", f),
        "kiln": _named("kiln", firing["kiln"][f]),
        "fired_on": day_text(firing["day"])[f],
        "target_cone": cone_text(firing["target"])[f],
        "rate_c_per_h": (firing["rate"] / 5).round()[f] * 5.0,
        "hold_min": firing["hold"][f],
        "opened_c": ((opened / 5).round() * 5.0).clip(20)[f],
        "cone_reached": cone_text(a["reached"] + per_tile, halves=True),
    }


def _bisqued(s: Studio, a: Table) -> dict:
    b, bisque = a["bisque"], s.bisque
    has_witness = s.rng.random() < 0.4
    cone = bisque["cone"] if has_witness else bisque["target"]
    return {
        "bisque_firing": _named("bisque", b),
        "bisque_cone": cone_text(cone.clip(step("010")))[b],
        "bisque_rate_c_per_h": (bisque["rate"] / 5).round()[b] * 5.0,
    }


def _clues(s: Studio, a: Table) -> dict:
    """Facts asked about every tile, now and then answered wrongly."""
    facts = {
        "bisque_wiped": a["wiped"],
        "bisque_dusty": a["dusty"],
        "bisque_greasy": a["greasy"],
        "bisque_packed_airless": s.bisque["airless"][a["bisque"]],
        "glaze_stirred": ~a["unstirred"],
        "coats_left_powder_dry": a["dry_between"],
        "raw_coat_pitted": a["pitted"],
        "raw_coat_powdery": s.batch["gum_lost"][a["batch"]] > 0.5,
        "loaded_damp": a["damp"],
        "washed_or_soaked": a["soaked"],
        "shared_brushes": a["shared"],
        "cooled_slowly": s.firing["cooling"][a["firing"]] < 65,
    }
    told = {}
    for name, fact in facts.items():
        if f"clue_{name}" in by_name():
            said = fact ^ (s.rng.random(fact.size) < CLUE_SLIP)
            told[f"clue_{name}"] = np.where(said, "yes", "no")
    return told

"""The record: what a studio writes down of all that, in the flat columns, with its blanks."""

import numpy as np
import pandas as pd

from tests.bench.second.scale import cone_name
from tests.bench.third import clues
from tests.bench.third.tools import DEFECTS, celsius, cone_names, days
from tiles.chemistry.cones import CONES
from tiles.exchange.flat_columns import defect_column

_ALWAYS = ("mark", "area", "body", "glaze", "under_glaze", "firing", "fired_on", "inspected_on")
# Chance that a studio uses a field at all; a used field is still blank on 10-40 % of rows.
_USED = {
    "thickness_mm": .82, "fired_thickness_mm": .10, "coats": .95, "method": .85, "applied_on": .3,
    "beneath": .3, "surface": .3, "form": .7, "stood": .8, "shelf": .65, "cone_reached": .75,
    "bisque_cone": .8, "made_on": .25, "glazed_on": .4, "kiln": .85,
    "target_cone": .92, "rate_c_per_h": .7, "hold_min": .8, "atmosphere": .35, "peak_c": .25,
    "opened_c": .5, "witness_cones": .7, "bisque_firing": .4, "bisque_fired_on": .25,
    "bisque_target_cone": .4, "bisque_rate_c_per_h": .4, "bisque_kiln": .2,
    "body_kind": .9, "body_colour": .8, "body_cone_low": .8, "body_cone_high": .8,
    "body_absorption_pct": .35, "body_shrinkage_pct": .25, "body_expansion_ppm_per_k": .15,
    "glaze_kind": .95, "glaze_role": .9, "glaze_finish": .85, "glaze_colour": .8,
    "glaze_cone_low": .85, "glaze_cone_high": .85, "glaze_supplied_as": .5, "recipe": .85,
    "batch": .65, "batch_mixed_on": .3, "batch_specific_gravity": .45, "batch_sieve_mesh": .35,
    "batch_dry_portion": .2, "batch_is_revived": .5, "under_coats": .85, "under_method": .5,
    "under_applied_on": .3, "under_thickness_mm": .12,
}  # fmt: skip
_GLAZE = ("kind", "role", "finish", "colour", "cone_low", "cone_high", "supplied_as")
_SELDOM = {"metal marking": .45, "bloating": .12, "specks": .1, "cloudiness": .1, "shivering": .05,
           "colour shift": .1}  # fmt: skip
"""Share of studios that never look for a fault."""


def _known(rng, table: pd.DataFrame, column, blank: float = 0.12) -> np.ndarray:
    """A fact of a jar, a bag or a firing: known or not, once for all its tiles."""
    value = np.asarray(table[column] if isinstance(column, str) else column, dtype=object).copy()
    value[rng.random(len(value)) < blank] = None
    return value


def _near(value, places: int) -> np.ndarray:
    return np.round(np.asarray(value, dtype=float), places)


def _glaze_facts(rng, jars: pd.DataFrame) -> pd.DataFrame:
    no_range = rng.random(len(jars)) < 0.1
    return pd.DataFrame({
        "name": jars["name"], "kind": _known(rng, jars, "kind", .04),
        "role": _known(rng, jars, "role", .05), "finish": _known(rng, jars, "finish"),
        "colour": _known(rng, jars, "word"),
        "cone_low": np.where(no_range, None, cone_names(jars["low"].to_numpy(float))),
        "cone_high": np.where(no_range, None, cone_names(jars["high"].to_numpy(float))),
        "supplied_as": np.where(jars["kind"] == "jar", _known(rng, jars, "supplied", .2), None),
        "recipe": _known(rng, jars, "recipe", .08),
    }, dtype=object)  # fmt: skip


def _body_facts(rng, bodies: pd.DataFrame) -> pd.DataFrame:
    return pd.DataFrame({
        "kind": _known(rng, bodies, "kind", .05), "colour": _known(rng, bodies, "colour", .08),
        "cone_low": _known(rng, bodies, cone_names(bodies["low"].to_numpy(float))),
        "cone_high": _known(rng, bodies, cone_names(bodies["high"].to_numpy(float))),
        "absorption_pct": _known(rng, bodies, _near(bodies["sheet_absorption"], 1), .25),
        "shrinkage_pct": _known(rng, bodies, _near(rng.normal(10, 2, len(bodies)).clip(4, 16), 1)),
        "expansion_ppm_per_k": _known(rng, bodies, _near(bodies["tested_exp"], 2), .3),
    }, dtype=object)  # fmt: skip


def _firing_facts(rng, firings, kilns, room) -> pd.DataFrame:
    heat = (firings["target"] + firings["over"]).clip(8, 31)
    spread = kilns["uneven"].to_numpy()[firings["kiln"]] * np.sign(
        kilns["tilt"].to_numpy()[firings["kiln"]])  # fmt: skip
    places = rng.random() < 0.45
    cones = []
    for at, tilt in zip(heat, spread, strict=True):
        if places:
            cones.append("; ".join(
                f"{s}={cone_name(np.clip(at + h * tilt + rng.normal(0, .15), 2, 34))}"
                for s, h in (("top", 1), ("bottom", -1))))  # fmt: skip
        else:
            cones.append(cone_name(at + rng.normal(0, 0.2)))
    peak = celsius(heat.to_numpy()) - 0.25 * firings["hold"] + rng.normal(0, 8, len(firings))
    fire = np.where(firings["reduced"] > 0, "reduction", "oxidation")
    return pd.DataFrame({
        "firing": firings["name"], "kiln": kilns["name"].to_numpy()[firings["kiln"]],
        "fired_on": days(room.start, firings["day"].to_numpy()),
        "target_cone": _known(rng, firings, cone_names(firings["target"].to_numpy(float)), .05),
        "rate_c_per_h": _known(rng, firings, np.round(firings["rate"] / 5) * 5),
        "hold_min": _known(rng, firings, "hold"), "atmosphere": _known(rng, firings, fire, .2),
        "peak_c": _known(rng, firings, np.round(peak), .2),
        "opened_c": _known(rng, firings, np.round(firings["opened"] / 5) * 5, .25),
        "witness_cones": _known(rng, firings, np.array(cones, dtype=object), .15),
    }, dtype=object)  # fmt: skip


def _uses(rng, columns) -> tuple[set, dict]:
    """The fields this studio fills in, and how often each is left blank even so."""
    generous = rng.normal(0.6, 0.5)
    used, blank = set(_ALWAYS), {}
    for name in columns:
        base = _USED.get(name, _USED.get(name.removeprefix("under_"), 0.5))
        if base > 0 and rng.random() < 1 / (
            1 + np.exp(-(np.log(base / (1.001 - base)) + generous))
        ):
            used.add(name)
        blank[name] = 0.10 + 0.30 * rng.beta(1, 2.5)
    return used, blank


def make_frame(rng, room, people, kilns, firings, bisques, bodies, jars, buckets, x, severity,
               causes) -> pd.DataFrame:  # fmt: skip
    """The studio's rows in flat columns; blank is None."""
    n, tile = len(x), x["tile"].to_numpy(int)
    first = np.unique(tile, return_index=True)[1]

    def of_tile(values):
        return np.asarray(values)[first][tile]

    c = {"mark": np.array([f"T{t + 1:04d}" for t in tile], dtype=object),
         "area": x["area"].to_numpy()}  # fmt: skip
    c["body"] = bodies["name"].to_numpy(object)[x["body"]]
    facts = _body_facts(rng, bodies)
    c |= {f"body_{name}": facts[name].to_numpy()[x["body"]] for name in facts}
    facts = _glaze_facts(rng, jars)
    is_under = (x["under"] >= 0).to_numpy()
    under = np.maximum(x["under"].to_numpy(int), 0)
    c["glaze"] = facts["name"].to_numpy()[x["glaze"]]
    c["under_glaze"] = np.where(is_under, facts["name"].to_numpy()[under], None)
    for name in _GLAZE:
        c[f"glaze_{name}"] = facts[name].to_numpy()[x["glaze"]]
        c[f"under_glaze_{name}"] = np.where(is_under, facts[name].to_numpy()[under], None)
    c["recipe"] = facts["recipe"].to_numpy()[x["glaze"]]
    c["coats"] = x["coats"].to_numpy(float)
    gauge = np.exp(rng.normal(0, 0.10, n))
    c["thickness_mm"] = _near(x["coat"] * gauge, 2).clip(0.05, 9)
    c["fired_thickness_mm"] = _near(x["coat"] * 0.5 * np.exp(rng.normal(0, 0.12, n)), 2).clip(
        0.03, 9
    )
    c["method"] = x["method"].to_numpy(object)
    c["applied_on"] = np.where(x["refired"] > 0, "fired glaze", "bisque").astype(object)
    wet = np.where(rng.random(n) < 0.08, 1 - x["powder_dry"], x["powder_dry"])
    c["beneath"] = np.where(x["coats"] > 1, np.where(wet > 0, "dry", "damp"), None)
    c["under_coats"] = np.where(is_under, x["under_coats"], np.nan)
    c["under_thickness_mm"] = np.where(is_under, _near(x["under_load"] * 0.1 * gauge, 2), np.nan)
    c["under_method"] = np.where(is_under, "brush", None)
    c["under_applied_on"] = np.where(is_under, "bisque", None)
    b = buckets.iloc[x["bucket"]].reset_index(drop=True)
    c["batch"] = b["name"].to_numpy(object)
    keep = _known(rng, buckets, np.ones(len(buckets)), 0.2)[x["bucket"]] == 1
    c["batch_mixed_on"] = np.where(keep, days(room.start, b["start"].to_numpy()), None)
    c["batch_specific_gravity"] = np.where(keep, _near(b["gravity"], 2), np.nan)
    c["batch_sieve_mesh"] = np.where(keep & (b["coarse"] + b["mesh"] > 0), b["mesh"], np.nan)
    bag = np.where(jars["supplied"].to_numpy()[x["glaze"]] == "dry",
                   np.where(b["part_bag"] > 0, "part of bag", "whole bag"), None)  # fmt: skip
    c["batch_dry_portion"] = bag
    c["batch_is_revived"] = np.where(keep, np.where(b["revived"] > 0, "yes", "no"), None)
    fire = _firing_facts(rng, firings, kilns, room)
    c |= {name: fire[name].to_numpy()[x["firing"]] for name in fire}
    q = bisques.iloc[x["bisque"]].reset_index(drop=True)
    fired = x["day"].to_numpy(float)
    c["bisque_firing"] = q["name"].to_numpy(object)
    c["bisque_kiln"] = np.full(n, kilns["name"].iloc[0], dtype=object)
    c["bisque_fired_on"] = days(room.start, q["day"].to_numpy())
    c["bisque_target_cone"] = cone_names(q["target"].to_numpy(float))
    c["bisque_rate_c_per_h"] = _near(q["rate"] / 5, 0) * 5
    said = np.where(rng.random(n) < 0.4, q["target"], x["bisque_heat"] + rng.normal(0, 0.2, n))
    c["bisque_cone"] = of_tile(cone_names(said))
    read = x["heat"] + rng.normal(0, 0.2, n)
    c["cone_reached"] = of_tile(cone_names(np.clip(read, 2, len(CONES) - 1)))
    c["shelf"], c["form"] = x["shelf"].to_numpy(object), x["form"].to_numpy(object)
    c["stood"] = x["stood"].to_numpy(object)
    c["surface"] = np.where(x["textured"] > 0, "textured", "smooth").astype(object)
    c["glazed_on"] = days(room.start, of_tile(fired - rng.integers(1, 9, n)))
    c["made_on"] = days(room.start, of_tile(q["day"] - rng.integers(6, 40, n)))
    c["inspected_on"] = days(room.start, of_tile(fired + x["wait"] + 1))
    frame = pd.DataFrame(c)
    _blank(rng, frame, people, x, tile, severity)
    told = clues.answers(rng, room, x, buckets, bodies, severity, causes, tile)
    frame = pd.concat([frame, told], axis=1)
    text = [name for name in frame if not pd.api.types.is_numeric_dtype(frame[name])]
    return frame.astype(dict.fromkeys(text, object)).where(frame.notna(), np.nan)


def _blank(rng, frame: pd.DataFrame, people, x, tile, severity) -> None:
    """Take out what is not written down, and add the faults as the studio notes them."""
    n_tiles, n = tile.max() + 1, len(frame)
    used, blank = _uses(rng, [name for name in frame if name not in _ALWAYS])
    lazy = people["writes"].to_numpy()[x["person"].to_numpy(int)]
    of_area = ("thickness_mm", "fired_thickness_mm", "coats", "beneath", "under_coats",
               "under_thickness_mm", "surface")  # fmt: skip
    for name in list(frame):
        if name in _ALWAYS:
            continue
        entity = name.startswith(("body_", "glaze_", "under_glaze_", "recipe")) or name in (
            "kiln", "target_cone", "rate_c_per_h", "hold_min", "atmosphere", "peak_c", "opened_c",
            "witness_cones")  # fmt: skip
        if name not in used:
            frame.loc[:, name] = None if frame[name].dtype == object else np.nan
        elif not entity:
            at = rng.random(n) if name in of_area else rng.random(n_tiles)[tile]
            rate = np.clip(blank[name] - 0.08 * lazy, 0.03, 0.6)
            frame.loc[at < rate, name] = None if frame[name].dtype == object else np.nan
        elif rng.random() < 0.5:
            gone = rng.random(n_tiles)[tile] < 0.5 * blank[name]
            frame.loc[gone, name] = None if frame[name].dtype == object else np.nan
    no_batch = frame["batch"].isna()
    frame.loc[no_batch, [name for name in frame if name.startswith("batch_")]] = None
    no_bisque = frame["bisque_firing"].isna()
    frame.loc[no_bisque, [name for name in frame if name.startswith("bisque_")
                          and name not in ("bisque_cone", "bisque_firing")]] = None  # fmt: skip
    looked = rng.random(n_tiles)[tile] < 0.95
    frame.loc[~looked, "inspected_on"] = None

    for defect in DEFECTS:
        never = rng.random() < _SELDOM.get(defect, 0.0)
        value = severity[defect].astype(float)
        value[~looked | never] = np.nan
        frame[defect_column(defect)] = value

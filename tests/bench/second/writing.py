"""What the second studio has on record: the flat columns, with its slips and blanks."""

from datetime import date, timedelta

import numpy as np
import pandas as pd

from tests.bench.second.clues import tell_clues
from tests.bench.second.notebook import Notebook
from tests.bench.second.scale import DEFECTS, cone_name
from tiles.exchange.flat_columns import columns, defect_column

FIRST_DAY = date(2021, 1, 10)
CARELESS_LOOK = 0.05
"""Share of tiles on which only what was seen is noted, and not all of what was not."""


def write(
    rng: np.random.Generator, habits: dict, rows: list[dict], words: dict[str, np.ndarray]
) -> pd.DataFrame:
    """The flat frame; ``words`` is what was noted of each defect on each area."""
    book = Notebook(rng, habits)
    lines = []
    for place, row in enumerate(rows):
        line = {"mark": row["mark"], "area": row["area"], "firing": row["firing"]["name"]}
        for part in (_clay, _glaze, _coat, _batch, _fired, _placed, _bisqued, _beneath):
            line |= part(book, row)
        if row["is_inspected"]:
            noted = {defect: words[defect][place] for defect in DEFECTS}
            line |= _inspected(book, row, noted)
        lines.append(line | tell_clues(book, row))
    frame = pd.DataFrame(lines).reindex(columns=[each.name for each in columns()])
    frame = frame.astype({each.name: float for each in columns() if each.is_number})
    return frame.where(frame.notna(), np.nan)


def _day_text(day: float) -> str:
    return (FIRST_DAY + timedelta(days=int(day))).isoformat()


def _clay(book: Notebook, row: dict) -> dict:
    body, rng = row["body"], book.rng
    name = body["name"]
    surface = "textured" if row["is_textured"] else "smooth"

    def absorption() -> float:
        return round(max(0.2, body["absorption"] * np.exp(rng.normal(0, 0.12))), 1)

    told = {
        "body": name,
        "surface": book.per_tile(row, "surface", surface),
        "body_kind": book.once(name, "body_kind", body["kind"]),
        "body_colour": book.once(name, "body_colour", body["colour"]),
        "body_cone_low": book.once(name, "body_cone_low", body["cone_low"]),
        "body_cone_high": book.once(name, "body_cone_low", body["cone_high"]),
        "body_absorption_pct": book.reading(name, "body_absorption_pct", absorption),
    }
    if body["is_measured"]:
        expansion = round(body["expansion"] + rng.normal(0, 0.15), 2)
        told["body_expansion_ppm_per_k"] = book.first((name, "expansion"), expansion)
    return told


def _glaze(book: Notebook, row: dict) -> dict:
    glaze = row["glaze"]
    name = glaze["name"]
    kind = "jar" if glaze["is_jar"] else "recipe"
    told = {
        "glaze": name,
        "glaze_role": "glaze",
        "glaze_kind": book.once(name, "glaze_kind", kind),
        "glaze_finish": book.once(name, "glaze_finish", glaze["finish"]),
        "glaze_colour": book.once(name, "glaze_colour", glaze["colour"]),
    }
    return told | (_label(book, glaze) if glaze["is_jar"] else _recipe(book, glaze))


def _label(book: Notebook, glaze: dict) -> dict:
    name = glaze["name"]
    supplied = "liquid" if glaze["is_liquid"] else "dry"
    return {
        "glaze_cone_low": book.once(name, "glaze_cone_low", glaze["cone_low"]),
        "glaze_cone_high": book.once(name, "glaze_cone_low", glaze["cone_high"]),
        "glaze_supplied_as": book.once(name, "glaze_supplied_as", supplied),
    }


def _recipe(book: Notebook, glaze: dict) -> dict:
    name = glaze["name"]
    parts = [f"{each}={amount:g}" for each, amount in glaze["parts"].items()]
    parts += [f"+{each}={amount:g}" for each, amount in glaze["extras"].items()]
    recipe = book.once(name, "recipe", "; ".join(parts))
    told = {
        "recipe": recipe,
        "glaze_cone_low": book.once(name, "glaze_cone_low", glaze["cone_low"], 1.5),
        "glaze_cone_high": book.once(name, "glaze_cone_low", glaze["cone_high"], 1.5),
    }
    return told | ({"glaze_kind": "recipe"} if recipe else {})


def _coat(book: Notebook, row: dict) -> dict:
    rng, thickness = book.rng, row["thickness_mm"]
    ground = "fired glaze" if row["is_refired"] else "bisque"
    told = {
        "coats": book.per_tile(row, "coats", float(row["coats"])),
        "method": book.per_tile(row, "method", row["method"]),
        "applied_on": book.per_tile(row, "applied_on", ground),
    }
    if book.per_tile(row, "thickness_mm", True):
        told["thickness_mm"] = round(thickness * np.exp(rng.normal(0, 0.1)), 2)
    if rng.random() > book.habits["blank"]["fired_thickness_mm"]:
        fired = 0.5 * thickness * np.exp(rng.normal(0, 0.12))
        told["fired_thickness_mm"] = round(fired, 2)
    if row["coats"] > 1:
        beneath = "dry" if row["is_recoated_dry"] else "damp"
        told["beneath"] = book.per_tile(row, "beneath", beneath)
    return told


def _batch(book: Notebook, row: dict) -> dict:
    """The bucket; nobody keeps a sheet of a jar that comes ready to use."""
    glaze = row["glaze"]
    if glaze["is_jar"] and glaze["is_liquid"]:
        return {}
    bucket = (glaze["name"], row["firing"]["name"])
    gravity, mesh = round(row["specific_gravity"], 2), float(glaze["sieve_mesh"])
    revived = "yes" if row["is_revived"] else "no"
    told = {
        "batch_specific_gravity": book.once(bucket, "batch_specific_gravity", gravity),
        "batch_sieve_mesh": book.once(glaze["name"], "batch_sieve_mesh", mesh),
        "batch_is_revived": book.once(bucket, "batch_is_revived", revived),
    }
    if any(value is not None for value in told.values()):
        told["batch"] = f"{bucket[0]} for {bucket[1]}"
    return told


def _fired(book: Notebook, row: dict) -> dict:
    firing, rng = row["firing"], book.rng
    name, rate_c_per_h = firing["name"], round(firing["rate"] / 10) * 10.0

    def opened_c() -> float:
        return round((firing["opened"] + rng.normal(0, 8)) / 5) * 5.0

    def witness() -> str:
        return cone_name(firing["level"] + rng.normal(0, 0.2))

    return {
        "kiln": book.once(name, "kiln", firing["kiln"]["name"]),
        "fired_on": book.once(name, "fired_on", _day_text(firing["day"])),
        "target_cone": book.once(name, "target_cone", cone_name(firing["target"])),
        "rate_c_per_h": book.once(name, "rate_c_per_h", rate_c_per_h),
        "hold_min": book.once(name, "hold_min", round(firing["hold"], 0)),
        "atmosphere": book.once(name, "atmosphere", "oxidation"),
        "opened_c": book.reading(name, "opened_c", opened_c),
        "witness_cones": book.reading(name, "witness_cones", witness),
    }


def _placed(book: Notebook, row: dict) -> dict:
    return {
        "form": book.per_tile(row, "form", row["form"]),
        "stood": book.per_tile(row, "stood", row["stood"]),
        "shelf": book.per_tile(row, "shelf", row["shelf"]),
        "cone_reached": book.per_tile(row, "cone_reached", cone_name(row["reached"])),
    }


def _bisqued(book: Notebook, row: dict) -> dict:
    """The bisque cone is written by tens of tiles; a load is named where its rate is known."""
    bisque = row["bisque"]
    ten = (bisque["name"], row["mark"][:-1])
    told = {"bisque_cone": book.once(ten, "bisque_cone", cone_name(bisque["reached"]))}
    rate_c_per_h = round(bisque["rate"] / 10) * 10.0
    rate_c_per_h = book.once(bisque["name"], "bisque_rate_c_per_h", rate_c_per_h)
    if rate_c_per_h is not None:
        told |= {"bisque_firing": bisque["name"], "bisque_rate_c_per_h": rate_c_per_h}
    return told


def _beneath(book: Notebook, row: dict) -> dict:
    if row["beneath"] is None:
        return {}
    name = book.per_tile(row, "under_glaze", row["beneath"])
    if name is None:
        return {}
    return {
        "under_glaze": name,
        "under_glaze_role": "underglaze" if row["is_over_colour"] else "glaze",
        "under_coats": book.per_tile(row, "under_coats", float(row["under_coats"])),
    }


def _inspected(book: Notebook, row: dict, noted: dict[str, str]) -> dict:
    day = row["firing"]["day"] + 1 + row["look_days"]
    told = {"inspected_on": _day_text(day)}
    is_careless = book.rng.random() < CARELESS_LOOK
    for defect, word in noted.items():
        has_word = defect not in book.habits["no_word"]
        skipped = has_word and is_careless and word == "none" and book.rng.random() < 0.5
        told[defect_column(defect)] = word if has_word and not skipped else None
    return told

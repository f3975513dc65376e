"""The clean areas at cone 05 on red earthenware, counted again from the CSV files alone.

Source: the sample's own files, read with the csv module; no query, form or database code. What
"clean" and "cone reached" mean is written out here a second time, in plain Python.
"""

import csv
import json
import os
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_db"


@cache
def rows(file):
    with (SAMPLE / file).open(newline="", encoding="utf-8") as opened:
        return list(csv.DictReader(opened))


def cone_reached(tile):
    """The tile's own cone, else its shelf's witness, else the load's only one; never the target."""
    if tile["cone_reached"]:
        return tile["cone_reached"]
    witness = {
        row["shelf"]: row["cone"]
        for row in rows("witness_cones.csv")
        if row["firing"] == tile["firing"]
    }
    if tile["shelf"] and tile["shelf"] in witness:
        return witness[tile["shelf"]]
    return witness.get("")


def target_cone(tile):
    targets = {row["name"]: row["target_cone"] for row in rows("firings.csv")}
    return targets.get(tile["firing"])


def areas_of(mark):
    found = {
        int(row["area"])
        for file in ("layers.csv", "areas.csv", "clues.csv")
        for row in rows(file)
        if row["mark"] == mark and row["area"]
    }
    return sorted(found or {1})


def is_clean(mark, area, looks):
    own = [row for row in looks if row["mark"] == mark]
    faults = [row for row in own if row["defect"] and row["area"] in ("", str(area))]
    return bool(own) and not faults


def clean_pairs(body="red earthenware", cone="05", *, cone_of=cone_reached, looks=None):
    looks = rows("inspections.csv") if looks is None else looks
    return {
        (tile["mark"], area)
        for tile in rows("tiles.csv")
        if tile["body"] == body and cone_of(tile) == cone
        for area in areas_of(tile["mark"])
        if is_clean(tile["mark"], area, looks)
    }


def first_looks_only():
    first = {}
    for row in rows("inspections.csv"):
        first[row["mark"]] = min(first.get(row["mark"], row["inspected_on"]), row["inspected_on"])
    return [row for row in rows("inspections.csv") if row["inspected_on"] == first[row["mark"]]]


def any_tile_counts_as_inspected():
    blank = {"defect": "", "area": ""}
    unseen = [{"mark": tile["mark"], **blank} for tile in rows("tiles.csv")]
    return rows("inspections.csv") + unseen


def defects_without_area_forgotten():
    return [
        row | {"defect": row["defect"] if row["area"] else ""} for row in rows("inspections.csv")
    ]


def defects_spread_over_the_tile():
    return [row | {"area": ""} for row in rows("inspections.csv")]


def found_by_program(database, *options):
    command = [sys.executable, "-m", "tiles", "find", *options, "--json", "--db", str(database)]
    ran = subprocess.run(
        command,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    return [(row["mark"], row["area"]) for row in json.loads(ran.stdout)]


@pytest.mark.parametrize(
    ("body", "cone"),
    [
        ("red earthenware", "05"),
        ("red earthenware", "04"),
        ("red earthenware", "06"),
        ("white earthenware", "05"),
        ("buff stoneware", "05"),
        ("buff stoneware", "5"),
        ("porcelain", "6"),
    ],
)
def test_find_clean_returns_exactly_the_areas_counted_from_the_files(sample_template, body, cone):
    found = found_by_program(sample_template, "--clean", "--cone", cone, "--body", body)
    assert len(found) == len(set(found))
    assert set(found) == clean_pairs(body, cone)


def test_the_count_is_large_enough_to_be_worth_asking():
    assert len(clean_pairs()) >= 15


@pytest.mark.parametrize(
    "wrong",
    [
        {"cone_of": target_cone},
        {"cone_of": lambda tile: tile["cone_reached"]},
        {"cone": "04"},
        {"cone": "5"},
        {"body": "white earthenware"},
        {"looks": first_looks_only()},
        {"looks": any_tile_counts_as_inspected()},
        {"looks": defects_without_area_forgotten()},
        {"looks": defects_spread_over_the_tile()},
    ],
    ids=[
        "target cone",
        "own cone only",
        "one cone hotter",
        "05 read as 5",
        "other body",
        "first look only",
        "never looked at",
        "defects without an area",
        "areas merged",
    ],
)
def test_a_wrong_rule_would_give_another_answer(wrong):
    assert clean_pairs(**wrong) != clean_pairs()

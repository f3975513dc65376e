"""What the rule base as a whole must do, whatever the figures in it."""

import re

import pytest

from diagnose.measures.of_area import Measure, measures
from diagnose.report import is_enough, why
from diagnose.rules import load
from diagnose.weighing import weigh
from diagnose.wording import fixes
from tests.unit.diagnose.many import check_each
from tiles.records import words
from tiles.records.forms import TileRecord

KINDS_OF_FIRING = ("low_fire", "mid_range")
# Materials a recipe is made of; a jar's user cannot change them (common practice, no source).
MATERIALS = r"\b(silica|flint|feldspar|kaolin|frit|whiting|zinc|alumina|boron|talc|bentonite)\b"
CHANGES = rf"\b(add|more|less|raise|lower|cut|swap|replace|reduce|halve)\b.{{0,30}}{MATERIALS}"


def ordinary_tile(setting, defect="other", **glaze):
    """A tile of which everything recorded is as it should be, and nothing else is known."""
    low = setting == "low_fire"
    span = ("06", "04") if low else ("5", "6")
    label = {"name": "plain", "kind": "jar", "role": "glaze", "finish": "gloss"}
    label |= {"cone_low": span[0], "cone_high": span[1]} | glaze
    layer = {"glaze": label, "coats": 3, "method": "brush", "thickness_mm": 0.6}
    return TileRecord.model_validate(
        {
            "mark": "T-1",
            "body": {
                "name": "plain clay",
                "kind": "earthenware" if low else "stoneware",
                "cone_low": "06" if low else "5",
                "cone_high": "03" if low else "7",
            },
            "bisque_cone": "04" if low else "06",
            "cone_reached": "05" if low else "6",
            "firing": {"name": "F", "target_cone": "05" if low else "6", "hold_min": 12},
            "areas": [{"number": 1, "layers": [layer]}],
            "inspections": [{"inspected_on": "2025-03-05", "defects": [{"defect": defect}]}],
        }
    )


@pytest.mark.parametrize("setting", KINDS_OF_FIRING)
@pytest.mark.parametrize("defect", words.DEFECTS)
def test_an_ordinary_record_is_not_enough_to_tell(defect, setting):
    assert not why(ordinary_tile(setting, defect), defect)[0].enough_to_tell


@pytest.mark.parametrize("setting", KINDS_OF_FIRING)
@pytest.mark.parametrize(
    ("defect", "clue", "answer", "cause"),
    [
        ("crazing", "crack_through_wall", "yes", "dunt_misnamed"),
        ("crawling", "sharp_flakes_lift", "yes", "shivering_misnamed"),
        ("crawling", "bare_edges_thin", "yes", "missed_glaze_misnamed"),
        ("pinholes", "hole_rims_raised", "yes", "blisters_misnamed"),
        ("pinholes", "pale_grain_in_pit", "yes", "lime_grains"),
        ("shivering", "bare_edges_rolled", "yes", "crawling_misnamed"),
        ("shivering", "pale_grain_in_pit", "yes", "lime_grains"),
        ("blisters", "lump_in_clay", "yes", "bloating_misnamed"),
        ("blisters", "hole_rims_raised", "no", "pinholes_misnamed"),
        ("bloating", "lump_in_clay", "no", "blisters_misnamed"),
        ("dunting", "crack_edges_rounded", "yes", "drying_crack_misnamed"),
        ("dunting", "crack_through_wall", "no", "crazing_misnamed"),
        ("specks", "holes_reach_clay", "yes", "pinholes_misnamed"),
        ("metal marking", "marks_come_off", "no", "scratches_misnamed"),
        ("colour shift", "fired_as_label_shows", "yes", "raw_colour_differs"),
    ],
)
def test_the_one_separating_look_comes_first(setting, defect, clue, answer, cause):
    # The looks are those handbooks give for telling one fault from its look-alike
    # (Hamer, Fraser: memory; common practice).
    known = measures(ordinary_tile(setting), None, defect) | {clue: Measure(clue, answer, "", clue)}
    rows = weigh(load(defect), known, setting)
    assert rows[0].cause.name == cause


@pytest.mark.parametrize("setting", KINDS_OF_FIRING)
@pytest.mark.parametrize(
    ("defect", "glaze"),
    [
        ("crazing", {"finish": "crackle"}),
        ("crawling", {"finish": "textured", "name": "white crawl"}),
        ("blisters", {"finish": "textured", "name": "grey crater"}),
        ("underfired", {"finish": "matt"}),
        ("underfired", {"role": "underglaze", "finish": None}),
        ("unwanted matt", {"finish": "satin"}),
        ("unwanted matt", {"role": "underglaze", "finish": None}),
        ("cloudiness", {"finish": "satin"}),
        ("specks", {"name": "speckled egg"}),
    ],
)
def test_a_look_that_is_meant_is_called_no_fault(setting, defect, glaze):
    known = measures(ordinary_tile(setting, defect, **glaze), None, defect)
    rows = weigh(load(defect), known, setting)
    assert not rows[0].cause.is_fault
    assert is_enough(rows)


def test_a_raw_umber_wash_is_expected_to_be_dusty_at_low_fire_and_not_at_mid_range():
    # Raw umber matures near 1150 °C, 2100 °F (common practice, no source).
    firsts = {}
    for setting in KINDS_OF_FIRING:
        tile = ordinary_tile(setting, "underfired", name="raw umber wash", role="wash")
        known = measures(tile, None, "underfired")
        known["fired_surface_powdery"] = Measure("fired_surface_powdery", "yes", "", "")
        firsts[setting] = weigh(load("underfired"), known, setting)[0].cause.name
    assert firsts == {"low_fire": "wash_matures_hotter", "mid_range": "wash_without_flux"}


def causes_of(defect):
    return [(f"{defect}/{cause.name}", cause) for cause in load(defect).causes]


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_no_fix_for_a_jar_changes_its_recipe(defect):
    check_each(causes_of(defect), keeps_the_recipe_of_a_jar)


def keeps_the_recipe_of_a_jar(cause):
    known = {"glaze_kind": Measure("glaze_kind", "jar", "", "from a jar")}
    for setting in KINDS_OF_FIRING:
        for fix in fixes(cause.fixes, known, setting):
            assert not re.search(CHANGES, fix.say.casefold()), fix.say
        assert fixes(cause.fixes, known, setting), "nothing is left that its user can do"


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_every_way_of_glazing_is_left_a_fix(defect):
    check_each(causes_of(defect), leaves_every_way_of_glazing_a_fix)


def leaves_every_way_of_glazing_a_fix(cause):
    for method in ("brush", "dip", "pour", "spray"):
        known = {"method": Measure("method", method, "", method)}
        assert fixes(cause.fixes, known, "low_fire"), method


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_nothing_is_called_food_safe(defect):
    check_each(causes_of(defect), is_not_called_food_safe)


def is_not_called_food_safe(cause):
    advice = [each.say for each in (*cause.fixes, *cause.confirm)]
    texts = (*advice, *cause.cautions, cause.mechanism)
    assert not any(re.search(r"food[- ]safe", text.casefold()) for text in texts)

"""A label's cones that would leave its tiles, or its own words on food, far outside are asked."""

import json

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.cli.unload_cones import new_questions
from tiles.records import forms


def _cones(tiles, subject, name):
    (row,) = [
        each for each in json.loads(tiles(subject, "list", "--json").out) if each["name"] == name
    ]
    return row["cone_low"], row["cone_high"]


@pytest.mark.parametrize(
    ("subject", "name"), [("glaze", "pond green"), ("body", "white earthenware")]
)
def test_a_range_that_leaves_fired_tiles_far_outside_is_asked_with_their_number(
    sample, tiles, subject, name
):
    before = all_rows(sample)
    ran = tiles(subject, "change", name, "--cones", "5-6")
    assert_one_line_error(ran, f"{name}: ", " tiles on record would be far outside its label (M-")
    assert "far below cone 5" in ran.err and "--yes" in ran.err
    assert all_rows(sample) == before
    assert tiles(subject, "change", name, "--cones", "5-6", "--yes").code == 0
    assert _cones(tiles, subject, name) == ("5", "6")
    # What was confirmed is not asked again.
    assert tiles(subject, "change", name, "--remark", "so it is").code == 0


def test_a_range_near_what_its_tiles_were_fired_to_is_changed_without_a_question(sample, tiles):
    assert tiles("glaze", "change", "pond green", "--cones", "06-03").code == 0
    assert tiles("body", "change", "red earthenware", "--cones", "").code == 0


def test_a_food_label_far_from_the_range_is_asked_when_either_is_given(sample, tiles):
    jar = ("glaze", "add", "jar e", "--cones", "5-6", "--food-label", "food safe at cone 05")
    assert_one_line_error(tiles(*jar), "jar e: its range, cone 5 to 6, is far above the cones")
    assert tiles(*jar, "--yes").code == 0
    assert tiles("glaze", "change", "jar e", "--colour", "blue").code == 0
    assert tiles("glaze", "change", "jar e", "--cones", "06-05").code == 0
    back = tiles("glaze", "change", "jar e", "--food-label", "food safe at cone 5")
    assert_one_line_error(back, "is far below the cones its food label names")
    assert tiles("glaze", "change", "jar e", "--food-label", "food safe to cone 04").code == 0


@pytest.fixture
def loaded(sample, tiles):
    """A mid-range jar in a low firing, which was asked about and is so."""
    jar = ("glaze", "add", "river", "--kind", "jar", "--cones", "5-6")
    for words in (jar, ("firing", "add", "F90", "--target-cone", "05")):
        assert tiles(*words).code == 0
    made = ("log", "--mark", "R-1", "--body", "red earthenware", "--glaze", "river", "--coats", "2")
    assert tiles(*made).code == 0
    load = ("load", "F90", "R-1", "--shelf", "top")
    assert_one_line_error(tiles(*load), "the bottom for glaze 'river'")
    assert tiles(*load, "--yes").code == 0
    return shown(tiles, "R-1")


READ = {
    "load": ("firing", "change", "F90", "--witness-cone", "06"),
    "shelf": ("firing", "change", "F90", "--witness-cone", "06@top"),
    "tile": ("inspect", "R-1", "--cone-reached", "06", "--clean"),
}


@pytest.mark.parametrize("where", READ)
def test_a_glaze_outside_its_label_that_was_loaded_so_is_not_asked_about_at_the_cone_read(
    loaded, tiles, where
):
    ran = tiles(*READ[where])
    assert (ran.code, "river" in ran.err) == (0, False)
    assert shown(tiles, "R-1")["derived"]["cone_reached"] == "06"


def test_another_doubt_of_the_cone_read_is_asked_all_the_same(loaded, tiles):
    ran = tiles("inspect", "R-1", "--cone-reached", "6", "--clean")
    assert_one_line_error(ran, "cone reached 6", "far above", "red earthenware")
    assert shown(tiles, "R-1") == loaded


def test_unload_does_not_ask_again_what_was_answered_at_the_load(loaded):
    record = forms.read(forms.TileRecord, {k: loaded[k] for k in loaded if k != "derived"})
    assert new_questions(record, {"cone_reached": "06"}) == ""
    assert "'river'" not in new_questions(record, {"cone_reached": "012"})
    assert "the target of F90" in new_questions(record, {"cone_reached": "012"})

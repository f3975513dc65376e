"""A label's cones that would leave its tiles, or its own words on food, far outside are asked."""

import json

import pytest

from tests.cli.records import all_rows, assert_one_line_error


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

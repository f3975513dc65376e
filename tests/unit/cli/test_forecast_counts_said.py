"""How a forecast says what own tiles it counts, and of what it is told."""

from diagnose.forecasts.of_tile import Forecast
from diagnose.own_tiles.made_alike import made_alike
from diagnose.view import View
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.forecast_counts import counts
from tiles.cli.forecast_text import _heading

AT_CONE_7 = {"cone_reached": "7"}


def _said(others, **asked):
    planned = tile(99, coats=2, firing={"name": "F9", "target_cone": "6"}, **asked)
    counted = made_alike(others, View(planned, planned.areas[0])).counts("running")
    return counts(Forecast("running", "learned", 20, 3, "more", 0.4, 0.1, 0.8, 0.1, **counted))


def test_the_one_tile_of_a_glaze_is_told_once_and_that_it_was_made_otherwise():
    ran = tile(1, coats=2, defects=["running"], **AT_CONE_7)
    here = "on your one tile of this glaze on this body (none on record with 2 coats at cone 6)"
    assert _said([ran]) == here
    other = tile(2, coats=2, defects=["running"], body="white clay", **AT_CONE_7)
    assert _said([ran, other]) == f"{here}; on 2 of the 2 with the very same layers on any body"


def test_the_heading_says_back_what_a_layer_is_put_on():
    raw = tile(1, coats=2)
    assert _heading(raw, raw.areas[0], True) == "Before firing: red clay, pond x2"
    raw.areas[0].layers[0].applied_on = "greenware"
    assert _heading(raw, raw.areas[0], True).endswith("red clay, pond x2 (pond on greenware)")


def test_the_very_same_layers_are_told_of_a_fault_that_they_never_had_as_of_one_they_had():
    here = [tile(n, coats=2 + n % 2, defects=["running"] * (n % 2)) for n in range(8)]
    away = [tile(20 + n, coats=2, body="white clay") for n in range(2)]
    assert "; on none of the 6 with the very same layers on any body" in _said([*here, *away])
    once = [tile(30, coats=2, defects=["running"], body="white clay")]
    assert "; on 1 of the 7 with the very same layers on any body" in _said([*here, *away, *once])
    closest = [tile(n, coats=2, cone_reached="6") for n in range(3)]
    other = [tile(10, coats=3, defects=["running"], cone_reached="6")]
    told = _said([*closest, *other])
    assert told.endswith("on none of the 3 with 2 coats at cone 6"), "the same tiles once"

"""A trial is the failed tile but for its one change: all that was recorded of how it was glazed."""

from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.shapes import BENEATH, Change
from diagnose.fixes.trials import control, step_trial
from diagnose.next_tiles.odds import AS_IT_WAS, Like, inspected, like
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import proposed, tile

HOW = {"method": "brush", "applied_on": "bisque", "beneath": "damp"}


def glazed(record=None, surface=None, **how):
    """The tile with this recorded of its one layer."""
    record = record or tile("crawling")
    (area,) = record.areas
    (layer,) = area.layers
    values = {"layers": [layer.model_copy(update=how)], "surface": surface}
    return record.model_copy(update={"areas": [area.model_copy(update=values)]})


def made(trial):
    (area,) = trial.tile["areas"]
    return area, area["layers"][0]


def test_control_and_trials_are_glazed_as_the_failed_tile_was():
    found = proposed(glazed(surface="textured", **HOW))
    assert found.tiles
    for trial in found.trials:
        area, layer = made(trial)
        assert area["surface"] == "textured"
        is_dried = trial.change and trial.change.startswith("coat beneath")
        how = HOW | {"beneath": "dry"} if is_dried else HOW
        assert {key: layer[key] for key in HOW} == how, trial.change


def test_a_change_of_the_state_beneath_is_made_on_the_trial_alone():
    view = View(glazed(**HOW), glazed(**HOW).areas[0], "crawling")
    step = Step("dry", "Dry", [Change(BENEATH, "damp", "dry")], edit={"beneath": "dry"})
    assert made(step_trial(Bench(view, "", ""), step))[1] == made(control(view))[1] | {
        "beneath": "dry"
    }


def test_what_was_glazed_raw_is_not_raw_on_the_trial_that_is_bisqued_first():
    found = proposed(glazed(tile("pinholes", bisque=None), applied_on="greenware"))
    bisqued = [each.trial for each in found.tiles if "bisque_cone" in each.trial.tile]
    assert bisqued
    assert {made(each)[1]["applied_on"] for each in bisqued} == {"bisque"}
    assert made(found.control)[1]["applied_on"] == "greenware"


def test_a_tile_over_a_dry_coat_or_dipped_is_not_like_one_brushed_over_a_damp_one():
    record = glazed(**HOW)

    def count(**how):
        other = glazed(tile("crawling"), **(HOW | how)).model_copy(update={"mark": "S-1"})
        return like(inspected([other]), record, 1, "crawling", AS_IT_WAS)

    assert count() == count(beneath=None) == Like(1, 1)
    assert count(beneath="dry") == count(method="dip") == Like()


def test_a_tile_counts_as_one_over_a_dry_coat_only_where_that_was_noted():
    record = glazed(**(HOW | {"beneath": "dry"}))
    for state, found in (("dry", Like(1, 1)), (None, Like())):
        other = glazed(**(HOW | {"beneath": state})).model_copy(update={"mark": "S-1"})
        assert like(inspected([other]), record, 1, "crawling", BENEATH) == found


def test_one_coat_on_the_clay_lies_over_no_coat():
    record = glazed(tile("crawling", coats=1), **HOW)
    assert View(record, record.areas[0]).state_beneath is None
    record = glazed(tile("crawling", coats=2), **HOW)
    assert View(record, record.areas[0]).state_beneath == "damp"

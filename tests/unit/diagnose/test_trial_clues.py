"""What was done by hand on a failed tile is done so on its control."""

from diagnose.fixes.bench import Bench
from diagnose.fixes.steps_coat import clean_bisque, recoat_dry
from diagnose.fixes.trials import control, step_trial
from diagnose.trials.changes import is_borne_out
from diagnose.trials.clues import BY_HAND
from diagnose.view import View
from tests.unit.diagnose.test_comparison import tile
from tiles.records import forms
from tiles.records.clues import clues

UNWIPED = "As then: the bisque was not wiped before glazing."


def failed():
    record = tile(1, coats=3, clues={"bisque_wiped": "no", "raw_coat_cracked": "yes"})
    record.areas[0].clues = {"wax_near": "yes"}
    return View(record, record.areas[0], "crawling")


def test_the_control_keeps_what_was_done_by_hand_and_not_how_it_came_out():
    made = control(failed()).tile
    assert (made["clues"], made["areas"][0]["clues"]) == (
        {"bisque_wiped": "no"},
        {"wax_near": "yes"},
    )
    assert UNWIPED in made["note"]
    assert set(BY_HAND) <= set(clues())


def test_the_trial_that_wipes_says_so_and_any_other_one_does_not():
    bench = Bench(failed(), "dirty_bisque", "low_fire")
    wiped = step_trial(bench, clean_bisque(bench)).tile
    assert wiped["clues"] == {"bisque_wiped": "yes"}
    assert "not wiped" not in wiped["note"]
    other = step_trial(bench, recoat_dry(bench)).tile
    assert other["clues"] == {"bisque_wiped": "no"}
    assert UNWIPED in other["note"]
    record = forms.TileRecord.model_validate(wiped | {"mark": "N-1"})
    change = clean_bisque(bench).changes[0]
    assert is_borne_out(record, change)
    assert not is_borne_out(record.model_copy(update={"clues": {"bisque_wiped": "no"}}), change)

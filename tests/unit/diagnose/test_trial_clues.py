"""What was done by hand on a failed tile is done so on its control."""

from diagnose.fixes.bench import Bench
from diagnose.fixes.steps_coat import clean_bisque, recoat_dry
from diagnose.fixes.trials import control, step_trial
from diagnose.fixes.tried import carries_out
from diagnose.trials.changes import is_borne_out, is_written
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


def dusty(**values):
    record = tile(1, coats=3, clues={"bisque_dusty": "yes"})
    record = record.model_copy(update={"mark": "T-20", **values})
    return View(record, record.areas[0], "crawling")


def test_the_control_of_a_dusty_tile_is_left_dusty_and_says_so():
    made = control(dusty())
    assert made.change == "as T-20, nothing changed; leave the bisque dusty"
    assert made.tile["clues"] == {"bisque_dusty": "yes"}
    assert made.tile["note"].startswith("As T-20: leave the bisque dusty. ")
    bench = Bench(dusty(), "dirty_bisque", "low_fire")
    wiped = step_trial(bench, clean_bisque(bench)).tile
    assert wiped["clues"] == {"bisque_wiped": "yes"}
    assert "leave the bisque" not in wiped["note"]


def test_what_a_note_says_was_done_by_hand_is_how_it_was_before():
    view = dusty(note="forgot to wipe")
    change = clean_bisque(Bench(view, "dirty_bisque", "low_fire")).changes[0]
    assert change.said == "bisque wiped with a damp sponge no -> yes, then dried overnight"
    made = control(view).tile
    assert made["clues"] == {"bisque_dusty": "yes", "bisque_wiped": "no"}
    assert UNWIPED in made["note"]
    before = clean_bisque(Bench(dusty(), "dirty_bisque", "low_fire")).changes[0].said
    assert "not recorded" in before
    assert is_written(before, change) and not is_written("coats 3 -> 2", change)
    trial = step_trial(Bench(view, "dirty_bisque", "low_fire"), clean_bisque(Bench(view, "", "")))
    record = forms.TileRecord.model_validate(trial.tile | {"mark": "N-1"})
    assert carries_out(record, before, trial)

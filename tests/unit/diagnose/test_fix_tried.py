"""What trials showed of a fix: none that failed is proposed again, a proven one is told."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import BISQUE_CONE, COATS, CONE_REACHED, HOLD, WIPED
from diagnose.fixes.trials import repeat_trial
from diagnose.report import why
from diagnose.rules import load
from diagnose.view import View
from tests.unit.diagnose.test_next_swaps import sound
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, WHITE, tile
from tests.unit.diagnose.test_tried import looked_at
from tiles.records import forms
from tiles.records.words import DEFECTS

FAILED = tile("crazing", coats=4)


def answer(others=(), record=FAILED):
    return fix(record, bodies=OWNED.bodies, glazes=OWNED.glazes, others=others)[0]


def fired(change, mark, defects=(), record=FAILED):
    """The tile that `fix` plans with this change, fired and looked at."""
    trial = next(
        each for each in answer(record=record).trials if each.tile["trial_change"] == change
    )
    return looked_at(trial.tile, mark, defects)


def fixes_of(told):
    return [each for cause in told.causes for each in cause.fixes]


BISQUE, BODY = "bisque cone 06 -> 03", "body red clay -> white clay"


def test_a_fix_that_failed_in_a_trial_is_told_and_not_proposed_again():
    told = answer([fired(BISQUE, f"N-{n}", ["crazing"]) for n in range(2)])
    assert BISQUE not in [each.changes[0].said for each in fixes_of(told)]
    assert BISQUE not in [each.change for each in told.trials]
    tried = [text for cause in told.causes for text in cause.tried]
    assert f"Trials N-1 and N-0, {BISQUE}: the fault came again on both." in tried
    assert told.first is None or told.first.trial in [each.name for each in told.trials]


def test_no_tile_goes_first_that_needs_a_firing_of_its_own_where_another_tells_nearly_as_much():
    record = tile("pinholes", coats=4, bisque="04")
    told = fix(record)[0]
    first = next(each for each in told.trials if each.name == told.first.trial)
    assert first.change == "coats 4 -> 3"
    assert any("Fire it" in each.tile["note"] for each in told.trials)


def test_a_step_that_failed_in_trials_leaves_no_gap_in_the_letters():
    told = answer([fired(BISQUE, f"N-{n}", ["crazing"]) for n in range(2)])
    letters = [each.name for each in fixes_of(told)]
    assert BISQUE in [each.changes[0].said for each in fixes_of(answer())[: len(letters)]]
    assert letters == list("ABCDEFG"[: len(letters)])


def test_what_came_out_sound_is_fired_once_more_beside_a_control_and_nothing_untried_is():
    first = fired(BODY, "N-1")
    told = answer([first])
    (kept, *_) = [each for each in fixes_of(told) if each.changes[0].said == BODY]
    assert kept.tried == ["Trial N-1: the fault did not come."]
    control, again = told.trials
    assert (control.is_control, again.change, again.repeats) == (True, BODY, "N-1")
    planned = next(each for each in answer().trials if each.change == BODY).tile
    differs = {key for key in planned if again.tile[key] != planned[key]}
    assert differs == {"note"} and again.tile["note"].startswith("Once more as N-1. Same firing")
    second = looked_at(again.tile, "N-2")
    proven = answer([first, second])
    assert proven.trials == [] and "it worked on 2 of 2 of your tiles" in proven.proven[0]
    failed = looked_at(again.tile, "N-2", ["crazing"])
    assert len(answer([first, failed]).trials) > 2, "the untried ones are back"


def test_a_trial_that_told_nothing_beside_a_sound_control_is_planned_again():
    control = next(each for each in answer().trials if each.is_control)
    beside = [looked_at(control.tile, "N-0"), fired(BODY, "N-1")]
    for each in beside:
        each.firing = forms.FiringRecord(name="F-2")
    told = answer(beside)
    assert told.proven == [] and BODY in [each.change for each in told.trials]


@pytest.mark.parametrize(
    ("made", "place"),
    [
        ({"trial_change": "shelf top -> middle", "shelf": "middle"}, "on shelf middle."),
        ({"trial_change": "hold at the top: 15 min (before: not recorded)",
          "note": "Fire it with a hold of 15 min. Mine."}, "Fire it with a hold of 15 min."),
    ],
)  # fmt: skip
def test_what_is_fired_once_more_goes_where_its_trial_went(made, place):
    trial = fired(BODY, "N-1").model_copy(update=made | {"body": FAILED.body})
    view = View(FAILED, FAILED.areas[0], "crazing")
    tile = repeat_trial(view, trial, "").tile
    assert place in tile["note"] and tile.get("shelf") == made.get("shelf")
    assert "Mine" not in tile["note"]


def test_where_trials_of_a_fix_came_out_both_ways_another_one_is_planned():
    told = answer([fired(BODY, "N-1"), fired(BODY, "N-2", ["crazing"])])
    assert BODY in [each.change for each in told.trials]


def test_trials_of_a_recipe_are_known_by_their_lines():
    recipe = {"lines": [{"material": name, "parts": parts} for name, parts in
                        (("high alkali frit", 80), ("kaolin", 10), ("silica", 10))]}  # fmt: skip
    own = {"glaze": OTHER | {"name": "own", "kind": "recipe"}, "recipe": recipe, "coats": 2}
    area = FAILED.areas[0].model_copy(update={"layers": [forms.LayerRecord.model_validate(own)]})
    record = FAILED.model_copy(update={"areas": [area]})
    line = [each for each in answer(record=record).trials if each.recipe]
    others = [looked_at(each.tile, f"N-{at}", ["crazing"]) for at, each in enumerate(line)]
    first = line[0].name.split()[0]
    assert len(line) > 2
    some, every = answer(others[:1], record), answer(others, record)
    assert line[0].recipe not in [each.recipe for each in some.trials]
    assert line[-1].recipe in [each.recipe for each in some.trials]
    assert all(each.recipe not in [one.recipe for one in line] for each in every.trials)
    done = next(each.title for each in fixes_of(answer(record=record)) if each.name == first)
    assert done not in [each.title for each in fixes_of(every)]


def test_without_anything_left_to_fire_there_is_no_control_alone():
    trials = [each for each in answer().trials if not each.is_control]
    others = [looked_at(each.tile, f"N-{at}", ["crazing"]) for at, each in enumerate(trials)]
    told = answer(others)
    assert told.trials == [] or not all(each.is_control for each in told.trials)


@pytest.mark.parametrize(("many", "is_told"), [(2, False), (5, True)])
def test_another_clay_on_which_own_tiles_are_sound_is_the_fix(many, is_told):
    others = [*sound(many, body=WHITE)]
    others += [each.model_copy(update={"mark": f"F-{at}"})
               for at, each in enumerate(sound(4, failed=4))]  # fmt: skip
    (told, *_) = why(FAILED, None, others)
    (fit,) = [each for each in told.causes if each.name == "poor_fit"]
    said = f"none of your {many} tiles of pond crazed there, no later look on record"
    assert (fit.fixes[0] == f"Use it on white clay: {said} (5 of 5 on red clay).") is is_told
    asked = {sign.measure for row in told.case.rows for sign in row.missing}
    assert "fails_on_every_body" not in asked  # a sound tile on another clay answers it
    titles = [each.title for each in fixes_of(answer(others)) if each.key == "other_body"]
    assert titles and (f"Another body, {said}" in titles) is is_told


def test_no_clay_is_told_where_the_tiles_own_clay_fails_no_oftener():
    others = sound(8, body=WHITE) + [
        each.model_copy(update={"mark": f"F-{at}"}) for at, each in enumerate(sound(8))
    ]
    assert why(FAILED, None, others)[0].case.sound_on is None


@pytest.mark.parametrize(
    ("again", "is_advised"), [((True, True), False), ((True, False), True), ((), True)]
)
def test_why_no_longer_advises_a_coat_less_where_it_was_tried_in_vain(again, is_advised):
    record = tile("crawling")
    change = "coats 3 -> 2"
    trials = [
        fired(change, f"N-{at}", ["crawling"] * came, record) for at, came in enumerate(again)
    ]
    causes = why(record, None, [*trials, *sound(1, defect="crawling", body=WHITE)])[0].causes
    thick = next(each for each in causes if each.name == "coat_too_thick")
    assert any(text.startswith("Put on one coat less") for text in thick.fixes) is is_advised
    assert any("wipe" in text.casefold() for each in causes for text in each.fixes)


ADVISED = {
    "coat_too_thick": COATS,
    "coat_too_thin": COATS,
    "bisque_too_cool": BISQUE_CONE,
    "dirty_bisque": WIPED,
    "kiln_short": CONE_REACHED,
    "overfired": CONE_REACHED,
    "fast_or_no_hold": HOLD,
    "hold_too_long": HOLD,
}


@pytest.mark.parametrize(("name", "what"), ADVISED.items())
def test_the_advice_of_a_cause_is_marked_with_the_change_that_its_trial_makes(name, what):
    """Without the mark, advice tried in vain would be given again."""
    of_cause = [each for word in DEFECTS for each in load(word).causes if each.name == name]
    advice = [[one for one in each.fixes if what in one.changes] for each in of_cause]
    told = "two thin coats of clear"  # what to aim for, no change by a coat
    assert of_cause and all(
        found or each.fixes[0].say.casefold().startswith(told)
        for each, found in zip(of_cause, advice, strict=True)
    )

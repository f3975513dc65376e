"""Trials in own words for a thick coat: coats and their thickness are read as one change."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from diagnose.trials.tried import in_short, said
from tests.unit.diagnose.test_next_tiles import OWNED, proposed, tile
from tests.unit.diagnose.test_trials_add_up import THICK, case, trial
from tests.unit.diagnose.test_tried import shares
from tiles.cli import fix_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms

THICK_COATS = tile("crawling", coats=2, mm=1.7)
OWN_WORDS = "three thin coats"


def of_coat(coats, mm, mark="N-1", defects=(), **values):
    """A trial in own words for the tile with two thick coats."""
    change = values.pop("trial_change", OWN_WORDS)
    fired = trial(change, mark, defects, record=THICK_COATS, **values)
    layer = fired.areas[0].layers[0]
    layer.coats, layer.thickness_mm = coats, mm
    return fired


@pytest.mark.parametrize(
    ("coats", "mm", "change"),
    [(3, 0.9, "dry coat 1.7 -> 0.9 mm, coats 2 -> 3"), (2, 0.9, "dry coat 1.7 -> 0.9 mm"),
     (1, 0.9, "coats 2 -> 1"), (3, 2.6, "coats 2 -> 3"), (2, 1.5, OWN_WORDS)],
)  # fmt: skip
def test_coats_and_their_thickness_are_read_as_one_change_beside_own_words(coats, mm, change):
    fired = of_coat(coats, mm)
    (tried,) = case([fired], THICK_COATS).tried
    assert tried.change == change
    is_read = change != OWN_WORDS
    assert tried.words == (OWN_WORDS if is_read else "")
    assert (f'(N-1, "{OWN_WORDS}")' in in_short([tried])) is is_read
    assert (f'N-1, {change} (in your words "{OWN_WORDS}"): the fault' in said([tried])) is is_read
    before, after = (shares(some, THICK_COATS)[THICK] for some in ([], [fired]))
    assert (after > before + 0.005) is (is_read and mm < 1.7)


def test_a_thinner_coat_is_among_the_things_in_which_a_trial_differs():
    (tried,) = case([of_coat(3, 0.9, bisque_cone="04")], THICK_COATS).tried
    coat = "coat: 2 coats of 1.7 mm -> 3 coats of 0.9 mm in all"
    assert f"more than one thing differs ({coat}; bisque cone: 06 -> 04)" in tried.change
    (tried,) = case([of_coat(2, 0.9, bisque_cone="04")], THICK_COATS).tried
    assert tried.change.startswith("bisque cone 06 -> 04")  # a coat goes on otherwise there


def test_fix_names_the_trials_that_none_of_its_fixes_is():
    (answer,) = fix(THICK_COATS, others=[of_coat(3, 0.9)])
    told = f'Trial N-1, dry coat 1.7 -> 0.9 mm, coats 2 -> 3 (in your words "{OWN_WORDS}"): '
    assert answer.tried == [f"{told}the fault did not come."]
    marked = [Marked("T-2", "crawling", each) for each in answer.trials]
    screen = fix_text.screen(THICK_COATS, [answer], marked, is_planned=False)
    assert f" tried {answer.tried[0]}" in " ".join(" ".join(screen).split())
    (answer,) = fix(THICK_COATS, others=[of_coat(1, 0.9)])
    assert answer.tried == []  # it stands at its fix


THREE_THIN = "dry coat 1.7 -> 0.9 mm; coats 2 -> 3"


def thin(mark="S-1", defects=(), mm=0.9):
    """An own tile with three thin coats, never planned as a trial."""
    made = tile("crawling", coats=3, mm=mm)
    seen = [{"defect": each} for each in defects]
    look = forms.InspectionRecord(inspected_on="2024-06-01", defects=seen)
    return made.model_copy(update={"mark": mark, "inspections": [look]})


def test_three_thin_coats_are_not_refused_as_thick_where_own_tiles_measured_them():
    found = proposed(THICK_COATS)
    assert "coats 2 -> 3: so thick a coat runs or falls off" in found.left_out
    found = proposed(THICK_COATS, others=[thin(defects=["crawling"])])
    assert not any(each.startswith("coats 2 -> 3") for each in found.left_out)
    found = proposed(THICK_COATS, others=[thin(mm=2.4), thin("S-2", ["crawling"])])
    assert "coats 2 -> 3: so thick a coat runs or falls off" in found.left_out


def test_the_thin_coats_of_a_sound_twin_are_planned_first_as_a_trial_and_as_a_fix():
    (diagnosis,) = why(THICK_COATS, None, [thin()])
    first = next_tiles(diagnosis, OWNED, others=[thin()]).tiles[0]
    assert (first.trial.change, first.twin.marks) == (THREE_THIN, ("S-1",))
    assert first.trial.tile["areas"][0]["layers"][0]["coats"] == 3
    (answer,) = fix(THICK_COATS, others=[thin()])
    best = answer.causes[0].fixes[0]
    assert best.title == "Thinner coat, as S-1 had it"
    assert best.trials[0].tile["trial_change"] == THREE_THIN


def test_more_coats_that_are_less_glaze_are_planned_for_what_ran():
    ran = tile("running", coats=2, mm=1.7)
    (diagnosis,) = why(ran, None, [thin()])
    found = next_tiles(diagnosis, OWNED, others=[thin()])
    assert found.tiles[0].trial.change == THREE_THIN
    assert not any(each.startswith("dry coat") for each in found.left_out)


@pytest.mark.parametrize(("mm", "coats", "is_read"), [(None, 3, True), (1.6, 3, False),
                                                       (None, 1, False)])  # fmt: skip
def test_such_a_trial_counts_as_planned_though_nobody_measured_it_again(mm, coats, is_read):
    fired = of_coat(coats, mm, trial_change=THREE_THIN)
    (tried,) = case([fired], THICK_COATS).tried
    assert (tried.change == THREE_THIN.replace(";", ",")) is is_read
    if is_read:
        assert tried.words == "" and tried.move("coat_too_thick") > 0

"""Trials say of themselves what was made of them, and nothing that their one change gainsays."""

import pytest

from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.shapes import BISQUE_CONE, Change
from diagnose.fixes.trials import control, step_trial
from diagnose.view import View
from tiles.records import forms

SET = {"target_cone": "08"}
BY_SHELF = {"witness_cones": [{"shelf": "top", "cone": "08"}, {"shelf": "low", "cone": "06"}]}


def _view(bisque):
    values = {
        "mark": "M-41",
        "body": {"name": "red earthenware"},
        "bisque_firing": {"name": "B1", "kind": "bisque"} | bisque,
        "areas": [{"number": 1, "layers": [{"glaze": {"name": "amber", "role": "glaze"}}]}],
    }
    record = forms.read(forms.TileRecord, values)
    return View(record, record.areas[0], "pinholes")


@pytest.mark.parametrize(("bisque", "cone"), [(SET, "08"), (BY_SHELF, None)])
def test_a_control_gets_the_bisque_it_stands_for(bisque, cone):
    told = control(_view(bisque)).tile
    assert told.get("bisque_cone") == cone
    assert "Bisque as of B1 (" in told["note"]


@pytest.mark.parametrize("bisque", [SET, BY_SHELF])
def test_a_trial_of_another_bisque_is_not_told_to_be_bisqued_as_before(bisque):
    step = Step("bisque", "", [Change(BISQUE_CONE, "08", "04")], edit={"bisque_cone": "04"})
    told = step_trial(Bench(_view(bisque), "", ""), step).tile
    assert told["bisque_cone"] == "04"
    assert told["note"] == "Same firing and shelf as the others of the set."

"""Trials say of themselves what was made of them, and nothing that their one change gainsays."""

import pytest

from diagnose.changed import changed
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import BISQUE_CONE, COATS, Change
from diagnose.fixes.trials import as_planned, control, step_trial
from diagnose.next_tiles.changes import Owned
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


def _red(defects=("colour shift",), target="05"):
    """A red under a clear, both for cone 06, set for another and not read."""
    red = {"name": "cherry red", "role": "underglaze", "colour": "red", "cone_high": "06"}
    clear = {"name": "clear", "role": "glaze", "finish": "clear", "cone_high": "06"}
    seen = [{"defect": each} for each in defects]
    values = {
        "mark": "bowl 39",
        "body": {"name": "white bisque"},
        "firing": {"name": "F", "kind": "glaze", "target_cone": target},
        "areas": [{"number": 1, "layers": [{"glaze": red, "coats": 1}, {"glaze": clear}]}],
        "inspections": [{"inspected_on": "2026-11-01", "defects": seen}],
    }
    return forms.read(forms.TileRecord, values)


def test_what_was_set_over_its_label_is_not_planned_so_again():
    (answer,) = fix(_red())
    said = {each.change: each.tile["note"] for each in answer.trials}
    assert "cone reached 05 as set -> 06" in said
    assert not any(each.is_control for each in answer.trials)
    assert all("No hotter than cone 06, the most that clear stands." in note
               for note in said.values())  # fmt: skip
    (within,) = fix(_red(target="06"))
    assert any(each.is_control for each in within.trials)


def test_no_thicker_coat_is_planned_of_what_ran_and_it_is_said_why():
    layer = {"glaze": {"name": "amber", "role": "glaze", "colour": "amber"}, "coats": 1}
    for defects, is_planned in ((["unwanted matt"], True), (["unwanted matt", "running"], False)):
        record = _red(defects).model_copy(deep=True)
        values = record.model_dump(mode="json") | {"areas": [{"number": 1, "layers": [layer]}]}
        answer = fix(forms.read(forms.TileRecord, values), "unwanted matt")[0]
        changes = [each.change for each in answer.trials]
        said = [text for cause in answer.causes for text in cause.say]
        assert any(each.startswith("coats 1 ->") for each in changes) is is_planned
        assert (
            any("for the shelf's sake: it ran already" in each for each in said) is not is_planned
        )


LEAF = {"glaze": {"name": "leaf", "role": "underglaze"}, "coats": 3, "applied_on": "greenware",
        "batch": {"name": "old jar"}}  # fmt: skip
POND = {"glaze": {"name": "pond", "role": "glaze"}, "coats": 2, "batch": {"name": "May"}}
SAND = {"glaze": {"name": "sand", "role": "glaze"}, "coats": 1, "beneath": "dry"}
OWN = Owned(
    glazes=[forms.GlazeRecord(name=name) for name in ("pond", "sky")],
    batches={"pond": [forms.BatchRecord(name="June")]},
)


@pytest.mark.parametrize(
    ("layers", "change", "edit", "told"),
    [
        ([LEAF, POND], COATS, {"coats": 1}, [("leaf", 3, "old jar"), ("pond", 1, "May")]),
        ([LEAF, POND], "x", {"colour_coats": 2}, [("leaf", 2, "old jar"), ("pond", 2, "May")]),
        ([LEAF, POND], "x", {"bare": True}, [("pond", 2, "May")]),
        ([LEAF, POND], "x", {"under": "sky"}, [("sky", 3, None), ("pond", 2, "May")]),
        ([LEAF], "x", {"clear": "sky"}, [("leaf", 3, "old jar"), ("sky", 1, None)]),
        ([POND], "x", {"glaze": "sky"}, [("sky", 2, None)]),
        ([POND], "batch", {"batch": "June"}, [("pond", 2, "June")]),
        ([POND, SAND], "x", {"alone": True}, [("sand", 1, None)]),
        ([POND, SAND], "x", {"turned": True}, [("sand", 1, None), ("pond", 2, "May")]),
        ([LEAF], BISQUE_CONE, {"bisque_cone": "04"}, [("leaf", 3, "old jar")]),
    ],
    ids=lambda value: str(*value) if isinstance(value, dict) else "",
)  # fmt: skip
def test_a_trial_is_planned_with_the_layers_that_its_outcome_is_reckoned_with(
    layers, change, edit, told
):
    record = forms.read(
        forms.TileRecord,
        {"mark": "T-1", "body": "red", "areas": [{"number": 1, "layers": layers}]},
    )
    view = View(record, record.areas[0], "crawling")
    step = Step("step", "", [Change(change, 2, next(iter(edit.values())))], edit=edit)
    planned = step_trial(Bench(view, "", ""), step).tile["areas"][0]["layers"]
    reckoned = [as_planned(each) for each in changed(view, step, OWN).areas[0].layers]
    assert planned == reckoned
    names = [(e["glaze"]["name"], e["coats"], e.get("batch", {}).get("name")) for e in planned]
    assert names == told
    is_raw = "bisque_cone" not in edit
    assert all((e["applied_on"] == "greenware") is is_raw for e in planned if "applied_on" in e)

"""One cone alone on a bag or a label is that cone, wherever the label is read.

A jar that says "cone 06" leaves the other end of a table blank. Taken for open, cone 6 would pass
for 06, which is 11 steps and about 220 C hotter (tests/outside/test_cone_chart.py).
"""

import pytest

from diagnose.fixes.bench import Bench
from diagnose.fixes.ranges import stands, within_both
from diagnose.fixes.steps_coat import clear_over
from diagnose.learning import table
from diagnose.learning.rows import Row
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.safety import would_wreck
from diagnose.view import View, setting
from tiles.chemistry.cones import step
from tiles.cli.next_body import _meets
from tiles.cli.recipe_show import is_for_cone
from tiles.records import forms, questions
from tiles.records.derived import label_range


@pytest.fixture(params=["cone_low", "cone_high"])
def end(request):
    return {request.param: "06"}


@pytest.fixture
def view(end):
    glaze = {"name": "the glaze", "finish": "clear"} | end
    values = {
        "mark": "T-1",
        "body": {"name": "the clay"} | end,
        "cone_reached": "6",
        "areas": [{"number": 1, "layers": [{"glaze": glaze}]}],
    }
    record = forms.read(forms.TileRecord, values)
    return View(record, record.areas[0])


def test_the_range_is_that_cone(view):
    assert label_range(view.record.body) == label_range(view.top.glaze) == ("06", "06")
    assert label_range(None) is label_range(forms.BodyRecord(name="b")) is None


def test_the_measures_count_from_it(view):
    found = measures(view.record)
    assert (found["cones_over_label"].value, found["cones_over_body"].value) == (11, 11)
    assert found["wrong_band"].value == "yes"
    bare = view.record.model_copy(update={"cone_reached": None, "areas": []})
    assert setting(View(bare)) == "low_fire"


def test_the_learner_does(view):
    steps = table.read([Row(view.record, 1)]).steps
    ends = [steps[name][0] for name in ("label_low", "label_high", "body_low", "body_high")]
    assert ends == [step("06")] * 4


def test_the_questions_before_storing_do(view):
    assert "far above cone 06" in questions.questions(view.record)[0]
    assert questions.is_within_labels(view.record, "06")
    assert not questions.is_within_labels(view.record, "05")


def test_fixes_do(view):
    body, glaze = view.record.body, view.top.glaze
    assert within_both(body, glaze, "6") == "06"
    bench = Bench(view, "", "low_fire", glazes=[glaze])
    assert bench.within_body("6") == "06"
    assert clear_over(bench).edit == {}


def test_the_next_tiles_do(view):
    body, glaze = view.record.body, view.top.glaze
    for one in (body, glaze):
        assert stands(one, ["06"]) and not stands(one, ["06", "05"])
        assert not Owned().is_for(one, view)
    assert would_wreck(view, view.record, {}) == "the clay is made for cone 06 at most"
    assert not _meets(glaze, forms.BodyRecord(name="b", cone_low="05", cone_high="03"))


def test_recipe_show_does(view):
    assert is_for_cone(view.record.body, "06") and not is_for_cone(view.record.body, "05")


def clay(**told):
    return forms.BodyRecord(name="b", **told)


def glaze(**told):
    return forms.GlazeRecord(name="g", finish="clear", **told)


@pytest.mark.parametrize(
    ("one", "at_05", "at_6"),
    [(clay(), True, False), (clay(kind="earthenware"), True, False),
     (clay(kind="stoneware"), True, True), (glaze(), False, False),
     (glaze(role="underglaze"), True, True), (glaze(cone_low="5", cone_high="6"), False, True)],
)  # fmt: skip
def test_what_has_no_label_is_judged_alike_by_all_that_choose_for_a_trial(one, at_05, at_6):
    assert [stands(one, [cone]) for cone in ("05", "6")] == [at_05, at_6]
    assert stands(one, []) is (getattr(one, "role", None) == "underglaze")
    record = forms.TileRecord(mark="T-1", body=clay(), cone_reached="05")
    view = View(record)
    assert Owned().is_for(one, view) is at_05 and Owned(is_fired=True).is_for(one, view)


def test_no_clear_without_a_label_goes_over_a_wash_nor_any_where_no_cone_is_known():
    for cone, cones, is_named in (
        ("05", {}, False), (None, {}, False), ("05", {"cone_low": "06", "cone_high": "04"}, True)
    ):  # fmt: skip
        record = forms.TileRecord(mark="T-1", body=clay(), cone_reached=cone)
        bench = Bench(View(record), "", "low_fire", glazes=[glaze(**cones)])
        assert bool(clear_over(bench).edit) is is_named

"""No fix sends a clay above the range on its bag, or leaves it far below.

Ranges on bags and labels bind (common practice, no source); low-fire clay fired mid-range slumps,
bloats and melts on to the shelf.
"""

import pytest

from diagnose.cause_report import NO_CONE_FOR_BOTH
from diagnose.fixes.of_tile import fix
from diagnose.fixes.ranges import ceiling, not_together, suits, within_both
from diagnose.report import why
from diagnose.view import View
from tiles.chemistry.cones import step
from tiles.cli import fix_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms


def _body(low=None, high=None, **more):
    return forms.BodyRecord(name="the clay", cone_low=low, cone_high=high, **more)


def _glaze(low=None, high=None):
    return forms.GlazeRecord(name="the glaze", kind="jar", cone_low=low, cone_high=high)


def _tile(body, label, reached, target, defect="underfired", **more):
    layer = {"glaze": {"name": "pond", "kind": "jar", "cone_low": label[0], "cone_high": label[1]}}
    values = {
        "mark": "M-1",
        "body": {"name": "school clay"} | body,
        "firing": {"name": "F", "target_cone": target},
        "cone_reached": reached,
        "areas": [{"number": 1, "layers": [layer | {"coats": 3, "thickness_mm": 0.7}]}],
        "inspections": [{"inspected_on": "2026-05-01", "defects": [{"defect": defect}]}],
    }
    return forms.read(forms.TileRecord, values | more)


LOW, MID = {"cone_low": "06", "cone_high": "02"}, {"cone_low": "5", "cone_high": "7"}
WHITE = forms.BodyRecord(name="buff stoneware", cone_low="5", cone_high="7")


def _cones(answers):
    changes = [c for a in answers for w in a.causes for f in w.fixes for c in f.changes]
    return [c.after for c in changes if c.what == "cone reached"]


@pytest.mark.parametrize(
    ("body", "label", "reached", "says"),
    [
        (LOW, ("5", "6"), "05", "for cone 06 to 02: at cone 5 to 6 this clay can slump"),
        ({"kind": "earthenware"}, ("5", "6"), "05", "its bag is not on record"),
        (MID, ("06", "04"), "5", "for cone 5 to 7: at cone 06 to 04 this clay stays porous"),
    ],
    ids=["low-fire clay", "earthenware without a bag", "stoneware"],
)
def test_clay_and_glaze_without_a_common_firing_are_told_and_no_tile_of_them_planned(
    body, label, reached, says
):
    record = _tile(body, label, reached, "05")
    (answer,) = fix(record)
    assert says in answer.stop
    assert "another glaze for this clay" in answer.stop
    assert "this glaze on a clay for cone" in answer.stop
    assert answer.trials == [] and _cones([answer]) == []
    assert all(not cause.fixes for cause in answer.causes)


def test_why_never_sends_a_tile_to_a_cone_that_its_clay_does_not_stand():
    """Of such a tile only a peak may be known, and its labels tell that no cone suits both."""
    record = _tile(LOW, ("5", "6"), None, None)
    firing = forms.FiringRecord(name="F1", kind="glaze", peak_c=1030)
    (found,) = why(record.model_copy(update={"firing": firing}))
    assert "They do not belong together." in found.causes[0].fixes[0]
    assert found.causes[0].name == "cone_mix_up"
    assert "1030 °C, about cone 05" in found.causes[0].for_[0]
    below = next(each for each in found.causes if each.name == "below_its_range")
    assert below in found.causes[:3] and below.fixes == [NO_CONE_FOR_BOTH]
    advised = [text for each in found.causes for text in (*each.fixes, *each.confirm)]
    assert not [text for text in advised if "efire" in text or "full cone" in text]


def test_a_peak_near_the_label_is_no_target():
    record = _tile(LOW, ("06", "04"), None, None)
    firing = forms.FiringRecord(name="F1", kind="glaze", peak_c=1030)
    (found,) = why(record.model_copy(update={"firing": firing}))
    assert "set_over_label" not in found.case.facts


def test_a_pair_that_does_not_belong_together_is_tried_only_on_a_clay_for_the_glaze():
    record = _tile(LOW, ("5", "6"), "5", "5", defect="crazing")
    (answer,) = fix(record, bodies=[WHITE])
    assert [each.tile["body"]["name"] for each in answer.trials] == ["buff stoneware"]


@pytest.mark.parametrize("reached", ["08", "05", "02", "1", "5", "8"])
@pytest.mark.parametrize("label", [("06", "04"), ("04", "3"), ("01", "6"), ("5", "6"), (None,) * 2])
@pytest.mark.parametrize("body", [LOW, MID, {"kind": "earthenware"}, {"cone_low": "04"}])
def test_no_cone_advised_is_hotter_than_the_bag_or_more_than_two_below_it(body, label, reached):
    high = step(body.get("cone_high") or body.get("cone_low") or "02")
    low = step(body["cone_low"]) - 2 if "cone_low" in body else 0
    for defect in ("underfired", "running", "colour shift"):
        for target in ("05", "5"):
            for cone in _cones(fix(_tile(body, label, reached, target, defect))):
                assert low <= step(cone) <= max(high, step("1") if "kind" in body else 0)


def test_low_fire_ware_bisqued_to_04_and_glazed_at_06_is_a_usual_pair():
    assert suits(_body("04", "04"), _glaze("06", "06"))
    assert not suits(_body("5", "7"), _glaze("06", "04"))
    assert not suits(_body("06", "02"), _glaze("01", "3"))


def test_the_cone_lies_where_label_and_bag_overlap():
    assert within_both(_body("06", "02"), _glaze("05", "6"), "5") == "02"
    assert within_both(_body("5", "7"), _glaze("04", "6"), "04") == "3"
    assert within_both(_body(), _glaze(), "6") == "6"
    assert within_both(_body(), _glaze("06", "04"), "6") == "04"


def test_a_hotter_firing_tells_what_the_clay_stands_or_asks_for_its_bag():
    known = fix(_tile({"cone_low": "4", "cone_high": "7"}, ("5", "6"), "2", "5"))
    told = [s for a in known for w in a.causes for f in w.fixes for s in f.spoils]
    assert any("school clay is for cone 4 to 7" in each for each in told)
    unknown = fix(_tile({}, ("5", "6"), "2", "5"))
    told = [s for a in unknown for w in a.causes for f in w.fixes for s in f.spoils]
    assert any("read its bag first" in each for each in told)


def test_no_trial_repeats_a_firing_above_bag_or_label():
    record = _tile(LOW, ("06", "04"), "5", "05", defect="running")
    assert "No hotter than cone 02" in ceiling(View(record, record.areas[0], "running"))
    (answer,) = fix(record)
    assert answer.trials
    for trial in answer.trials:
        assert "No hotter than cone 0" in trial.tile["note"]
    assert "cone reached 5 -> 05" in [trial.change for trial in answer.trials]
    assert not any(trial.is_control for trial in answer.trials), "it would be the same tile"


def test_a_control_that_goes_less_hot_stays_where_no_trial_is_only_that():
    (answer,) = fix(_tile(LOW, ("06", "04"), "03", "05", defect="crawling"))
    assert len(answer.trials) > 1
    assert "No hotter than cone 04" in answer.trials[0].change


@pytest.mark.parametrize(("reached", "like"), [("03", "on the control"), ("05", "on this tile")])
def test_the_trials_are_made_as_a_control_that_goes_less_hot(reached, like):
    record = _tile(LOW, ("06", "04"), reached, "05", defect="crawling")
    (answer,) = fix(record)
    marked = [Marked(f"N-{n}", "crawling", each) for n, each in enumerate(answer.trials)]
    told = " ".join(fix_text._tiles(record, [answer], marked, is_planned=False))
    assert f"one change on each, all else as {like}" in told


def test_a_pair_in_its_range_is_not_stopped():
    record = _tile(LOW, ("06", "04"), "07", "05")
    assert not_together(View(record, record.areas[0], "underfired")) == ""
    assert fix(record)[0].stop == ""


def test_a_clay_of_which_nothing_is_known_is_not_sent_where_it_may_melt():
    unknown = forms.BodyRecord(name="found clay")
    for label, reached, found in ((("5", "6"), "5", False), (("06", "04"), "05", True)):
        record = _tile(LOW if found else MID, label, reached, reached, defect="crazing")
        (answer,) = fix(record, bodies=[unknown])
        on = [each.tile["body"]["name"] for each in answer.trials]
        assert (unknown.name in on) is found
    record = _tile({}, ("5", "6"), "04", "04")
    (answer,) = fix(record)
    hotter = next(each for each in answer.trials if "cone reached" in each.change)
    assert "to reach cone 5 if the bag of school clay allows that." in hotter.tile["note"]

"""``tiles fix`` on the screen: tiles for several areas, and sets without a control."""

from types import SimpleNamespace

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.fix_plan import Marked, _each_once
from tiles.cli.fix_text import NO_TILE, screen, serves_all
from tiles.records import forms


def _told(record):
    answers = fix(record)
    each_once = enumerate(_each_once(answers))
    marked = [Marked(f"N-{at}", defect, trial) for at, (defect, trial) in each_once]
    return " ".join("\n".join(screen(record, answers, marked, is_planned=False)).split())


def _two_areas(*seen, **more):
    jar = {"name": "moss", "kind": "jar", "cone_low": "06", "cone_high": "04"}
    areas = [{"number": 1, "layers": [{"glaze": jar, "coats": 4}]},
             {"number": 2, "layers": [{"glaze": jar | {"name": "sand"}, "coats": 4}]}]  # fmt: skip
    look = {
        "inspected_on": "2024-05-01",
        "defects": [{"defect": defect, "area": at, "severity": "severe"} for defect, at in seen],
    }
    return tile(1, areas=areas, inspections=[look], bisque_cone="04", **more)


def test_tiles_for_two_areas_each_say_which_one_they_are_made_as():
    told = _told(_two_areas(("crawling", 1), ("blisters", 2), cone_reached="05"))
    for area in ("(area 1: moss x4)", "(area 2: sand x4)"):
        assert f"control as T-1, nothing changed {area}" in told
        assert f"A coats 4 -> 3 {area}" in told, "one step goes by one letter"


def test_tiles_of_one_area_say_nothing_of_it():
    told = _told(_two_areas(("crawling", 1), cone_reached="05"))
    assert "nothing changed N-1 A" in told and "(area" not in told


def test_where_no_control_can_be_fired_it_is_said_with_what_to_compare():
    told = _told(_two_areas(("running", 1), cone_reached="02"))
    assert "No control: fired to cone 02 again it would be over what clay or glaze stand" in told


def test_a_tile_for_another_firing_than_its_control_says_so():
    record = _two_areas(("underfired", 1), cone_reached="06")
    record.areas[0].layers[0].glaze.cone_low = "05"
    told = _told(record)
    assert "cone reached 06 -> 05 (needs a firing of its own, to reach cone 05)" in told
    assert "all else as on this tile" in told


def test_a_step_that_serves_two_defects_leaves_no_gap_in_the_letters():
    record = _two_areas(("crawling", 1), ("pinholes", 1), cone_reached="05")
    answers = fix(record)
    first, second = ([f for cause in a.causes for f in cause.fixes] for a in answers)
    assert "A" in [f.name for f in first] and "A" in [f.name for f in second]
    letters = list(dict.fromkeys(each.name for each in (*first, *second)))
    assert len(letters) > 2 and letters == list("ABCDEFG"[: len(letters)])
    told = _told(record)
    assert all(f" {letter} " in told for letter in letters)


def _from_jar(name, kind="jar", **batch):
    glaze = {"name": "honey", "kind": kind, "finish": "gloss"}
    layer = {"glaze": glaze, "coats": 2, "batch": {"name": name, **batch}}
    areas = [{"number": 1, "layers": [layer]}]
    return tile(1, areas=areas, defects=["crawling"], bisque_cone="04")


@pytest.mark.parametrize(("kind", "new"), [("jar", "new"), ("recipe", "newly mixed")])
def test_a_jar_that_dried_out_is_tried_by_a_tile_from_a_fresh_one(kind, new):
    (answer,) = fix(_from_jar("old honey", kind, is_revived=True))
    first = answer.causes[0]
    change = f"jar old honey -> a {new} one that never dried out"
    assert (first.cause, first.fixes[0].changes[0].said) == ("revived_jar", change)
    assert any("gum" in each for each in first.advice), "the old jar is to be mended all the same"
    (planned,) = [each for each in answer.trials if each.change == change]
    assert "batch" not in planned.tile["areas"][0]["layers"][0]
    assert "old honey" not in planned.tile["note"]


def test_a_jar_on_record_is_taken_before_a_new_one_unless_it_dried_out_too():
    fresh = forms.BatchRecord(name="May jar", is_revived=False)
    dry_too = forms.BatchRecord(name="June jar", is_revived=True)
    for batches, wanted in (([dry_too, fresh], "batch old honey -> May jar"), ([dry_too], "jar ")):
        (answer,) = fix(_from_jar("old honey", is_revived=True), batches={"honey": batches})
        assert answer.causes[0].fixes[0].changes[0].said.startswith(wanted)
        assert len(answer.causes[0].fixes) == 1


def test_of_a_first_cause_that_no_tile_tries_the_screen_says_how_to_make_sure():
    splashed = {"wax_near": "yes", "bare_spots_like_drops": "yes"}
    record = tile(1, coats=2, defects=["crawling"], clues=splashed)
    first = fix(record)[0].causes[0]
    assert (first.cause, first.fixes, len(first.confirm)) == ("wax_splash", [], 1)
    assert f"no tile {NO_TILE.format(first.confirm[0])}" in _told(record)


def test_a_tile_from_a_fresh_jar_that_came_out_sound_speaks_for_the_dried_out_one():
    failed = _from_jar("old honey", is_revived=True)
    (planned,) = [each for each in fix(failed)[0].trials if "dried out" in each.change]
    look = {"inspected_on": "2024-06-01", "defects": []}
    values = planned.tile | {"mark": "N-1", "inspections": [look]}
    trial = forms.read(forms.TileRecord, values)
    trial.areas[0].layers[0].batch = forms.BatchRecord(name="new honey")
    (before,), (after,) = (why(failed, None, others) for others in ([], [trial]))
    assert after.causes[0].share > before.causes[0].share + 0.1
    assert [each.besides for each in after.case.tried] == [()]


@pytest.mark.parametrize(
    ("causes", "is_said"),
    [
        ([(["A", "B"], []), ([], ["A", "B"])], True),
        ([(["A", "B"], []), ([], ["A"])], False),
        ([(["A", "B"], [])], False),
    ],
)
def test_of_several_causes_alone_it_is_said_that_they_call_for_the_same(causes, is_said):
    worked = [
        SimpleNamespace(fixes=[SimpleNamespace(name=name) for name in fixes], acts_too=too)
        for fixes, too in causes
    ]
    assert serves_all(worked) is is_said

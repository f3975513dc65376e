"""``tiles fix`` on the screen: tiles for several areas, and sets without a control."""

from diagnose.fixes.of_tile import fix
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.fix_plan import Marked, _each_once
from tiles.cli.fix_text import screen


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


def test_a_step_that_serves_two_defects_leaves_no_gap_in_the_letters():
    record = _two_areas(("crawling", 1), ("pinholes", 1), cone_reached="05")
    answers = fix(record)
    first, second = ([f for cause in a.causes for f in cause.fixes] for a in answers)
    assert "A" in [f.name for f in first] and "A" in [f.name for f in second]
    letters = list(dict.fromkeys(each.name for each in (*first, *second)))
    assert len(letters) > 2 and letters == list("ABCDEFG"[: len(letters)])
    told = _told(record)
    assert all(f" {letter} " in told for letter in letters)

"""Which version of a recipe a tile is of: planned, changed and imported."""

import json

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown

MIX = ("--line", "soda feldspar=50", "--line", "silica=30")


@pytest.fixture
def two_versions(sample, tiles):
    """Version 1 is the right one; version 2, without whiting, is how it was mixed once."""
    for more in (("--line", "whiting=20"), ()):
        assert tiles("recipe", "add", "temmoku", *MIX, *more).code == 0
    return sample


def _versions(tiles, mark):
    areas = shown(tiles, mark)["areas"]
    recipes = [area["layers"][-1]["recipe"] for area in areas]
    return [recipe and recipe["version"] for recipe in recipes]


def test_a_plan_and_a_tile_on_record_take_an_earlier_version(two_versions, tiles):
    plan = ("plan", "--body", "buff stoneware", "--glaze", "temmoku", "--coats", "1,2", "--yes")
    assert tiles(*plan, "--first-mark", "V-1").code == 0
    assert tiles(*plan, "--first-mark", "V-2", "--recipe-version", "1").code == 0
    assert (_versions(tiles, "V-1"), _versions(tiles, "V-2")) == ([2, 2], [1, 1])
    assert tiles("change", "V-1", "--recipe-version", "1").code == 0
    assert _versions(tiles, "V-1") == [1, 1]
    assert tiles("change", "V-1", "--recipe-version", "").code == 0
    assert _versions(tiles, "V-1") == [None, None]
    again = tiles("recipe", "add", "temmoku", *MIX, "--line", "whiting=20")
    assert_one_line_error(again, "--recipe-version 1 with log, plan and change")


def test_an_earlier_version_is_the_default_again_once_the_later_one_is_off(two_versions, tiles):
    assert "remove" not in tiles("recipe", "add", "temmoku", *MIX).err
    again = tiles("recipe", "add", "temmoku", *MIX, "--line", "whiting=20")
    assert_one_line_error(again, "'tiles recipe remove temmoku' if version 2 was never on a tile")
    assert tiles("recipe", "remove", "temmoku", "--yes").code == 0
    plan = ("plan", "--body", "buff stoneware", "--glaze", "temmoku", "--yes")
    assert tiles(*plan, "--first-mark", "V-1").code == 0
    assert _versions(tiles, "V-1") == [1]


def test_a_version_that_cannot_be_meant_is_refused_and_nothing_stored(two_versions, tiles):
    plan = ("plan", "--body", "buff stoneware", "--glaze", "temmoku", "--first-mark", "V-1")
    assert tiles(*plan, "--yes").code == 0
    before = all_rows(two_versions)
    bad = {"7": "has no version 7", "x": "'x' is not a whole number", "1,2": "'1,2' is not"}
    for version, told in bad.items():
        assert_one_line_error(tiles("change", "V-1", "--recipe-version", version), told)
    jar = ("change", "V-1", "--glaze", "pond green", "--recipe-version", "1", "--yes")
    assert_one_line_error(tiles(*jar), "'pond green' is a jar")
    several = tiles(*plan, "--glaze", "pond green", "--recipe-version", "1", "--yes")
    assert_one_line_error(several, "beside several glazes")
    assert all_rows(two_versions) == before


def test_an_import_that_gives_a_version_other_lines_is_refused(two_versions, tiles, write_json):
    plan = ("plan", "--body", "buff stoneware", "--glaze", "temmoku", "--first-mark", "V-1")
    assert tiles(*plan, "--recipe-version", "1", "--yes").code == 0
    right = shown(tiles, "V-1")
    before = all_rows(two_versions)
    for parts in (50, 51):  # the lines of version 1, and of none
        wrong = json.loads(json.dumps(right))
        recipe = wrong["areas"][0]["layers"][0]["recipe"]
        recipe["version"], recipe["lines"][0]["parts"] = 2, parts
        ran = tiles("import", write_json(wrong), "--replace")
        assert_one_line_error(ran, "version 2 of 'temmoku' comes with other lines")
        assert all_rows(two_versions) == before
    recipe["version"], recipe["lines"][0]["parts"] = 2, 50
    assert tiles("import", write_json(wrong), "--replace", "--keep-stored").code == 0
    assert _versions(tiles, "V-1") == [1]


def test_versions_that_one_file_brings_in_any_order_are_told_apart_by_their_lines(
    two_versions, tiles, write_json, tmp_path
):
    plan = ("plan", "--body", "buff stoneware", "--glaze", "temmoku", "--yes", "--first-mark")
    for version, mark in (("2", "V-1"), ("1", "V-2")):
        assert tiles(*plan, mark, "--recipe-version", version).code == 0
    file = write_json([shown(tiles, mark) for mark in ("V-1", "V-2")])
    other = ("--db", str(tmp_path / "other.db"))
    ran = tiles("import", file, *other)
    assert ran.code == 0, ran.err
    lines = [
        len(shown(tiles, mark, *other)["areas"][0]["layers"][0]["recipe"]["lines"])
        for mark in ("V-1", "V-2")
    ]
    assert lines == [2, 3]


def test_a_tile_of_an_earlier_version_says_so_on_its_card(two_versions, tiles):
    plan = ("plan", "--body", "buff stoneware", "--glaze", "temmoku", "--yes", "--first-mark")
    for version, mark in (("2", "V-2"), ("1", "V-1")):
        assert tiles(*plan, mark, "--recipe-version", version).code == 0
    told = "temmoku: version 1 of its recipe (the newest is 2)"
    assert told in tiles("show", "V-1").out
    assert "of its recipe" not in tiles("show", "V-2").out
    assert tiles("change", "V-1", "--recipe-version", "").code == 0
    assert "of its recipe" not in tiles("show", "V-1").out, "then it is not recorded"


def test_a_version_that_is_not_on_record_is_told_where_its_lines_are_those_of_another(
    two_versions, tiles, write, write_json
):
    lines = "soda feldspar=50; silica=30"
    rows = [f"{mark},buff stoneware,temmoku,{lines},7" for mark in ("V-1", "V-2")]
    ran = tiles("import", write("mark,body,glaze,recipe,recipe_version", *rows))
    told = (
        "V-1, V-2: there is no version 7 of 'temmoku', and its lines are those of version 2, so it "
        "is on record as that."
    )
    assert (ran.code, ran.err.count("version 7"), told in ran.err) == (0, 1, True)
    assert _versions(tiles, "V-1") == [2]
    record = shown(tiles, "V-1")
    assert "version" not in tiles("import", write_json(record), "--replace").err
    record["areas"][0]["layers"][0]["recipe"]["version"] = 7
    assert "no version 7" in tiles("import", write_json(record), "--replace").err


@pytest.fixture
def pinholed(fresh, tiles):
    """Two versions of temmoku; the jar pond has pinholes on buff, whatever it lies on."""
    assert tiles("body", "add", "buff").code == 0
    assert tiles("glaze", "add", "pond").code == 0
    for more in (("--line", "whiting=20", "--cones", "4-6"), ()):
        assert tiles("recipe", "add", "temmoku", *MIX, *more).code == 0
    assert tiles(*LOG, "--mark", "C-2", "--glaze", "pond", "--defect", "pinholes").code == 0
    return fresh


LOG = ("log", "--body", "buff", "--coats", "2", "--cone-reached", "6", "--bisque-cone", "04",
       "--clue", "fails_on_every_body=yes", "--yes")  # fmt: skip


def test_trials_of_another_glaze_are_planned_of_its_newest_version(pinholed, tiles):
    found = json.loads(tiles("next", "C-2", "--plan", "--yes", "--json").out)
    swaps = [each["mark"] for each in found["tiles"] if each["change"] == "glaze pond -> temmoku"]
    assert swaps, "no swap to the recipe is proposed, so nothing is shown"
    for mark in swaps:
        assert _versions(tiles, mark) == [2]


def test_tiles_that_ask_a_body_are_planned_of_the_newest_version(pinholed, tiles):
    ran = tiles("next", "--body", "buff", "--plan", "--yes", "--json")
    (asked,) = json.loads(ran.out)["tiles"]
    assert asked["glaze"] == "temmoku"
    assert _versions(tiles, asked["mark"]) == [2]


@pytest.fixture
def crawled(pinholed, tiles):
    """C-1, an earlier version of temmoku, crawled."""
    made = ("--glaze", "temmoku", "--recipe-version", "1")
    assert tiles(*LOG, "--mark", "C-1", *made, "--defect", "crawling").code == 0
    return pinholed


def test_trials_of_the_same_glaze_are_planned_of_the_version_that_failed(crawled, tiles):
    found = json.loads(tiles("next", "C-1", "--plan", "--yes", "--json").out)
    same = [found["control"]["mark"]]
    same += [each["mark"] for each in found["tiles"] if not each["change"].startswith("glaze ")]
    assert len(same) > 1
    for mark in same:
        assert _versions(tiles, mark) == [1]
    assert tiles("change", "C-1", "--recipe-version", "").code == 0
    assert tiles("remove", *same, "--yes").code == 0
    found = json.loads(tiles("next", "C-1", "--plan", "--yes", "--json").out)
    assert _versions(tiles, found["control"]["mark"]) == [None], "which it was is not recorded"


def test_the_commands_that_plan_a_trial_name_the_version(crawled, tiles):
    (control, *_) = tiles("fix", "C-1", "--commands").out.splitlines()
    assert "--recipe-version 1" in control
    assert "--recipe-version" not in tiles("fix", "C-2", "--commands").out, "a jar has none"

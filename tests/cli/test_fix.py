"""``tiles fix``: the screen, JSON, commands to type, and planning the tiles."""

import json
import os
import re
import shlex
import sqlite3
from contextlib import closing

import pytest

from tests.cli.records import all_rows, assert_one_line_error, counts, shown
from tiles.cli import next_stock, plan
from tiles.cli.fix import _stock
from tiles.records import database

THICK_JAR, CRAZED_RECIPE = "M-41", "M-49"
MID_RANGE_JAR = {"name": "river", "kind": "jar", "cone_low": "5", "cone_high": "6"}


_FIXES: dict[tuple, object] = {}


@pytest.fixture
def fix(sample, tiles):
    """``tiles fix`` on the sample as it was built, worked out once for each way of asking."""

    def ran(*how):
        asked = (os.environ.get("COLUMNS"), *how)
        if asked not in _FIXES:
            _FIXES[asked] = tiles("fix", *how)
        return _FIXES[asked]

    return ran


@pytest.mark.parametrize("command", [("fix", THICK_JAR), ("next", THICK_JAR)])
def test_who_only_looks_waits_for_nobody_who_writes(sample, tiles, monkeypatch, command):
    monkeypatch.setattr(database, "BUSY_TIMEOUT_S", 0.05)
    with closing(sqlite3.connect(sample, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        ran = tiles(*command)
        other.execute("ROLLBACK")
    assert ran.code == 0, ran.err


def test_a_jar_is_answered_with_amounts_and_tiles(fix):
    ran = fix(THICK_JAR)
    assert ran.code == 0, ran.err
    assert "coats 3 -> 2; dry coat 1.6 -> 1.1 mm." in " ".join(ran.out.split())
    assert "TRY FIRST, for crawling and pinholes: M-199 (A), beside the control M-198." in ran.out
    assert "control  as M-41, nothing changed" in fix(THICK_JAR, "--all").out
    assert "tiles fix M-41 --plan" in ran.out
    assert "parts per 100" not in ran.out


def test_a_recipe_is_answered_with_parts_before_and_after_and_their_error(fix):
    ran = fix(CRAZED_RECIPE, "--defect", "crazing", "--all")
    assert ran.code == 0, ran.err
    assert "(parts per 100 of the base)" in " ".join(ran.out.split())
    assert "90 % range" in ran.out
    assert "melt at cone 05" in ran.out
    assert "May spoil:" in ran.out


def test_one_line_says_that_no_calculation_shows_food_safety(fix):
    for asked in ((THICK_JAR,), (CRAZED_RECIPE,), (CRAZED_RECIPE, "--all")):
        assert fix(*asked).out.count("A calculation never shows that a glaze is safe") == 1


def test_each_cause_fits_one_screen(fix, monkeypatch):
    monkeypatch.setenv("COLUMNS", "96")
    for mark in ("M-148", CRAZED_RECIPE, "M-151", "M-95", THICK_JAR):
        lines = fix(mark, "--all").out.splitlines()
        assert max(map(len, lines)) <= 96
        block = 0
        for line in lines:
            block = block + 1 if line else 0
            assert block <= 40


def test_a_caution_is_told_once(fix):
    for option in ((), ("--all",)):
        out = " ".join(fix("M-148", *option).out.split())
        assert out.count("Crazed ware soaks up food and water") == 1
        assert out.count("Breathing fine silica dust") == 1


def test_a_step_that_two_faults_call_for_is_told_once_by_the_letter_of_its_tile(fix):
    """M-41 crawled and has pinholes: a thinner coat is for both, on one tile."""
    answers = json.loads(fix(THICK_JAR, "--json").out)["fixes"]
    first, second = (each["causes"][0]["fixes"][0] for each in answers)
    assert first["changes"] == second["changes"] and first["name"] == second["name"] == "A"
    told = " ".join(fix(THICK_JAR, "--all").out.split())
    assert told.count("Thinner coat: ") == told.count("May spoil: Too thin") == 1
    assert "also A above, for this cause too." in told
    new = [fix["name"] for cause in answers[1]["causes"][1:] for fix in cause["fixes"]]
    assert new == ["B", "C"] and all(f" {letter} " in told for letter in new)
    assert told.count("One cause would explain") == 1
    assert " ".join(fix(THICK_JAR).out.split()).count("coats 3 -> 2") == 1


def test_the_short_screen_names_each_tile_and_each_caution_and_fits_a_terminal(fix, monkeypatch):
    """M-164 is a recipe with five fixes; what each tile weighs is told of the first alone."""
    monkeypatch.setenv("COLUMNS", "80")
    for mark in ("M-164", "M-95", CRAZED_RECIPE, THICK_JAR):
        lines = fix(mark).out.splitlines()
        told, answer = " ".join(" ".join(lines).split()), json.loads(fix(mark, "--json").out)
        assert len(lines) <= 32 and max(map(len, lines)) <= 80
        for each in answer["tiles_to_fire"]:
            assert each["mark"] in told
        causes = [cause for each in answer["fixes"] for cause in each["causes"]]
        of_glaze = [text for each in answer["fixes"] for text in each["handling"]]
        for text in (*(text for cause in causes for text in cause["cautions"]), *of_glaze):
            assert told.count(text) == 1
        fixes = {each["name"]: each for cause in causes for each in cause["fixes"]}
        left = re.search(r"what ([A-F, and]+) may spoil: --all", told)
        for name, each in fixes.items():
            is_told = bool(each["spoils"]) and " ".join(each["spoils"]) in told
            is_left = bool(left) and name in left[1].replace(",", "").split()
            assert (is_told or is_left) == bool(each["spoils"] and each["trials"])
        generic = {name for each in fixes.values() if each["trials"] for name in each["generic"]}
        assert ("yours may differ" in told) == bool(generic)
        assert told.endswith(f"tiles fix {mark} --all Put them on record: tiles fix {mark} --plan")
    assert len(fix(THICK_JAR).out.splitlines()) <= 24


def test_looking_stores_nothing(tiles, sample):
    before = all_rows(sample)
    for option in ((), ("--json",), ("--commands",)):
        assert tiles("fix", CRAZED_RECIPE, *option).code == 0
    assert all_rows(sample) == before


def test_json_carries_causes_numbers_and_tiles(fix):
    told = json.loads(fix(CRAZED_RECIPE, "--json").out)
    assert set(told) == {"mark", "fixes", "tiles_to_fire", "reminder"}
    (answer,) = [each for each in told["fixes"] if each["defect"] == "crazing"]
    own, first = answer["causes"][0]["fixes"][:2]
    assert own["changes"][0]["before"] == 1 and own["changes"][0]["after"] == 2
    assert {"before", "after", "low", "high", "unit", "quantity"} == set(first["predictions"][0])
    assert [point["name"] for point in first["blend"]] == ["0", "1/3", "2/3", "1"]
    assert told["tiles_to_fire"][0]["trial"] == "control"


def test_plan_puts_every_tile_on_record_as_planned_with_its_recipe(tiles, sample):
    told = json.loads(tiles("fix", CRAZED_RECIPE, "--json", "--first-mark", "X-1").out)
    before = counts(sample)
    ran = tiles("fix", CRAZED_RECIPE, "--plan", "--first-mark", "X-1", "--yes")
    assert ran.code == 0, ran.err
    assert "tiles load FIRING X-1.." in ran.out
    wanted = told["tiles_to_fire"]
    assert counts(sample)["tile"] == before["tile"] + len(wanted)
    for each in wanted:
        record = shown(tiles, each["mark"])
        assert record["derived"]["stage"] == "planned"
        layer, planned = record["areas"][0]["layers"][-1], each["areas"][0]["layers"][-1]
        assert layer["glaze"]["name"] == planned["glaze"]["name"]
        assert layer["coats"] == planned["coats"]
        lines = {line["material"]: line["parts"] for line in layer["recipe"]["lines"]}
        assert lines == {line["material"]: line["parts"] for line in planned["recipe"]["lines"]}
    assert shown(tiles, "X-1")["areas"][0]["layers"][0]["glaze"]["name"] == "house clear"


def test_planning_adds_trial_glazes_and_leaves_the_recipe_itself_alone(tiles, sample):
    versions = tiles("recipe", "show", "house clear", "--json").out
    glazes = counts(sample)["glaze"]
    tiles("fix", CRAZED_RECIPE, "--plan", "--yes")
    assert tiles("recipe", "show", "house clear", "--json").out == versions
    assert counts(sample)["glaze"] > glazes


def test_planning_twice_names_the_trials_that_wait_and_plans_none_again(tiles, sample):
    for mark in (CRAZED_RECIPE, THICK_JAR):
        assert tiles("fix", mark, "--plan", "--yes").code == 0
        planned = json.loads(tiles("fix", mark, "--json").out)["tiles_to_fire"]
        before = all_rows(sample)
        again = tiles("fix", mark, "--plan", "--yes")
        marks = ", ".join(each["mark"] for each in planned)
        assert all(each["waits"] for each in planned)
        assert f"On record already, and not looked at yet: {marks}." in again.err
        assert "There is no further tile to plan." in again.err
        assert all_rows(sample) == before
        told = " ".join(tiles("fix", mark, "--all").out.split())
        assert told.count("(on record already)") == len(planned) and "--plan" not in told
        assert "--plan" not in tiles("fix", mark).out
        assert tiles("fix", mark, "--commands").out == ""


def test_of_trials_that_were_looked_at_none_waits(tiles, sample):
    tiles("fix", THICK_JAR, "--plan", "--first-mark", "X-1", "--yes")
    assert tiles("inspect", "X-1", "--defect", "crawling", "--cone-reached", "05").code == 0
    told = json.loads(tiles("fix", THICK_JAR, "--json").out)["tiles_to_fire"]
    assert "X-1" not in [each["mark"] for each in told]
    assert all(each["waits"] for each in told), "no control is planned alone"


def test_what_trials_told_is_told_of_their_control_and_of_the_same_glaze_on_the_same_clay(
    tiles, sample
):
    tiles("fix", THICK_JAR, "--plan", "--first-mark", "X-1", "--yes")
    for mark, look in (("X-1", ("--defect", "crawling")), ("X-2", ("--clean",))):
        assert tiles("inspect", mark, *look, "--cone-reached", "05").code == 0
        waits = json.loads(tiles("fix", "X-1", "--json").out)["tiles_to_fire"]
        assert ("X-2" in [each["mark"] for each in waits if each["waits"]]) is (mark == "X-1")
    made = ("--body", "red earthenware", "--glaze", "pond green=3", "--cone-reached", "05")
    assert tiles("log", "--mark", "K-1", *made, "--defect", "crawling", "--yes").code == 0
    for mark in (THICK_JAR, "X-1"):
        told = " ".join(tiles("fix", mark).out.split())
        assert "(X-2) came out sound: make the next" in told and "On trials" not in told
    alike = f"On trials for {THICK_JAR}, the same glaze on the same clay. Did not come: "
    for command in ("fix", "next"):
        assert alike in (said := " ".join(tiles(command, "K-1").out.split()))
    assert "coats 3 -> 2 (trial X-2: the fault did not come)" in said
    assert tiles("remove", THICK_JAR, "--yes").code == 0
    assert tiles("fix", "X-1").code == 0
    assert tiles("log", "--mark", "K-2", *made, "--defect", "crawling", "--yes").code == 0
    assert tiles("fix", "K-1", "--plan", "--yes").code == 0
    for_sister = json.loads(tiles("fix", "K-2", "--json").out)["tiles_to_fire"]
    assert for_sister and all(each["waits"] for each in for_sister), "planned for K-1, made alike"


def test_what_a_trial_has_mended_is_not_to_be_tried_first_again(tiles, sample):
    assert tiles("fix", "M-41", "--plan").code == 0
    day = ("--inspected-on", "2026-11-21")
    firing = ("FX", "--target-cone", "05", "--witness-cone", "05@middle", "--fired-on")
    assert tiles("firing", "add", *firing, "2026-11-20", "--kiln", "top loader").code == 0
    assert tiles("load", "FX", "M-198", "M-199", "--shelf", "middle").code == 0
    assert tiles("inspect", "M-198", "--defect", "crawling:moderate", *day).code == 0
    assert tiles("inspect", "M-199", "--clean", *day).code == 0
    said = " ".join(tiles("fix", "M-41").out.split())
    coat = "worked crawling: Coats 3 -> 2 (M-199) came out sound"
    assert f"{coat}: make the next ones so. One tile may be luck" in said
    assert "tried crawling" not in said
    # On the control no pinholes came either, so of these the trial told nothing.
    assert "TRY FIRST, for pinholes: M-203 (A), beside the control M-202." in said
    assert tiles("fix", "M-41", "--defect", "crawling").out.count("TRY FIRST") == 0


def test_the_tile_fired_right_is_the_control_of_one_fired_too_hot(tiles, sample):
    made = ("--body", "red earthenware", "--glaze", "pond green=2", "--thickness-mm", "0.8")
    hot = ("--cone-reached", "01", "--defect", "blisters")
    assert tiles("log", "--mark", "H-1", *made, *hot, "--yes").code == 0
    told = json.loads(tiles("fix", "H-1", "--json").out)["tiles_to_fire"]
    assert [each["trial"] for each in told].count("control") == 0
    assert any(each["trial_change"].startswith("cone reached 01 -> ") for each in told)


def test_a_jars_planned_tiles_differ_from_the_control_in_the_one_change(tiles, sample):
    tiles("fix", THICK_JAR, "--plan", "--first-mark", "X-1", "--yes")
    control, trial = shown(tiles, "X-1"), shown(tiles, "X-2")
    assert control["areas"][0]["layers"][0]["coats"] == 3
    assert trial["areas"][0]["layers"][0]["coats"] == 2
    trial["areas"][0]["layers"][0]["coats"] = 3
    for key in ("body", "areas", "bisque_cone", "form", "stood"):
        assert trial[key] == control[key]
    assert (trial["trial_of"], trial["trial_defect"]) == ("M-41", "crawling")
    assert control["trial_change"] == "as it was"
    assert trial["trial_change"].startswith("coats 3 -> 2; ")


def test_the_commands_do_what_they_say(tiles, sample):
    ran = tiles("fix", CRAZED_RECIPE, "--commands", "--first-mark", "X-1")
    lines = [shlex.split(line) for line in ran.out.splitlines()]
    assert lines and all(words[0] == "tiles" for words in lines)
    for words in lines:
        done = tiles(*words[1:])
        assert done.code == 0, (words, done.err)
    planned = shown(tiles, "X-4")
    assert planned["areas"][0]["layers"][0]["glaze"]["name"].endswith("B 2/3")
    assert (planned["trial_of"], planned["trial_change"]) == (CRAZED_RECIPE, "2/3 of the way to B")
    assert shown(tiles, "X-2")["areas"][0]["layers"][0]["recipe"]["version"] == 2


def test_a_tile_that_serves_two_defects_is_listed_once(tiles, sample):
    told = json.loads(tiles("fix", THICK_JAR, "--json").out)
    coats = [each["areas"][0]["layers"][0]["coats"] for each in told["tiles_to_fire"]]
    assert len(told["fixes"]) == 2
    assert coats.count(2) == 1
    assert [each["trial"] for each in told["tiles_to_fire"]].count("control") == 1


def test_a_limit_of_the_body_can_be_given(tiles, sample):
    ran = tiles(
        "fix", CRAZED_RECIPE, "--defect", "crazing", "--body-limit-ppm-per-k", "7.4", "--all"
    )
    assert "You put the limit on red earthenware at 7.4" in " ".join(ran.out.split())


def test_a_limit_that_cannot_be_right_is_one_error(tiles, sample):
    ran = tiles("fix", CRAZED_RECIPE, "--body-limit-ppm-per-k", "0.0000066")
    assert_one_line_error(ran, "cannot be right", "6.1")


def test_an_unknown_mark_a_defect_not_seen_and_a_clean_tile_are_one_error_each(tiles, sample):
    assert_one_line_error(tiles("fix", "M-9999"), "M-9999")
    assert_one_line_error(tiles("fix", THICK_JAR, "--defect", "crazing"), "crazing")
    clean = json.loads(tiles("find", "--clean", "--json", "--limit", "1").out)[0]["mark"]
    assert_one_line_error(tiles("fix", clean), clean)


def test_a_clay_that_cannot_stand_the_glaze_gets_no_planned_tile(tiles, tmp_path):
    record = {
        "mark": "Q-1",
        "body": {"name": "red clay", "kind": "earthenware", "cone_low": "06", "cone_high": "02"},
        "firing": {"name": "F", "target_cone": "05"},
        "cone_reached": "05",
        "areas": [{"number": 1, "layers": [{"glaze": MID_RANGE_JAR, "coats": 3}]}],
        "inspections": [
            {"inspected_on": "2026-05-01", "defects": [{"defect": "underfired"}]},
        ],
    }
    path = tmp_path / "tile.json"
    path.write_text(json.dumps(record))
    assert tiles("import", str(path), "--yes").code == 0
    ran = tiles("fix", "Q-1", "--plan", "--yes")
    assert ran.code == 0, ran.err
    assert "They do not belong together" in " ".join(ran.out.split())
    assert "no tile to plan" in ran.err
    assert len(json.loads(tiles("find", "--json").out)) == 1


def test_tiles_for_a_fault_that_comes_late_are_to_be_looked_at_again(tiles, sample):
    late = "Sound at unloading proves little, crazing can come later: look again"
    of_fix, of_next = (
        " ".join(tiles(command, CRAZED_RECIPE, "--defect", "crazing").out.split()).partition(late)
        for command in ("fix", "next")
    )
    assert of_fix[2].split()[:5] == of_next[2].split()[:5] == "90 days after the firing,".split()
    assert "proves little" not in tiles("fix", THICK_JAR).out


def test_no_body_or_glaze_that_none_can_name_is_proposed(sample):
    with sqlite3.connect(sample) as file:
        for table in ("clay_body", "glaze"):
            first = f"(select min(rowid) from {table})"
            file.execute(f"update {table} set name = '?' where rowid = {first}")
    file.close()
    stock, owned = _stock(str(sample)), next_stock.owned(str(sample))
    for found in (stock["bodies"], stock["glazes"], owned.bodies, owned.glazes):
        names = [each.name for each in found]
        assert names and "?" not in names


def test_a_trial_that_is_broken_is_planned_once_more(sample, tiles):
    def planned():
        ran = tiles("fix", THICK_JAR, "--plan", "--yes", "--all")
        return re.findall(r"^  (M-\d+) ", ran.out, re.M)

    first = planned()
    assert planned() == first
    assert tiles("change", first[-1], "--note", "broken").code == 0
    assert planned() == [*first[:-1], "M-202"]


@pytest.mark.parametrize("command", [("next", "M-60"), ("fix", THICK_JAR)])
def test_trials_that_another_person_plans_meanwhile_are_not_stored_twice(
    sample, tiles, monkeypatch, command
):
    """The two take other marks: the second is handed its own once the first is through."""
    real, planned = plan.free_marks, []

    def free_marks(*how):
        if not planned:
            planned.append(None)
            planned.append(tiles(*command, "--plan", "--yes"))
        return real(*how)

    monkeypatch.setattr(plan, "free_marks", free_marks)
    ran = tiles(*command, "--plan", "--yes")
    assert planned[1].code == 0, planned[1].err
    told = "just planned by somebody else", "nothing more was stored. Try: the same command again"
    assert_one_line_error(ran, *told)
    with sqlite3.connect(sample) as stored:
        asked = "SELECT trial_of, trial_defect, trial_change FROM tile WHERE trial_of > ''"
        trials = stored.execute(asked).fetchall()
    assert len(trials) == len(set(trials))


def test_a_name_that_is_on_record_with_another_recipe_is_given_to_no_trial(sample, tiles):
    def names():
        ran = tiles("fix", CRAZED_RECIPE, "--defect", "crazing", "--json")
        layers = (each["areas"][0]["layers"][0] for each in json.loads(ran.out)["tiles_to_fire"])
        return [each["glaze"]["name"] for each in layers if each.get("recipe", {}).get("lines")]

    taken = next(name for name in names() if f" {CRAZED_RECIPE} " in name)
    added = tiles("recipe", "add", taken, "--line", "silica=40", "--line", "whiting=60", "--yes")
    assert added.code == 0, added.err
    assert any(f" {CRAZED_RECIPE} " in name for name in names())
    assert taken not in names()

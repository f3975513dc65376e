"""``tiles next``: the tiles, what each outcome would mean, and planning them."""

import json
import shlex

import pytest

from diagnose.next_tiles.glazes import NextGlaze
from diagnose.next_tiles.odds import Like
from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.cli.next_body import _so_far as so_far
from tiles.cli.next_text import like_told as told_of
from tiles.cli.next_text import meaning


def asked(tiles, *options):
    ran = tiles("next", *options, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_screen_has_control_changes_and_both_outcomes(sample, tiles):
    for option, again, sound in (
        ((), " Again (", "Sound: "),
        (("--all",), "has pinholes again (", "comes out sound: "),
    ):
        told = " ".join(tiles("next", "M-60", *option).out.split())
        assert "as M-60, nothing changed (the control)" in told
        assert told.count(again) == told.count(sound) >= 3
        assert "Put them on record: tiles next M-60 --plan" in told
    refused = tiles("next", "--body", "porcelain", "--all")
    assert_one_line_error(refused, "--all is for one tile or the whole studio")


def test_a_set_of_tiles_fits_one_screen_with_its_causes_by_letters(sample, tiles, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    for mark in ("M-41", "M-60"):
        lines, found = tiles("next", mark).out.splitlines(), asked(tiles, mark)
        assert len(lines) <= 24 and max(map(len, lines)) <= 80
        told = " ".join(" ".join(lines).split())
        assert len(found["tiles"]) >= 3
        assert f"{found['control']['mark']} as {mark}, nothing changed (the control): " in told
        for each in found["tiles"]:
            change = each["change"].partition(" (before")[0]
            assert f"{each['mark']} {change}" in told
        assert f"(a) {found['causes'][0]['title']}" in told
        assert f"tiles next {mark} --all" in told and f"tiles next {mark} --plan" in told


@pytest.mark.parametrize(
    ("like", "told"),
    [(Like(), ""), (Like(1, 3), "; 1 of your 3 tiles like it did"),
     (Like(0, 5, "pond on red clay"), "; none of your 5 tiles of pond on red clay did"),
     (Like(0, 1, "pond"), "; your one tile of pond did not")],
)  # fmt: skip
def test_own_tiles_are_told_beside_the_chance_they_moved(like, told):
    assert told_of(like) == told


def test_where_another_cause_rises_it_is_not_said_that_little_changes():
    now = [("thick", 0.25), ("dust", 0.14), ("grease", 0.1)]
    assert meaning(now, now) == "little changes (thick, 25%)"
    then = [("thick", 0.22), ("dust", 0.21), ("grease", 0.1)]
    assert meaning(then, now) == "thick, 22%; dust rises to 21%"


def test_an_outcome_that_changes_nothing_is_told_once_for_both(sample, tiles):
    for option, again, sound in (
        ((), "Again (", "sound"),
        (("--all",), "crawls again (", "comes out sound"),
    ):
        told = " ".join(tiles("next", "M-41", *option).out.split())
        thinner = told.partition("coats 3 -> 2")[2].partition("M-200")[0]
        assert again in thinner
        assert thinner.endswith(f") or {sound}: little changes either way. ")


def test_what_changes_little_is_not_first_where_it_needs_a_firing_of_its_own(sample, tiles):
    found = asked(tiles, "M-106", "--defect", "running")
    assert [bool(each["own_firing"]) for each in found["tiles"]] == [False, False, True]
    assert found["tiles"][-1]["twins"], "a sound twin alone does not light a kiln"


def test_json_shape(sample, tiles):
    found = asked(tiles, "M-60")
    assert 3 <= len(found["tiles"]) <= 5
    assert len({each["mark"] for each in found["tiles"]}) == len(found["tiles"])
    for each in found["tiles"]:
        assert set(each) == {"mark", "change", "bits", "limit_bits", "chance_again", "chance_known",
                             "if_again", "if_sound", "own_firing", "tile", "like_failed",
                             "like_early", "like_tiles", "sound_areas", "twins", "holds",
                             "other_fault"}  # fmt: skip
        assert abs(sum(cause["share"] for cause in each["if_sound"]) - 1) < 0.02
    assert found["told_bits"] <= found["open_bits"]


def test_plan_puts_the_tiles_on_record_as_planned(sample, tiles):
    found = asked(tiles, "M-60", "--plan", "--yes", "--first-mark", "N-1")
    marks = [each["mark"] for each in found["tiles"]]
    assert found["control"]["mark"] == "N-1"
    for mark in ("N-1", *marks):
        assert shown(tiles, mark)["derived"]["stage"] == "planned"
    bisque = next(each for each in found["tiles"] if each["change"].startswith("bisque cone"))
    assert shown(tiles, bisque["mark"])["bisque_cone"] == "04"


def test_trials_get_the_next_marks_of_the_series_of_their_tile(sample, tiles):
    made = ("--body", "red earthenware", "--glaze", "pond green=3", "--cone-reached", "05")
    for mark, seen in (("A-09", ("--defect", "crawling")), ("B-30", ("--clean",))):
        assert tiles("log", "--mark", mark, *made, *seen).code == 0
    for command in (("next", "a-09"), ("fix", "A-09")):
        told = tiles(*command, "--commands").err
        assert told.startswith("A-10: ") and "B-31" not in told
    trial = ("--trial-of", "A-09", "--trial-defect", "crawling", "--trial-change", "a thin coat")
    plan = ("plan", *made[:2], "--glaze", "pond green")
    assert json.loads(tiles(*plan, *trial, "--json", "--yes").out)[0]["mark"] == "A-10"
    assert json.loads(tiles(*plan, "--first-mark", "B-31", "--json").out)[0]["mark"] == "B-31"
    assert asked(tiles, "A-09", "--plan", "--yes")["control"]["mark"] == "A-11"


def test_more_tiles_are_not_planned_beside_a_set_that_waits_without_a_question(sample, tiles):
    planned = asked(tiles, "M-60", "--plan", "--yes", "--first-mark", "N-1")
    before = all_rows(sample)
    ran = tiles("next", "M-60", "--plan")
    assert_one_line_error(ran, "are planned for M-60 and not looked at yet", "--yes")
    assert "N-1, " in ran.err and all_rows(sample) == before
    assert tiles("next", "M-60").code == 0
    more = asked(tiles, "M-60", "--plan", "--yes")
    assert more["control"] is None and set(planned) == set(more)


def test_without_plan_nothing_is_stored(sample, tiles):
    before = all_rows(sample)
    tiles("next", "M-60")
    tiles("next", "M-60", "--commands")
    assert all_rows(sample) == before


def test_commands_plan_the_same_tiles(sample, tiles):
    ran = tiles("next", "M-60", "--commands")
    lines = ran.out.splitlines()
    plans = [line for line in lines if line.startswith("tiles plan --body ")]
    assert len(plans) == len(asked(tiles, "M-60")["tiles"]) + 1
    for each in asked(tiles, "M-60")["tiles"]:  # beside them stands what a plan cannot hold
        assert f"{each['mark']}: {each['change']}" in ran.err
    how = [line for line in lines if line not in plans]  # of which a plan takes no option
    assert how and all(line.startswith("tiles change ") for line in how)
    proposed = asked(tiles, "M-60")["tiles"]
    for line in lines:
        assert tiles(*shlex.split(line)[1:]).code == 0
    for each in proposed:
        stored = shown(tiles, each["mark"])
        assert stored["trial_change"] == each["change"]
        assert stored["derived"]["stage"] == "planned"
        assert stored["areas"][0]["layers"][-1]["method"] == "brush", "as M-60 was glazed"


def test_commands_keep_the_bucket_the_stand_and_what_is_done_by_hand(sample, tiles):
    """M-129 stood upright, glazed from a revived jar."""
    told = asked(tiles, "M-129")
    wanted = [told["control"], *(each["tile"] for each in told["tiles"])]
    assert wanted[0]["areas"][0]["layers"][0]["batch"] == {"name": "plum, revived"}
    for line in tiles("next", "M-129", "--commands").out.splitlines():
        ran = tiles(*shlex.split(line)[1:])
        assert ran.code == 0, ran.err
    for each in wanted:
        stored = shown(tiles, each["mark"])
        assert (stored["stood"], stored["note"]) == (each["stood"], each["note"])
        batch = stored["areas"][0]["layers"][0]["batch"]
        planned = each["areas"][0]["layers"][0].get("batch")
        assert (batch and {"name": batch["name"]}) == planned


def test_a_settled_cause_is_said_to_be_settled(sample, tiles):
    """And the tiles are offered all the same, as a choice."""
    for said in (tiles("next", "M-41", *all_).out for all_ in ((), ("--all",))):
        told = " ".join(said.split())
        assert "Settled: nothing need be fired to tell the cause. 'tiles fix M-41'" in told
        assert "If you want to see it for yourself, fire side by side in kiln top loader" in told


def test_body_gets_the_glazes_that_tell_its_limit(sample, tiles):
    found = asked(tiles, "--body", "white earthenware")
    assert found["tiles"]
    assert all(each["low"] < each["value"] < each["high"] for each in found["tiles"])
    assert "Fire one tile of each on this body" in tiles("next", "--body", "white earthenware").out


def test_the_command_for_a_body_can_be_pasted_whatever_its_name(sample, tiles):
    assert tiles("body", "rename", "white earthenware", 'the "$5" white').code == 0
    line = tiles("next", "--body", 'the "$5" white').out.splitlines()[-1]
    words = shlex.split(line.partition(": ")[2])
    assert words == ["tiles", "next", "--body", 'the "$5" white', "--plan"]


def test_a_body_whose_glazes_were_all_fired_is_told_what_glaze_it_takes(sample, tiles):
    """28 sound tiles of all three glazes on buff stoneware: one more of them tells nothing."""
    found = asked(tiles, "--body", "buff stoneware")
    assert found["tiles"] == []
    told = " ".join(tiles("next", "--body", "buff stoneware").out.split())
    near = f"{found['near_ppm_per_k']:g} ppm/K"
    assert f"another one of known recipe, best one that works out near {near}" in told


def test_a_glaze_that_holds_a_poison_is_proposed_last_and_said_to(sample, tiles):
    def put_on(name, *lines):
        words = [word for line in lines for word in ("--line", line)]
        ran = tiles("recipe", "add", name, *words, "--yes")
        assert ran.code == 0, ran.err

    assert tiles("body", "add", "school white", "--cones", "06-03").code == 0
    for each in asked(tiles, "--body", "school white")["tiles"]:
        assert each["holds"] == []
        assert tiles("glaze", "retire", each["glaze"]).code == 0
    for each in json.loads(tiles("glaze", "list", "--json").out):
        tiles("glaze", "retire", each["name"])
    put_on("sea matt", "nepheline syenite=60", "barium carbonate=20", "kaolin=10", "silica=10")
    (only,) = asked(tiles, "--body", "school white")["tiles"]
    assert (only["glaze"], only["holds"]) == ("sea matt", ["barium"])
    told = " ".join(tiles("next", "--body", "school white").out.split())
    assert "It holds barium: proposed only because no other glaze on record would tell." in told
    assert "Better: another one of known recipe, best one that works out near" in told
    put_on("plain white", "nepheline syenite=60", "whiting=20", "kaolin=10", "silica=10")
    assert [each["glaze"] for each in asked(tiles, "--body", "school white")["tiles"]] == [
        "plain white"
    ]
    assert "barium" not in tiles("next", "--body", "school white").out


def test_refusals_are_one_line(sample, tiles):
    before = all_rows(sample)
    for command in ("next", "fix"):
        both = tiles(command, "M-60", "--plan", "--yes", "--commands")
        assert_one_line_error(both, "--plan and --commands together")
        assert "--json and --commands" in tiles(command, "M-60", "--json", "--commands").err
    assert all_rows(sample) == before
    assert_one_line_error(tiles("next", "M-1"), "clean")
    assert_one_line_error(tiles("next", "--body", "porcelain", "--defect", "pinholes"), "fit")


def test_a_trial_that_was_planned_fired_and_looked_at_moves_why_as_promised(sample, tiles):
    found = asked(tiles, "M-60", "--plan", "--yes", "--first-mark", "N-1")
    trial = max(found["tiles"], key=lambda each: each["bits"])
    first = trial["if_sound"][0]
    done = ("inspect", trial["mark"], "--clean", "--cone-reached", "05")
    assert tiles(*done).code == 0
    (told, *_) = json.loads(tiles("why", "M-60", "--json").out)["diagnoses"]
    shares = {each["title"]: each["share"] for each in told["causes"]}
    assert shares[first["title"]] == pytest.approx(first["share"], abs=0.02)
    said = f"Trial {trial['mark']}, {trial['change']}: the fault did not come."
    assert any(said in each["your_tiles"]
               for each in told["causes"])  # fmt: skip
    again = asked(tiles, "M-60")
    assert again["tried"] == [{"mark": trial["mark"], "change": trial["change"], "again": False}]
    assert trial["mark"] not in again["waiting"] and "N-1" in again["waiting"]
    text = tiles("next", "M-60").out
    assert f"Done: t{said[1:]}" in " ".join(text.split())
    assert "not looked at yet: N-1" in " ".join(text.split())
    short = trial["change"].partition(" (before")[0]
    assert f"Did not come: {short} ({trial['mark']})." in " ".join(tiles("why", "M-60").out.split())


def test_what_a_whole_set_of_trials_showed_stands_on_the_screen_of_why(sample, tiles, monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    found = asked(tiles, "M-60", "--plan", "--yes", "--first-mark", "N-1")
    marks = ["N-1", *(each["mark"] for each in found["tiles"])]
    for mark in marks:
        ran = tiles("inspect", mark, "--clean", "--cone-reached", "05", "--yes")
        assert ran.code == 0, ran.err
    told = tiles("why", "M-60").out
    assert all(f"({mark})" in told for mark in marks)
    assert len(told.splitlines()) <= 24
    assert "so it comes by chance" in tiles("next", "M-60").out.replace("\n  ", " ")


def test_a_trial_from_another_jar_is_planned_from_it(sample, tiles):
    """Two jars of a glaze on record; the tile is known to come from the bad one."""
    for jar in ("jar A", "jar B"):
        assert tiles("batch", "add", "pond green", jar).code == 0
    bisque = ("firing", "add", "B90", "--kind", "bisque", "--target-cone", "04")
    assert tiles(*bisque).code == 0
    made = ("--body", "red earthenware", "--glaze", "pond green=3", "--batch", "jar B")
    fired = ("--cone-reached", "05", "--defect", "crawling", "--bisque-firing", "B90")
    assert tiles("log", "--mark", "J-1", *made, *fired, "--yes").code == 0
    found = asked(tiles, "J-1", "--plan", "--yes")
    (jar,) = [each for each in found["tiles"] if each["change"] == "batch jar B -> jar A"]
    control = found["control"]["mark"]
    for mark, from_jar in ((jar["mark"], "jar A."), (control, "jar B, as then.")):
        planned = shown(tiles, mark)
        assert planned["note"].startswith(f"Glaze from {from_jar}")
        assert planned["derived"]["stage"] == "planned", "it is part of what is planned"
        assert planned["areas"][0]["layers"][0]["batch"]["name"] == from_jar[:5]
    assert shown(tiles, control)["bisque_cone"] == "04", "planned as its bisque was set"
    assert "Bisque as of B90 (set for cone 04)." in shown(tiles, control)["note"]
    assert tiles("firing", "add", "F90", "--target-cone", "05").code == 0
    before = all_rows(sample)
    ran = tiles("load", "F90", control, jar["mark"], "--batch", "jar B")
    assert_one_line_error(ran, f"{jar['mark']} is on record with pond green from batch 'jar A'")
    assert f"{jar['mark']} without --batch, as it was planned" in ran.err
    assert f'tiles change {jar["mark"]} --batch "jar B"' in ran.err
    ran = tiles("change", jar["mark"], "--batch", "jar B")
    assert_one_line_error(ran, "from batch 'jar B' it shows nothing of that", '--trial-of ""')
    assert all_rows(sample) == before
    assert tiles("load", "F90", control, "--batch", "jar B").code == 0
    assert tiles("load", "F90", jar["mark"]).code == 0
    assert tiles("change", jar["mark"], "--batch", "jar B", "--trial-of", "").code == 0
    assert shown(tiles, jar["mark"])["trial_change"] is None


def test_a_trial_of_a_thinner_bucket_is_not_loaded_as_from_the_old_one(sample, tiles):
    for jar, gravity in (("jar B", "1.5"), ("jar C", "1.4")):
        ran = tiles("batch", "add", "pond green", jar, "--specific-gravity", gravity)
        assert ran.code == 0
    trial = ("--trial-of", "M-60", "--trial-defect", "crawling")
    changed = ("--trial-change", "specific gravity 1.5 -> 1.4")
    plan = ("plan", "--body", "red earthenware", "--glaze", "pond green", "--first-mark", "J-7")
    assert tiles(*plan, *trial, *changed, "--yes").code == 0
    assert tiles("firing", "add", "F90", "--target-cone", "05").code == 0
    ran = tiles("load", "F90", "J-7", "--batch", "jar B")
    assert_one_line_error(ran, "specific gravity 1.5 -> 1.4", "from batch 'jar B'", "--yes")
    assert tiles("load", "F90", "J-7", "--batch", "jar C").code == 0


def test_a_tile_planned_by_hand_counts_as_a_trial_for_what_its_record_shows(sample, tiles):
    leaf = ("--under", "leaf=2")
    assert tiles("glaze", "add", "leaf", "--kind", "jar", "--role", "underglaze").code == 0
    made = ("--body", "red earthenware", "--glaze", "pond green")
    over = ("--glaze", "leaf=2", "--glaze", "pond green=3", "--cone-reached", "05")
    failed = ("--mark", "J-1", "--body", "red earthenware", *over, "--defect", "crawling", "--yes")
    assert tiles("log", *failed).code == 0
    trial = ("--trial-of", "J-1", "--trial-defect", "crawling", "--trial-change", "no leaf")
    for mark, more in (("J-2", ()), ("J-3", leaf)):
        ran = tiles("plan", *made, *more, "--coats", "3", *trial, "--first-mark", mark, "--yes")
        assert ran.code == 0, ran.err
        assert tiles("inspect", mark, "--clean", "--cone-reached", "05").code == 0
    told = " ".join(tiles("next", "J-1").out.split())
    own = '(in your words "no leaf")'
    said = f"Done: trial J-2, under the glaze leaf -> nothing {own}: the fault did not come."
    assert said in told
    assert "Done: trial J-3, no leaf: the fault did not come." in told
    assert "--trial-of" in " ".join(tiles("plan", "--help").out.split()).partition("Example")[0]


@pytest.mark.parametrize(
    ("failed", "many", "told"),
    [(0, 1, "your one tile sound"), (1, 1, "your one tile failed"), (1, 4, "1 of your 4 tiles")],
)
def test_own_tiles_of_a_glaze_on_a_body_are_told_so_far(failed, many, told):
    assert so_far(NextGlaze("pond", 6.0, 5.5, 6.5, 0.5, 0.1, failed, many)) == told


def test_tiles_of_another_version_on_a_body_are_told_apart():
    other = NextGlaze("pond", 6.0, 5.5, 6.5, 0.5, 0.1, 0, 0, (), 3, 7)
    assert so_far(other) == "3 of your 7 tiles of another version of its recipe"
    both = NextGlaze("pond", 6.0, 5.5, 6.5, 0.5, 0.1, 1, 2, (), 0, 1)
    assert so_far(both) == (
        "1 of your 2 tiles, your one tile sound of another version of its recipe"
    )


def test_a_fault_that_comes_late_is_told_when_to_look_again(sample, tiles):
    marks = {
        each["mark"] for each in json.loads(tiles("find", "--defect", "crazing", "--json").out)
    }
    mark = min(marks)
    asked = ("next", mark, "--defect", "crazing")
    short, told = (" ".join(tiles(*asked, *more).out.split()) for more in ((), ("--all",)))
    for each in (short, told):
        assert "Sound at unloading proves little, crazing can come later: look again" in each
    assert "steam a twin 1 hour in a pressure cooker" in told
    found = json.loads(tiles("next", mark, "--defect", "crazing", "--json").out)
    assert f"look again {found['look_after_days']} days after the firing" in told


@pytest.mark.parametrize(
    ("clay", "glaze", "peak", "defect", "other"),
    [("red earthenware", "pond green", "1220", "running", "cone reached about 6 -> 04"),
     ("red earthenware", "pond green", "1220", "bloating", "cone reached about 6 -> 04"),
     ("buff stoneware", "mid clear", "1030", "underfired", "cone reached about 05 -> ")],
)  # fmt: skip
def test_a_peak_alone_far_from_the_labels_is_as_good_as_a_cone(
    sample, tiles, clay, glaze, peak, defect, other
):
    """Of such a firing no cone was read or set; its clay must not go back into it."""
    assert tiles("firing", "add", "P1", "--peak-c", peak).code == 0
    log = ("log", "--mark", "Q-1", "--body", clay, "--glaze", f"{glaze}=2", "--firing", "P1")
    assert tiles(*log, "--defect", defect, "--inspected-on", "2026-03-01", "--yes").code == 0
    found = asked(tiles, "Q-1")
    assert any(each["change"].startswith(other) for each in found["tiles"])
    is_too_hot = peak == "1220"
    assert (found["control"] is None) == is_too_hot
    assert all(each["own_firing"] for each in found["tiles"]) == is_too_hot
    ran = tiles("fix", "Q-1")
    assert other in " ".join(ran.out.split()) and ", nothing changed\n" not in ran.out * is_too_hot
    assert f"Went to {peak} °C, about cone" in tiles("why", "Q-1", "--all").out

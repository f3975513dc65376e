"""``tiles next`` without a tile: a shelf for the whole studio."""

import json
import re
from types import SimpleNamespace

import pytest

from diagnose.trials.tried import Tried
from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.cli import next_studio, next_studio_text
from tiles.cli.marks import expand

MADE = ("--body", "red earthenware", "--bisque-cone", "04", "--cone-reached", "05")


def asked(tiles, *options):
    ran = tiles("next", *options, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_each_open_fault_has_its_counts_and_its_tile(sample, tiles):
    found = asked(tiles)
    of_pond = [each for each in found if (each["of"], each["defect"]) == ("pond green", "crawling")]
    glaze = ("--glaze", "pond green", "--defect", "crawling", "--json")
    of_glaze = json.loads(tiles("why", *glaze).out)
    assert sum(each["failed"] for each in of_pond) == len(json.loads(tiles("find", *glaze).out))
    assert sum(each["inspected"] for each in of_pond) == of_glaze["tiles"]
    for crawling in of_pond:  # one of them on a clay that has no firing in common with it
        assert "crawling" in json.dumps(shown(tiles, crawling["mark"])["inspections"])
    by_itself = [each["failed"] for each in found if not each["all_glazes"]]
    assert by_itself == sorted(by_itself, reverse=True)


def test_the_tiles_are_those_of_next_for_that_tile_without_a_firing_of_their_own(sample, tiles):
    for fault in asked(tiles):
        if fault["state"] != "fire":
            assert fault["tiles"] == []
            continue
        one = asked(tiles, fault["mark"], "--defect", fault["defect"])
        of_one = [each["tile"]["trial_change"] for each in one["tiles"] if not each["own_firing"]]
        control, *changes = [each["trial_change"] for each in fault["tiles"]]
        assert control == "as it was"
        assert 1 <= len(changes) <= 2
        assert changes == of_one[: len(changes)]
        assert fault["causes"][0]["share"] < 0.9


def test_a_settled_cause_is_sent_to_its_fix_and_a_single_tile_is_left(sample, tiles):
    by_state = {}
    for each in asked(tiles):
        by_state.setdefault(each["state"], []).append(each)
    assert all(each["causes"][0]["share"] >= 0.9 for each in by_state["settled"])
    assert all(each["failed"] == 1 for each in by_state["seen once"])
    told = tiles("next").out
    assert f"tiles fix {by_state['settled'][0]['mark']} " in told
    assert "Seen on one tile only, perhaps by chance:" in told


@pytest.mark.parametrize(
    ("tried", "told_bits", "share", "state"),
    [(["T-2"], 0.05, 0.8, "settled"), ([], 0.05, 0.8, "fire"), (["T-2"], 0.3, 0.8, "fire"),
     (["T-2"], 0.05, 0.4, "fire")],
)  # fmt: skip
def test_a_cause_that_trials_have_told_is_sent_to_its_fix(tried, told_bits, share, state):
    tile = SimpleNamespace(own_firing="", kind="glaze", holds=(), trial="N-1")
    found = SimpleNamespace(stop="", causes=[("dust", share)], tried=tried, tiles=[tile],
                            told_bits=told_bits, open_bits=1.0)  # fmt: skip
    assert next_studio._state(found) == state


@pytest.mark.parametrize(
    ("defect", "fired"), [("crazing", ["C", "D", "A"]), ("crawling", ["C", "A", "B"])]
)
def test_of_a_fault_of_fit_another_clay_is_among_the_first_trials(defect, fired):
    kinds = {"A": "bisque cone", "B": "glaze", "D": "body", "E": "body"}
    tiles = [
        SimpleNamespace(own_firing="", kind=kind, holds=(), trial=name)
        for name, kind in kinds.items()
    ]
    found = SimpleNamespace(defect=defect, control="C", tiles=tiles)
    assert next_studio._trials(found, 9) == fired


SOUND, FAILED = (Tried("T-2", "coats 3 -> 2", is_again) for is_again in (False, True))


@pytest.mark.parametrize(
    ("tried", "command"),
    [([], "fix"), ([FAILED], "why"), ([SOUND], "fix"), ([SOUND, SOUND], "why")],
)
def test_a_settled_fault_is_sent_to_its_fix_or_to_what_its_trials_told(tried, command):
    asked = SimpleNamespace(state="settled", found=SimpleNamespace(tried=tried), defect="running",
                            record=SimpleNamespace(mark="T-1"))  # fmt: skip
    assert next_studio_text._typed(asked) == f"tiles {command} T-1"


def test_a_tile_of_the_shelf_names_the_sound_ones_that_were_made_so():
    trial = SimpleNamespace(is_control=False)
    twin = SimpleNamespace(named=["T-8", "T-9"], said="came out clean")
    kin = "trial T-7: the fault came again"
    made = {"kind": "bisque cone", "twin": twin, "on_kin": kin, "sound_areas": (1, 2)}
    tile, record = SimpleNamespace(trial=trial, **made), SimpleNamespace(mark="T-1")
    asked = SimpleNamespace(found=SimpleNamespace(tiles=[tile]), record=record)
    told = next_studio_text._what_for(trial, asked)
    assert told == (
        f" (as T-8 and T-9, which came out clean) ({kin}) (as T-1 areas 1 and 2, without the fault)"
    )


def test_planned_trials_wait_and_are_not_planned_again(sample, tiles):
    before = asked(tiles)
    made = [tile["mark"] for each in before for tile in each["tiles"]]
    assert len(set(made)) == len(made) > 3
    ran = tiles("next", "--plan", "--yes")
    assert ran.code == 0
    assert "Put them on record" not in ran.out
    assert [shown(tiles, mark)["derived"]["stage"] for mark in made] == ["planned"] * len(made)
    after = asked(tiles)
    waiting = [mark for each in after for mark in each["waiting"]]
    assert sorted(waiting) == sorted(made)
    assert {each["state"] for each in after if each["waiting"]} == {"waiting"}
    rows = all_rows(sample)
    again = tiles("next", "--plan", "--yes")
    assert again.code == 0
    assert "There is no tile to plan." in again.err
    assert "Trials on record, to be fired or looked at:" in again.out
    assert all_rows(sample) == rows


def test_a_long_screen_is_told_in_short_and_still_has_every_tile(sample, tiles, monkeypatch):
    every = tiles("next", "--all").out
    monkeypatch.setattr(next_studio_text, "LONG", 20)
    told = tiles("next", "--limit", "12").out
    assert len(told.splitlines()) < len(every.splitlines())
    assert "What each tile changes, and why: tiles next --all\n" in told
    assert re.search(r"^Open too, left for another firing: \d+ faults? \(--all\)$", told, re.M)
    marks = [tile["mark"] for each in asked(tiles) for tile in each["tiles"]]
    assert {*marks} <= {*expand(re.findall(r"[A-Z]+-\d+(?:\.\.[A-Z]+-\d+)?", told))}


def test_one_firing_takes_no_more_than_it_has_room_for(sample, tiles):
    for at in range(6):
        layer = ("--glaze", f"{('brick red', 'mustard yellow', 'plum satin')[at % 3]}=2")
        assert tiles("log", "--mark", f"R-{at}", *MADE, *layer, "--defect", "pinholes").code == 0
    few = asked(tiles, "--limit", "4", "--cone", "05")
    assert sum(len(each["tiles"]) for each in few) <= 4
    assert "left for later" in {each["state"] for each in few}
    assert {each["cone"] for each in few} == {"05"}
    told = tiles("next", "--limit", "4", "--cone", "05").out
    assert "Open too, left for another firing:" in told
    assert told.endswith("Put them on record: tiles next --cone 05 --limit 4 --plan\n")


def test_only_one_fault_is_asked_about_of_one_tile(fresh, tiles):
    library = (("body", "add", "red earthenware", "--kind", "earthenware"),
               ("glaze", "add", "pond"), ("glaze", "add", "rain"))  # fmt: skip
    for command in library:
        assert tiles(*command).code == 0
    log = ("log", *MADE, "--glaze", "pond=3", "--inspected-on", "2026-03-01")
    seen = ("--defect", "crawling", "--defect", "pinholes")
    assert tiles(*log, "--mark", "T-1", *seen).code == 0
    states = {each["defect"]: each["state"] for each in asked(tiles)}
    assert states == {"crawling": "fire", "pinholes": "beside another fault"}
    assert "   tiles next T-1 --defect pinholes  pond: pinholes on 1 of 1 tile" in (
        tiles("next").out
    )
    assert tiles("next", "--plan", "--yes").code == 0
    again = asked(tiles)
    assert {each["state"] for each in again} == {"waiting"}
    assert again[0]["waiting"] == again[1]["waiting"] != []


def test_what_cannot_be_asked_together_is_refused(sample, tiles):
    assert_one_line_error(tiles("next", "M-41", "--body", "porcelain"), "a tile and a body")
    for one in (("M-41",), ("--body", "porcelain")):
        assert_one_line_error(tiles("next", *one, "--cone", "05"), "--cone and --limit go with")
        assert_one_line_error(tiles("next", *one, "--limit", "4"), "--cone and --limit go with")


def test_a_studio_without_an_open_fault_says_so(fresh, tiles):
    assert tiles("body", "add", "red earthenware").code == 0
    assert_one_line_error(tiles("next"), "no fault is open in this studio")
    assert_one_line_error(
        tiles("next", "--defect", "crazing", "--cone", "6"), "of crazing at cone 6"
    )


def test_no_more_faults_are_looked_into_than_take_seconds(sample, tiles, monkeypatch):
    monkeypatch.setattr(next_studio, "MOST_ASKED", 2)
    assert sum(bool(each["causes"]) for each in asked(tiles)) == 2


def test_a_fault_whose_trial_needs_its_own_firing_is_told_apart(fresh, tiles):
    for command in (("body", "add", "red earthenware", "--cones", "06-02"),
                    ("glaze", "add", "pond", "--cones", "06-04")):  # fmt: skip
        assert tiles(*command).code == 0
    made = ("--body", "red earthenware", "--glaze", "pond=3", "--cone-reached", "5", "--yes")
    assert tiles("log", "--mark", "T-1", *made, "--defect", "running:severe").code == 0
    (fault,) = asked(tiles)
    assert (fault["state"], fault["tiles"]) == ("firing of its own", [])
    assert "A trial needs a firing of its own:\n   tiles next T-1  pond" in tiles("next").out


def test_commands_that_are_told_reach_the_records_asked(sample, tiles, monkeypatch):
    monkeypatch.delenv("TILES_DB")
    told = tiles("--db", sample, "next").out
    assert told.count(f"tiles --db {sample} ") > 3
    assert "tiles next" not in told and "tiles fix" not in told


def test_where_there_is_nothing_to_plan_the_commands_say_so(sample, tiles):
    assert tiles("next", "--plan", "--yes", "--limit", "60").code == 0
    ran = tiles("next", "--commands", "--limit", "2")
    assert (ran.code, ran.out) == (0, "")
    assert "There is no tile to plan." in ran.err


@pytest.mark.parametrize("defect", ["crawling", "crazing", "bloating"])
def test_a_fault_on_a_tile_without_a_glaze_on_record_stops_nothing(fresh, tiles, defect):
    assert tiles("body", "add", "red earthenware").code == 0
    made = ("log", "--body", "red earthenware", "--cone-reached", "05", "--yes")
    assert tiles(*made, "--mark", "N-1", "--defect", defect).code == 0
    for command in (("next",), ("next", "N-1"), ("why", "N-1")):
        ran = tiles(*command)
        assert ran.code in (0, 1), ran.err
        assert "Traceback" not in ran.err


def test_what_is_clear_over_all_glazes_goes_by_all_tiles_that_failed_so(fresh, tiles, tmp_path):
    lines = ["mark,body,glaze,coats,bisque_cone,cone_reached,inspected_on,"
             "defect_pinholes,defect_crawling"]  # fmt: skip
    for number in range(20):
        cone, seen = ("08" if number < 10 else "04"), ("slight" if number < 9 else "none")
        lines.append(f"P-{number},red,g{number % 5},2,{cone},05,2026-03-02,{seen},none")
    for number in range(6):
        seen = "slight" if number < 3 else "none"
        lines.append(f"C-{number},red,moss,2,04,05,2026-03-02,none,{seen}")
    (tmp_path / "all.csv").write_text("\n".join(lines), encoding="utf-8")
    assert tiles("import", tmp_path / "all.csv", "--yes").code == 0
    found = json.loads(tiles("next", "--json").out)
    assert [(each["defect"], each["failed"]) for each in found[:2]] == [
        ("pinholes", 2), ("crawling", 3),
    ]  # fmt: skip
    counts = [each["all_glazes"] for each in found]
    assert counts[0].startswith("whatever the glaze, a bisque at cone 08") and not any(counts[1:])
    (_, first, *_) = found[0]["tiles"]
    assert first["bisque_cone"] == "04"
    # What failed by the same is told by the same tiles: none is fired for each glaze.
    rest = [each for each in found[1:] if each["defect"] == "pinholes"]
    assert {(each["state"], *each["tiles"]) for each in rest} == {("told by the same trials",)}
    told = " ".join(tiles("next").out.split())
    assert "The trials above tell of these too, whatever the glaze:" in told
    assert told.count("Whatever the glaze, a bisque at cone 08 or cooler: 9 of 10 tiles had") == 1

"""``tiles plan``: a set of tiles to make."""

import csv
import io
import json
import shlex

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, assert_one_line_error, shown

SET = (
    "--body", "red earthenware", "--body", "white earthenware",
    "--glaze", "pond green", "--glaze", "studio clear", "--coats", "1,2,3",
)  # fmt: skip


def planned(ran):
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_plan_makes_one_tile_for_each_crossing_with_its_areas(sample, tiles):
    rows = planned(tiles("plan", *SET, "--first-mark", "P-1", "--bisque-cone", "04", "--json"))
    assert [row["mark"] for row in rows] == ["P-1", "P-2", "P-3", "P-4"]
    assert [(row["body"], row["coat"]) for row in rows] == [
        ("red earthenware", ["pond green"]),
        ("red earthenware", ["studio clear"]),
        ("white earthenware", ["pond green"]),
        ("white earthenware", ["studio clear"]),
    ]
    record = shown(tiles, "P-4")
    assert [area["layers"][0]["coats"] for area in record["areas"]] == [1, 2, 3]
    assert (record["bisque_cone"], record["derived"]["stage"]) == ("04", "planned")


def test_plan_counts_on_from_the_last_mark_and_skips_those_taken(sample, tiles):
    tiles("log", "--mark", "Q-08", "--body", "porcelain")
    tiles("log", "--mark", "Q-10", "--body", "porcelain")
    tiles("log", "--mark", "Q-07", "--body", "porcelain")
    rows = planned(tiles("plan", *SET[:6], "--json"))
    assert [row["mark"] for row in rows] == ["Q-09", "Q-11"]


def test_plan_separate_makes_a_tile_for_each_number_of_coats(sample, tiles):
    rows = planned(tiles("plan", *SET, "--separate", "--first-mark", "P-1", "--json"))
    assert len(rows) == 12
    coats = [[area["layers"][-1]["coats"] for area in shown(tiles, f"P-{n}")["areas"]]
             for n in (1, 2, 3)]  # fmt: skip
    assert coats == [[1], [2], [3]]


def test_plan_dry_run_shows_the_tiles_and_stores_nothing(sample, tiles):
    before = all_rows(sample)
    rows = planned(tiles("plan", *SET, "--first-mark", "P-1", "--dry-run", "--json"))
    assert len(rows) == 4
    assert all_rows(sample) == before


def test_plan_in_csv_has_a_row_for_each_tile(sample, tiles):
    ran = tiles("plan", *SET, "--first-mark", "P-1", "--csv")
    rows = list(csv.DictReader(io.StringIO(ran.out)))
    assert [row["mark"] for row in rows] == ["P-1", "P-2", "P-3", "P-4"]


def test_plan_notes_a_glaze_and_body_that_mature_far_apart(sample, tiles):
    ran = tiles("plan", "--body", "porcelain", "--glaze", "pond green", "--first-mark", "P-1")
    assert ran.code == 0
    assert "Note: " in ran.err
    assert "mature far apart" in ran.err


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--body", "no such"], ["'no such'"]),
        (["--glaze", "pond gren"], ["'pond gren'", "pond green"]),
        (["--first-mark", "M"], ["'M'", "--first-mark"]),
        (["--bisque-cone", "44"], ["'44'"]),
    ],
    ids=" ".join,
)
def test_plan_is_all_or_nothing(sample, tiles, options, told):
    before = all_rows(sample)
    ran = tiles("plan", *SET, *options)
    assert ran.code == 1
    assert ran.err.splitlines()[-1].startswith("Error: ")
    if options[0] != "--first-mark":
        assert_one_line_error(ran, *told)
    assert all_rows(sample) == before


def test_plan_asks_about_an_unlikely_bisque_and_takes_it_when_told_so(sample, tiles):
    before = all_rows(sample)
    doubtful = ("plan", *SET, "--first-mark", "P-1", "--bisque-cone", "6")
    assert_one_line_error(tiles(*doubtful), "bisque cone 6", "--yes")
    assert all_rows(sample) == before
    ran = tiles(*doubtful, "--yes", "--json")
    assert [row["bisque"] for row in planned(ran)] == ["6"] * 4
    assert shown(tiles, "P-4")["bisque_cone"] == "6"


@pytest.mark.parametrize(
    "options", [["--glaze", "studio clear@2"], ["--under", "white slip=2@1"]], ids=" ".join
)
def test_plan_refuses_a_glaze_on_one_area_and_stores_nothing(sample, tiles, options):
    before = all_rows(sample)
    ran = tiles("plan", *SET, *options, "--first-mark", "P-1")
    assert_one_line_error(ran, repr(options[1]), "whole tile", "tiles log")
    assert all_rows(sample) == before


@pytest.mark.parametrize(
    "plan", [("plan", *SET), ("blend", "line", "house clear", "iron brown", "--plan", *SET[:2])]
)
def test_nothing_is_planned_where_the_answer_has_two_forms(sample, tiles, plan):
    before = all_rows(sample)
    ran = tiles(*plan, "--yes", "--json", "--csv")
    assert (ran.code, "--json and --csv together" in ran.err) == (1, True)
    assert all_rows(sample) == before


def test_one_planned_tile_is_asked_about_as_one(sample):
    one = ["--body", "red earthenware", "--glaze", "pond green", "--first-mark", "P-1"]
    person = Keyboard("plan", *one)
    person.sees("P-1   red earthenware  pond green")
    person.answers("Put 1 planned tile on record?", "y")
    code, said = person.ends()
    assert (code, "red earthenware" in said) == (0, False), "told once"


def test_a_plan_waits_for_its_yes_without_keeping_others_out(sample, tiles):
    before = all_rows(sample)
    for answer, code in (("n", 130), ("", 0)):
        person = Keyboard("plan", *SET, "--first-mark", "P-1", "--bisque-cone", "6")
        person.answers("Is that really so?", "y")
        person.sees("Put 4 planned tiles on record?")
        assert all_rows(sample) == before
        assert tiles("inspect", "M-42", "--clean").code == 0
        before = all_rows(sample)
        person.press(answer, ENTER)
        assert person.ends()[0] == code
    assert shown(tiles, "P-4")["bisque_cone"] == "6"


def test_a_retired_clay_or_glaze_is_taken_with_one_line_that_says_so(sample, tiles):
    tiles("firing", "add", "F77")
    plan = ("plan", "--body", "porcelain", "--glaze", "pond green", "--first-mark", "P-1")
    assert "retired" not in tiles(*plan).err
    tiles("body", "retire", "porcelain")
    tiles("glaze", "retire", "pond green")
    log = ("log", "--mark", "P-9", "--body", "Porcelain", "--glaze", "pond green")
    for command in (plan, log, ("load", "F77", "P-9", "--yes")):
        ran = tiles(*command)
        assert ran.code == 0, ran.err
        assert "Note: 'porcelain', 'pond green' are retired." in ran.err.splitlines()


@pytest.mark.parametrize("first", ["T 06", "Q-9"])
def test_the_hint_of_a_plan_can_be_pasted_whatever_the_marks(sample, tiles, first):
    assert tiles("firing", "add", "F50", "--target-cone", "05").code == 0
    # A mark amid the run is taken by a tile that was fired long ago.
    assert tiles("log", "--mark", "Q-10", "--body", "porcelain", "--firing", "F29").code == 0
    ran = tiles("plan", *SET, "--first-mark", first, "--json")
    marks = [row["mark"] for row in planned(ran)]
    hint = ran.err.splitlines()[-1].partition("When glazed: ")[2]
    command = shlex.split(hint.replace("FIRING", "F50"))
    assert tiles(*command[1:]).out == "4 tiles in F50.\n"
    assert {shown(tiles, mark)["firing"]["name"] for mark in marks} == {"F50"}


def test_a_mark_that_differs_from_one_on_record_only_by_blanks_is_told(sample, tiles):
    given = ("--body", "porcelain")
    assert tiles("log", "--mark", "T06", *given).err == ""
    ran = tiles("log", "--mark", "t 06", *given)
    assert (ran.code, ran.err) == (
        0,
        "Check: marks that differ only by blanks, dashes or look-alike letters are two tiles: "
        "'t 06' and 'T06'.\n",
    )
    planned = ("plan", *SET[:6], "--first-mark", "T0 6", "--json")
    assert tiles(*planned, "--dry-run").err == ""
    assert "'T0 6' and 'T06'" in tiles(*planned).err
    fixed = ("next", "M-60", "--first-mark", "T 0 6")
    assert tiles(*fixed).err == ""
    assert "'T 0 6' and 'T0 6'" in tiles(*fixed, "--plan").err
    assert "'T-06' and 'T06'" in tiles("log", "--mark", "T-06", *given).err

"""``--since`` and ``--until``: the tiles of a stretch of time, by every command that counts."""

import json
from datetime import date

import pytest

from tests.cli.records import assert_one_line_error
from tiles.cli import stretch

LOOKS = {
    "Y-1": ("2024-03-01", "2024-03-02", "clean"),
    "Y-2": ("2024-12-31", "2025-01-02", "crazing"),
    "Y-3": ("2025-01-01", "2025-01-02", "clean"),
    "Y-4": (None, "2025-06-02", "crazing"),
    "Y-5": ("2026-01-09", "2026-01-10", "clean"),
    "Y-6": (None, None, None),
}
"""Of each tile the day of its firing, of its look, and what was seen."""


@pytest.fixture
def years(fresh, tiles):
    """Tiles of three years on one clay, one without a day of firing, one without any day."""
    for mark, (fired, looked, seen) in LOOKS.items():
        more = []
        if fired:
            assert tiles("firing", "add", f"F{mark}", "--fired-on", fired).code == 0
            more += ["--firing", f"F{mark}"]
        if looked:
            seen = ("--clean",) if seen == "clean" else ("--defect", seen)
            more += ["--inspected-on", looked, *seen]
        made = ("--body", "red", "--glaze", "pond=2", "--cone-reached", "05", "--add-missing")
        ran = tiles("log", "--mark", mark, *made, *more, "--yes")
        assert ran.code == 0, ran.err


@pytest.mark.parametrize(
    ("options", "marks"),
    [
        (("--since", "2025"), "345"),
        (("--until", "2024"), "12"),
        (("--since", "2025-01", "--until", "2025-06"), "34"),
        (("--since", "2025-01-01", "--until", "2025-01-01"), "3"),
        (("--since", "2024-12-31", "--until", "2025"), "234"),
    ],
    ids=" ".join,
)
def test_a_stretch_of_time_keeps_its_tiles_both_ends_included(years, tiles, options, marks):
    rows = json.loads(tiles("find", *options, "--json").out)
    assert [row["mark"] for row in rows] == [f"Y-{each}" for each in marks]


def test_what_has_no_day_of_firing_and_what_has_no_day_is_told(years, tiles):
    ran = tiles("find", "--since", "2025")
    told = "Fired from 2025-01-01 on. 1 without a day of firing by the first look, else by when it "
    assert ran.err.startswith(f"{told}was glazed or made. 1 more without any day is left out.\n")
    assert tiles("find", "--until", "2024-06").err.startswith(
        "Fired until 2024-06-30. 1 more without any day is left out."
    )
    assert "Fired" not in tiles("find").err


def test_palette_counts_those_of_the_time_and_names_the_newest_first(years, tiles):
    (row,) = json.loads(tiles("palette", "--since", "2025", "--json").out)
    assert (row["tiles"], row["clean_marks"]) == (3, ["Y-5", "Y-3"])
    told = tiles("palette", "--since", "2025").out
    assert told.startswith("Fired from 2025-01-01 on. 1 without a day of firing")
    assert "2 of 3" in told and "Y-5       crazing 1" in told
    assert "Y-5       crazing 2" in tiles("palette").out


def test_clean_ones_made_alike_are_counted_within_the_time(years, tiles):
    (row,) = json.loads(tiles("find", "--clean", "--since", "2026", "--json").out)
    assert (row["mark"], row["alike_clean"], row["alike_tiles"]) == ("Y-5", 1, 1)


def test_compare_is_held_to_the_time_and_says_so(years, tiles):
    asked = ("compare", "--by", "year", "--until", "2025", "--defect", "crazing")
    found = json.loads(tiles(*asked, "--json").out)
    assert found["held_to"] == {"until": "2025-12-31"}
    assert (found["groups"], found["tiles"]) == (["2024", "2025"], [2, 2])
    assert tiles(*asked).out.startswith(
        "All tiles fired until 2025-12-31 by year of firing: 4 tiles"
    )


def test_why_over_many_tiles_is_of_the_time_and_says_so(years, tiles):
    told = tiles("why", "--glaze", "pond", "--since", "2025-01-01").out
    assert told.startswith("Fired from 2025-01-01 on. 1 without a day of firing")
    assert "Crazing on 1 of 3 tiles of pond" in " ".join(told.split())
    found = json.loads(tiles("why", "--defect", "crazing", "--until", "2024", "--json").out)
    assert (found["failing"], found["sound"]) == (1, 1)
    assert "fired before or after" in found["other_times"]
    assert found["other_times"].split(" (")[0] in " ".join(
        tiles("why", "--defect", "crazing", "--until", "2024").out.split()
    )
    assert (found["since"], found["until"]) == (None, "2024-12-31")
    ran = tiles("why", "--glaze", "pond", "--since", "2027")
    assert ran.err.endswith("Try: tiles find --glaze pond --since 2027-01-01\n")


@pytest.mark.parametrize("text", ["23/11/2025", "2025-13", "2025-02-30", "25", "last year", "0000"])
def test_what_is_no_time_is_refused(years, tiles, text):
    ran = tiles("find", "--since", text)
    assert_one_line_error(ran, f"--since {text!r} is not possible", code=1)


def test_a_time_backwards_and_a_time_of_one_tile_are_refused(years, tiles):
    ran = tiles("palette", "--since", "2025", "--until", "2024")
    assert_one_line_error(ran, "--since 2025 lies after --until 2024", code=1)
    ran = tiles("why", "Y-2", "--since", "2024")
    assert_one_line_error(ran, "--since goes with many tiles", code=1)


@pytest.fixture
def classes(fresh, tiles):
    """Tiles of two classes: in a note, in the note of a look, in that of a fault, in a mark."""
    for mark, coats, *more in (
        ("C-1", 3, "--note", "T2; 7C; s13", "--defect", "running"),
        ("C-2", 3, "--note", "class 7c, \u00c4rmel", "--defect", "running"),
        ("C-3", 1, "--note", "T2; 8A; s01", "--clean"),
        ("C-4", 1, "--note", "17C", "--clean"),
        ("party 7C", 2, "--clean"),
        ("C-6", 2, "--defect", "running (7C again)"),
    ):
        made = ("--body", "red", "--glaze", f"pond={coats}", "--cone-reached", "05")
        ran = tiles("log", "--mark", mark, *made, "--add-missing", *more)
        assert ran.code == 0, ran.err
    look = tiles("inspect", "C-3", "--clean", "--note", "shown to 7C")
    assert look.code == 0, look.err


@pytest.mark.parametrize(
    ("words", "marks"),
    [
        ("7C", ["C-1", "C-2", "C-3", "C-6", "party 7C"]),
        ("s13 7c", ["C-1"]),
        ("\u00e4rmel", ["C-2"]),
        ("PARTY", ["party 7C"]),
        ("s1", []),
    ],
)
def test_words_in_a_note_are_found_whole_in_any_order_whatever_their_capitals(
    classes, tiles, words, marks
):
    rows = json.loads(tiles("find", "--note", words, "--json").out)
    assert [row["mark"] for row in rows] == marks


def test_words_that_stand_in_a_remark_and_not_on_a_tile_are_told_where_they_stand(classes, tiles):
    assert tiles("glaze", "add", "old jar", "--remark", "Dried out; lid lost").code == 0
    assert tiles("batch", "add", "pond", "May", "--note", "dried out in June").code == 0
    assert tiles("find", "--note", "dried").err == (
        "Noted 'dried'.\nNo such tile.\nElsewhere on record: 'dried' in remark of glaze old jar; "
        "batch note of glaze pond. What is on tiles of it: 'tiles find --glaze \"old jar\"'.\n"
    )
    assert "Elsewhere" not in tiles("find", "--note", "7C").err
    assert "Elsewhere" not in tiles("find", "--note", "dri").err


def test_words_in_a_note_narrow_what_is_counted_and_are_said_with_it(classes, tiles):
    assert tiles("find", "--note", "7C").err.startswith("Noted '7C'.\n")
    assert tiles("palette", "--note", "7C").out.startswith("Noted '7C'.\n\n")
    assert json.loads(tiles("palette", "--note", "8A", "--json").out)[0]["tiles"] == 1
    told = tiles("why", "--glaze", "pond", "--note", "7C", "--until", "2099").out
    assert told.startswith("Noted '7C', fired until 2099-12-31. 5 without a day of firing by")
    assert "Running on 3 of 5 tiles of pond" in " ".join(told.split())
    assert json.loads(tiles("why", "--glaze", "pond", "--note", "7C", "--json").out)["note"] == "7C"
    asked = ("compare", "--by", "coats", "--note", "7C")
    assert json.loads(tiles(*asked, "--json").out)["held_to"] == {"note": "7C"}
    assert tiles(*asked).out.startswith("All tiles noted '7C' by coats: ")
    ran = tiles("why", "--glaze", "pond", "--note", "9Z")
    assert_one_line_error(ran, "no tile with pond, noted '9Z', has been inspected yet")
    assert ran.err.endswith("Try: tiles find --glaze pond --note 9Z\n")
    ran = tiles("why", "--defect", "crazing", "--note", "9Z")
    assert_one_line_error(ran, "no tile noted '9Z' has been inspected yet")


def test_no_word_at_all_is_refused(classes, tiles):
    assert_one_line_error(tiles("find", "--note", " ?! "), "holds no word to look for")
    assert_one_line_error(tiles("why", "C-1", "--note", "7C"), "--note goes with many tiles")


def test_a_month_and_a_year_end_on_their_last_day():
    ends = stretch.read("2024-02", "2024-02"), stretch.read(None, "2025-12")
    assert ends[0] == {"since": date(2024, 2, 1), "until": date(2024, 2, 29)}
    assert ends[1] == {"since": None, "until": date(2025, 12, 31)}

"""Which series of marks the tiles that trials are for go on."""

import re
import shlex
from sqlite3 import connect

import pytest

from tests.cli.records import all_rows, assert_one_line_error
from tiles.cli import marks
from tiles.records import forms, store

RED = {"name": "red clay"}


@pytest.fixture
def session(sqlite_database):
    """Some tiles; that of the series A was written down first."""
    with sqlite_database.transaction() as session:
        store.add_body(session, forms.BodyRecord(name=RED["name"]))
        for mark in ("A-09", "N-1", "N-2", "B-30", "blue leaf"):
            store.add_tile(session, forms.read(forms.TileRecord, {"mark": mark, "body": RED}))
        yield session


@pytest.mark.parametrize(
    ("like", "first"),
    [("a-09", "A-10"), ("N-1", "N-3"), ("blue leaf", "N-3"), ("", "N-3"), (None, "B-31")],
)
def test_trials_go_on_the_series_of_their_tile_or_the_one_in_use(session, like, first):
    assert marks.free(session, 1, None, like) == [first]


def test_a_series_that_was_left_is_not_taken_up_again(session, monkeypatch):
    monkeypatch.setattr(marks, "IN_USE", 4)
    assert marks.free(session, 2, None, "A-09") == ["N-3", "N-4"]


@pytest.mark.parametrize(
    "plan",
    [
        ("plan", "--body", "red earthenware", "--glaze", "pond green", "--dry-run"),
        ("fix", "M-60", "--plan"),
    ],
)
def test_a_first_mark_that_is_taken_is_told(sample, tiles, plan):
    ran = tiles(
        *plan, "--first-mark", "M-1", "--plan" if plan[0] == "fix" else "--dry-run", "--yes"
    )
    assert ran.code == 0
    assert "Note: M-1 is taken, so the marks start at M-" in ran.err


def test_no_planned_tile_gets_a_mark_that_reads_as_a_piece(sqlite_database):
    def add(*found):
        for mark in found:
            store.add_tile(session, forms.read(forms.TileRecord, {"mark": mark, "body": RED}))

    with sqlite_database.transaction() as session:
        store.add_body(session, forms.BodyRecord(name=RED["name"]))
        add("mug 11", "mug 12", "bowl 3")
        for like in ("mug 12", "bowl 3", ""):
            assert marks.free(session, 2, None, like) == ["trial 1", "trial 2"]
        assert marks.free(session, 2, None) == ["T-1", "T-2"]  # nor any other that is planned
        add("trial 1", "bowl 4")
        assert marks.free(session, 1, None) == ["trial 2"]
        assert marks.free(session, 1, None, "mug 12") == ["trial 2"]
        add("T 06", "T 07")
        assert marks.free(session, 1, None, "mug 12") == ["T 08"]
        add("test 1")
        assert marks.free(session, 1, None, "test 1") == ["test 2"]


def test_words_that_only_together_are_a_mark_go_together(session):
    for mark in ("mug", "mug 12", "the big mug 12", "B 30", "30"):
        store.add_tile(session, forms.read(forms.TileRecord, {"mark": mark, "body": RED}))
    for typed, meant in (
        ("MUG 12 A-09", ["MUG 12", "A-09"]), ("N-1 the big mug 12", ["N-1", "the big mug 12"]),
        ("N-1 N-2", ["N-1", "N-2"]), ("mug 13", ["mug", "13"]), ("B 30", ["B 30"]),
        ("mug 30", ["mug", "30"]),
    ):  # fmt: skip
        assert store.put_together(session, typed.split()) == meant


@pytest.mark.parametrize(
    "command",
    [("inspect", "--clean"), ("remove", "--yes"), ("change", "--note", "x"), ("load", "F12")],
)
def test_two_marks_that_spell_a_third_with_a_blank_are_not_guessed(sample, tiles, command):
    for mark in ("mug", "12", "mug 12"):
        assert tiles("log", "--mark", mark, "--body", "porcelain", "--yes").code == 0
    before = all_rows(sample)
    first, *options = command
    where = options if first == "load" else []
    after = [] if first == "load" else options
    for typed in (["mug", "12"], ["Mug", "12"]):
        ran = tiles(first, *where, *typed, *after)
        assert_one_line_error(ran, "'mug 12' is on record, and so are", '"mug 12" in quotes', "12 ")
        assert all_rows(sample) == before
    assert tiles(first, *where, "12", "mug", *after, "--yes").code == 0


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (("log", "--mark=-2", "--body", "red"), "mark '-2'"),
        (("plan", "--body", "red", "--glaze", "sea", "--first-mark=-2"), "mark '-2'"),
        (("change", "N-1", "--mark=-2"), "mark '-2'"),
        (("log", "--mark", "N-2", "--body", "red", "--glaze=-lead", "--add-missing"), "'-lead'"),
        (("kiln", "add", "--", "-small"), "name '-small'"),
        (("body", "rename", "red", "--", "-red"), "name '-red'"),
        (("batch", "add", "sea", "--", "-b"), "name '-b'"),
        (("batch", "rename", "sea", "june", "--", "-b"), "name '-b'"),
        (("import", "in.csv"), "mark '-2'"),
    ],
)
def test_no_new_mark_or_name_begins_as_an_option_does(fresh, tiles, monkeypatch, command, said):
    made = ("--body", "red", "--glaze", "sea", "--batch", "june", "--add-missing")
    assert tiles("log", "--mark", "N-1", *made).code == 0
    monkeypatch.chdir(fresh.parent)
    (fresh.parent / "in.csv").write_text("mark,area,body\n-2,1,red\n")
    before = all_rows(fresh)
    assert_one_line_error(tiles(*command), said, "begins with a dash", "another ")
    assert all_rows(fresh) == before


def test_a_mark_with_a_dash_from_before_is_named_so_that_the_command_runs(fresh, tiles):
    assert tiles("log", "--mark", "1", "--body", "red", "--add-missing").code == 0
    with connect(fresh) as database:
        database.execute("UPDATE tile SET mark = '-1'")
    database.close()
    told = tiles("log", "--mark=-1", "--body", "red")
    (command,) = re.findall(r"or 'tiles (change .+?)' to correct", told.err)
    assert tiles(*shlex.split(command), "--note", "so").code == 0
    assert tiles("glaze", "add", "sea").code == 0
    assert "load FIRING T-1" in tiles("plan", "--body", "red", "--glaze", "sea").err
    assert tiles(*shlex.split(command), "--mark", "1").code == 0

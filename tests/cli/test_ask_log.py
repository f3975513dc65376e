"""``tiles log`` as a conversation, through a pseudo-terminal."""

import sqlite3
from contextlib import closing
from datetime import date

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, shown
from tiles.cli import ask, entry

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def test_enter_takes_every_answer_of_the_last_tile_with_the_next_mark(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark [N-8]:")
    person.answers("Clay body [red earthenware]:")
    person.answers("[white slip=2 + pond green]:")
    person.answers("[3]:")
    taken = "dry coat not measured, bisque 04, firing F12, cone 05 on shelf top, looked at"
    person.sees(f"As N-7: {taken} {date.today()}.")
    person.answers("What differs: thickness, bisque, firing, cone, day, or all [nothing]:")
    person.answers("Shelf [top]:")
    person.answers("What do you see?", "crawling:severe, pinholes")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on")
    person.answers("Note", "like the one before")
    code, said = person.ends()
    assert (code, "N-8 is on record: severe crawling, pinholes." in said) == (0, True)
    last, new = shown(tiles, "N-7"), shown(tiles, "N-8")
    for same in ("body", "bisque_cone", "firing", "shelf", "cone_reached", "areas"):
        assert new[same] == last[same]
    (look,) = new["inspections"]
    assert [(each["defect"], each["severity"]) for each in look["defects"]] == [
        ("crawling", "severe"),
        ("pinholes", None),
    ]
    assert new["note"] == "like the one before"


@pytest.mark.parametrize(
    "typed",
    [
        "severe crawling and pinholes",
        "crawling:severe; pinholes",
        "severe crawling + pinholes",
        "Crawling:severe / pinholes, ",
    ],
)
def test_faults_are_parted_as_in_a_sheet(typed):
    seen = [(each["defect"].casefold(), each["severity"]) for each in entry.read_defects(typed)]
    assert seen == [("crawling", "severe"), ("pinholes", None)]


def test_a_fault_that_cannot_be_there_is_refused_where_it_is_typed(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats", "What differs", "Shelf"):  # fmt: skip
        person.answers(question)
    for typed, told in (
        ("crawling@9", "crawling is on area 9, but the tile has area 1 only"),
        ("crawling and crawling", "crawling is named twice"),
        (",", "is not a known defect"),
    ):
        person.answers("What do you see?", typed)
        person.sees(told)
    person.answers("What do you see?", "slight crawling@1 and pinholes")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "N-8 is on record: slight crawling, pinholes." in said) == (0, True)
    (look,) = shown(tiles, "N-8")["inspections"]
    assert [each["area"] for each in look["defects"]] == [1, None]


def test_a_fault_may_be_on_each_area_that_the_coats_answered_make(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze"):
        person.answers(question)
    person.answers("Coats", "1,2,3")
    for question in ("What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?", "crawling@3")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "N-8 is on record: crawling on area 3." in said) == (0, True)


def test_what_a_fault_without_a_word_of_its_own_is_is_asked_and_kept(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats", "What differs", "Shelf"):  # fmt: skip
        person.answers(question)
    person.answers("What do you see?", "other:slight, pinholes")
    person.answers("What is the other fault", "went glossy")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on")
    person.answers("Note")
    assert person.ends()[0] == 0
    (look,) = shown(tiles, "N-8")["inspections"]
    assert [each["note"] for each in look["defects"]] == ["went glossy", None]


def test_a_wrong_answer_is_told_at_once_and_asked_again(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark", "M-41")
    person.sees("'M-41' is already on record")
    person.answers("Mark", "N-20 red earthenware pond green x2")
    person.answers("Is 'N-20 red earthenware pond green x2' the mark?")
    person.answers("Mark", "N-20")
    person.answers("Clay body", "?")
    person.sees("buff stoneware, porcelain, red earthenware, white earthenware")
    person.answers("Clay body")
    person.answers("Glaze", "pond green")
    person.answers("Coats", "many")
    person.sees("'many' is not a whole number")
    person.answers("Coats", "2")
    person.answers("What differs", "glaze")
    person.sees("'glaze' is nothing of what is taken over.")
    person.answers("What differs", "all")
    person.answers("Thickness", "-")
    person.answers("Bisque cone", "44")
    person.sees("'44'")
    person.answers("Bisque cone", "-")
    person.answers("Firing", "cone 05")
    person.sees("'cone 05' looks like a cone. Where the firing is not known: -")
    person.answers("Add 'cone 05' as new?", "-")
    person.answers("Cone reached, if it was fired:", "05")
    person.answers("What do you see?", "?")
    person.sees("each with slight, moderate or severe before it")
    person.answers("What do you see?", "crawlign")
    person.sees("'crawling'")
    person.answers("What do you see?", "crawling:very")
    person.sees("'very' is not a known severity")
    person.answers("What do you see?", "no crawling")
    person.sees("leave out what is not there")
    person.answers("What do you see?", "severe crawling, pinholes slight")
    person.answers("Was the layer or coat beneath")
    person.answers("Day of the look")
    person.answers("Note")
    assert person.ends()[0] == 0
    record = shown(tiles, "N-20")
    assert (record["bisque_cone"], record["firing"]) == (None, None)
    assert record["cone_reached"] == "05"
    seen = record["inspections"][0]["defects"]
    assert [(each["defect"], each["severity"]) for each in seen] == [
        ("crawling", "severe"), ("pinholes", "slight")
    ]  # fmt: skip
    assert record["areas"][0]["layers"][0]["thickness_mm"] is None


def test_an_unlikely_cone_is_questioned_and_nothing_stored_on_no(after_a_tile):
    before = all_rows(after_a_tile)
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "cone")
    person.answers("Shelf")
    person.answers("Cone reached there", "5")
    person.answers("What do you see?", "clean")
    person.answers("Note")
    person.sees("far above")
    person.answers("Is that really so?", "05")
    person.sees("'05' is neither y nor n: type y for yes or n for no.")
    person.answers("Is that really so? [y/N]", "no")
    person.sees("Cone reached there [5]")
    assert all_rows(after_a_tile) == before
    person.interrupts()
    assert person.ends()[0] == 130
    assert all_rows(after_a_tile) == before


def test_the_arrow_keys_mend_a_slip_and_do_not_get_into_the_answer(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark [N-8]:", "N-08" + "\x1b[D" + "\x7f")
    for question in ("Clay body", "Glaze", "Coats", "What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?")
    person.answers("Note", "?")
    person.sees("Enter leaves it unrecorded.")
    person.answers("Note")
    assert person.ends()[0] == 0
    assert shown(tiles, "N-8")["shelf"] == "top"


def test_a_question_that_fills_the_line_is_answered_on_the_next(monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    asked = []
    monkeypatch.setattr("builtins.input", lambda prompt: asked.append(prompt) or "05")
    for question in ("Cone reached", f"Cone reached{', by its witness cone' * 3}"):
        assert ask.ask(question) == "05"
    assert asked == ["Cone reached: ", "  "]


@pytest.mark.parametrize("questions", [0, 3, 5])
def test_ctrl_c_stores_nothing(after_a_tile, questions):
    before = all_rows(after_a_tile)
    person = Keyboard("log")
    asked = ["Mark", "Clay body", "Glaze", "Coats", "What differs", "Shelf"]
    for question in asked[:questions]:
        person.answers(question)
    person.sees(asked[questions])
    person.sees("]: ")
    person.interrupts()
    code, said = person.ends()
    assert code == 130
    assert "Nothing more was stored" in said
    assert "Traceback" not in said
    assert all_rows(after_a_tile) == before


def test_the_first_tile_of_an_empty_database_can_be_asked_for(fresh, tiles):
    person = Keyboard("log")
    person.answers("Mark:", "T-1")
    person.answers("Clay body:", "grey clay")
    person.answers("Add 'grey clay' as new?", "y")
    person.answers("Cone range", "")
    person.answers("Glaze", "")
    person.answers("Bisque cone:", "04")
    person.answers("Firing:", "F1")
    person.answers("Add 'F1' as new?", "y")
    person.answers("Its target cone", "05")
    person.answers("Its kiln", "Agnes")
    person.answers("Add 'Agnes' as new?", "y")
    person.answers("The day it was fired", "2026-01-32")
    person.sees("2026-01-32")
    person.answers("The day it was fired", "2026-01-02")
    person.answers("Shelf", "")
    person.answers("Cone reached there:", "^05")
    person.answers("What do you see?", "clean")
    person.answers("Day of the look (fired", "2026-01-03")
    person.answers("Note", "")
    assert person.ends()[0] == 0
    record = shown(tiles, "T-1")
    assert (record["body"]["name"], record["firing"]["target_cone"]) == ("grey clay", "05")
    assert (record["firing"]["kiln"], record["firing"]["fired_on"]) == ("Agnes", "2026-01-02")
    assert record["inspections"][0]["inspected_on"] == "2026-01-03"
    assert (record["cone_reached"], record["derived"]["clean"]) == ("05", True)


def test_log_without_mark_and_without_a_keyboard_ends_and_stores_nothing(sample, tiles_process):
    before = sample.read_bytes()
    ran = tiles_process("log")
    assert ran.code in (1, 130)
    assert "Traceback" not in ran.err
    assert sample.read_bytes() == before


def test_coats_given_with_the_glaze_are_not_asked_for_again(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark")
    person.answers("Clay body")
    person.answers("Glaze", "white slip=2 + pond green=1")
    person.sees("What differs")
    assert "Coats" not in person.child.before
    person.answers(":", "thickness")
    person.answers("Thickness of the dry coat in mm", "0,4")
    person.answers("Shelf")
    person.answers("What do you see?", "clean")
    person.answers("Note")
    assert person.ends()[0] == 0
    layers = shown(tiles, "N-8")["areas"][0]["layers"]
    assert [(each["coats"], each["thickness_mm"]) for each in layers] == [(2, None), (1, 0.4)]


def test_what_cannot_be_is_told_and_asked_again_by_itself(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "all")
    person.answers("Thickness", "0.9")
    person.answers("Bisque cone")
    person.answers("Firing", "F03")
    person.sees("F03 is a bisque firing. Try: the glaze firing after it.")
    person.answers("Firing", "F12")
    person.answers("Shelf", "s" * 121)
    person.sees("is not possible")
    person.answers("Shelf")
    person.answers("Cone reached there")
    person.answers("What do you see?", "clean")
    person.answers("Day of the look")
    assert tiles("log", "--mark", "N-8", "--body", "porcelain").code == 0  # at another keyboard
    person.answers("Note")
    person.sees("already on record")
    person.sees("Not stored. What was doubted is asked once more")
    person.answers("Mark [N-9]", "n" * 121)
    person.sees("is not possible")
    person.answers("Mark [N-9]")
    assert person.ends()[0] == 0
    assert shown(tiles, "N-9")["firing"]["name"] == "F12"


def test_the_day_of_a_look_long_after_the_firing_is_asked_for(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "day")
    person.answers("Shelf")
    person.answers("What do you see?", "clean")
    person.answers(f"ago, on 2024-12-13) [{date.today()}]:", "2024-12-01")
    person.sees("before it was fired on 2024-12-13")
    person.answers("Day of the look", "2062-01-02")
    person.sees("a day to come")
    person.answers("Day of the look", "last week")
    person.sees("'last week' is no day.")
    person.answers("Day of the look", "2024-12-20")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "dated today" in said) == (0, False)
    assert shown(tiles, "N-8")["inspections"][0]["inspected_on"] == "2024-12-20"


QUESTIONS = ("Mark", "Clay body", "Glaze", "Coats", "What differs", "Shelf", "What do you see?",
             "Note")  # fmt: skip


def test_answers_outlast_a_database_that_another_program_holds(after_a_tile, tiles, monkeypatch):
    before = all_rows(after_a_tile)
    with closing(sqlite3.connect(after_a_tile, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")  # who writes keeps nobody from being asked
        person = Keyboard("log", runs="import tiles.records.database as d; d.BUSY_TIMEOUT_S = 0.2")
        for question in QUESTIONS:
            person.answers(question, "clean" if question.startswith("What do") else "")
        person.sees("database is locked")
        person.answers("N-8 is NOT stored yet. Your answers are kept. Try again?")
        person.sees("database is locked")
        person.sees("Try again?")
        other.execute("ROLLBACK")
    assert all_rows(after_a_tile) == before
    person.press("y", ENTER)
    code, said = person.ends()
    assert (code, "N-8 is on record: clean" in said) == (0, True)


def test_a_question_that_the_database_cannot_answer_is_asked_again(after_a_tile):
    person = Keyboard("log", runs="import tiles.records.database as d; d.BUSY_TIMEOUT_S = 0.2")
    for question in QUESTIONS[:3]:
        person.answers(question)
    person.sees("Coats")
    with closing(sqlite3.connect(after_a_tile, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")  # now the next one cannot be looked up
        person.press(ENTER)
        person.sees("database is locked")
        person.sees("Your answers are kept. Try again?")
        other.execute("ROLLBACK")
    person.press(ENTER)
    for question in QUESTIONS[4:]:
        person.answers(question, "clean" if question.startswith("What do") else "")
    code, said = person.ends()
    assert (code, "N-8 is on record: clean" in said) == (0, True)

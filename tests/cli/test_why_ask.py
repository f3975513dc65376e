"""``tiles why --ask`` at the keyboard, in a real process, and with answers from a pipe."""

from tests.cli.keyboard import CTRL_C, Keyboard
from tests.cli.records import all_rows, shown
from tiles.cli.why_ask import _in_words

ASK = ("why", "M-41", "--defect", "pinholes", "--ask")


def test_questions_then_the_answer_then_keeping_it(sample, tiles):
    keyboard = Keyboard(*ASK)
    keyboard.sees("Now: the coat was too thick for bubbles to get out")
    keyboard.answers("1. ", "no")
    keyboard.sees(" -> ")
    keyboard.answers("2. ")
    keyboard.sees("Not known: nothing changes.")
    keyboard.answers("3. ", "don't know")
    keyboard.answers("4. ", "no")
    keyboard.answers("5. ", "no")
    keyboard.sees("PINHOLES, slight")
    keyboard.answers("Keep on the record of M-41", "yes")
    code, said = keyboard.ends()
    assert code == 0
    assert "Kept on M-41: " in said
    record = shown(tiles, "M-41")
    assert "no" in (record["clues"] | record["areas"][0]["clues"]).values()


def test_what_another_writes_on_the_tile_meanwhile_is_kept_as_well(sample, tiles):
    keyboard = Keyboard(*ASK)
    keyboard.answers("1. ", "no")
    keyboard.sees("2. ")
    assert tiles("inspect", "M-41", "--defect", "specks").code == 0
    keyboard.answers("", "q")
    keyboard.answers("Keep on the record of M-41", "yes")
    assert keyboard.ends()[0] == 0
    record = shown(tiles, "M-41")
    assert record["inspections"][-1]["defects"][0]["defect"] == "specks"
    assert "no" in (record["clues"] | record["areas"][0]["clues"]).values()


def test_enter_alone_at_the_end_keeps_the_answers_and_no_does_not(sample, tiles):
    before = all_rows(sample)
    for typed in ("no", ""):
        assert all_rows(sample) == before
        keyboard = Keyboard(*ASK)
        keyboard.answers("1. ", "no")
        keyboard.answers("2. ", "no")
        keyboard.answers("3. ")
        keyboard.answers("4. ", "q")
        keyboard.answers("Keep on the record of M-41", typed)
        assert keyboard.ends()[0] == 0
    assert shown(tiles, "M-41")["clues"] | shown(tiles, "M-41")["areas"][0]["clues"]
    assert all_rows(sample) != before


def test_ctrl_c_stops_and_keeps_nothing(sample):
    before = all_rows(sample)
    keyboard = Keyboard(*ASK)
    keyboard.answers("1. ", "no")
    keyboard.sees("2. ")
    keyboard.interrupts()
    code, said = keyboard.ends()
    assert code == 130, CTRL_C
    assert "Stopped" in said
    assert all_rows(sample) == before


def test_answers_may_come_from_a_pipe_and_may_be_fewer_than_the_questions(sample, tiles_process):
    before = all_rows(sample)
    ran = tiles_process(*ASK, stdin="yes\n")
    assert ran.code == 0, ran.err
    assert " -> " in ran.out
    assert "PINHOLES, slight" in ran.out
    assert all_rows(sample) == before


def test_without_a_keyboard_the_answer_is_given_all_the_same(sample, tiles_process):
    ran = tiles_process(*ASK)
    assert ran.code == 0
    assert "PINHOLES, slight" in ran.out


def test_an_answer_that_is_no_measure_of_its_own_is_kept_and_told(sample, tiles_process, tiles):
    assert shown(tiles, "M-60")["bisque_cone"] is None
    ran = tiles_process("why", "M-60", "--ask", "--yes", stdin="06\nq\n")
    assert "1. To which cone was the bisque fired?" in ran.out
    assert (ran.code, ran.err) == (0, "Kept on M-60: bisque cone: 06.\n")
    assert shown(tiles, "M-60")["bisque_cone"] == "06"


def test_every_answer_can_be_said():
    from diagnose.fields import FIELDS

    told = {name: _in_words(name, 3) for name in FIELDS}
    assert told["cone_reached"] == "cone reached: 3"
    assert told["coats"] == "number of coats: 3"
    assert told["hold_min"] == "hold at the top: 3 min"


def test_a_fact_of_the_whole_firing_is_not_written_on_one_tile(sample, tiles_process, tiles):
    from diagnose.fields import is_shared

    assert is_shared("hold_min") and is_shared("revived") and not is_shared("coats")
    before = shown(tiles, "M-41")["firing"]
    tiles_process(*ASK, "--yes", stdin="yes\nno\nno\n")
    assert shown(tiles, "M-41")["firing"] == before


def test_a_question_mark_says_that_any_number_is_an_answer(sample, tiles):
    made = ("--mark", "Z-1", "--body", "red earthenware", "--glaze", "pond green", "--yes")
    assert tiles("log", *made, "--defect", "crawling").code == 0
    keyboard = Keyboard("why", "Z-1", "--ask")
    keyboard.answers("How many coats", "?")
    keyboard.sees("a number in the unit asked for, such as 1")
    keyboard.answers("How many coats", "q")
    assert keyboard.ends()[0] == 0

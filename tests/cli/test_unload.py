"""``tiles unload`` through a pseudo-terminal: real keys, a real database."""

import time
from datetime import date

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, assert_one_line_error, shown
from tests.cli.unloading import AREAS, PLAIN, at_tile, looks, reads_cone
from tiles.cli import unload
from tiles.cli.ask import READ_WITHIN
from tiles.errors import InvalidValue

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def test_unload_of_twelve_tiles_ten_of_them_clean_takes_at_most_thirty_keys(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    faults = {"L-4": ("p", "1"), AREAS: ("w", "3", "3")}
    for number, mark in enumerate([*PLAIN, AREAS], start=1):
        at_tile(keyboard, number, mark)
        keyboard.press(*faults.get(mark, ()))
        if mark == AREAS:
            keyboard.reads("another?")
        keyboard.press(ENTER)
    code, said = keyboard.ends()
    assert code == 0
    assert "12 looked at: 10 clean, 2 with a defect.\nAsk why: tiles why L-4\n" in said
    assert keyboard.keys <= 30
    for mark in [*PLAIN, AREAS]:
        record = shown(tiles, mark)
        assert record["cone_reached"] == "05"
        assert [look["inspected_on"] for look in record["inspections"]] == [str(date.today())]
        assert record["derived"]["clean"] is (mark not in faults)
    assert looks(tiles, "L-4") == [[("pinholes", "slight", None)]]
    assert looks(tiles, AREAS) == [[("crawling", "severe", 3)]]
    assert shown(tiles, AREAS)["derived"]["clean_areas"] == [1, 2]


def test_unload_takes_several_defects_and_an_unsaid_severity(load, tiles):
    keyboard = Keyboard("unload", "F40", "--inspected-on", "2026-07-02")
    keyboard.answers("Cone reached")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("c")
    keyboard.sees("how bad? 1 slight, 2 moderate, 3 severe (Enter: not said):")
    keyboard.press(ENTER)
    keyboard.sees("another?")
    keyboard.press("r", "2")
    keyboard.sees("another?")
    keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    record = shown(tiles, "L-1")
    assert looks(tiles, "L-1") == [[("crazing", None, None), ("running", "moderate", None)]]
    assert record["inspections"][0]["inspected_on"] == "2026-07-02"
    assert record["cone_reached"] is None


def test_what_a_fault_without_a_word_of_its_own_is_is_asked_and_kept(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("x")
    keyboard.answers("what is it?", "went glossy")
    keyboard.press("2")
    keyboard.sees("another?")
    keyboard.press("p", "1")  # single keys again
    keyboard.sees("another?")
    keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("x")
    keyboard.answers("what is it?", "<")
    keyboard.press("x")
    keyboard.answers("what is it?", "milky")
    keyboard.sees("'milky' most often means cloudiness: <, then cloudiness.")
    keyboard.press("<", "x")
    keyboard.answers("what is it?", "?")
    keyboard.sees("A few words")
    keyboard.answers("what is it?")
    keyboard.press("1")
    keyboard.sees("another?")
    keyboard.press(ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("x")
    keyboard.answers("what is it?", "-")
    keyboard.press("1")
    keyboard.sees("another?")
    keyboard.press(ENTER)
    at_tile(keyboard, 4, "L-4")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    seen = [[each["note"] for each in shown(tiles, mark)["inspections"][0]["defects"]]
            for mark in ("L-1", "L-2", "L-3")]  # fmt: skip
    assert seen == [["went glossy", None], [None], [None]]


def test_a_wrong_defect_key_is_taken_back(load, tiles):
    keyboard = Keyboard("unload", "F40")
    keyboard.sees("? the keys again")
    keyboard.sees("3 severe, < takes it back")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("c")
    keyboard.sees("how bad?")
    keyboard.press("<")
    keyboard.sees("take it back")
    keyboard.press("p", "1")
    keyboard.sees("another?")
    keyboard.press("r", "2")
    keyboard.sees("another?")
    keyboard.press("<")
    keyboard.sees("another?")
    keyboard.press(ENTER)
    for number, mark in enumerate(PLAIN[1:], start=2):
        at_tile(keyboard, number, mark)
        keyboard.press(ENTER)
    at_tile(keyboard, 12, AREAS)
    keyboard.press("c", "1")
    keyboard.sees("which area? 1 to 3 (Enter: the whole tile):")
    keyboard.press("<")
    keyboard.reads("take it back")
    keyboard.press(ENTER)
    assert "12 looked at: 11 clean, 1 with a defect." in keyboard.ends()[1]
    assert (looks(tiles, "L-1"), looks(tiles, AREAS)) == ([[("pinholes", "slight", None)]], [[]])


def test_enter_that_a_hand_still_gives_to_a_key_says_no_tile_clean(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("n")
    at_tile(keyboard, 2, "L-2")
    keyboard.press(ENTER)  # not half a second later
    time.sleep(READ_WITHIN)
    keyboard.press("q")
    assert "0 looked at: 0 clean, 0 with a defect." in keyboard.ends()[1]
    assert looks(tiles, "L-1") == looks(tiles, "L-2") == []


def test_a_fault_told_already_is_not_told_twice(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("c", "1", "c", "3")
    keyboard.sees("crazing is told already: < takes the last one back.")
    keyboard.sees("another?")
    keyboard.press("<", "c", "3", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert looks(tiles, "L-1") == [[("crazing", "severe", None)]]


def test_unload_says_what_a_trial_was_made_to_find_out(load, tiles):
    tiles("change", "L-1", "--trial-of", "m-41", "--trial-defect", "crawling",
          "--trial-change", "coats 3 -> 2")  # fmt: skip
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("Cone reached")
    keyboard.sees("a trial for M-41 (crawling): coats 3 -> 2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert "for M-41 (crawling): coats 3 -> 2" in tiles("show", "L-1").out
    tiles("change", "L-1", "--trial-of", "")
    assert shown(tiles, "L-1")["trial_change"] is None


def test_unload_stopped_half_way_keeps_what_is_done_and_goes_on_there(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    for number, mark in enumerate(PLAIN[:3], start=1):
        at_tile(keyboard, number, mark)
        keyboard.press(ENTER)
    at_tile(keyboard, 4, "L-4")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert [looks(tiles, mark) for mark in PLAIN[:4]] == [[[]], [[]], [[]], []]
    again = Keyboard("unload", "F40")
    again.sees("F40: 9 tiles to look at.")
    again.answers("Cone reached")
    at_tile(again, 1, "L-4", of=9)
    again.press("q")
    assert again.ends()[0] == 0


@pytest.mark.parametrize("keys", [(), ("w",), ("w", ENTER)])
def test_ctrl_c_keeps_the_tiles_done_and_nothing_of_this_one(load, tiles, keys):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    before = all_rows(load)
    keyboard.press(*keys)
    keyboard.interrupts()
    code, said = keyboard.ends()
    assert code == 130
    assert "Stopped. Nothing more was stored." in said
    assert "Traceback" not in said
    assert ("L-2 is NOT stored (crawling)." in said) is (len(keys) == 2)
    assert all_rows(load) == before
    assert (looks(tiles, "L-1"), looks(tiles, "L-2")) == ([[]], [])


def test_not_now_leaves_a_tile_for_later_and_a_wrong_key_lists_the_keys(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("z")
    keyboard.sees("z is no key here:")
    keyboard.sees("Enter  clean")
    keyboard.sees("x  other")
    keyboard.press("n")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("clean")
    keyboard.sees("in words (Enter ends them): clean")
    keyboard.press(ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert (looks(tiles, "L-1"), looks(tiles, "L-2")) == ([], [[]])


def test_keys_typed_ahead_are_not_lost(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press(ENTER, ENTER, "c", "2", ENTER, ENTER, "q")
    code, said = keyboard.ends()
    assert code == 0
    assert "4 looked at: 3 clean, 1 with a defect." in said
    assert looks(tiles, "L-3") == [[("crazing", "moderate", None)]]


def test_only_the_tiles_that_are_named_are_walked(load, tiles):
    assert tiles("inspect", "L-7", "--clean", "--cone-reached", "05").code == 0
    for again, walked in ((False, ["L-2", "L-3"]), (True, ["L-2", "L-3", "L-7"])):
        records, *_ = unload._load("F40", ["l-2..l-3", "L-7"], again, None)
        assert [each.mark for each in records] == walked
    with pytest.raises(InvalidValue, match="^M-41 is not in F40. Try: .*tiles find --firing F40"):
        unload._load("f40", ["L-2", "m-41"], False, None)


def test_one_look_may_be_at_several_tiles_all_or_none(load, tiles):
    seen = ("--defect", "slight crazing", "--inspected-on", "2026-09-01")
    ran = tiles("inspect", "L-1..L-3", "l-2", "L-99", *seen)
    assert_one_line_error(ran, "no tile is marked 'L-99'")
    ran = tiles("inspect", "L-1..L-3", "l-2", *seen)
    assert (ran.code, ran.out.count(" is on record: slight crazing.")) == (0, 3)
    clean = tiles("inspect", "L-3..L-4", "--clean", "--inspected-on", "2026-09-02")
    assert_one_line_error(clean, "L-3: crazing was seen on 2026-09-01 and does not heal")
    found = [looks(tiles, mark) for mark in PLAIN[:4]]
    assert found == [*[[[("crazing", "slight", None)]]] * 3, []]


def test_unload_notes_the_batch_of_the_load(load, tiles):
    assert tiles("batch", "add", "pond green", "PG 1").code == 0
    keyboard = Keyboard("unload", "F40", "--batch", "PG 1")
    keyboard.sees("1 tile from batch PG 1.")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    layers = [area["layers"][0] for area in shown(tiles, AREAS)["areas"]]
    assert [layer["batch"]["name"] for layer in layers] == ["PG 1"] * 3
    assert shown(tiles, "L-1")["areas"][0]["layers"][0]["batch"] is None


def test_unload_without_a_keyboard_says_what_to_use(load, tiles_process):
    before = load.read_bytes()
    ran = tiles_process("unload", "F40")
    assert_one_line_error(ran, "no keyboard", "tiles inspect MARK")
    assert load.read_bytes() == before


def test_unload_of_an_unknown_firing_or_an_empty_load_says_so(sample, tiles):
    keyboard = Keyboard("unload", "F98")
    code, said = keyboard.ends()
    assert code == 1
    assert said.startswith("Error: no firing called 'F98'")
    tiles("firing", "add", "F98")
    code, said = Keyboard("unload", "F98").ends()
    assert code == 0
    assert "no tile waits to be looked at" in said


def test_what_another_person_does_to_the_load_meanwhile_is_told_and_kept(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    # Between the question and the answer, and of tiles to come.
    for look in (("L-1", "--defect", "crawling"), ("L-2", "--clean")):
        assert tiles("inspect", *look, "--cone-reached", "05").code == 0
    assert tiles("remove", "L-3", "--yes").code == 0
    assert tiles("change", "L-4", "--glaze", "pond green=3").code == 0
    keyboard.press(ENTER)
    keyboard.sees(f"looked at meanwhile: {date.today()}, crawling. n leaves it at that.")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("n")
    keyboard.sees(f"looked at meanwhile: {date.today()}, clean. n leaves it at that.")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("n")
    keyboard.sees("L-3 is no longer in F40: on to the next.")
    keyboard.sees("3/11  L-4  red earthenware, pond green x3")
    keyboard.press("c", "1", ENTER)
    at_tile(keyboard, 4, "L-5", of=11)
    assert tiles("change", "L-4", "--note", "a chip").code == 0
    keyboard.press("<")
    at_tile(keyboard, 3, "L-4", of=11)
    keyboard.press("p", "1", ENTER)
    at_tile(keyboard, 4, "L-5", of=11)
    keyboard.press("q")
    code, said = keyboard.ends()
    assert (code, "1 looked at: 0 clean, 1 with a defect." in said) == (0, True)
    assert looks(tiles, "L-1") == [[("crawling", None, None)]]
    assert looks(tiles, "L-2") == [[]]
    assert looks(tiles, "L-4") == [[("pinholes", "slight", None)]]
    assert shown(tiles, "L-4")["note"] == "a chip"


def test_a_tile_that_is_broken_or_lost_is_noted_and_not_asked_about_again(load, tiles):
    assert tiles("change", "L-1", "--note", "a chip").code == 0
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("-")
    keyboard.sees("what became of it? b broken by hand (cracked in the firing: < d), l lost:")
    keyboard.press("b")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("missing", ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("-", "l")
    at_tile(keyboard, 4, "L-4")
    keyboard.press("<")
    keyboard.sees(
        "stored: lost. Enter leaves it so; a defect takes its place, 0 is clean after all."
    )
    keyboard.press("c", "1", ENTER)
    at_tile(keyboard, 4, "L-4")
    keyboard.press("q")
    said = keyboard.ends()[1]
    assert "1 looked at: 0 clean, 1 with a defect.\n2 noted as broken or lost.\n" in said
    notes = [shown(tiles, mark)["note"] for mark in ("L-1", "L-2", "L-3")]
    assert notes == ["a chip; broken, not looked at", "lost, not looked at", None]
    assert [looks(tiles, mark) for mark in ("L-1", "L-2")] == [[], []]
    assert shown(tiles, "L-1")["cone_reached"] is None
    keyboard = Keyboard("unload", "F40")
    keyboard.sees(
        "Left out, noted as broken or lost: L-1, L-2. To look at one all the same: tiles unload"
    )
    keyboard.sees("F40: 9 tiles to look at.")
    keyboard.interrupts()
    keyboard = Keyboard("unload", "F40", "L-1")
    keyboard.sees("F40: 1 tile to look at.")
    keyboard.interrupts()


def test_the_last_tile_noted_by_a_slip_is_mended_with_the_command_told(load, tiles):
    for mark in PLAIN:
        tiles("remove", mark, "--yes")
    assert tiles("change", AREAS, "--note", "a chip").code == 0
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    keyboard.press("-", "b")
    said = keyboard.ends()[1]
    mend = ("change", AREAS, "--note", "a chip")
    told = (
        f'{AREAS} is noted as broken. If that was a slip:\n  tiles change {AREAS} --note "a chip"'
    )
    assert told in said
    assert tiles(*mend).code == 0
    assert shown(tiles, AREAS)["note"] == "a chip"

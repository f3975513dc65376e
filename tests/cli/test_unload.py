"""``tiles unload`` through a pseudo-terminal: real keys, a real database."""

import shutil
from datetime import date

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles import settings
from tiles.records import forms, store
from tiles.records.database import open_database

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")

PLAIN = [f"L-{number}" for number in range(1, 12)]
AREAS = "L-12"


@pytest.fixture(scope="module")
def load_template(sample_template, tmp_path_factory):
    """Twelve tiles in one firing, the last of them with three areas; nothing looked at yet."""
    file = tmp_path_factory.mktemp("load") / "load.db"
    shutil.copyfile(sample_template, file)
    opened = open_database(settings.database_url(str(file)))
    with opened.transaction() as session:
        store.add_firing(session, forms.FiringRecord(name="F40", target_cone="05"))
        for mark in PLAIN:
            store.add_tile(session, tile(mark, "studio clear", [2]))
        store.add_tile(session, tile(AREAS, "pond green", [1, 2, 3]))
    opened.engine.dispose()
    return file


def tile(mark, glaze, coats):
    areas = [
        {"number": number, "layers": [{"glaze": glaze, "coats": count}]}
        for number, count in enumerate(coats, start=1)
    ]
    values = {"mark": mark, "body": "red earthenware", "bisque_cone": "04", "firing": "F40"}
    return forms.read(forms.TileRecord, values | {"areas": areas})


@pytest.fixture
def load(load_template, tmp_path, monkeypatch):
    file = tmp_path / "load.db"
    shutil.copyfile(load_template, file)
    monkeypatch.setenv("TILES_DB", str(file))
    return file


def at_tile(keyboard, number, mark, of=12):
    keyboard.sees(f"{number}/{of}  {mark}  ")
    keyboard.sees("   ")


def reads_cone(keyboard, cone="05", whole_load="n"):
    keyboard.answers("Cone reached", cone)
    keyboard.answers("The same for the whole load?", whole_load)


def looks(tiles, mark):
    return [
        [(seen["defect"], seen["severity"], seen["area"]) for seen in look["defects"]]
        for look in shown(tiles, mark)["inspections"]
    ]


def test_unload_of_twelve_tiles_ten_of_them_clean_takes_at_most_thirty_keys(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    faults = {"L-4": ("p", "1", ENTER), AREAS: ("w", "3", "3", ENTER)}
    for number, mark in enumerate([*PLAIN, AREAS], start=1):
        at_tile(keyboard, number, mark)
        keyboard.press(*faults.get(mark, (ENTER,)))
    code, said = keyboard.ends()
    assert (code, keyboard.child.signalstatus) == (0, None)
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
    keyboard.sees("how bad?")
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


def test_a_wrong_defect_key_is_taken_back(load, tiles):
    keyboard = Keyboard("unload", "F40")
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
    keyboard.sees("which area?")
    keyboard.press("<", ENTER)
    assert "12 looked at: 11 clean, 1 with a defect." in keyboard.ends()[1]
    assert (looks(tiles, "L-1"), looks(tiles, AREAS)) == ([[("pinholes", "slight", None)]], [[]])


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


def test_unload_goes_back_and_lets_a_tile_be_looked_at_again(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("<")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("w", "2", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    code, said = keyboard.ends()
    assert code == 0
    assert "1 looked at: 0 clean, 1 with a defect." in said
    assert looks(tiles, "L-1") == [[("crawling", "moderate", None)]]
    assert looks(tiles, "L-2") == []


@pytest.mark.parametrize("leaves", [ENTER, "n", "q"])
def test_a_tile_gone_back_to_keeps_what_is_stored_until_something_else_is_said(load, tiles, leaves):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("s", "1", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press(ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("<")
    keyboard.sees("stored: clean. Enter leaves it so; a defect takes its place.")
    keyboard.press("<")
    keyboard.sees("stored: slight specks. Enter leaves it so; a defect takes its place, 0 is clean")
    keyboard.press(leaves)
    if leaves != "q":
        at_tile(keyboard, 2, "L-2")
        keyboard.press("q")
    code, said = keyboard.ends()
    assert code == 0
    assert "2 looked at: 1 clean, 1 with a defect." in said
    assert looks(tiles, "L-1") == [[("specks", "slight", None)]]
    assert looks(tiles, "L-2") == [[]]
    assert shown(tiles, "L-1")["cone_reached"] == "05"


def test_a_tile_gone_back_to_can_be_clean_after_all(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("s", "1", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("<")
    keyboard.sees("0 is clean after all")
    keyboard.press("0")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert "1 looked at: 1 clean, 0 with a defect." in keyboard.ends()[1]
    assert looks(tiles, "L-1") == [[]]


def test_the_cone_of_the_whole_load_is_that_of_the_tiles_put_off_and_not_asked_again(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard, "04", whole_load="")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("n")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("c", "1", ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("<")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("p", "1", ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert looks(tiles, "L-2") == [[("pinholes", "slight", None)]]
    for mark in ("L-1", "L-2", AREAS):
        assert shown(tiles, mark)["derived"]["cone_reached"] == "04"
        assert shown(tiles, mark)["derived"]["cone_reached_said_by"] == "witness cone"
    assert "04" in tiles("firing", "show", "F40").out
    again = Keyboard("unload", "F40")
    at_tile(again, 1, "L-1", of=11)
    again.press("q")
    code, said = again.ends()
    assert (code, "Cone reached" in said) == (0, False)


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


@pytest.mark.parametrize("keys", [(), ("w",)], ids=["at a tile", "in a defect"])
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
    assert all_rows(load) == before
    assert (looks(tiles, "L-1"), looks(tiles, "L-2")) == ([[]], [])


def test_not_now_leaves_a_tile_for_later_and_a_wrong_key_lists_the_keys(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("z")
    keyboard.sees("Enter  clean")
    keyboard.sees("x  other")
    keyboard.press("n")
    at_tile(keyboard, 2, "L-2")
    keyboard.press(ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert (looks(tiles, "L-1"), looks(tiles, "L-2")) == ([], [[]])


def test_a_day_before_the_firing_is_refused_before_the_walk(load, tiles):
    tiles("firing", "change", "F40", "--fired-on", "2026-03-02")
    code, said = Keyboard("unload", "F40", "--inspected-on", "2026-03-01").ends()
    assert code == 1
    assert "L-1 would be inspected on 2026-03-01, before it was fired on 2026-03-02" in said
    assert "to look at" not in said


def test_a_wrong_cone_is_asked_again_and_an_unlikely_one_questioned(load, tiles):
    before = all_rows(load)
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("Cone reached", "55")
    keyboard.sees("Try: ")
    keyboard.answers("Cone reached", "5")
    keyboard.sees("L-1, L-2, L-3")
    keyboard.sees("cone reached 5")
    keyboard.answers("Is that really so?", "n")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert all_rows(load) == before


def test_a_tile_is_said_anew_after_a_cone_for_the_whole_load_beside_those_of_shelves(load, tiles):
    assert tiles("firing", "change", "F40", "--witness-cone", "05@attic").code == 0
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard, whole_load="y")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("p", "1", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("<")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("0")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert "1 looked at: 1 clean, 0 with a defect." in keyboard.ends()[1]
    assert looks(tiles, "L-1") == [[]]
    assert shown(tiles, "L-1")["derived"]["cone_reached_said_by"] == "witness cone"


def test_a_refused_day_notes_no_batch(load, tiles):
    assert tiles("batch", "add", "pond green", "May").code == 0
    before = shown(tiles, "L-1")
    keyboard = Keyboard("unload", "F40", "--inspected-on", "2931-01-01", "--batch", "May")
    assert keyboard.ends()[0] == 1
    assert shown(tiles, "L-1") == before


def test_an_unlikely_cone_is_stored_when_the_person_says_so(load, tiles):
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("Cone reached", "5")
    keyboard.answers("Is that really so?", "y")
    keyboard.answers("The same for the whole load?", "n")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("b", "1", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert "1 looked at: 0 clean, 1 with a defect." in keyboard.ends()[1]
    assert shown(tiles, "L-1")["cone_reached"] == "5"
    assert looks(tiles, "L-1") == [[("blisters", "slight", None)]]


def test_keys_typed_ahead_are_not_lost(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press(ENTER, ENTER, "c", "2", ENTER, ENTER, "q")
    code, said = keyboard.ends()
    assert code == 0
    assert "4 looked at: 3 clean, 1 with a defect." in said
    assert looks(tiles, "L-3") == [[("crazing", "moderate", None)]]


def test_the_cone_is_not_asked_where_witness_cones_say_it(load, tiles):
    assert tiles("firing", "change", "F40", "--witness-cone", "04").code == 0
    keyboard = Keyboard("unload", "F40")
    at_tile(keyboard, 1, "L-1")
    keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    record = shown(tiles, "L-1")
    assert (record["cone_reached"], record["derived"]["cone_reached"]) == (None, "04")


def test_again_walks_tiles_that_were_looked_at_and_keeps_the_first_look(load, tiles):
    assert tiles("inspect", "L-1", "--clean", "--inspected-on", "2026-07-01").code == 0
    keyboard = Keyboard("unload", "F40", "--again", "--inspected-on", "2026-09-01")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("c", "1", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("<")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("c", "2", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert looks(tiles, "L-1") == [[], [("crazing", "moderate", None)]]


def test_a_look_that_contradicts_one_of_the_same_day_is_asked_about(load, tiles):
    assert tiles("inspect", "L-1", "--clean", "--inspected-on", "2026-07-01").code == 0
    keyboard = Keyboard("unload", "F40", "--again", "--inspected-on", "2026-07-01")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("c", "1", ENTER)
    keyboard.sees("found it clean, another with crazing. Both right?")
    keyboard.press("n")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("p", "1", ENTER)
    keyboard.sees("another with pinholes. Both right?")
    keyboard.press("y")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert looks(tiles, "L-1") == [[], [("pinholes", "slight", None)]]


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


def test_unload_long_after_the_firing_says_which_day_the_looks_get(load, tiles):
    assert tiles("firing", "change", "F40", "--fired-on", "2026-01-10").code == 0
    keyboard = Keyboard("unload", "F40")
    days = (date.today() - date(2026, 1, 10)).days
    keyboard.sees(f"The looks are dated today, {days} days after the firing.")
    keyboard.sees("q, then tiles unload F40 --inspected-on YYYY-MM-DD")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0


def test_unload_asks_no_day_of_second_looks(load, tiles):
    assert tiles("firing", "change", "F40", "--fired-on", "2026-01-10").code == 0
    for mark in [*PLAIN, AREAS]:
        looked = ("inspect", mark, "--clean", "--inspected-on", "2026-01-12")
        assert tiles(*looked).code == 0
    keyboard = Keyboard("unload", "F40", "--again")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    code, said = keyboard.ends()
    assert (code, "dated today" in said) == (0, False)


@pytest.mark.parametrize("day", ["2062-01-02", "someday"])
def test_unload_checks_the_day_of_the_looks_before_the_walk(load, day):
    before = all_rows(load)
    keyboard = Keyboard("unload", "F40", "--inspected-on", day)
    keyboard.sees("Error: ")
    keyboard.sees(day)
    assert keyboard.ends()[0] == 1
    assert all_rows(load) == before

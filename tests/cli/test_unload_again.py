"""``tiles unload`` of tiles that were looked at: gone back to, or walked once more."""

from datetime import date

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import shown
from tests.cli.unloading import AREAS, PLAIN, at_tile, looks, reads_cone

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


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
    assert "a slip" not in said
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
    keyboard.reads(
        "stored: slight specks. Enter leaves it so; a defect takes its place, 0 is clean"
    )
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


@pytest.mark.parametrize("earlier", [False, True])
def test_a_slip_in_the_last_tile_can_be_mended_with_the_commands_told(load, tiles, earlier):
    for mark in PLAIN:
        tiles("remove", mark, "--yes")
    day = ("--inspected-on", "2026-09-01")
    if earlier:
        assert tiles("inspect", AREAS, "--defect", "specks@1", *day).code == 0
    keyboard = Keyboard("unload", "F40", "--again", *day)
    reads_cone(keyboard)
    keyboard.press("w", "3", "3")
    keyboard.reads("another?")
    keyboard.press(ENTER)
    said = " ".join(keyboard.ends()[1].split())
    told = f"{AREAS} is kept as severe crawling on area 3. If that was a slip"
    mend = ("change", AREAS, "--forget-inspection", "2026-09-01:2" if earlier else "2026-09-01")
    anew = ("inspect", AREAS, "--clean", *day)
    assert f"{told}: tiles {' '.join(mend)} tiles {' '.join(anew)} 1 looked at" in said
    assert tiles(*mend).code == 0
    assert looks(tiles, AREAS) == [[("specks", None, 1)]] * earlier
    assert tiles(*anew).code == earlier  # beside the specks of that day it is asked about


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
    keyboard.sees("found it clean, another with crazing. Is that really so?")
    keyboard.press("n")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("p", "1", ENTER)
    keyboard.sees("another with pinholes. Is that really so?")
    keyboard.press("y")
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert looks(tiles, "L-1") == [[], [("pinholes", "slight", None)]]


def test_a_clean_look_at_an_area_that_crazed_before_is_asked_about(load, tiles):
    crazed = ("inspect", AREAS, "--defect", "crazing@2", "--inspected-on", "2026-07-01")
    assert tiles(*crazed).code == 0
    for mark in PLAIN:
        tiles("remove", mark, "--yes")
    keyboard = Keyboard("unload", "F40", "--again", "--inspected-on", "2026-09-01")
    reads_cone(keyboard)
    keyboard.press("p", "1", "1")
    keyboard.reads("another?")
    keyboard.press(ENTER)
    keyboard.sees("crazing on area 2 was seen on 2026-07-01 and does not heal")
    keyboard.sees("Is that really so?")
    keyboard.press("y")
    assert keyboard.ends()[0] == 0
    assert looks(tiles, AREAS)[1] == [("pinholes", "slight", 1)]


@pytest.mark.parametrize("takes_back", [False, True])
def test_a_fault_keyed_while_another_stored_clean_is_kept_by_enter(load, tiles, takes_back):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    assert tiles("inspect", "L-1", "--clean", "--cone-reached", "05").code == 0
    keyboard.press("w", "2", ENTER)
    keyboard.sees(f"looked at meanwhile: {date.today()}, clean.")
    keyboard.sees("not stored yet: your moderate crawling. Enter stores it as well, < takes it")
    if takes_back:
        keyboard.sees("another?")
        keyboard.press("<", "n")
    else:
        keyboard.reads("another?")
        keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    code, said = keyboard.ends()
    assert (code, f"{1 - takes_back} looked at" in said) == (0, True)
    yours = [("crawling", "moderate", None)]
    assert looks(tiles, "L-1") == ([[]] if takes_back else [[], yours])


def test_a_fault_that_another_stored_meanwhile_as_well_is_not_offered_back(load, tiles):
    keyboard = Keyboard("unload", "F40")
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-1")
    same = ("--defect", "pinholes:slight", "--defect", "crawling:moderate", "--cone-reached", "05")
    assert tiles("inspect", "L-1", *same).code == 0
    keyboard.press("w", "2", "p", "1", ENTER)
    keyboard.sees("crawling. n leaves it at that.")
    keyboard.sees("Enter leaves it so")
    keyboard.press("q")
    assert "not stored yet" not in keyboard.ends()[1]
    assert looks(tiles, "L-1") == [[("pinholes", "slight", None), ("crawling", "moderate", None)]]

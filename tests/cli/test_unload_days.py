"""The day that the looks of ``tiles unload`` get."""

from datetime import date

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import all_rows, shown
from tests.cli.unloading import AREAS, PLAIN, at_tile, reads_cone

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def test_a_day_before_the_firing_is_refused_before_the_walk(load, tiles):
    tiles("firing", "change", "F40", "--fired-on", "2026-03-02")
    code, said = Keyboard("unload", "F40", "--inspected-on", "2026-03-01").ends()
    assert code == 1
    assert "L-1 would be inspected on 2026-03-01, before it was fired on 2026-03-02" in said
    assert "to look at" not in said


def test_a_refused_day_notes_no_batch(load, tiles):
    assert tiles("batch", "add", "pond green", "May").code == 0
    before = shown(tiles, "L-1")
    keyboard = Keyboard("unload", "F40", "--inspected-on", "2931-01-01", "--batch", "May")
    assert keyboard.ends()[0] == 1
    assert shown(tiles, "L-1") == before


def test_unload_long_after_the_firing_says_which_day_the_looks_get(load, tiles):
    assert tiles("firing", "change", "F40", "--fired-on", "2026-01-10").code == 0
    keyboard = Keyboard("unload", "F40")
    days = (date.today() - date(2026, 1, 10)).days
    keyboard.sees(f"Day of these looks: {date.today()}, today.")
    keyboard.sees(f"That is {days} days after the firing. If they were earlier: ")
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
    assert (code, "days after the firing" in said) == (0, False)


@pytest.mark.parametrize(
    ("typed", "day"), [("", "2026-03-06"), ("today", str(date.today())), ("2026-03-07",) * 2]
)
def test_a_walk_that_goes_on_offers_the_day_of_the_one_before(load, tiles, typed, day):
    assert tiles("inspect", "L-1", "--clean", "--inspected-on", "2026-03-06").code == 0
    assert tiles("firing", "change", "F40", "--fired-on", "2026-03-02").code == 0
    keyboard = Keyboard("unload", "F40")
    keyboard.sees("Others of F40 were looked at on 2026-03-06.")
    keyboard.answers("[2026-03-06]:", "2026-03-01")
    keyboard.sees("before it was fired on 2026-03-02")
    keyboard.answers("[2026-03-06]:", typed)
    reads_cone(keyboard)
    at_tile(keyboard, 1, "L-2", 11)
    keyboard.press("\r")
    at_tile(keyboard, 2, "L-3", 11)
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert shown(tiles, "L-2")["inspections"][0]["inspected_on"] == day


def test_a_walk_that_goes_on_with_a_day_asks_for_none(load, tiles):
    assert tiles("inspect", "L-1", "--clean", "--inspected-on", "2026-03-06").code == 0
    keyboard = Keyboard("unload", "F40", "--inspected-on", "2026-03-06")
    keyboard.sees("Day of these looks: 2026-03-06.")
    keyboard.interrupts()
    assert "Others of F40" not in keyboard.ends()[1]


@pytest.mark.parametrize("day", ["2062-01-02", "someday"])
def test_unload_checks_the_day_of_the_looks_before_the_walk(load, day):
    before = all_rows(load)
    keyboard = Keyboard("unload", "F40", "--inspected-on", day)
    keyboard.sees("Error: ")
    keyboard.sees(day)
    assert keyboard.ends()[0] == 1
    assert all_rows(load) == before

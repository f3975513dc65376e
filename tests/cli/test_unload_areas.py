"""``tiles unload`` of a tile with more areas than there are single keys for."""

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.unloading import looks

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def test_an_area_with_two_digits_is_typed(sample, tiles):
    assert tiles("firing", "add", "F77", "--target-cone", "05", "--witness-cone", "05").code == 0
    coats = ",".join("123123123123")
    ran = tiles("log", "--mark", "G-1", "--body", "red earthenware", "--glaze", "pond green",
                "--coats", coats, "--firing", "F77")  # fmt: skip
    assert ran.code == 0, ran.err
    keyboard = Keyboard("unload", "F77")
    keyboard.sees("1/1  G-1  red earthenware, pond green x1 | x2 | x3")
    for defect, typed in (("w", "12"), ("p", ""), ("c", "<")):
        keyboard.press(defect, "3")
        keyboard.answers("which area? 1 to 12 (Enter: the whole tile):", typed)
    keyboard.press("r", "3")
    keyboard.answers("which area?", "13")
    keyboard.sees("'13' is no area of this tile")
    keyboard.answers("which area?", "10")
    keyboard.sees("another?")
    keyboard.press(ENTER)
    assert keyboard.ends()[0] == 0
    severe = [("crawling", 12), ("pinholes", None), ("running", 10)]
    assert looks(tiles, "G-1") == [[(defect, "severe", area) for defect, area in severe]]


def test_the_same_fault_on_a_further_area_costs_one_key(sample, tiles):
    assert tiles("firing", "add", "F77", "--target-cone", "05", "--witness-cone", "05").code == 0
    log = ("log", "--body", "red earthenware", "--glaze", "pond green", "--coats", "1,2,3")
    assert tiles(*log, "--mark", "G-1", "--firing", "F77").code == 0
    keyboard = Keyboard("unload", "F77")
    keyboard.sees("1/1  G-1  ")
    keyboard.press("w", "3", "1")
    keyboard.sees("another? (2, 3: crawling there, too)")
    keyboard.press("3")
    keyboard.sees("crawling on area 3, too")
    keyboard.sees("another? (2: crawling there, too)")
    keyboard.press("p", "1")
    keyboard.sees("which area?")
    keyboard.press(ENTER)
    keyboard.sees("another?")
    keyboard.press(ENTER)
    assert keyboard.ends()[0] == 0
    assert looks(tiles, "G-1") == [
        [("crawling", "severe", 1), ("crawling", "severe", 3), ("pinholes", "slight", None)]
    ]

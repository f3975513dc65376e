"""The cone asked for in ``tiles unload``: of the whole load, of its shelves, or of its tiles."""

from types import SimpleNamespace

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, shown
from tests.cli.unloading import AREAS, at_tile, looks, reads_cone
from tiles.chemistry.cones import read_cone
from tiles.cli import unload_cones

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


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


def test_a_bisque_cone_beside_another_witness_cone_is_told_before_the_walk(load, tiles):
    assert tiles("firing", "add", "B9", "--kind", "bisque", "--witness-cone", "08").code == 0
    assert tiles("change", "L-2", "L-3", "--bisque-firing", "B9").code == 0
    keyboard = Keyboard("unload", "F40")
    keyboard.sees("B9 read cone 08, but L-2..L-3 say bisque cone 04")
    reads_cone(keyboard)
    keyboard.press("q")
    assert keyboard.ends()[0] == 0


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


def test_an_unlikely_cone_is_stored_when_the_person_says_so(load, tiles):
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("Cone reached", "5")
    keyboard.answers("Is that really so? [y/N]", "06@top")
    keyboard.sees("'06@top' is neither y nor n")
    keyboard.answers("Is that really so?", "y")
    keyboard.answers("whole load? (n: the own cone of each tile looked at) [Y/n]", "n")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("b", "1", ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("q")
    assert "1 looked at: 0 clean, 1 with a defect." in keyboard.ends()[1]
    assert shown(tiles, "L-1")["cone_reached"] == "5"
    assert looks(tiles, "L-1") == [[("blisters", "slight", None)]]


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


@pytest.fixture
def two_shelves(load, tiles):
    assert tiles("load", "F40", "L-1", "--shelf", "Top", "--yes").code == 0
    assert tiles("load", "F40", "L-2", "--shelf", "low left", "--yes").code == 0
    assert tiles("load", "F40", "L-3..L-12", "--shelf", "low left", "--yes").code == 0


def test_each_shelf_is_given_its_cone_in_one_answer(two_shelves, tiles):
    keyboard = Keyboard("unload", "F40")
    keyboard.sees("05, or 05@Top 06@low left; Enter: not read")
    keyboard.answers("", "05@top 06@attic")
    keyboard.sees("lies on shelf 'attic'")
    keyboard.answers("Cone reached", "05@top 05½@Top")
    keyboard.sees("two cones for one place")
    keyboard.answers("Cone reached", "05@top, 06@low left")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    reached = [shown(tiles, mark)["derived"]["cone_reached"] for mark in ("L-1", "L-2", AREAS)]
    assert reached == ["05", "06", "06"]


def test_a_cone_that_is_not_of_the_whole_load_is_asked_for_shelf_by_shelf(two_shelves, tiles):
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("Cone reached", "05")
    keyboard.answers("The same for the whole load? (n: asked shelf by shelf) [Y/n]", "n")
    keyboard.answers("Witness cone of shelf Top (Enter: not read)")
    keyboard.answers("Witness cone of shelf low left (Enter: not read)", "06@low left")
    keyboard.sees("Try: ")
    keyboard.answers("Witness cone of shelf low left", "06")
    keyboard.sees("no witness cone for shelf 'Top'")
    at_tile(keyboard, 1, "L-1")
    keyboard.press(ENTER)
    at_tile(keyboard, 2, "L-2")
    keyboard.press("p", "1", ENTER)
    at_tile(keyboard, 3, "L-3")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    looked_at = [shown(tiles, mark) for mark in ("L-1", "L-2", AREAS)]
    assert [each["cone_reached"] for each in looked_at] == [None, None, None]
    assert [each["derived"]["cone_reached"] for each in looked_at] == [None, "06", "06"]


def test_a_shelf_is_read_as_it_is_named_whatever_stands_in_its_name(load, tiles):
    assert tiles("load", "F40", "L-1", "--shelf", "Top", "--yes").code == 0
    assert tiles("load", "F40", "L-2..L-12", "--shelf", "my @shelf", "--yes").code == 0
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("05, or 05@Top 06@my @shelf; Enter: not read", "05@top 06@my @shelf")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    reached = [shown(tiles, mark)["derived"]["cone_reached"] for mark in ("L-1", "L-2")]
    assert reached == ["05", "06"]


@pytest.mark.parametrize(
    "cone", ["06", "^06", "o6", "c06", "Cone 06", "05½", "5.5", "5 1/2", "cone 5 1/2"]
)
@pytest.mark.parametrize("between", [" ", ", ", ";"])
def test_a_cone_of_a_shelf_is_known_however_it_is_written(cone, between):
    records = [SimpleNamespace(shelf=shelf) for shelf in ("my top", "low")]
    found = unload_cones.read(f"{cone}@my top{between}{cone}@low", records)
    assert [(each.cone, each.shelf) for each in found] == [
        (read_cone(cone), "my top"),
        (read_cone(cone), "low"),
    ]


def test_tiles_of_a_shelf_that_was_not_read_are_named(two_shelves, tiles):
    keyboard = Keyboard("unload", "F40")
    keyboard.answers("Cone reached", "06@low left")
    keyboard.sees("no witness cone for shelf 'Top'")
    at_tile(keyboard, 1, "L-1")
    keyboard.press("q")
    assert keyboard.ends()[0] == 0
    assert shown(tiles, "L-1")["derived"]["cone_reached"] is None


@pytest.mark.parametrize(
    ("target", "example"),
    [
        ("6", "(6, or 6@Top 5@middle; "),
        ("05", "(05, or 05@Top 06@middle; "),
        ("5½", "(5½, or 5½@Top 5@middle; "),
        (None, "(05, or 05@Top 06@middle; "),
    ],
)
def test_the_example_is_of_the_cone_aimed_at_and_of_the_shelves_from_the_top(target, example):
    firing = SimpleNamespace(target_cone=target)
    shelves = ("lower left", "middle", "bottom", "Top", None)
    records = [SimpleNamespace(shelf=shelf, firing=firing) for shelf in shelves]
    assert example in unload_cones.question(records)


def test_shelves_are_walked_from_the_top_of_the_kiln_to_its_bottom():
    shelves = ["bottom", "middle", "Top back", "shelf 10", "shelf 2", None]
    walked = sorted(shelves, key=unload_cones.from_the_top)
    assert walked == [None, "Top back", "middle", "shelf 2", "shelf 10", "bottom"]

"""``split``: tiles of one name since a day, and back again."""

import re
import shlex

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown

NEW = "red, new delivery"


@pytest.fixture
def two_deliveries(fresh, tiles):
    """Tiles A-1 to A-3 of one month each, and A-4 without a day."""
    for number, day in ((1, "2024-01-10"), (2, "2024-03-01"), (3, "2024-04-02"), (4, "")):
        made = ("--body", "red", "--glaze", "dusk", "--add-missing")
        look = ("--clean", "--inspected-on", day) if day else ()
        assert tiles("log", "--mark", f"A-{number}", *made, *look).code == 0
    return fresh


def bodies(tiles):
    return [shown(tiles, f"A-{number}")["body"]["name"] for number in range(1, 5)]


def test_tiles_since_a_month_are_asked_about_moved_told_and_brought_back(two_deliveries, tiles):
    before, how = all_rows(two_deliveries), ("body", "split", "red", "--since", "2024-03")
    told = "2 tiles of 'red' will be of a new clay body", "A-2, A-3. 2 tiles will stay", "A-4. Try"
    assert_one_line_error(tiles(*how, "--to", NEW), *told)
    assert all_rows(two_deliveries) == before
    ran = tiles(*how, "--to", NEW, "--yes")
    assert ran.out == f"2 tiles of red are now of {NEW}: A-2..A-3.\n"
    assert "Of 1 that stay no day is on record: A-4." in ran.err
    assert bodies(tiles) == ["red", NEW, NEW, "red"]
    (back,) = re.findall(r"To make them one again: tiles (.+)", ran.err)
    assert tiles(*shlex.split(back), "--yes").code == 0
    assert bodies(tiles) == ["red"] * 4


@pytest.mark.parametrize(
    ("how", "told"),
    [
        ((), "which of its tiles is missing. Try: --since"),
        (("A-1", "--since", "2024"), "which of its tiles is said twice"),
        (("--since", "2025"), "none of the 4 tiles of 'red' is of that time. Of 1 that stay"),
        (("--until", "2024-13"), "--until '2024-13' is not possible"),
        (("A-1", "A-9"), "'A-9' is not of 'red'. Try: of these: A-1, A-2, A-3, A-4"),
    ],
)
def test_what_cannot_be_parted_is_one_line_and_changes_nothing(two_deliveries, tiles, how, told):
    before = all_rows(two_deliveries)
    assert_one_line_error(tiles("body", "split", "red", *how, "--to", NEW, "--yes"), told)
    assert all_rows(two_deliveries) == before


def test_all_tiles_of_a_name_are_not_parted_from_none(two_deliveries, tiles):
    assert tiles("remove", "A-4", "--yes").code == 0
    ran = tiles("body", "split", "red", "--since", "2023", "--to", NEW, "--yes")
    assert_one_line_error(ran, "all tiles of 'red' are of that time", "'tiles body rename'")
    unquoted = tiles("body", "split", "new", "red", "--since", "2023", "--to", NEW, "--yes")
    assert_one_line_error(unquoted, "no clay body called 'new' is on record")


def test_no_glaze_gets_a_new_name_that_reads_as_two_layers(two_deliveries, tiles):
    made = ("--body", "red", "--glaze", "mist + dusk", "--add-missing", "--yes")
    assert tiles("log", "--mark", "B-1", *made).code == 0  # as it may be on record since long ago
    before = all_rows(two_deliveries)
    told = "cannot be called 'fog + dusk': a + stands between two layers of a tile. Try: fog-dusk"
    for command in (
        ("add", "fog + dusk"),
        ("rename", "dusk", "fog + dusk"),
        ("split", "dusk", "A-1", "--to", "fog + dusk", "--yes"),
    ):
        assert_one_line_error(tiles("glaze", *command), told)
    line = ("--line", "frit=60", "--line", "silica=40", "--yes")
    assert_one_line_error(tiles("recipe", "add", "fog + dusk", *line), told)
    asked = ("log", "--mark", "B-2", "--body", "red", "--glaze", "mist=2 + fog")
    assert_one_line_error(tiles(*asked), "one --glaze for each layer, from the clay up")
    assert all_rows(two_deliveries) == before
    assert tiles("glaze", "show", "mist + dusk").code == 0
    assert tiles("glaze", "rename", "mist + dusk", "mist").code == 0
    for name in ("clear + 5% tin oxide", "leaf 75 + dusk 25"):  # a recipe with more, and a blend
        assert tiles("glaze", "add", name).code == 0

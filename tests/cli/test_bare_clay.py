"""A fault of a glaze where no glaze is on record is asked about, by every door."""

import json

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.records.bare_clay import OF_A_GLAZE, bare_questions
from tiles.records.forms import TileRecord
from tiles.records.words import DEFECTS

DAY = ("--inspected-on", "2026-03-02")


HALF = {
    "mark": "Q-1",
    "firing": "W0",
    "cone_reached": "05",
    "body": "red earthenware",
    "areas": [{"number": 1, "layers": [{"glaze": "pond green"}]}, {"number": 2}],
}


@pytest.fixture
def bare(sample, tiles, tmp_path):
    """A tile with a glazed area 1 and a bare area 2, and one with no glaze at all."""
    (tmp_path / "half.json").write_text(json.dumps(HALF))
    assert tiles("import", tmp_path / "half.json").code == 0
    add = ("firing", "add", "W1", "--target-cone", "05", "--fired-on", "2026-03-01")
    assert tiles(*add).code == 0
    assert tiles("log", "--mark", "Q-2", "--body", "red earthenware", "--firing", "W1").code == 0
    return sample


def test_log_and_inspect_ask_before_they_store_it(bare, tiles):
    log = ("log", "--mark", "Q-3", "--body", "red earthenware", "--defect", "crawling", *DAY)
    look = ("inspect", "Q-2", "--defect", "crawling", "--defect", "crazing", *DAY)
    before = all_rows(bare)
    assert_one_line_error(tiles(*log), "Q-3: crawling was seen, but no glaze", "--yes")
    assert_one_line_error(tiles(*look), "Q-2: crawling and crazing were seen, but no glaze")
    assert all_rows(bare) == before
    assert tiles(*log, "--yes").code == 0
    assert tiles(*look, "--yes").code == 0
    assert tiles("change", "Q-2", "--note", "a test of the clay").code == 0, "not asked again"


def test_on_an_area_it_is_asked_only_where_that_area_is_bare(bare, tiles):
    ran = tiles("inspect", "Q-1", "--defect", "crawling@2", *DAY)
    assert_one_line_error(ran, "crawling was seen on area 2, but no glaze is on record there")
    assert tiles("inspect", "Q-1", "--defect", "crawling@1", *DAY).code == 0
    assert tiles("inspect", "Q-1", "--defect", "crawling", *DAY).code == 0


def test_the_walk_of_a_load_asks_with_a_key(bare, tiles):
    keyboard = Keyboard("unload", "W1", *DAY)
    keyboard.answers("Cone reached")
    keyboard.sees("1/1  Q-2")
    keyboard.press("w", "1", ENTER)
    keyboard.sees("crawling was seen, but no glaze is on record. Is that really so?")
    keyboard.press("n")
    keyboard.sees("1/1  Q-2")
    keyboard.press("l", "1", ENTER)
    assert keyboard.ends()[0] == 0
    (look,) = shown(tiles, "Q-2")["inspections"]
    assert [each["defect"] for each in look["defects"]] == ["bloating"]


def test_a_sheet_is_asked_about_in_one_line_for_all_its_tiles(bare, tiles, tmp_path):
    sheet = tmp_path / "t.csv"
    rows = [f"R-{n},red earthenware,crawling,2026-03-02" for n in range(3)]
    sheet.write_text("\n".join(["mark,body,faults,inspected_on", *rows]) + "\n")
    ran = tiles("import", sheet)
    (line, last) = ran.err.splitlines()
    assert line.startswith("Refused: R-0 (also R-1, R-2): crawling was seen, but no glaze")
    assert "3 of 3 rows" in last and "--yes if all of it really is so" in last
    assert tiles("import", sheet, "--yes").code == 0
    assert shown(tiles, "R-2")["inspections"][0]["defects"][0]["defect"] == "crawling"
    kept = tmp_path / "t.json"
    assert tiles("export", kept).code == 0
    assert tiles("import", kept, "--db", tmp_path / "other.db").code == 0, "answered once"


def test_what_bare_clay_can_have_is_not_asked_about():
    other = [each for each in DEFECTS if each not in OF_A_GLAZE]
    assert {"bloating", "dunting", "specks", "underfired", "colour shift", "other"} == set(other)
    for defect in DEFECTS:
        look = {"inspected_on": "2026-03-02", "defects": [{"defect": defect}]}
        areas = [{"number": 1}, {"number": 2, "layers": [{"glaze": "moss"}]}]
        bare = TileRecord(mark="Q-1", body="red", areas=areas[:1], inspections=[look])
        assert bool(bare_questions(bare)) == (defect in OF_A_GLAZE)
        glazed = TileRecord(mark="Q-1", body="red", areas=areas, inspections=[look])
        assert bare_questions(glazed) == []

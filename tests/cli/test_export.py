"""``tiles export``: what a file leaves out is told."""

import pytest

from tests.cli.records import assert_one_line_error, shown
from tests.conftest import ROOT


def test_a_csv_says_what_it_leaves_out_as_no_tile_has_it_and_json_holds_it(sample, tiles, tmp_path):
    recipe = ("recipe", "add", "house clear", "--line", "silica=60", "--line", "kaolin=40")
    for words in (
        ("body", "add", "spare clay"), ("firing", "add", "F99"), recipe,
        ("batch", "add", "pond green", "May"),
        ("kiln", "change", "top loader", "--remark", ""), ("glaze", "rename", "iron wash", "wash"),
        ("material", "add", "own spar", "--oxide", "SiO2=60", "--oxide", "K2O=40"),
    ):  # fmt: skip
        assert tiles(*words).code == 0, words
    told = tiles("export", tmp_path / "all.csv").err
    (line,) = (each for each in told.splitlines() if each.startswith("Left out, as no row"))
    assert line == (
        "Left out, as no row holds it: clay body spare clay, batch May of pond green, house clear "
        "version 3, wash version 1, firing F99, the remark on kiln front loader, "
        "the former name iron wash of wash, your analysis of own spar."
    )
    assert "To keep all of it: 'tiles export " in told
    assert "Left out" not in tiles("export", tmp_path / "all.json").err


def test_an_export_to_json_says_where_the_pictures_are(sample, tiles, tmp_path):
    picture = next(ROOT.joinpath("sample_db", "pictures").glob("*.*g"))
    assert tiles("photo", "M-41", picture).code == 0
    told = tiles("export", tmp_path / "all.json").err
    assert f"not in it: copy the folder {tmp_path / 'sample-photos'} as well.\n" in told
    assert "as well" not in tiles("export", tmp_path / "all.csv").err


def test_the_words_about_a_fault_come_back_from_a_sheet(fresh, tiles, tmp_path):
    made = ("log", "--body", "red", "--glaze", "moss", "--add-missing", "--inspected-on")
    words = ("--defect", "other (black smeared: thick)", "--defect", "severe crawling (at the rim)")
    assert tiles(*made, "2026-01-05", "--mark", "A-1", "--coats", "1,2", *words).code == 0
    assert tiles(*made, "2026-01-05", "--mark", "A-2", "--defect", "crawling").code == 0
    assert tiles("inspect", "A-2", "--defect", "other (dull | grey)", "--yes").code == 0
    sheet = tmp_path / "all.csv"
    ran = tiles("export", sheet)
    assert "Left out on 1 tile (A-2): the words about a defect." in ran.err
    text = sheet.read_text(encoding="utf-8-sig")
    assert "crawling: at the rim | other: black smeared: thick" in text
    other = tmp_path / "other.db"
    assert tiles("import", sheet, "--db", other).code == 0
    seen = shown(tiles, "A-1", "--db", other)["inspections"][0]["defects"]
    assert {(each["defect"], each["note"], each["severity"]) for each in seen} == {
        ("crawling", "at the rim", "severe"), ("other", "black smeared: thick", None)
    }  # fmt: skip
    assert "joined" not in tiles("import", sheet).err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("pinholes: at the rim", "there are words about pinholes, which was not seen there"),
        ("at the rim", "'at the rim' is not a fault with words"),
        ("crwling: at the rim", "'crwling' is not a known defect"),
    ],
)
def test_words_about_a_fault_that_is_not_there_are_refused(fresh, tiles, write, words, told):
    head = "mark,body,defect_crawling,inspected_on,fault_words"
    ran = tiles("import", write(head, f"A-1,red,severe,2026-01-05,{words}"))
    assert_one_line_error(ran, told, "row 2")
    ran = tiles("import", write(head.replace("defect_crawling", "faults"), "A-1,red,none,,x"))
    assert_one_line_error(ran, "has a column 'faults' and a column 'fault_words'")

"""``tiles material``: shipped analyses, and the user's own from a data sheet."""

import json
import sqlite3

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import assert_one_line_error

SHEET = ["--oxide", "SiO2=68.5", "--oxide", "Al2O3=18.6", "--oxide", "Na2O=12.4", "--loi", "0.3"]


def test_shipped_materials_show_before_there_is_a_database(tiles, fresh):
    ran = tiles("material", "show", "flint")
    assert ran.code == 0
    assert "SiO2               100.00 %" in ran.out
    assert "free silica dust" in ran.out
    assert not fresh.exists()


def test_show_tells_analysis_source_kind_loss_and_names(tiles, fresh):
    row = json.loads(tiles("material", "show", "whiting", "--json").out)
    # CaCO3 from standard atomic weights (IUPAC 2021): CaO 56.03 %, CO2 43.97 %.
    assert row["analysis"]["CaO"] == pytest.approx(56.03, abs=0.01)
    assert row["loss_on_ignition_pct"] == pytest.approx(43.97, abs=0.01)
    assert (row["kind"], row["whose"]) == ("derived", "shipped")
    assert row["source"] == "MINERAL-FORMULA"


def test_own_analysis_goes_before_the_shipped_one_and_answers_to_its_names(tiles, fresh):
    assert tiles("material", "add", "silica", "--oxide", "SiO2=99.2", "--loi", 0.8).code == 0
    row = json.loads(tiles("material", "show", "flint", "--json").out)
    assert (row["whose"], row["analysis"]) == ("yours", {"SiO2": 99.2})
    assert row["source"] == "data sheet"
    listed = json.loads(tiles("material", "list", "--json").out)
    assert [each["whose"] for each in listed if "flint" in each["also_called"]] == ["yours"]


def test_taking_over_other_names_is_said_with_the_recipes_it_changes(tiles, fresh):
    tiles("recipe", "add", "a", "--line", "silica=50", "--line", "whiting=50")
    tiles("recipe", "add", "a", "--line", "quartz=40", "--line", "whiting=60")
    tiles("recipe", "add", "b", "--line", "whiting=60")
    ran = tiles("material", "add", "flint", "--oxide", "SiO2=99.2", "--loi", 0.8)
    assert "under its other names (silica, quartz, silica flour), in 2 recipe versions" in ran.err
    assert '"our flint"' in ran.err
    assert "goes before" not in tiles("material", "add", "our feldspar", *SHEET).err


def test_entering_a_sheet_says_how_to_handle_the_material(tiles, fresh):
    ran = tiles("material", "add", "our silica 325 mesh", "--oxide", "SiO2=99.8", "--loi", 0.1)
    assert "Caution: free silica dust: Breathing" in ran.err
    assert "free silica dust" in tiles("material", "show", "our silica 325 mesh").out
    (row,) = json.loads(tiles("material", "list", "--own", "--json").out)
    assert row["cautions"] == ["free silica dust"]


def test_own_material_is_listed_with_all_that_was_given(tiles, fresh):
    ran = tiles("material", "add", "our feldspar", *SHEET, "--source", "bag sheet 2026")
    assert "adds up to 99.8 %" in ran.out
    (row,) = json.loads(tiles("material", "list", "--own", "--json").out)
    assert row["name"] == "our feldspar"
    assert row["analysis"] == {"SiO2": 68.5, "Al2O3": 18.6, "Na2O": 12.4}
    assert (row["loss_on_ignition_pct"], row["source"]) == (0.3, "bag sheet 2026")


def test_a_second_sheet_is_written_over_the_first_only_when_said(tiles, fresh):
    tiles("material", "add", "our feldspar", *SHEET)
    again = ["material", "add", "Our Feldspar", "--oxide", "SiO2=70", "--oxide", "K2O=30"]
    refused = tiles(*again)
    assert refused.code == 1
    assert "--replace" in refused.err
    assert tiles(*again, "--replace").code == 0
    (row,) = json.loads(tiles("material", "list", "--own", "--json").out)
    assert row["analysis"] == {"SiO2": 70, "K2O": 30}


def test_a_new_lot_is_told_from_a_better_sheet_where_recipes_rest_on_the_old_one(tiles, fresh):
    tiles("material", "add", "our frit", *SHEET, "--source", "lot A", "--remark", "blue bag")
    for parts in (60, 70):
        lines = ("--line", f"our frit={parts}", "--line", f"kaolin={100 - parts}")
        assert tiles("recipe", "add", "clear", *lines).code == 0
    for mark, version in (("T-1", 1), ("T-2", 2), ("T-3", 2)):
        plan = ("plan", "--body", "red", "--glaze", "clear", "--first-mark", mark, "--yes")
        tiles("body", "add", "red")
        assert tiles(*plan, "--recipe-version", version).code == 0
    new = ("material", "add", "Our Frit", "--oxide", "SiO2=70", "--oxide", "K2O=30")
    assert '"our frit lot B" for a new lot' in tiles(*new).err
    before = fresh.read_bytes()
    ran = tiles(*new, "--replace")
    told = "2 recipe versions on record (clear@1, clear@2) and 3 tiles would be reckoned anew"
    assert_one_line_error(ran, told, '"our frit lot B" as its name', "--yes")
    assert fresh.read_bytes() == before
    ran = tiles(*new, "--replace", "--yes")
    old = 'SiO2=68.5 --oxide Al2O3=18.6 --oxide Na2O=12.4 --loi 0.3 --source "lot A" --remark "blue'
    assert (ran.code, f"Written over: --oxide {old} bag" in ran.err) == (0, True)
    assert tiles(*new, "--replace").code == 0, "the same sheet again changes no figure"
    other = ("material", "add", "our frit lot B", *SHEET)
    assert tiles(*other).code == tiles(*other, "--replace").code == 0, "no recipe rests on it"


def test_the_question_of_a_new_lot_is_asked_at_the_keyboard(tiles, fresh):
    tiles("material", "add", "our frit", *SHEET)
    tiles("recipe", "add", "clear", "--line", "our frit=60", "--line", "kaolin=40")
    new = ("material", "add", "our frit", "--oxide", "SiO2=70", "--oxide", "K2O=30", "--replace")
    for key, kept in (("n", 68.5), ("y", 70)):
        person = Keyboard(*new)
        person.sees("1 recipe version on record (clear@1) and 0 tiles")
        person.press(key, ENTER)
        assert person.ends()[0] == (130 if key == "n" else 0)
        row = json.loads(tiles("material", "show", "our frit", "--json").out)
        assert row["analysis"]["SiO2"] == kept


def test_a_name_used_in_a_recipe_is_listed_as_not_understood(tiles, sample):
    add = ["recipe", "add", "mystery", "--line", "glass from the shed=60", "--line", "kaolin=40"]
    assert tiles(*add, "--yes").code == 0
    listed = json.loads(tiles("material", "list", "--own", "--json").out)
    assert [(row["name"], row["kind"]) for row in listed] == [
        ("glass from the shed", "none: not understood")
    ]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--oxide", "SiO2=100", "--oxide", "CaO=30"], "adds up to 130.0 %"),
        (["--oxide", "SiO2=60", "--oxide", "CaO=10"], "30.0 % if that is all that is missing"),
        (["--oxide", "SiO2=-5", "--oxide", "CaO=105"], "cannot be right"),
        (["--oxide", "SiO2=99,500"], "99500 or 99.5, whichever is meant"),
        (["--oxide", "SiO2="], "the number is missing"),
        (["--oxide", "SiO=100"], "SiO2"),
        (["--oxide", "SiO2=50", "--oxide", "sio2=50"], "listed twice"),
        (["--oxide", "SiO2=nan"], "SiO2 is not a number: nan"),
        (["--oxide", "SiO2=100", "--loi", "inf"], "loss on ignition is not a number: inf"),
        (["--oxide", "SiO2=100", "--loi", "130"], "loss on ignition"),
    ],
)
def test_a_sheet_that_cannot_be_right_is_refused_and_nothing_stored(tiles, fresh, arguments, told):
    ran = tiles("material", "add", "odd stuff", *arguments)
    assert ran.code == 1
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
    assert not fresh.exists()


def test_an_unknown_material_names_the_nearest(tiles, fresh):
    ran = tiles("material", "show", "whitting")
    assert ran.code == 1
    assert "whiting" in ran.err.split("Try:")[1]


def test_what_is_shown_is_what_is_stored(tiles, fresh):
    tiles("material", "add", "our feldspar", *SHEET)
    with sqlite3.connect(fresh) as connection:
        rows = connection.execute("select oxide, weight_pct from material_oxide").fetchall()
    connection.close()
    assert dict(rows) == {"SiO2": 68.5, "Al2O3": 18.6, "Na2O": 12.4}


def test_the_lines_of_a_sheet_add_up_to_the_sum_shown(tiles, fresh):
    tiles("material", "add", "odd", "--oxide", "CaO=50", "--oxide", "SO3=30", "--loi", 20)
    for name in ("odd", "fluorspar"):
        out = tiles("material", "show", name).out.splitlines()
        figures = [line for line in out if "%" in line and line.split("%")[0][-2].isdigit()]
        values = {line[2:20].strip(): float(line[20:].split("%")[0]) for line in figures}
        values.pop("leaves on firing")
        total = values.pop("sum")
        assert sum(values.values()) == pytest.approx(total, abs=0.02)


def test_a_name_that_no_recipe_and_no_export_could_hold_is_refused(tiles, fresh):
    ran = tiles("material", "add", "x" * 121, *SHEET)
    assert ran.code == 1
    assert "at most 120 letters" in ran.err
    listed = json.loads(tiles("material", "list", "--json").out)
    assert "yours" not in [each["whose"] for each in listed]

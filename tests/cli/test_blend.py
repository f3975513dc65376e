"""``tiles blend``: the tiles to make, weighed out, each with its predicted fit and melt."""

import json
import xml.etree.ElementTree as ET

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import all_rows, assert_one_line_error

CLEARS = ("house clear@1", "house clear@2")
ON_RED = ("--body", "red earthenware")


def blended(tiles, *arguments) -> list[dict]:
    ran = tiles("blend", *arguments, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def shown(tiles, mark) -> dict:
    return json.loads(tiles("show", mark, "--json").out)


def planned(tiles) -> set[str]:
    rows = json.loads(tiles("find", "--not-inspected", "--json").out)
    return {row["mark"] for row in rows}


def test_a_line_runs_from_one_end_to_the_other_in_equal_steps(tiles, sample):
    rows = blended(tiles, "line", *CLEARS, "--steps", 4)
    assert [row["shares"]["house clear v2"] for row in rows] == [0, 0.25, 0.5, 0.75, 1]
    # By hand from the sample's recipes.csv: soda borate frit 58 and 24, so the middle has 41.
    assert rows[2]["recipe"]["soda borate frit"] == pytest.approx(41)


@pytest.mark.parametrize(
    ("arguments", "count"),
    [
        # (n + 1), (n + 1)(n + 2) / 2 and (n + 1) squared: counted out on paper for these.
        (("line", "mid clear", "oat matt", "--steps", 6), 7),
        (("triaxial", "mid clear", "oat matt", "iron brown", "--steps", 4), 15),
        (("grid", "mid clear", "oat matt", "iron brown", "house clear", "--steps", 3), 16),
    ],
)
def test_a_blend_has_the_tiles_the_trade_counts(tiles, sample, arguments, count):
    rows = blended(tiles, *arguments)
    assert [row["number"] for row in rows] == list(range(1, count + 1))
    assert all(sum(row["shares"].values()) == pytest.approx(1) for row in rows)


def test_every_mixture_is_weighed_out_to_the_batch_asked_for(tiles, sample):
    rows = blended(tiles, "triaxial", "mid clear", "oat matt", "iron brown", "--batch-g", 250)
    assert all(sum(row["weights_g"].values()) == pytest.approx(250) for row in rows)


def test_the_ends_have_the_figures_of_their_recipes(tiles, sample):
    rows = blended(tiles, "line", *CLEARS, *ON_RED, "--cone", "05")
    for row, name in ((rows[0], CLEARS[0]), (rows[-1], CLEARS[1])):
        ran = tiles("recipe", "show", name, "--cone", "05", "--json")
        alone = json.loads(ran.out)
        for key in ("expansion", "melt"):
            for number in ("value", "low", "high"):
                assert row[key][number] == pytest.approx(alone[key][number])
        assert row["margin"]["margin_ppm_per_k"] == pytest.approx(
            alone["bodies"]["red earthenware"]["margin_ppm_per_k"]
        )


def test_every_figure_in_the_table_has_its_range(tiles, sample):
    lines = tiles("blend", "line", *CLEARS, "--steps", 2, *ON_RED).out.splitlines()
    assert all(line.count(" to ") == 3 for line in lines[2:5])
    assert "below red earthenware" in lines[0]


def test_the_margin_is_told_where_the_first_mixture_has_none(tiles, sample):
    assert tiles("recipe", "add", "pure silica", "--line", "silica=100").code == 0
    ran = tiles("blend", "line", "pure silica", "house clear", "--steps", 2, *ON_RED)
    lines = ran.out.splitlines()
    assert "below red earthenware" in lines[0]
    assert [line.count(" to ") for line in lines[2:5]] == [0, 3, 3]


def test_the_spreadsheet_has_one_row_a_tile(tiles, sample):
    lines = tiles("blend", "line", *CLEARS, "--steps", 2, "--csv").out.splitlines()
    assert len(lines) == 4
    assert lines[0].startswith("number,mark,mixture,expansion_ppm_per_k,expansion_low")


def test_what_is_not_understood_is_said(tiles, fresh):
    tiles("recipe", "add", "riddle", "--line", "shed glass=50", "--line", "silica=50", "--yes")
    tiles("recipe", "add", "plain", "--line", "soda feldspar=70", "--line", "whiting=30")
    ran = tiles("blend", "line", "riddle", "plain", "--steps", 2)
    assert "up to 50 % is not understood" in ran.err
    rows = blended(tiles, "line", "riddle", "plain", "--steps", 2)
    assert [row["not_understood_pct"] for row in rows] == pytest.approx([50, 25, 0])


def test_each_row_says_what_share_of_it_is_not_understood_and_of_which_material(tiles, fresh):
    # By hand: half of the riddle is unknown, so a mixture with half of the riddle has a quarter.
    tiles("recipe", "add", "riddle", "--line", "shed glass=50", "--line", "silica=50", "--yes")
    tiles("recipe", "add", "plain", "--line", "soda feldspar=70", "--line", "whiting=30")
    blend = ("blend", "line", "riddle", "plain", "--steps", 2)
    ran = tiles(*blend)
    head, _, *rows = ran.out.splitlines()[:5]
    assert head.endswith("not understood")
    assert [row.split("  ")[-1].strip() for row in rows] == [
        "50 % (shed glass)",
        "25 % (shed glass)",
        "-",
    ]
    assert "not understood in no. 1, 2: their figures are of the rest only" in ran.err
    found = json.loads(tiles(*blend, "--json").out)
    assert [row["not_understood"] for row in found] == [["shed glass"], ["shed glass"], []]
    assert "not_understood,weights_g" in tiles(*blend, "--csv").out.splitlines()[0]


def test_a_blend_that_is_understood_has_no_column_for_it(tiles, sample):
    ran = tiles("blend", "line", *CLEARS, "--steps", 2)
    assert "not understood" not in ran.out + ran.err


CLEAR = ("--line", "soda feldspar=70", "--line", "whiting=30")


def a_blue_line(tiles, *labels):
    tiles("recipe", "add", "E0", *CLEAR, *labels[:2])
    tiles("recipe", "add", "E1", *CLEAR, "--extra", "cobalt oxide=0.25", *labels[2:])
    return ("line", "E0", "E1", "--steps", 10)


def test_a_trace_of_colourant_is_weighed_in_three_figures_and_its_scale_told(tiles, fresh):
    ask = a_blue_line(tiles)
    ran = tiles("blend", *ask)
    cobalt = [line.split()[-1] for line in ran.out.split("dry of each:")[1].splitlines()[3:]]
    # By hand: 0.25 parts in 100.25, a tenth of it more each time.
    assert cobalt[1:4] == ["0.0249", "0.0499", "0.0748"]
    assert len(set(cobalt)) == 11
    assert "cobalt oxide comes in amounts or steps of 0.0249 g" in ran.err
    assert "--batch-g 3000" in ran.err
    assert "stock" in ran.err
    sheet = tiles("blend", *ask, "--csv")
    assert "cobalt oxide 0.0249" in sheet.out
    assert "scale" not in tiles("blend", *ask, "--batch-g", 3000).err


def test_cautions_and_the_line_on_food_come_in_every_form(tiles, fresh):
    ask = a_blue_line(tiles)
    for form in ((), ("--csv",)):
        ran = tiles("blend", *ask, *form)
        assert "free silica dust, cobalt" in ran.err or "cobalt, free silica dust" in ran.err
        assert "never shows that a glaze is safe for food" in ran.err
        assert "Caution" not in ran.out
    rows = blended(tiles, *ask)
    hazards = [{each["hazard"] for each in row["cautions"]} for row in rows]
    assert hazards[0] == {"free silica dust"}
    assert hazards[1] == {"free silica dust", "cobalt"}
    assert all("safe for food" in row["reminder"] for row in rows)


def test_raw_silica_is_warned_of_though_own_sheets_stand_for_it(tiles, fresh):
    tiles("recipe", "add", "S", "--line", "whiting=50", "--line", "silica=50")
    tiles("material", "add", "flint", "--oxide", "SiO2=99.5", "--loi", 0.3)
    assert "free silica dust (silica)" in tiles("recipe", "show", "S").out
    tiles("recipe", "add", "T", "--line", "whiting=100")
    assert "free silica dust" in tiles("blend", "line", "S", "T").err


def test_labels_for_different_cones_are_pointed_out(tiles, fresh):
    ask = a_blue_line(tiles, "--cones", "06-04", "--cones", "4-6")
    told = tiles("blend", *ask).err
    assert "melt at cone 05 for all of them" in told
    assert "E0 version 1 05, E1 version 1 5" in told
    assert "labels" not in tiles("blend", *ask, "--cone", "5").err


def test_own_analyses_are_used_in_the_mixtures(tiles, fresh):
    sheet = ["--oxide", "SiO2=60", "--oxide", "Na2O=40"]
    tiles("material", "add", "shed glass", *sheet)
    tiles("recipe", "add", "a", "--line", "shed glass=50", "--line", "silica=50")
    tiles("recipe", "add", "b", "--line", "soda feldspar=70", "--line", "whiting=30")
    rows = blended(tiles, "line", "a", "b", "--steps", 2)
    assert all(row["not_understood_pct"] == 0 for row in rows)
    assert rows[0]["seger"]["fluxes"] == {"Na2O": 1.0}


def test_a_line_blend_is_drawn_as_png_and_svg_with_readable_labels(tiles, sample, tmp_path):
    png, svg = tmp_path / "blend.png", tmp_path / "blend.svg"
    for file in (png, svg):
        ran = tiles("blend", "line", *CLEARS, *ON_RED, "--plot", file)
        assert ran.code == 0, ran.err
    assert png.read_bytes().startswith(b"\x89PNG")
    assert ET.parse(svg).getroot().tag.endswith("svg")
    comments = svg.read_text(encoding="utf-8")  # text is drawn as outlines, named in comments
    for label in ("red earthenware, measured (6.6)", "nine in ten lie here", "[ppm/K]"):
        assert label in comments


def test_a_picture_is_never_written_over_another_file(tiles, sample, tmp_path):
    file = tmp_path / "blend.png"
    file.write_text("mine")
    before = all_rows(sample)
    plan = ("--body", "red earthenware", "--plan", "--yes")
    ran = tiles("blend", "line", *CLEARS, *plan, "--plot", file)
    assert_one_line_error(ran, "blend.png is already there", "another name")
    assert file.read_text() == "mine"
    assert all_rows(sample) == before


def test_a_picture_of_many_points_stays_readable_and_says_what_it_leaves_out(
    tiles, fresh, tmp_path
):
    tiles("recipe", "add", "riddle", *CLEAR, "--line", "shed glass=50", "--yes")
    tiles("recipe", "add", "plain", *CLEAR)
    tiles("blend", "line", "riddle", "plain", "--steps", 60, "--plot", tmp_path / "many.svg")
    svg = (tmp_path / "many.svg").read_text(encoding="utf-8")
    assert "is not understood" in svg
    assert "<!-- 61 -->" in svg
    assert "<!-- 59 -->" not in svg


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((*CLEARS, "--plot", "blend.gif"), ".png or .svg"),
        ((*CLEARS, "--body", "porcelain", "--plot", "blend.png"), "expansion of 'porcelain'"),
        ((*CLEARS, *ON_RED, "--plot", "no/such/folder/blend.png"), "cannot be written"),
        ((*CLEARS, "--plan"), "without a clay body"),
        ((*CLEARS, "--coats", "3"), "without --plan"),
        ((*CLEARS, "--steps", "0"), "steps 0"),
        ((*CLEARS, "--batch-g", "-1"), "cannot be right"),
        ((*CLEARS, "--batch-g", "nan"), "--batch-g is not a number: nan"),
        ((CLEARS[0], CLEARS[0]), "Two corners"),
        ((CLEARS[0], "pond green"), "is a jar"),
        ((CLEARS[0], "nothing such"), "tiles recipe"),
        ((*CLEARS, "--body", "red earthnware"), "red earthenware"),
        ((*CLEARS, "--cone", "1060"), "looks like a temperature"),
        ((*CLEARS, *ON_RED, "--plan", "--first-mark", "blend"), "does not end in a number"),
        ((*CLEARS, *ON_RED, "--plan", "--coats", "many"), "not a whole number"),
    ],
)
def test_bad_questions_are_one_line_and_store_nothing(tiles, sample, arguments, told):
    before = sample.read_bytes()
    ran = tiles("blend", "line", *arguments)
    assert ran.code == 1
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
    assert ran.out == ""
    assert sample.read_bytes() == before


def test_plan_puts_recipes_and_tiles_on_record_ready_to_fire_and_log(tiles, sample):
    plan = ("--plan", "--coats", "1,2,3", "--bisque-cone", "04", "--first-mark", "B-1")
    rows = blended(tiles, "line", *CLEARS, "--steps", 2, *ON_RED, *plan)
    assert [row["mark"] for row in rows] == ["B-1", "B-2", "B-3"]
    middle = shown(tiles, "B-2")
    assert middle["body"]["name"] == "red earthenware"
    assert middle["bisque_cone"] == "04"
    assert [area["layers"][0]["coats"] for area in middle["areas"]] == [1, 2, 3]
    layer = middle["areas"][0]["layers"][0]
    assert layer["glaze"]["name"] == "house clear v1 50 + house clear v2 50"
    assert {line["material"]: line["parts"] for line in layer["recipe"]["lines"]} == {
        "soda borate frit": 41,
        "calcium borate frit": 38,
        "kaolin": 13,
        "silica": 8,
    }
    tiles("firing", "add", "blend firing", "--target-cone", "05")
    assert tiles("load", "blend firing", "B-1..B-3").code == 0
    assert shown(tiles, "B-3")["firing"]["name"] == "blend firing"


def test_an_end_that_is_all_one_recipe_stays_that_recipe_and_version(tiles, sample):
    blended(tiles, "line", *CLEARS, "--steps", 2, *ON_RED, "--plan", "--first-mark", "B-1")
    first, last = (shown(tiles, mark)["areas"][0]["layers"][0] for mark in ("B-1", "B-3"))
    assert [each["glaze"]["name"] for each in (first, last)] == ["house clear", "house clear"]
    assert [each["recipe"]["version"] for each in (first, last)] == [1, 2]


def test_the_same_blend_planned_again_uses_the_recipes_on_record(tiles, sample):
    plan = ("line", *CLEARS, "--steps", 2, *ON_RED, "--plan")
    blended(tiles, *plan)
    recipes = json.loads(tiles("recipe", "list", "--json").out)
    marks = planned(tiles)
    blended(tiles, *plan)
    assert json.loads(tiles("recipe", "list", "--json").out) == recipes
    assert len(planned(tiles)) == len(marks) + 3


def test_a_person_is_asked_before_a_plan_is_stored(tiles, sample):
    before = planned(tiles)
    person = Keyboard("blend", "line", *CLEARS, "--steps", "2", *ON_RED, "--plan")
    person.answers("Put the recipes and 3 planned tiles on record?", "n")
    assert person.ends()[0] == 130
    assert planned(tiles) == before


def test_without_plan_nothing_is_stored(tiles, sample):
    before = sample.read_bytes()
    blended(tiles, "line", *CLEARS)
    assert sample.read_bytes() == before


def test_long_names_can_be_planned_and_a_taken_first_mark_is_told(tiles, sample):
    names = [f"a rather long name for glaze number {at}" for at in range(4)]
    for at, name in enumerate(names):
        tiles("recipe", "add", name, "--line", f"soda feldspar={60 + at}", "--line", "whiting=30")
    plan = (*ON_RED, "--plan", "--steps", 2, "--first-mark", "G-1", "--yes")
    first = tiles("blend", "grid", *names, *plan)
    assert first.code == 0, first.err
    layer = shown(tiles, "G-5")["areas"][0]["layers"][0]
    assert layer["glaze"]["name"].count(" 25") == 4
    assert len(layer["glaze"]["name"]) <= 120
    assert "Note" not in first.err
    again = tiles("blend", "grid", *names, *plan)
    assert "G-1 is taken, so the marks start at G-10" in again.err

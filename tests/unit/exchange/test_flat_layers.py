"""A cell that should name one glaze, and names the layers of a tile or the coats of it."""

import pytest

from tiles.exchange.flat_csv import read_file
from tiles.exchange.flat_layers import ask_of_layers
from tiles.records.layered import layers_in

OR_YES = "; or --yes if it is the name of one glaze."


def asked(file, known=()):
    reading = read_file(file)
    ask_of_layers(reading, known)
    return reading


@pytest.mark.parametrize(
    ("cell", "hint"),
    [
        ("matt over leaf x3", "glaze 'matt', under_glaze 'leaf', under_coats 3"),
        ("clear on leaf", "glaze 'clear', under_glaze 'leaf'"),
        ("leaf x2 under clear", "glaze 'clear', under_glaze 'leaf', under_coats 2"),
        ("a over b over c", "glaze 'a', under_glaze 'b', under2_glaze 'c'"),
        ("leaf + clear", "the upper one in glaze, the one beneath in under_glaze"),
        ("leaf / clear", "the upper one in glaze"),
        ('"pond green, sky gloss"', "the upper one in glaze"),
        ("moss/ink", "the upper one in glaze"),
        ("clear x2", "glaze 'clear', coats 2"),
        ("clear (2 coats)", "glaze 'clear', coats 2"),
    ],
)
def test_layers_and_coats_in_one_cell_are_asked_about_with_the_cells_to_write(write, cell, hint):
    reading = asked(write("mark,body,glaze", "A,red,moss", f"B,red,{cell}"))
    (problem,) = reading.problems
    assert "(tiles.csv, row 3, column glaze)" in problem.message
    assert problem.hint.startswith(hint) and problem.hint.endswith(OR_YES)
    assert [record.mark for _row, record in reading.tiles] == ["A"]
    known = {cell.strip('"')}
    assert asked(write("mark,body,glaze", f"B,red,{cell}"), known).problems == []


@pytest.mark.parametrize(
    "name",
    ["clear + 5% tin oxide", "salt and pepper", "red/brown", "celadon, matt", "Onyx2", "clear v2",
     "over the moon", "pond green, batch 2", "black & white", "tenmoku (new)", "left over",
     "clear 10", "leaf base 75 + leaf 8 25", "a 33.33 + b 33.33 + c 33.33"],
)  # fmt: skip
def test_what_may_well_be_the_name_of_one_glaze_is_none(name):
    assert layers_in(name, {"pond green"}) is None


def test_where_the_lower_column_is_taken_it_is_not_proposed_for_another(write):
    reading = asked(write("mark,body,glaze,under_glaze", "B,red,clear over leaf,slip"))
    assert reading.problems[0].hint.startswith("the upper one in glaze, the one beneath")


@pytest.mark.parametrize(
    ("cell", "recipe", "count"),
    [
        ("ash + rutile", "", 1),
        ("ash + rutile", "feldspar=60; kaolin=40", 0),
        ("matt over leaf", "feldspar=60; kaolin=40", 1),
        ("leaf 20 + clear 30", "", 1),
        ("leaf 70 + clear 30", "", 0),
    ],
)
def test_a_mix_with_one_recipe_or_with_shares_is_one_glaze(write, cell, recipe, count):
    file = write("mark,body,glaze,recipe", f"A,red,{cell},{recipe}")
    assert len(asked(file).problems) == count

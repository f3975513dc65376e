"""``tiles recipe compare``: what changed, and how sure the change is."""

import json

import pytest


def compared(tiles, *arguments) -> dict:
    ran = tiles("recipe", "compare", *arguments, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def half(answer: dict) -> float:
    return (answer["high"] - answer["low"]) / 2


def test_parts_and_formula_that_moved_are_told_before_and_after(tiles, sample):
    found = compared(tiles, "house clear@1", "house clear@2")
    assert found["parts"] == {  # the sample's recipes.csv
        "soda borate frit": [58, 24],
        "calcium borate frit": [26, 50],
        "kaolin": [12, 14],
        "silica": [4, 12],
    }
    before, after = found["unity"]["Na2O"]
    assert before > 2 * after


def test_the_change_is_surer_than_either_figure_and_both_are_said(tiles, sample):
    found = compared(tiles, "house clear@1", "house clear@2")
    for name in ("expansion", "melt"):
        change = found[f"{name}_difference"]
        assert half(change) < min(map(half, found[name])), name
        values = [each["value"] for each in found[name]]
        assert change["value"] == pytest.approx(values[1] - values[0])
    text = " ".join(tiles("recipe", "compare", "house clear@1", "house clear@2").out.split())
    assert "their difference +/-" in text
    assert "away from crazing" in text


def test_each_figure_is_said_with_its_own_error(tiles, sample):
    found = compared(tiles, "mid clear", "iron brown")
    text = " ".join(tiles("recipe", "compare", "mid clear", "iron brown").out.split())
    for name in ("expansion", "melt"):
        before, after = (f"{half(each):.1f}" for each in found[name])
        assert before != after, "the two must differ, or nothing is shown"
        change = f"{half(found[f'{name}_difference']):.1f}"
        assert f"+/- {before} before, +/- {after} after, their difference +/- {change}" in text


def test_what_the_rounding_hides_is_not_told_as_a_change(tiles, fresh):
    base = ("--line", "soda feldspar=70", "--line", "whiting=30")
    tiles("recipe", "add", "a", *base, "--extra", "red iron oxide=0.1")
    tiles("recipe", "add", "a", *base)
    assert compared(tiles, "a@1", "a@2")["unity"]["Fe2O3"][0] > 0
    out = tiles("recipe", "compare", "a@1", "a@2", "--cone", "6").out
    assert "0.00 ->" not in out
    assert "-0.00 " not in out
    assert "difference +/- 0.0\n" not in out


def test_turned_round_the_change_is_the_opposite(tiles, sample):
    there = compared(tiles, "house clear@1", "house clear@2", "--cone", "05")
    back = compared(tiles, "house clear@2", "house clear@1", "--cone", "05")
    for name in ("expansion_difference", "melt_difference"):
        assert back[name]["value"] == pytest.approx(-there[name]["value"])
        assert back[name]["low"] == pytest.approx(-there[name]["high"])


def test_a_change_within_its_error_is_not_called_one(tiles, sample):
    text = tiles("recipe", "compare", "mid clear", "iron brown").out
    assert "Which of the two fits tighter cannot be told" in text


def test_a_recipe_beside_itself_has_the_same_parts(tiles, sample):
    ran = tiles("recipe", "compare", "mid clear", "mid clear@1")
    assert ran.out == "mid clear version 1 and mid clear version 1 have the same parts.\n"
    assert compared(tiles, "mid clear", "mid clear")["parts"] == {}


def test_parts_can_be_compared_where_there_is_no_formula(tiles, fresh):
    tiles("recipe", "add", "sand", "--line", "silica=50")
    tiles("recipe", "add", "sand", "--line", "silica=60")
    found = compared(tiles, "sand@1", "sand@2")
    assert found["parts"] == {"silica": [50, 60]}
    assert found["expansion_difference"] is None


def test_a_jar_cannot_be_compared(tiles, sample):
    ran = tiles("recipe", "compare", "mid clear", "pond green")
    assert ran.code == 1
    assert "is a jar" in ran.err


def test_cautions_of_either_recipe_and_the_line_on_food_are_shown(tiles, fresh):
    tiles("recipe", "add", "blue", "--line", "soda feldspar=80", "--line", "barium carbonate=20")
    tiles("recipe", "add", "blue", "--line", "soda feldspar=80", "--line", "whiting=20")
    text = " ".join(tiles("recipe", "compare", "blue@1", "blue@2").out.split())
    assert "caution barium" in text
    assert "never shows that a glaze is safe for food" in text


BASE = ("--line", "soda feldspar=70", "--line", "whiting=30")


def test_a_material_that_goes_from_the_base_to_the_additions_is_told(tiles, fresh):
    tiles("recipe", "add", "T", *BASE, "--line", "tin oxide=4")
    tiles("recipe", "add", "T", *BASE, "--extra", "tin oxide=4")
    assert (
        "tin oxide: from the base to the addition" in tiles("recipe", "compare", "T@1", "T@2").out
    )
    found = compared(tiles, "T@1", "T@2")
    assert (found["parts"], found["moved"]) == ({}, {"tin oxide": ["base", "addition"]})


@pytest.mark.parametrize("base", [BASE, ()], ids=["with a formula", "without one"])
def test_the_same_parts_but_for_the_rounding_of_a_computer_are_the_same_everywhere(
    tiles, fresh, base
):
    first, second = ("--extra", "tin oxide=0.3"), ("--extra", f"tin oxide={0.1 + 0.2!r}")
    tiles("recipe", "add", "T", *base, *first)
    assert "version 1 of 'T' has these lines" in tiles("recipe", "add", "T", *base, *second).err
    tiles("recipe", "add", "U", *base, *second)
    assert "have the same parts" in tiles("recipe", "compare", "T", "U").out
    assert compared(tiles, "T", "U")["parts"] == {}


def test_what_cannot_be_told_is_said_with_its_reason(tiles, fresh):
    tiles("recipe", "add", "clear", *BASE)
    tiles("recipe", "add", "tin only", "--extra", "tin oxide=4")
    out = tiles("recipe", "compare", "clear", "tin only", "--cone", "6").out
    assert "tin only version 1: " in out.split("cannot tell")[1]


def test_json_carries_the_cautions_of_both_and_the_line_on_food(tiles, fresh):
    tiles("recipe", "add", "T", *BASE)
    tiles("recipe", "add", "T", *BASE, "--extra", "copper oxide=4")
    found = compared(tiles, "T@1", "T@2")
    hazards = [{each["hazard"] for each in side} for side in found["cautions"]]
    assert hazards == [{"free silica dust"}, {"free silica dust", "copper"}]
    assert "safe for food" in found["reminder"]


def test_labels_for_different_cones_are_pointed_out_and_times_are_plain_figures(tiles, fresh):
    tiles("recipe", "add", "low", *BASE, "--line", "soda borate frit=300", "--cones", "06-04")
    tiles("recipe", "add", "mid", *BASE, "--cones", "4-6")
    text = " ".join(tiles("recipe", "compare", "low", "mid").out.split())
    assert "the labels mean different cones (low version 1 05, mid version 1 5)" in text
    assert "At cone 05" in text
    assert "e+0" not in text


def test_what_moved_is_told_in_the_order_of_the_first_recipe(tiles, fresh):
    names = ["silica", "kaolin", "whiting", "dolomite", "zinc oxide", "talc"]
    lines = [part for name in names for part in ("--line", f"{name}=10")]
    extras = [part for name in reversed(names) for part in ("--extra", f"{name}=10")]
    frit = ("--line", "calcium borate frit=40")
    for name, options in (("all base", lines), ("all added", extras)):
        assert tiles("recipe", "add", name, *frit, *options).code == 0
    assert list(compared(tiles, "all base", "all added")["moved"]) == names


def test_a_calcined_clay_is_told_as_the_same_glass_with_less_raw_clay(tiles, fresh):
    """Computed by hand: 15 of 110 parts leave 2.09 of water less; raw clay 32 / 110, 17 / 107.9."""
    lines = [
        *("--line", "nepheline syenite=30", "--line", "whiting=12", "--line", "zinc oxide=6"),
        *("--line", "ball clay=12", "--line", "silica=20", "--extra", "zirconium silicate=10"),
    ]
    tiles("recipe", "add", "white", *lines, "--line", "kaolin=20")
    tiles("recipe", "add", "white", *lines, "--line", "kaolin=5", "--line", "calcined kaolin=12.9")
    out = tiles("recipe", "compare", "white@1", "white@2", "--cone", "6").out
    text = " ".join(out.split())
    assert "Seger unchanged: the same glass once it is fired." in text
    assert "raw clay, % 29.1 -> 15.8 (-13.3)" in text
    assert "loss on ignition, % 8.6 -> 6.8 (-1.8)" in text
    assert "cannot be told" not in text


def test_a_trace_that_the_rounding_hides_is_not_called_unchanged(tiles, fresh):
    tiles("recipe", "add", "a", *BASE, "--extra", "red iron oxide=0.1")
    tiles("recipe", "add", "a", *BASE)
    out = tiles("recipe", "compare", "a@1", "a@2", "--cone", "6").out
    assert "Seger        unchanged but for a trace of Fe2O3.\n" in out


def test_nothing_is_called_unchanged_where_there_is_no_formula_or_it_moved(tiles, fresh):
    tiles("recipe", "add", "sand", "--line", "silica=50")
    tiles("recipe", "add", "sand", "--line", "silica=60")
    tiles("recipe", "add", "clear", *BASE)
    tiles("recipe", "add", "clear", *BASE, "--line", "kaolin=5")
    for name in ("sand", "clear"):
        assert "unchanged" not in tiles("recipe", "compare", f"{name}@1", f"{name}@2").out

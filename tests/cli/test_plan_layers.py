"""``tiles plan``: the layers of its tiles, beneath each glaze and of each glaze over another."""

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown
from tests.cli.test_plan import SET, planned


def test_plan_puts_the_layer_beneath_on_every_tile(sample, tiles):
    planned(tiles("plan", *SET, "--under", "white slip=2", "--first-mark", "P-1", "--json"))
    for area in shown(tiles, "P-3")["areas"]:
        assert [layer["glaze"]["name"] for layer in area["layers"]] == ["white slip", "pond green"]
        assert area["layers"][0]["coats"] == 2
    ran = tiles("plan", *SET, "--under", "white slip=2", "--dry-run")
    assert "white slip x2 + pond green" in ran.out
    assert (
        "white slip + pond green" in tiles("plan", *SET, "--under", "white slip", "--dry-run").out
    )


def test_plan_puts_several_layers_beneath_from_the_clay_up(sample, tiles):
    under = ("--under", "white slip=2", "--under", "studio clear")
    assert (
        "white slip x2 + studio clear + pond green" in tiles("plan", *SET, *under, "--dry-run").out
    )


def test_plan_puts_each_glaze_over_every_other_with_bands_of_each_alone(sample, tiles):
    given = (*SET[:-2], "--glaze", "white slip=3", "--over-each-other")
    rows = planned(tiles("plan", *given, "--dry-run", "--json"))
    assert len(rows) == 2 * 3 * 2
    assert [row["coat"] for row in rows[:3]] == [
        ["pond green", "studio clear"], ["pond green", "white slip"], ["studio clear", "pond green"]
    ]  # fmt: skip
    assert [row["coats"] for row in rows[:2]] == ["?", "3"]
    plan = ("plan", *SET[2:-2], "--over-each-other", "--bands", "--coats")
    assert_one_line_error(tiles(*plan, "1,2"), "coats '1,2' would be those of areas")
    (row, _) = planned(tiles(*plan, "2", "--first-mark", "P-1", "--json"))
    assert (row["coat"], row["coats"]) == (["pond green", "studio clear"], "2, 2, 2")
    areas = [
        (area["label"], [(each["glaze"]["name"], each["coats"]) for each in area["layers"]])
        for area in shown(tiles, "P-1")["areas"]
    ]
    lower, upper = ("pond green", 2), ("studio clear", 2)
    assert areas == [
        ("lower alone", [lower]), ("overlap", [lower, upper]), ("upper alone", [upper])
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--bands"], "--bands without --over-each-other"),
        (["--over-each-other"], "one glaze alone lies over no other"),
    ],
)
def test_plan_needs_two_glazes_to_lay_one_over_the_other(sample, tiles, options, told):
    assert_one_line_error(tiles("plan", *SET[:2], *SET[4:6], *options), told)


@pytest.mark.parametrize("layer", ["white slip=1,2,3", "white slip=2@1,2", "white slip@1, 2"])
def test_several_numbers_behind_a_glaze_make_no_new_name(sample, tiles, layer):
    told = repr(layer), "one number of coats and one area"
    for option in ("--under", "--glaze")["=1," in layer :]:
        ran = tiles("plan", *SET, option, layer, "--dry-run")
        assert_one_line_error(ran, *told, "--under NAME=1,2,3 for one beneath")
    log = ("log", "--mark", "N-1", "--body", "porcelain", "--glaze", layer)
    assert_one_line_error(tiles(*log), *told, "white slip=2@1")


UNDER = ("plan", "--body", "red earthenware", "--body", "white earthenware", "--glaze",
         "studio clear", "--coats", "2", "--method", "dip")  # fmt: skip


@pytest.mark.parametrize("separate", [False, True])
def test_colours_in_turn_under_one_clear_with_each_number_of_coats(sample, tiles, separate):
    colours = ("--under", "white slip=1,2,3", "--under", "black underglaze=1, 2,3", "--in-turn")
    apart = ["--separate"] * separate
    rows = planned(tiles(*UNDER, *colours, *apart, "--first-mark", "P-1", "--json"))
    assert len(rows) == (12 if separate else 4)
    told = [row["layers"][0] for row in rows[:: 3 if separate else 1]]
    each = " x1" if separate else " x1,2,3"
    assert told == [f"white slip{each}", f"black underglaze{each}"] * 2
    made = [[(layer["coats"], layer["method"]) for layer in area["layers"]]
            for mark in ("P-1", "P-2", "P-3")[: 3 if separate else 1]
            for area in shown(tiles, mark)["areas"]]  # fmt: skip
    assert made == [[(count, None), (2, "dip")] for count in (1, 2, 3)]


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--in-turn"], "--in-turn without several --under"),
        (["--in-turn", "--under", "white slip"], "--in-turn without several --under"),
        (["--under", "white slip=1,2", "--glaze", "pond green", "--over-each-other", "--bands"],
         "Try: --separate, for a tile"),
        (["--under", "white slip=1,2,3", "--under", "black underglaze=1,2"],
         "the areas do not match"),
        (["--method", "poured twice"], "'pour', and how often in coats: 2"),
    ],
)  # fmt: skip
def test_a_plan_that_cannot_be_is_refused_in_one_line(sample, tiles, options, told):
    before = all_rows(sample)
    plan = UNDER[:-2] if "--method" in options else UNDER
    assert_one_line_error(tiles(*plan, *options, "--yes"), told)
    assert all_rows(sample) == before

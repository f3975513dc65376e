"""``tiles change --glaze``: the layers of a tile written down anew, and what they keep."""

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown


@pytest.fixture
def tile(sample, tiles):
    """A tile of two layers, the top one in two areas."""
    ran = tiles(
        "log", "--mark", "N-1", "--body", "red earthenware", "--glaze", "white slip",
        "--glaze", "pond green", "--coats", "1,2", "--thickness-mm", "0.3,0.6", "--method", "brush",
    )  # fmt: skip
    assert ran.code == 0, ran.err
    return sample


def layers(tiles, area=1, mark="N-1"):
    (found,) = [each for each in shown(tiles, mark)["areas"] if each["number"] == area]
    keys = "coats", "thickness_mm", "method"
    return [(each["glaze"]["name"], *(each[key] for key in keys)) for each in found["layers"]]


def test_a_wrong_glaze_is_put_right_and_keeps_its_coats_and_thickness(tile, tiles):
    ran = tiles("change", "N-1", "--glaze", "white slip=2", "--glaze", "Studio clear")
    assert (ran.code, ran.out.splitlines()[0]) == (0, "N-1 is changed.")
    now = "white slip + pond green x1, 0.3 mm -> white slip x2 + studio clear x1, 0.3 mm"
    assert f"area 1: {now}" in " ".join(ran.out.split())
    assert layers(tiles) == [("white slip", 2, None, None), ("studio clear", 1, 0.3, "brush")]
    assert layers(tiles, 2)[1] == ("studio clear", 2, 0.6, "brush")


def test_the_batch_and_recipe_of_another_glaze_go_and_an_only_recipe_comes(tile, tiles):
    slip = shown(tiles, "N-1")["areas"][0]["layers"][0]["recipe"]
    assert tiles("change", "N-1", "--glaze", "studio clear", "--glaze", "pond green").code == 0
    record = shown(tiles, "N-1")
    assert [each["layers"][0]["recipe"] for each in record["areas"]] == [None, None]
    assert tiles("change", "N-1", "--glaze", "white slip", "--glaze", "pond green").code == 0
    assert shown(tiles, "N-1")["areas"][1]["layers"][0]["recipe"] == slip


def test_a_layer_can_come_or_lie_elsewhere_on_one_area_alone(tile, tiles):
    first = layers(tiles)
    turned = "pond green@2", "studio clear@2", "white slip=3@2"
    options = [part for each in turned for part in ("--glaze", each)]
    assert tiles("change", "N-1", *options).code == 0
    assert layers(tiles) == first
    assert layers(tiles, 2) == [
        ("pond green", 2, 0.6, "brush"),
        ("studio clear", None, None, None),
        ("white slip", 3, None, None),
    ]


def test_no_layer_is_lost_without_a_yes(tile, tiles):
    before = all_rows(tile)
    of = ("change", "N-1", "--glaze", "pond green")
    assert tiles("change", "N-1", "--glaze", "white slip=2", "--glaze", "pond green").code == 0
    before = all_rows(tile)
    assert_one_line_error(tiles(*of), "N-1: there would be no layer of white slip x2 any", "--yes")
    assert all_rows(tile) == before
    assert tiles(*of, "--yes").code == 0
    assert layers(tiles, 2) == [("pond green", 2, 0.6, "brush")]


def test_what_goes_with_a_layer_is_told_and_kept_where_it_is_the_same_one_renamed(sample, tiles):
    for mark, glaze in (("N-2", "pond green over white slip x3"), ("N-3", "studio clear")):
        made = ("--glaze", glaze, "--thickness-mm", "1.5", "--method", "brush")
        ran = tiles("log", "--mark", mark, "--body", "porcelain", *made, "--add-missing", "--yes")
        assert ran.code == 0
    anew = ("--glaze", "white slip=3", "--glaze", "pond green")
    gone = "N-3: there would be no layer of studio clear, 1.5 mm (brush) any more."
    assert_one_line_error(tiles("change", "N-3", *anew), gone)
    assert tiles("change", "N-2", *anew).code == 0
    assert layers(tiles, mark="N-2") == [
        ("white slip", 3, None, None),
        ("pond green", None, 1.5, "brush"),
    ]


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (
            ["--glaze", "pond green@3"],
            "there is no area 3. Try: area 1 or 2 (such as pond green@1), or no area for the "
            "whole tile.",
        ),
        (["--glaze", "white slip", "--glaze", "pond gren"], '"pond green", which is on record'),
        (["--glaze", "pond green=2", "--coats", "3"], "are given twice"),
        (["--glaze", "white slip", "--glaze", "pond green"], "nothing of N-1 would change"),
    ],
    ids=lambda value: value[-1] if isinstance(value, list) else "",
)
def test_layers_that_cannot_be_are_refused_in_one_line(tile, tiles, options, told):
    before = all_rows(tile)
    assert told in tiles("change", "N-1", *options).err
    assert all_rows(tile) == before


@pytest.mark.parametrize("options", [["--body", "Red earthenware"], ["--firing", "F12"]])
def test_what_a_tile_is_on_record_with_already_is_no_change(tile, tiles, options):
    assert tiles("change", "N-1", "--firing", "F12").code == 0
    assert_one_line_error(tiles("change", "N-1", *options), "nothing of N-1 would change")


def test_what_each_layer_was_put_on_is_given_with_its_name(tile, tiles):
    def put_on():
        layers = [each for area in shown(tiles, "N-1")["areas"] for each in area["layers"]]
        return [each["applied_on"] for each in layers]

    given = ("--applied-on", "White slip=greenware", "--applied-on", "bisque")
    assert tiles("change", "N-1", *given).code == 0
    assert put_on() == ["greenware", "bisque"] * 2
    assert tiles("change", "N-1", "--applied-on", "white slip=").code == 0
    assert put_on() == [None, "bisque"] * 2
    before = all_rows(tile)
    told = "no layer of 'ink' is there", "white slip, pond green"
    assert_one_line_error(tiles("change", "N-1", "--applied-on", "ink=bisque"), *told)
    log = ("log", "--mark", "N-2", "--body", "red earthenware")
    assert_one_line_error(tiles(*log, "--applied-on", "bisque"), "no layer", "--glaze NAME")
    assert all_rows(tile) == before
    layers = ("--glaze", "white slip", "--glaze", "pond green")
    assert tiles(*log, *layers, "--applied-on", "white slip=greenware").code == 0
    beneath, top = shown(tiles, "N-2")["areas"][0]["layers"]
    assert (beneath["applied_on"], top["applied_on"]) == ("greenware", None)

"""Which own areas are counted beside a forecast."""

import pytest

from diagnose.own_tiles.made_alike import ANYWHERE, HERE, MadeSo, made_alike
from diagnose.own_tiles.pair import own_pair
from diagnose.view import View
from tests.unit.diagnose.test_comparison import tile
from tests.unit.diagnose.test_late_looks import tile as late_tile


def over(number, coats, *, failed=False):
    below = {"glaze": {"name": "leaf", "role": "underglaze"}, "coats": coats}
    areas = [{"number": 1, "layers": [below, {"glaze": "matt", "coats": 2}]}]
    return tile(number, areas=areas, defects=["crawling"] * failed)


THIN, THICK = (
    [over(at, coats, failed=coats > 1) for at in range(start, start + 4)]
    for start, coats in ((0, 1), (10, 3))
)


@pytest.mark.parametrize(
    ("coats", "others", "seen", "areas", "said"),
    [
        (1, [*THIN, *THICK], 0, 4, "1 coat of an underglaze"),
        (3, [*THIN, *THICK], 4, 4, "3 coats of an underglaze"),
        (None, [*THIN, *THICK], 4, 8, "an underglaze"),
        (3, [*THICK, over(20, None)], 4, 4, "3 coats of an underglaze"),
        (2, [over(20, None), *THIN], 0, 1, "an underglaze (coats not recorded)"),
        (3, THICK, 4, 4, "an underglaze"),
    ],
)
def test_tiles_over_other_coats_of_what_lies_beneath_are_not_counted(
    coats, others, seen, areas, said
):
    asked = over(99, coats)
    told = made_alike(others, View(asked, asked.areas[0])).counts("crawling")
    assert (told["alike_seen"], told["alike_areas"]) == (seen, areas)
    assert told["alike_over"] == said


def over_glaze(number, role, *, failed=False):
    """A tile with a glaze under the matt: with its role on record, or a layer without one."""
    below = {"glaze": {"name": "white", **({"role": role} if role else {})}}
    areas = [{"number": 1, "layers": [below, {"glaze": "matt", "coats": 2}]}]
    return tile(number, areas=areas, defects=["crawling"] * failed)


@pytest.mark.parametrize(("own", "other"), [(None, "glaze"), ("glaze", None), (None, None)])
def test_a_layer_without_a_role_is_a_glaze_among_what_lies_beneath(own, other):
    asked = over_glaze(99, own)
    others = [over_glaze(1, other, failed=True), over_glaze(2, "underglaze")]
    told = made_alike(others, View(asked, asked.areas[0])).counts("crawling")
    assert (told["alike_seen"], told["alike_areas"]) == (1, 1)


def over_two(number, lower, upper, *, failed=False):
    below = [
        {"glaze": {"name": name, "role": "underglaze"}, "coats": coats}
        for name, coats in (("leaf", lower), ("sky", upper))
    ]
    areas = [{"number": 1, "layers": [*below, {"glaze": "matt", "coats": 2}]}]
    return tile(number, areas=areas, defects=["crawling"] * failed)


def test_coats_of_two_colours_beneath_are_not_counted_as_so_many_of_one():
    asked = over_two(99, 2, 1)
    view = View(asked, asked.areas[0])
    assert made_alike(THICK, view).counts("crawling")["alike_areas"] == 0
    others = [*THICK, over_two(20, 1, 2, failed=True), over_two(21, 2, 1)]
    told = made_alike(others, view).counts("crawling")
    assert (told["alike_seen"], told["alike_areas"]) == (0, 1)
    assert told["alike_over"] == "1 coat of an underglaze over 2 coats of an underglaze"


def put_on(number, where, *, failed=False):
    """Leaf put on raw clay or on bisque, or nobody said, under the matt."""
    made = over(number, 3, failed=failed)
    made.areas[0].layers[0].applied_on = where
    return made


BISQUE = [put_on(n, "bisque", failed=True) for n in range(3)]
GREEN = [put_on(10 + n, "greenware") for n in range(2)]
BLANK = [put_on(20 + n, None) for n in range(4)]


@pytest.mark.parametrize(
    ("where", "others", "seen", "areas", "said"),
    [
        ("bisque", [*BISQUE, *GREEN, *BLANK], 3, 3, "an underglaze put on bisque"),
        ("greenware", [*BISQUE, *GREEN], 0, 2, "an underglaze put on greenware"),
        ("greenware", GREEN, 0, 2, "an underglaze"),
        ("greenware", [*BISQUE, *BLANK], 0, 4, "an underglaze (what it was put on not recorded)"),
        ("greenware", BISQUE, 0, 0, "an underglaze"),
        (None, [*BISQUE, *GREEN], 3, 5, "an underglaze"),
    ],
)
def test_a_colour_put_on_raw_clay_is_not_counted_as_one_put_on_bisque(
    where, others, seen, areas, said
):
    asked = put_on(99, where)
    view = View(asked, asked.areas[0])
    told = made_alike(others, view).counts("crawling")
    assert (told["alike_seen"], told["alike_areas"], told["alike_over"]) == (seen, areas, said)
    of_it = [each for each in others if where in (None, each.areas[0].layers[0].applied_on)]
    assert told["layers_areas"] == len(of_it)
    assert own_pair(others, view).count("crawling").tiles == len(of_it)


@pytest.mark.parametrize(("body", "is_told_twice"), [("red clay", False), ("white clay", True)])
def test_the_very_same_layers_are_told_beside_the_closest_only_where_others_are_among_them(
    body, is_told_twice
):
    def matt(number, coats, **made):
        layers = [{"glaze": "matt", "coats": coats}]
        return tile(number, areas=[{"number": 1, "layers": layers}], **made)

    asked, others = matt(99, 2), [matt(1, 2), matt(2, 3), matt(3, 3), matt(4, 2, body=body)]
    told = made_alike(others, View(asked, asked.areas[0])).counts("crawling")
    assert (told["alike_areas"], told["layers_areas"]) == (4 - is_told_twice, 2)
    assert told["layers_are_alike"] is not is_told_twice


@pytest.mark.parametrize(
    ("others", "made"),
    [
        # Of a fault of fit its own clay counts, and what is sound so far is named.
        ([("white", "2025-07-01!"), *[("red", "2025-01-08")] * 4], MadeSo(0, 0, 4, HERE)),
        ([("white", "2025-07-01!"), ("buff", "2025-01-08")], MadeSo(1, 1, 1, "buff and white")),
        ([("white", "2025-07-01!")], MadeSo(1, 1, 0, "white")),
        ([(body, "2025-07-01!") for body in "wxy"], MadeSo(3, 3, 0, "other bodies")),
    ],
)
def test_tiles_made_so_are_on_its_clay_or_the_other_is_named(others, made):
    asked = late_tile(99, body="red")
    tiles = [late_tile(at, look, body=body) for at, (body, look) in enumerate(others)]
    found = made_alike(tiles, View(asked, asked.areas[0]))
    assert found.counts("crazing")["made_so"] == made


def test_of_other_faults_all_clays_count_and_it_is_said():
    asked = late_tile(99, body="red")
    tiles = [late_tile(1, "2025-01-03!", body="white", defect="crawling")]
    tiles.append(late_tile(2, "2025-01-03", body="red"))
    found = made_alike(tiles, View(asked, asked.areas[0]))
    assert found.counts("crawling")["made_so"] == MadeSo(1, 2, 0, ANYWHERE)

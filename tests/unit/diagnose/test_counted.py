"""Facts by which tiles are set apart, as they are said."""

import pytest

from diagnose.counted import Counted, facts_of
from tests.unit.diagnose.test_own_tiles import tile


def said(name, *records):
    units = [Counted(each, each.areas[0], False) for each in records]
    return [(cut.said, cut.otherwise) for cut in facts_of(units, lambda each: each == name)[name]]


@pytest.mark.parametrize(
    ("bisque", "more", "less"),
    [
        (("04", "08"), "4 cones or more cooler than cone 04", "at cone 04 or hotter"),
        (("06", "08"), "4 cones or more cooler than cone 04",
         "at most 2 cones cooler than cone 04"),
        (("03", "04"), "at cone 04 or cooler", "1 cone or more hotter than cone 04"),
    ],
)  # fmt: skip
def test_cones_are_said_hotter_or_cooler_and_never_as_negative_numbers(bisque, more, less):
    records = [tile(n, bisque_cone=cone) for n, cone in enumerate(bisque)]
    expected = [(f"with a bisque {more}", f"with a bisque {less}")]
    assert said("bisque_cones_below_04", *records) == expected


def test_a_bisque_against_the_glaze_firing():
    cuts = said(
        "bisque_minus_glaze_cones",
        tile(1, bisque_cone="08", cone_reached="05"),
        tile(2, bisque_cone="04", cone_reached="04"),
        tile(3, bisque_cone="03", cone_reached="05"),
    )
    assert cuts == [
        ("with a bisque as hot as the glaze firing or hotter",
         "with a bisque 3 cones or more cooler than the glaze firing"),
        ("with a bisque 2 cones or more hotter than the glaze firing",
         "with a bisque as hot as the glaze firing or cooler"),
    ]  # fmt: skip

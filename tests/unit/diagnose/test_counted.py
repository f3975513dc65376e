"""Facts by which tiles are set apart, as they are said."""

import pytest

from diagnose.comparing.counted import Counted, facts_of
from tests.unit.diagnose.test_comparison import tile
from tiles.records.forms import AreaRecord


def said(name, *records):
    units = [Counted(each, each.areas[0], False) for each in records]
    return [(cut.said, cut.otherwise) for cut in facts_of(units, lambda each: each == name)[name]]


@pytest.mark.parametrize(
    ("bisque", "more", "less"),
    [
        (("04", "08"), "at cone 08 or cooler", "at cone 04 or hotter"),
        (("06", "08"), "at cone 08 or cooler", "at cone 06 or hotter"),
        (("03", "04"), "at cone 04 or cooler", "at cone 03 or hotter"),
    ],
)
def test_the_bisque_is_said_by_its_cone(bisque, more, less):
    records = [tile(n, bisque_cone=cone) for n, cone in enumerate(bisque)]
    expected = [(f"with a bisque {more}", f"with a bisque {less}")]
    assert said("bisque_cones_below_04", *records) == expected


def layered(number, under, coats):
    colour = {"glaze": {"name": under, "role": "underglaze"}, "coats": coats}
    layers = [colour] * bool(under) + [{"glaze": "pond"}]
    return tile(number, areas=[{"number": 1, "layers": layers}])


@pytest.mark.parametrize(
    ("coats", "more", "less"),
    [
        ((0, 1), "with colour under the glaze", "with no colour under the glaze"),
        ((0, 2), "with 2 coats or more of colour under the glaze",
         "with no colour under the glaze"),
        ((1, 2), "with 2 coats or more of colour under the glaze",
         "with 1 coat of colour or none under the glaze"),
    ],
)  # fmt: skip
def test_coats_of_colour_under_the_glaze_are_said_as_people_say_it(coats, more, less):
    records = [layered(n, "leaf" if many else None, many) for n, many in enumerate(coats)]
    assert said("colour_coats_beneath", *records) == [(more, less)]


def test_one_coat_is_not_said_to_be_one_or_fewer():
    records = [tile(n, areas=[{"number": 1, "layers": [{"glaze": "pond", "coats": n}]}])
               for n in (1, 2, 3)]  # fmt: skip
    assert said("coats", *records) == [
        ("with 2 or more", "with 1 coat"), ("with 3 or more", "with 2 coats or fewer")
    ]  # fmt: skip


def test_coats_of_several_glazes_added_up_are_said_to_be_so_beside_a_tile():
    for role, total in (("glaze", " in all"), ("slip", "")):
        under = {"glaze": {"name": "white", "role": role}, "coats": 1}
        layers = [{"glaze": "moss", "coats": 1}], [under, {"glaze": "moss", "coats": 3}]
        records = [tile(n, areas=[{"number": 1, "layers": each}]) for n, each in enumerate(layers)]
        units = [Counted(each, each.areas[0], False) for each in records]
        (cut,) = facts_of(units, "coats".__eq__, {"coats": 1.0})["coats"]
        assert cut.otherwise == f"with 1 coat{total}"


def test_what_the_colour_beneath_was_put_on_is_a_fact_of_areas_that_have_one():
    records = [layered(n, "leaf" if n else None, 2) for n in range(3)]
    for each, put_on in zip(records[1:], ("bisque", "greenware"), strict=True):
        each.areas[0].layers[0].applied_on = put_on
    assert said("colour_applied_on", *records) == [
        ("over a colour put on bisque", "over a colour put on greenware"),
        ("over a colour put on greenware", "over a colour put on bisque"),
    ]


def test_what_lies_under_the_glaze_is_a_fact_and_bare_clay_is_one_of_its_values():
    assert said("under", layered(1, None, None), layered(2, "leaf", 1)) == [
        ("on bare clay", "over leaf"),
        ("over leaf", "on bare clay"),
    ]
    three = said("under", layered(1, None, None), layered(2, "leaf", 1), layered(3, "moss", 1))
    assert three[:2] == [
        ("on bare clay", "over another layer"),
        ("over leaf", "over another layer or bare clay"),
    ]


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


def test_the_batch_is_that_of_the_glaze_though_a_colour_lies_on_it():
    def painted(number, batch):
        layers = [
            {"glaze": {"name": "pond", "role": "glaze"}, "batch": batch},
            {"glaze": {"name": "blue", "role": "underglaze"}, "batch": "first jar"},
        ]
        return tile(number).model_copy(
            update={"areas": [AreaRecord.model_validate({"number": 1, "layers": layers})]}
        )

    batches = {cut[0] for cut in said("batch", painted(1, "spring"), painted(2, "autumn"))}
    assert batches == {"with batch spring", "with batch autumn"}


def holding(number, material):
    recipe = {"version": 1, "lines": [{"material": material, "parts": 100}]}
    layers = [{"glaze": {"name": f"glaze {number}", "kind": "recipe"}, "recipe": recipe}]
    return tile(number, areas=[{"number": 1, "layers": layers}])


def test_what_is_so_or_not_is_said_as_a_statement():
    with_, without = "where there is tin in the glaze", "where there is no tin in the glaze"
    records = holding(1, "tin oxide"), holding(2, "silica")
    assert said("holds_tin", *records) == [(with_, without), (without, with_)]


def test_a_word_is_said_as_people_say_it_beside_the_other_or_the_others():
    firings = [{"name": f"F{n}", "target_cone": cone} for n, cone in enumerate(("05", "6", "10"))]
    records = [
        tile(n, firing=each, cone_reached=each["target_cone"]) for n, each in enumerate(firings)
    ]
    low, mid, high = "fired at low fire", "fired at mid range", "fired at high fire"
    assert said("firing_band", *records[:2]) == [(low, mid), (mid, low)]
    others = "fired elsewhere on the cone scale"
    told = sorted(said("firing_band", *records))
    assert told == sorted((each, others) for each in (low, mid, high))


def facts(name, *records):
    units = [Counted(each, each.areas[0], False) for each in records]
    return facts_of(units, lambda each: each == name)[name]


def test_another_by_itself_says_than_which():
    records = [tile(n, body=clay) for n, clay in enumerate(("red", "white", "buff"))]
    for each in facts("body", *records):
        clay = each.said.removeprefix("with body ")
        assert (each.otherwise, each.otherwise_in_full) == (
            "with another body",
            f"with another body than {clay}",
        )
    coats = [layered(n, "leaf" if n else None, n) for n in range(2)]
    (more,) = facts("colour_coats_beneath", *coats)
    assert more.otherwise_in_full == more.otherwise, "it names what it is itself"


def test_a_melt_is_told_with_a_word_that_potters_use():
    def fired(number, frit, silica):
        lines = [("soda borate frit", frit), ("kaolin", 10), ("silica", silica)]
        recipe = {"lines": [{"material": name, "parts": parts} for name, parts in lines]}
        layers = [{"glaze": {"name": f"g{number}", "kind": "recipe"}, "recipe": recipe}]
        areas = [{"number": 1, "layers": layers}]
        return tile(number, areas=areas, cone_reached="04")

    (cut,) = facts("melt_thinnest_log10_pa_s", fired(1, 80, 10), fired(2, 50, 40))
    assert cut.said.startswith("with a melt that at its thinnest is ")
    assert cut.said.endswith(" log10 Pa.s) or stiffer")
    assert cut.otherwise.endswith(" log10 Pa.s) or more fluid")
    assert cut.in_full == cut.said
    for told in (cut.said, cut.otherwise):
        assert any(f"is {word} (" in told for word in ("runny", "fluid", "healing", "stiff"))


@pytest.mark.parametrize(
    ("bisque", "more", "less"),
    [
        ("rate_c_per_h", "a rise of the bisque near its top of 120 °C/h or more", "80 °C/h"),
        ("hold_min", "hold of the bisque at 120 min or more", "hold of the bisque at 80 min"),
    ],
)
def test_a_number_is_said_after_what_it_is_a_number_of(bisque, more, less):
    fired = [
        tile(n, bisque_firing={"name": f"B{n}", "kind": "bisque", bisque: value})
        for n, value in enumerate((80, 120), start=1)
    ]
    (fact,) = facts(f"bisque_{bisque}", *fired)
    assert fact.in_full == f"with {more}"
    assert fact.otherwise.endswith(f" {less} or less")

import pytest

from diagnose.measures.of_area import choose_area, measures
from diagnose.report import why
from tiles.records.forms import TileRecord


def tile(areas, defects, defect="crawling"):
    seen = [{"defect": defect, **each} for each in defects]
    return TileRecord.model_validate(
        {
            "mark": "T-1",
            "body": "red",
            "areas": [{"number": n, **fields} for n, fields in enumerate(areas, start=1)],
            "inspections": [{"inspected_on": "2025-03-03", "defects": seen}],
        }
    )


def coats(*numbers, glaze="green"):
    return [{"layers": [{"glaze": glaze, "coats": n}]} for n in numbers]


def rise(record, name="rises_with_coat"):
    found = measures(record, None, "crawling")
    return found[name].value if name in found else None


@pytest.mark.parametrize(
    ("defects", "expected"),
    [
        ([{"area": 3}], 1.0),
        ([{"area": 1}], -1.0),
        ([{"area": 1}, {"area": 2}, {"area": 3}], 0.0),
        ([{"area": 1, "severity": "slight"}, {"area": 3, "severity": "severe"}], 0.7),
        ([{"area": 1, "severity": "severe"}, {"area": 3, "severity": "slight"}], -0.7),
        ([{"area": 1, "severity": "slight"}, {"area": 2}, {"area": 3, "severity": "severe"}], 0.35),
        ([{"area": 2}, {"area": 3}], 1.0),
        ([{"area": 1}, {"area": 2}], -1.0),
        ([{"area": 2}], 0.0),
        ([{}], 0.2),
    ],
)
def test_thin_and_thick_areas_of_one_glaze_are_compared(defects, expected):
    assert rise(tile(coats(1, 2, 3), defects)) == expected


@pytest.mark.parametrize(
    ("areas", "said"),
    [
        ((2, 3), "it is only on areas 2 and 3 (2 and 3 coats); area 1 (1 coat) is sound"),
        ((1, 2), "it is only on areas 1 and 2 (1 and 2 coats); area 3 (3 coats) is sound"),
        ((2,), "it is on area 2 (2 coats); areas 1 and 3 (1 and 3 coats) are sound"),
    ],
)
def test_every_failed_area_is_named_beside_the_sound_ones(areas, said):
    record = tile(coats(1, 2, 3), [{"area": number} for number in areas])
    assert measures(record, None, "crawling")["rises_with_coat"].said == said


def test_a_sound_area_between_two_failed_ones_counts_for_as_much_as_it_gainsays():
    assert rise(tile(coats(1, 2, 3, 4), [{"area": 2}, {"area": 4}])) == 0.5
    assert rise(tile(coats(1, 3, 3), [{"area": 3}])) == 1.0


@pytest.mark.parametrize(("defect", "cause"), [("crawling", "coat_too_thick"),
                                               ("underfired", "coat_too_thin")])  # fmt: skip
def test_a_sound_area_on_either_side_speaks_against_the_coat(defect, cause):
    found = why(tile(coats(1, 2, 3), [{"area": 2}], defect))[0]
    told = next(each for each in found.causes if each.name == cause)
    assert any("areas 1 and 3" in text for text in told.against)


def test_what_is_seen_on_both_without_a_grade_is_not_called_worse():
    assert rise(tile(coats(1, 3), [{"area": 1}, {"area": 2, "severity": "severe"}])) == 0.0


def test_areas_of_different_glazes_are_not_compared_by_coat():
    areas = coats(1) + coats(3, glaze="blue")
    assert rise(tile(areas, [{"area": 2}])) is None


def test_areas_that_also_differ_in_surface_are_not_compared_by_coat():
    areas = coats(1, 3)
    areas[0]["surface"], areas[1]["surface"] = "smooth", "textured"
    assert rise(tile(areas, [{"area": 2}])) is None


def test_one_area_gives_no_comparison():
    assert rise(tile(coats(3), [{"area": 1}])) is None


def test_texture_is_compared_at_the_same_coat():
    areas = coats(2, 2)
    areas[0]["surface"], areas[1]["surface"] = "smooth", "textured"
    assert rise(tile(areas, [{"area": 2}]), "rises_with_texture") == 1.0


def test_colour_beneath_is_compared_with_the_bare_strip():
    clear = {"glaze": {"name": "clear", "role": "glaze"}, "coats": 2}
    black = {"glaze": {"name": "black", "role": "underglaze"}, "coats": 3}
    areas = [{"layers": [black, clear]}, {"layers": [clear]}]
    assert rise(tile(areas, [{"area": 1}]), "rises_over_colour") == 1.0
    assert rise(tile(areas, [{"area": 2}]), "rises_over_colour") == -1.0


def test_an_overlap_is_compared_with_each_glaze_alone():
    amber, blue = {"glaze": "amber", "coats": 2}, {"glaze": "blue", "coats": 2}
    areas = [{"layers": [amber]}, {"layers": [amber, blue]}, {"layers": [blue]}]
    assert rise(tile(areas, [{"area": 2}]), "rises_in_overlap") == 1.0
    assert rise(tile(areas, [{"area": 2}, {"area": 3}]), "rises_in_overlap") == 0.0


def test_another_glaze_on_the_same_clay_is_a_witness():
    areas = coats(2) + coats(2, glaze="blue")
    assert rise(tile(areas, [{"area": 1}]), "every_glaze_failed") == "no"
    assert rise(tile(areas, [{"area": 1}, {"area": 2}]), "every_glaze_failed") == "yes"


def test_the_worst_area_is_looked_at_and_the_thicker_one_decides_a_tie():
    graded = [{"area": 1, "severity": "severe"}, {"area": 3, "severity": "slight"}]
    assert choose_area(tile(coats(1, 2, 3), graded), None, "crawling").number == 1
    equal = [{"area": 1}, {"area": 2}]
    assert choose_area(tile(coats(1, 2, 3), equal), None, "crawling").number == 2


def test_a_tile_with_several_coats_needs_no_test_tile_of_several_coats():
    asked = "Glaze one tile with one, two and three coats"
    for areas, is_told in ((coats(1, 2, 3), False), (coats(3), True)):
        (told,) = why(tile(areas, [{"area": len(areas)}]))
        thick = next(each for each in told.causes if each.name == "coat_too_thick")
        assert any(each.startswith(asked) for each in thick.confirm) is is_told

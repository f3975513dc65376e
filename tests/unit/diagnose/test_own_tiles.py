"""Matched comparisons: who is set beside whom, what is counted, and what is said."""

import pytest

from diagnose.factors import ALIKE, FACTORS
from diagnose.own_tiles import compare
from tiles.records import forms


def tile(number, *, coats=None, defects=(), body="red clay", glaze="pond", mm=None, **more):
    layer = {"glaze": glaze, "coats": coats, "thickness_mm": mm}
    values = {
        "mark": f"T-{number}",
        "body": body,
        "areas": [{"number": 1, "layers": [{k: v for k, v in layer.items() if v is not None}]}],
        "inspections": [
            {"inspected_on": "2024-05-01", "defects": [{"defect": each} for each in defects]}
        ],
    }
    return forms.TileRecord.model_validate(values | more)


def ladder():
    """Six tiles with 2 coats, none crawled; six with 4, five crawled."""
    thin = [tile(n, coats=2) for n in range(6)]
    return thin + [tile(n, coats=4, defects=["crawling"] * (n < 11)) for n in range(6, 12)]


def test_counts_and_test_of_a_clear_difference():
    found = compare(ladder(), "coats")
    assert (found.groups, found.tiles, found.sets) == (["2 coats", "4 coats"], [6, 6], 1)
    (crawling,) = found.outcomes
    assert (crawling.defect, crawling.failed) == ("crawling", [0, 5])
    assert crawling.p_value == pytest.approx(0.015, abs=0.001)
    assert crawling.say.startswith("crawling: more often towards 4 coats; chance alone")


def test_tiles_that_differ_in_something_else_are_not_set_beside_each_other():
    thin = [tile(n, coats=2, body="white clay") for n in range(6)]
    thick = [tile(n, coats=4, defects=["crawling"]) for n in range(6, 12)]
    found = compare(thin + thick, "coats")
    assert (found.sets, found.alone, found.outcomes) == (0, 12, [])


def test_a_difference_between_sets_is_not_taken_for_one_within_them():
    """White clay always crawls and mostly has four coats: coats are not to blame."""
    white = [
        tile(n, coats=2 if n == 0 else 4, defects=["crawling"], body="white") for n in range(8)
    ]
    red = [tile(n, coats=4 if n == 8 else 2, body="red") for n in range(8, 16)]
    (crawling,) = compare(white + red, "coats").outcomes
    assert crawling.failed == [1, 7]
    assert crawling.p_value == pytest.approx(1.0)


def test_what_cannot_be_held_alike_is_let_go_and_named():
    records = [
        each.model_copy(update={"bisque_cone": "04" if at % 2 else "06", "stood": None})
        for at, each in enumerate([tile(n, coats=2 + 2 * (n > 2)) for n in range(6)])
    ]
    mixed = [
        each.model_copy(update={"stood": "flat" if at < 3 else "upright"})
        for at, each in enumerate(records)
    ]
    found = compare(mixed, "coats")
    assert "how it stood" in found.let_go
    assert found.sets > 0


def test_how_tiles_came_out_does_not_change_what_is_held_alike():
    clean = [each.model_copy(update={"inspections": each.inspections}) for each in ladder()]
    failed = [tile(n, coats=2 + 2 * (n > 5), defects=["pinholes"]) for n in range(12)]
    one, other = compare(clean, "coats"), compare(failed, "coats")
    assert (one.alike, one.let_go, one.tiles) == (other.alike, other.let_go, other.tiles)


def test_areas_of_one_tile_with_the_same_value_count_once():
    twice = tile(1, coats=2)
    area = twice.areas[0]
    twice = twice.model_copy(update={"areas": [area, area.model_copy(update={"number": 2})]})
    found = compare([twice, tile(2, coats=3)], "coats")
    assert found.tiles == [1, 1]


def test_a_defect_on_one_area_is_not_counted_on_the_other():
    base = tile(1, coats=2)
    second = tile(2, coats=4).areas[0].model_copy(update={"number": 2})
    look = forms.InspectionRecord.model_validate(
        {"inspected_on": "2024-05-01", "defects": [{"defect": "crawling", "area": 2}]}
    )
    both = base.model_copy(update={"areas": [base.areas[0], second], "inspections": [look]})
    (crawling,) = compare([both], "coats").outcomes
    assert crawling.failed == [0, 1]


def test_too_few_tiles_are_said_to_be_too_few():
    (crawling,) = compare(
        [tile(1, coats=2), tile(2, coats=4, defects=["crawling"])], "coats"
    ).outcomes
    assert "too few tiles to tell" in crawling.say
    assert "more often" not in crawling.say


def test_a_defect_nobody_saw_is_said_not_to_differ():
    (found,) = compare(ladder(), "coats", defect="bloating").outcomes
    assert found.p_value is None
    assert found.say == "bloating: no tile compared has it, so nothing differs."


def test_many_thicknesses_are_cut_into_thirds_in_order():
    records = [tile(n, mm=0.3 + 0.1 * n, defects=["crawling"] * (n > 9)) for n in range(12)]
    found = compare(records, "thickness")
    assert found.groups == ["under 0.7 mm", "0.7 to 1.1 mm", "1.1 mm and over"]
    assert found.tiles == [4, 4, 4]


def test_blank_values_are_left_out_and_counted():
    found = compare([*ladder(), tile(40), tile(41)], "coats")
    assert found.blank == 2


def test_tiles_never_looked_at_do_not_count():
    unseen = [each.model_copy(update={"inspections": []}) for each in ladder()]
    assert compare(unseen, "coats").tiles == []


@pytest.mark.parametrize("name", FACTORS)
def test_what_goes_along_with_a_factor_is_a_factor_and_every_factor_can_be_asked_for(name):
    assert set(FACTORS[name].implied) <= set(FACTORS)
    assert compare(ladder(), name).by == FACTORS[name].said


def test_everything_held_alike_is_a_factor():
    assert set(ALIKE) <= set(FACTORS)

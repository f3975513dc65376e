import pytest
from scipy.stats import fisher_exact

from diagnose.over_tiles import over_tiles
from tiles.records.forms import TileRecord


def tile(number, coats, failed, *, kiln="A", body="red", inspected=True):
    defects = [{"defect": "crawling"}] if failed else []
    return TileRecord.model_validate(
        {
            "mark": f"T-{number}",
            "body": body,
            "firing": {"name": f"F{number % 3}", "kiln": kiln},
            "areas": [{"number": 1, "layers": [{"glaze": "pond green", "coats": coats}]}],
            "inspections": [{"inspected_on": "2025-03-03", "defects": defects}]
            if inspected
            else [],
        }
    )


THIN = [tile(n, 2, False) for n in range(9)]
THICK = [tile(20 + n, 3, n < 5) for n in range(7)]


def test_the_failing_and_the_sound_are_counted_in_words():
    found = over_tiles([*THIN, *THICK], "pond green", "crawling")
    assert (found.failing, found.sound) == (5, 11)
    best = found.differences[0]
    assert best.say.startswith(
        "with 2 coats or fewer: 0 of 9 areas crawled; with 3 or more: 5 of 7 ("
    )
    counts = (best.with_failed, best.with_all, best.without_failed, best.without_all)
    assert counts == (5, 7, 0, 9)


def test_a_named_thing_is_set_against_all_others_without_naming_what_they_are():
    records = [tile(n, 2, n < 5, kiln="A" if n < 5 else "B") for n in range(11)]
    said = [each.say for each in over_tiles(records, "pond green", "crawling").differences]
    assert any(say.startswith("kiln A: 5 of 5 tiles crawled; all others: 0 of 6 (") for say in said)


def test_one_is_said_in_the_singular():
    records = [tile(n, 1 if n < 6 else 2, n >= 6) for n in range(11)]
    for n, record in enumerate(records):
        record.bisque_cone = "04" if n < 6 else "05"
        record.cone_reached = "05"
    said = " ".join(e.say for e in over_tiles(records, "pond green", "crawling").differences)
    assert "with a bisque as hot as the glaze firing or cooler: 5 of 5" in said
    assert "with a bisque 1 cone or more hotter than the glaze firing: 0 of 6" in said
    assert "1 cones" not in said


def test_the_chance_is_fishers_exact_two_sided_one():
    best = over_tiles([*THIN, *THICK], "pond green", "crawling").differences[0]
    expected = fisher_exact([[5, 2], [0, 9]], alternative="two-sided").pvalue
    assert best.p_value == pytest.approx(expected)
    assert best.p_value < best.p_value_of_best <= 1


def test_few_tiles_are_not_made_to_say_much():
    found = over_tiles([*THIN[:2], *THICK[:2]], "pond green", "crawling")
    assert "Too few to compare" in found.say
    assert not any(each.is_firm for each in found.differences)


def test_a_difference_no_larger_than_chance_is_said_to_be_that():
    records = [tile(n, 1 + n % 2, n % 4 == 0) for n in range(12)]
    found = over_tiles(records, "pond green", "crawling")
    assert "No single difference is larger than chance would make it" in found.say


def test_areas_of_one_tile_count_once_where_the_fact_is_the_tiles():
    three = [
        TileRecord.model_validate(
            {
                "mark": f"M-{n}",
                "body": "red" if n < 3 else "white",
                "areas": [
                    {"number": a, "layers": [{"glaze": "pond green", "coats": a}]}
                    for a in (1, 2, 3)
                ],
                "inspections": [
                    {
                        "inspected_on": "2025-03-03",
                        "defects": [{"defect": "crawling"}] if n < 3 else [],
                    }
                ],
            }
        )
        for n in range(6)
    ]
    found = over_tiles(three, "pond green", "crawling")
    body = next(each for each in found.differences if each.fact.startswith("body"))
    assert body.unit_of_count == "tiles"
    assert sorted((body.with_all, body.without_all)) == [3, 3]
    assert found.failing + found.sound == 18


def test_tiles_nobody_looked_at_or_with_another_glaze_do_not_count():
    other = tile(50, 3, True).model_copy(deep=True)
    other.areas[0].layers[0].glaze.name = "blue"
    found = over_tiles([*THIN, *THICK, tile(51, 3, False, inspected=False), other],
                       "pond green", "crawling")  # fmt: skip
    assert found.failing + found.sound == 16


def test_a_fact_not_recorded_is_on_neither_side():
    records = [*THIN, *THICK, tile(60, None, True)]
    best = over_tiles(records, "pond green", "crawling").differences[0]
    assert best.with_all + best.without_all == 16


def test_the_causes_are_pooled_over_the_failing_tiles():
    found = over_tiles([*THIN, *THICK], "pond green", "crawling")
    assert sum(each.mean_share for each in found.causes) == pytest.approx(1)
    assert {each.tiles for each in found.causes} == {5}
    assert sum(each.first_on for each in found.causes) == 5


def test_a_glaze_that_never_failed_has_nothing_to_explain():
    found = over_tiles(THIN, "pond green", "crawling")
    assert found.say.startswith("No crawling on 9 areas of pond green")
    assert found.causes == []


def test_the_order_of_tiles_does_not_matter():
    one = over_tiles([*THIN, *THICK], "pond green", "crawling")
    other = over_tiles([*reversed(THICK), *reversed(THIN)], "pond green", "crawling")
    assert one.differences == other.differences

import random

import pytest
from scipy.stats import fisher_exact

from diagnose.comparing.counted import Counted
from diagnose.comparing.over_tiles import over_tiles
from diagnose.comparing.set_apart import differences
from tiles.records.forms import BatchRecord, TileRecord


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
        "with 2 coats or fewer: 0 of 9 tiles crawled; with 3 or more: 5 of 7 ("
    )
    counts = (best.with_failed, best.with_all, best.without_failed, best.without_all)
    assert counts == (5, 7, 0, 9)


def test_a_named_thing_is_set_against_all_others_and_two_of_them_are_both_named():
    records = [tile(n, 2, n < 5, kiln="A" if n < 5 else "B") for n in range(11)]
    said = [each.say for each in over_tiles(records, "pond green", "crawling").differences]
    assert any(say.startswith("kiln A: 5 of 5 tiles crawled; kiln B: 0 of 6 (") for say in said)
    records[-1].firing.kiln = "C"
    said = [each.say for each in over_tiles(records, "pond green", "crawling").differences]
    assert any(say.startswith("kiln A: 5 of 5 tiles crawled; all others: 0 of 6 (") for say in said)


def test_one_is_said_in_the_singular():
    records = [tile(n, 2, n >= 6) for n in range(11)]
    for n, record in enumerate(records):
        record.cone_reached = ("05", "04")[n % 2]
        record.bisque_cone = ("04", "03")[n % 2] if n < 6 else record.cone_reached
    said = " ".join(e.say for e in over_tiles(records, "pond green", "crawling").differences)
    assert "with a bisque as hot as the glaze firing or cooler: 5 of 5" in said
    assert "with a bisque 1 cone or more hotter than the glaze firing: 0 of 6" in said
    assert "1 cones" not in said


def over_colour(records, colour="leaf"):
    """The same with two coats of a colour under the glaze."""
    for each in records:
        layer = {"glaze": {"name": colour, "role": "underglaze"}, "coats": 2}
        values = each.model_dump()
        values["areas"][0]["layers"].insert(0, layer)
        yield TileRecord.model_validate(values)


def test_of_several_layers_it_is_said_of_which_one_the_coats_are():
    records = [*over_colour(THIN), *over_colour(THICK)]
    best = over_tiles(records, "pond green", "crawling").differences[0]
    assert best.say.startswith(
        "with 2 coats of pond green or fewer: 0 of 9 tiles crawled; with 3 or more: 5 of 7 ("
    )
    best = over_tiles(records, None, "crawling").differences[0]
    assert best.say.startswith("with 2 coats of pond green or fewer: 0 of 9 tiles crawled;")
    records[0].areas[0].layers[1].glaze.name = "rain blue"
    found = over_tiles(records, None, "crawling").differences
    assert any(each.say.startswith("with 2 coats of glaze or fewer: 0 of 9") for each in found)


def test_the_chance_is_fishers_exact_two_sided_one():
    best = over_tiles([*THIN, *THICK], "pond green", "crawling").differences[0]
    expected = fisher_exact([[5, 2], [0, 9]], alternative="two-sided").pvalue
    assert best.p_value == pytest.approx(expected)


def test_the_honest_chance_allows_for_the_other_cuts_and_the_other_questions():
    records = [*(tile(n, 1 + n % 2, False) for n in range(9)), *THICK]
    for n, record in enumerate(records):
        record.body.name = "red" if n % 2 else "white"
    best = over_tiles(records, "pond green", "crawling").differences[0]
    assert best.fact.startswith("coats")
    assert 2 * best.p_value < best.p_value_of_best < 0.05


def test_few_tiles_are_not_made_to_say_much():
    found = over_tiles([*THIN[:2], *THICK[:2]], "pond green", "crawling")
    assert "Too few to compare" in found.say
    assert not any(each.is_firm for each in found.differences)


def test_of_two_failing_tiles_what_parts_them_from_many_is_told_as_a_hint_at_most():
    sound = [tile(n, 1, False) for n in range(12)]
    found = over_tiles([*sound, *THICK[:2]], "pond green", "crawling")
    assert found.differences[0].is_firm
    assert "Too few to be sure: the first below is no more than a hint." in found.say


def test_a_difference_no_larger_than_chance_is_said_to_be_that():
    records = [tile(n, 1 + n % 3, n % 4 == 0) for n in range(12)]
    found = over_tiles(records, "pond green", "crawling")
    assert "No single difference is larger than chance would make it" in found.say


def test_a_difference_worth_a_test_is_told_as_a_hint_and_not_as_clear():
    records = [tile(n, 1 + n % 2, n % 4 == 0) for n in range(12)]
    found = over_tiles(records, "pond green", "crawling")
    assert "No difference is clear beyond chance; the first below is a hint." in found.say
    assert found.differences[0].say.endswith("(a hint to test: chance would do this about 1 time "
                                             "in 6, all taken together).")  # fmt: skip


def test_a_fact_that_parts_the_tiles_as_another_does_is_told_once():
    """Over its target, over its label and over the label's middle: one fact."""
    records = [tile(n, 2, n < 4) for n in range(12)]
    for n, record in enumerate(records):
        record.firing.target_cone, record.cone_reached = "05", "03" if n < 4 else "05"
        record.areas[0].layers[0].glaze.cone_low = "06"
        record.areas[0].layers[0].glaze.cone_high = "05"
    found = over_tiles(records, "pond green", "crawling")
    told = [each for each in found.differences if (each.with_failed, each.with_all) == (4, 4)]
    assert [each.fact.partition(" (")[0] for each in told] == ["cones_over_target"]
    assert found.differences[0].is_firm


def test_the_cone_reached_goes_before_a_gap_to_the_bisque_that_parts_the_tiles_alike():
    """All had one bisque; the gap to it is wider only where the glaze firing was cooler."""
    records = [tile(n, 2, n < 6) for n in range(14)]
    for n, record in enumerate(records):
        record.bisque_cone, record.cone_reached = "04", "06" if n < 6 else "05"
        record.areas[0].layers[0].glaze.cone_low = "06"
        record.areas[0].layers[0].glaze.cone_high = "04"
    found = over_tiles(records, "pond green", "crawling")
    assert [each.name for each in found.differences if each.is_firm] == ["cone_reached"]
    assert found.say.endswith(
        "With a firing that reached cone 06 or cooler: 6 of 6 tiles crawled; with a firing that "
        "reached cone 05 or hotter: 0 of 8 (chance would do this less than 1 time in 1000, all "
        "taken together)."
    )
    for n, record in enumerate(records):  # here the gap is what parts them, in any firing
        record.cone_reached = ("05", "04")[n % 2]
        record.bisque_cone = ("06", "05")[n % 2] if n < 6 else ("05", "04")[n % 2]
    found = over_tiles(records, "pond green", "crawling")
    assert found.differences[0].name == "bisque_minus_glaze_cones"


def noise(rng, n):
    """A tile of which nothing has to do with how it came out."""
    layers = [{"glaze": "slip"}] * (rng.random() < 0.4) + [
        {
            "glaze": {"name": "pond green", "cone_low": "06", "cone_high": "05"},
            "coats": rng.randint(1, 3),
            "thickness_mm": rng.randint(4, 14) / 10,
            "batch": rng.choice("AB"),
            "method": rng.choice(["brush", "dip"]),
        }
    ]
    return TileRecord.model_validate(
        {
            "mark": f"T-{n}",
            "body": rng.choice(["red", "white", "buff"]),
            "firing": {"name": rng.choice("FGH"), "target_cone": "05"},
            "cone_reached": rng.choice(["06", "05", "04"]),
            "bisque_cone": rng.choice(["08", "04"]),
            "shelf": rng.choice(["top", "bottom"]),
            "stood": rng.choice(["flat", "upright"]),
            "areas": [{"number": 1, "layers": layers}],
            "inspections": [{"inspected_on": "2025-03-03", "defects": []}],
        }
    )


def test_noise_seems_clear_on_less_than_one_glaze_in_ten():
    rng = random.Random(11)
    alarms = 0
    for _ in range(150):
        tiles = [noise(rng, n) for n in range(18)]
        areas = [Counted(each, each.areas[0], rng.random() < 0.4) for each in tiles]
        alarms += any(each.is_firm for each in differences(areas, "crawling"))
    assert 0 < alarms < 15


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
    assert (found.failing + found.sound, found.tiles) == (18, 6)


def test_a_tile_counts_once_on_each_side_on_which_it_has_an_area():
    records = [tile(n, 2, n < 5) for n in range(10)]
    for record in records[:4]:
        for number, coats in ((2, 1), (3, 3), (4, 3)):
            layers = [record.areas[0].layers[0].model_copy(update={"coats": coats})]
            record.areas.append(
                record.areas[0].model_copy(update=dict(number=number, layers=layers))
            )
    found = over_tiles(records, "pond green", "crawling").differences
    coats = next(each for each in found if each.name == "coats")
    assert (coats.with_failed, coats.with_all) == (4, 4)
    assert (coats.without_failed, coats.without_all) == (5, 10)
    assert coats.unit_of_count == "tiles"


def test_of_two_cuts_that_part_the_tiles_alike_the_one_that_parts_their_areas_is_told():
    """Each tile has 0.5, 0.9 and 1.5 mm, and only its thickest area crawled."""
    records = [tile(n, None, n < 7) for n in range(8)]
    for record in records:
        area, looks = record.areas[0], record.inspections[0].defects
        record.areas = [
            area.model_copy(update={"number": number, "layers": [
                area.layers[0].model_copy(update={"thickness_mm": mm})
            ]})
            for number, mm in enumerate((0.5, 0.9, 1.5), start=1)
        ]  # fmt: skip
        record.inspections[0].defects = [e.model_copy(update={"area": 3}) for e in looks]
    best = over_tiles(records, "pond green", "crawling").differences[0]
    assert best.say.startswith(
        "with a dry coat of 0.9 mm or less: 0 of 8 tiles crawled; with 1.5 mm or more: 7 of 8 ("
    )


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
    assert found.say.startswith("No crawling on 9 tiles of pond green")
    assert found.causes == []


def test_where_all_failed_it_says_so_and_over_what_they_are_alike():
    one, *others = [tile(n, 3, True, body="red" if n else "white") for n in range(5)]
    said = over_tiles([one, *others], "pond green", "crawling").say
    assert said == (
        "Crawling on 5 of 5 tiles of pond green that were looked at. There is no sound one to "
        "compare with. It came alike over 2 clays and 3 firings."
    )
    assert over_tiles([one], "pond green", "crawling").say.endswith("no sound one to compare with.")


def test_the_order_of_tiles_does_not_matter():
    one = over_tiles([*THIN, *THICK], "pond green", "crawling")
    other = over_tiles([*reversed(THICK), *reversed(THIN)], "pond green", "crawling")
    assert one.differences == other.differences


def test_how_many_have_no_batch_is_told_beside_those_that_have_one():
    records = [tile(n, 2, n < 6) for n in range(10)]
    for n, record in enumerate(records[:6]):
        layer = record.areas[0].layers[0]
        layer.batch = BatchRecord(name="B1" if n < 3 else "B2")
        record.inspections[0].defects = record.inspections[0].defects if n < 3 else []
    found = over_tiles(records, "pond green", "crawling").differences
    batch = next(each for each in found if each.fact.startswith("batch"))
    assert batch.unknown == 4
    assert "B1: 3 of 3 tiles crawled; batch B2: 0 of 3, not recorded on 4 (" in batch.say


def test_what_parts_the_tiles_as_the_first_difference_does_is_told_beside_it():
    records = [tile(n, 3 if n < 6 else 2, n < 6, kiln="A" if n < 6 else "B") for n in range(14)]
    records[0].areas[0].layers[0].coats = None
    found = over_tiles(records, "pond green", "crawling")
    best = found.differences[0]
    assert (best.name, best.along) == ("coats", ("with kiln A",))
    said = "The failing ones differ alike in this: with kiln A; either may be why."
    assert found.say.endswith(said)
    apart = [tile(n, 3 if n < 7 else 2, n < 6, kiln="A" if n < 6 else "B") for n in range(14)]
    assert over_tiles(apart, "pond green", "crawling").differences[0].along == ()


def test_one_area_is_said_in_the_singular_and_a_fault_without_a_name_as_another():
    one, clean = tile(1, 3, True), tile(2, 3, False)
    assert over_tiles([one], "pond green", "crawling").say.startswith(
        "Crawling on 1 of 1 tile of pond green that was looked at. "
    )
    assert over_tiles([clean], "pond green", "other").say == (
        "No other fault on 1 tile of pond green: nothing to explain."
    )
    one.inspections[0].defects[0].defect = "other"
    assert over_tiles([one, clean], None, "other").say.startswith(
        "Another fault on 1 of 2 tiles that were looked at. "
    )


def test_what_parts_the_tiles_alike_without_exception_is_told_beside_it_too():
    """The fuller record tells no less: with a coat left blank the kiln was named as well."""
    records = [tile(n, 3 if n < 6 else 2, n < 6, kiln="A" if n < 6 else "B") for n in range(14)]
    for n, record in enumerate(records):
        record.shelf = "top" if n < 6 else "low"
    both = ("with kiln A", "with shelf top")
    assert over_tiles(records, "pond green", "crawling").differences[0].along == both
    records[0].areas[0].layers[0].coats = None
    assert over_tiles(records, "pond green", "crawling").differences[0].along == both


def test_what_parts_the_very_same_tiles_is_told_beside_a_difference():
    """Seven tiles of one clay are all of one kiln, and the others are of two clays."""
    clays = ["red"] * 7 + ["white", "buff", "grey"] * 3
    records = [
        tile(n, 2, n >= 7, kiln="A" if n < 7 else "B", body=clay) for n, clay in enumerate(clays)
    ]
    told = over_tiles(records, "pond green", "crawling").say
    assert "Body red: 0 of 7 tiles crawled" in told
    assert "The failing ones differ alike in this: with kiln B; either may be why." in told


def test_over_all_glazes_what_else_differs_is_counted_within_what_all_failing_ones_share():
    """Where another glaze lies sound over a slip, the slip tells nothing of the first one."""
    records = [tile(n, 2, n < 6, kiln="A" if n < 6 else "B") for n in range(12)]
    for n in range(20):
        other = tile(30 + n, 2, False, kiln="AB"[n % 2])
        top = other.areas[0].layers[0]
        glaze = top.glaze.model_copy(update={"name": "moss"})
        slip = top.glaze.model_copy(update={"name": "leaf", "role": "slip"})
        layers = [top.model_copy(update={"glaze": each}) for each in (slip, glaze)]
        records.append(other.model_copy(update={"areas": [
            other.areas[0].model_copy(update={"layers": layers})]}))  # fmt: skip
    found = over_tiles(records, None, "crawling")
    assert found.within == "with glaze pond green"
    first, second, *_rest = found.differences
    assert first.say.startswith("glaze moss: 0 of 20 tiles crawled; glaze pond green: 6 of 12")
    assert second.say.startswith("kiln A: 6 of 6 tiles crawled; kiln B: 0 of 6")
    assert not any("under the glaze" in each.say for each in found.differences)
    records[-1].inspections[0].defects.extend(records[0].inspections[0].defects)
    assert over_tiles(records, None, "crawling").within == ""


def test_where_one_tile_has_several_areas_these_are_what_is_counted():
    several = tile(1, 2, True).model_dump()
    several["areas"].append(several["areas"][0] | {"number": 2})
    records = [TileRecord.model_validate(several), tile(2, 2, False)]
    assert over_tiles(records, None, "crawling").say.startswith("Crawling on 2 of 3 areas that")
    assert over_tiles(records[1:], None, "crawling").say.startswith("No crawling on 1 tile:")

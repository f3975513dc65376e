"""Two facts together, and tiles of all glazes: what is told, and how often luck would do it."""

import random

import pytest

from diagnose.comparing.comparison_words import CLEAR
from diagnose.comparing.counted import Counted
from diagnose.comparing.of_studio import _clear_pair
from diagnose.comparing.over_tiles import over_tiles
from diagnose.comparing.set_apart import ASKED_OF_ALL
from diagnose.comparing.set_apart_pairs import together, together_surely
from tests.unit.diagnose.test_comparison import tile

INK = {"name": "ink", "kind": "jar", "role": "underglaze"}


def made(number, coats, failed, *, is_over=False, **more):
    layers = [{"glaze": INK, "coats": 2}] if is_over else []
    layers.append({"glaze": "pond", "coats": coats})
    areas = [{"number": 1, "layers": layers}]
    return tile(number, defects=["crawling"] * failed, areas=areas, **more)


def both_needed():
    """Three coats over ink crawl, 7 of 10; neither alone does."""
    return [
        *(made(n, 3, n < 7, is_over=True) for n in range(10)),
        *(made(20 + n, 2, False, is_over=True) for n in range(3)),
        *(made(30 + n, 3, False) for n in range(5)),
        *(made(40 + n, 2, False) for n in range(2)),
    ]


def test_two_facts_that_are_needed_together_are_told():
    told = over_tiles(both_needed(), "pond", "crawling")
    assert not any(each.is_firm for each in told.differences)
    assert told.together.startswith(
        "with 3 coats of pond or more and over ink: 7 of 10 tiles crawled; all others: 0 of 10 ("
    )
    assert "pair" not in told.together, "there is but one"
    assert told.as_dict()["together"] == told.together


def test_how_many_pairs_were_tried_is_told():
    records = both_needed()
    for n, record in enumerate(records):
        record.body.name = "red" if n % 2 else "white"
    assert "all 3 pairs taken together)." in over_tiles(records, "pond", "crawling").together


def test_of_two_failing_tiles_no_pair_is_told():
    few = [*(made(n, 3, True, is_over=True) for n in range(2)),
           *(made(20 + n, 2, False, is_over=True) for n in range(15)),
           *(made(50 + n, 3, False) for n in range(15))]  # fmt: skip
    told = over_tiles(few, "pond", "crawling")
    assert told.is_too_few and told.together == ""


def test_each_area_is_measured_once(monkeypatch):
    from diagnose.comparing import counted

    measured = []
    monkeypatch.setattr(
        counted, "measures",
        lambda record, number, of=counted.measures: measured.append(record.mark)
        or of(record, number),
    )  # fmt: skip
    records = both_needed()
    assert over_tiles(records, "pond", "crawling").together
    assert sorted(measured) == sorted(each.mark for each in records)


def test_one_table_of_chances_serves_all_deals_of_the_same_numbers():
    from diagnose.comparing import exact_test

    exact_test._chances.cache_clear()
    assert over_tiles(both_needed(), "pond", "crawling").together
    assert exact_test._chances.cache_info().misses < 100


def test_nothing_is_told_where_one_fact_says_as_much():
    records = [made(n, 3, n < 9, is_over=n % 2 == 0) for n in range(10)]
    records += [made(20 + n, 2, False, is_over=n % 2 == 0) for n in range(10)]
    assert over_tiles(records, "pond", "crawling").together == ""


def test_luck_seldom_makes_a_pair():
    told = 0
    for seed in range(40):
        rng = random.Random(seed)
        records = [
            made(n, rng.randint(1, 3), rng.random() < 0.3, is_over=rng.random() < 0.5,
                 body=rng.choice(["red", "white"]))
            for n in range(24)
        ]  # fmt: skip
        told += "hint" not in over_tiles(records, "pond", "crawling").together != ""
    assert told <= 4


def fired(number, failed, firing, hold=None, glaze="pond", **more):
    kiln = {"name": firing, "hold_min": hold}
    return tile(number, glaze=glaze, defects=["crawling"] * failed, firing=kiln, **more)


def test_what_is_recorded_of_a_firing_is_told_and_not_its_name():
    records = [fired(n, n < 3, "A-long" if n < 3 else f"F{n % 2}", 25 if n < 3 else 10)
               for n in range(8)]  # fmt: skip
    said = " ".join(each.say for each in over_tiles(records, "pond", "crawling").differences)
    assert "with 25 min or more: 3 of 3" in said and "firing A-long" not in said
    for record in records:
        record.firing.hold_min = None
    said = " ".join(each.say for each in over_tiles(records, "pond", "crawling").differences)
    assert "firing A-long: 3 of 3" in said


@pytest.mark.parametrize("is_cone_known", [True, False])
def test_a_bad_bisque_is_found_over_all_glazes(is_cone_known):
    bad = {"bisque_firing": {"name": "B2", "kind": "bisque", "target_cone": "04"}}
    bad |= {"bisque_cone": "08" if is_cone_known else "04"}
    records = [
        fired(n, n < 6, "F1", glaze=f"g{n % 4}", **(bad if n < 8 else {"bisque_cone": "04"}))
        for n in range(24)
    ]
    told = over_tiles(records, None, "crawling")
    assert told.say.startswith("Crawling on 6 of 24 tiles that were looked at. ")
    assert told.differences[0].is_firm
    which = "with a bisque at cone 08 or cooler: 6 of 8" if is_cone_known else "firing B2: 6 of 8"
    assert which in told.differences[0].say


def test_bare_clay_counts_for_faults_of_the_clay_alone():
    bare = tile(9, areas=[{"number": 1, "layers": []}])
    glazed = [fired(n, n < 2, "F1") for n in range(5)]
    for defect, counted in (("crawling", 5), ("bloating", 6)):
        told = over_tiles([*glazed, bare], None, defect)
        assert told.failing + told.sound == counted


def test_a_fact_that_is_on_record_of_few_makes_no_pair_of_one_fact():
    """Where all are within the label, the pair counts the same areas as the glaze alone."""
    label = {"cone_low": "06", "cone_high": "04", "kind": "jar"}

    def glazed(number, glaze, failed, **more):
        areas = [{"number": 1, "layers": [{"glaze": {"name": glaze} | label, "coats": 2}]}]
        return tile(number, defects=["pinholes"] * failed, areas=areas, **more)

    records = [
        *(glazed(n, "rose", n < 11, cone_reached="05") for n in range(16)),
        *(glazed(20 + n, "rose", n < 2, cone_reached=None, firing=None) for n in range(8)),
        *(glazed(40 + n, "sage", n < 5, cone_reached="05") for n in range(70)),
        *(glazed(120 + n, "sage", n < 4, cone_reached="07") for n in range(30)),
        *(glazed(160 + n, "sage", n < 5, cone_reached=None, firing=None) for n in range(15)),
    ]
    told = over_tiles(records, None, "pinholes")
    assert told.differences[0].fact == "glaze (with glaze rose)"
    assert told.together == ""


def test_a_pair_holds_only_where_the_same_two_facts_part_them_with_the_early_looks_too():
    """Eight failed on red, bisqued at 06, in three coats; sound red ones with 06 had two coats."""
    red, soft = {"body": "red"}, {"bisque_cone": "06"}
    hard, white = {"bisque_cone": "04"}, {"body": "white"}
    records = [made(n, 3, n < 8, **red, **soft) for n in range(9)]
    records += [made(20 + n, 3, False, **red, **hard) for n in range(9)]
    records += [made(40 + n, 3, False, **white, **(soft, hard)[n % 2]) for n in range(18)]
    early = [made(60 + n, 2, False, **red, **soft) for n in range(30)]
    areas, more = (
        [Counted(each, each.areas[0], bool(each.inspections[0].defects)) for each in of]
        for of in (records, records + early)
    )

    def names(pair):
        return {side.name for side in pair.sides}

    asked = ASKED_OF_ALL, "crawling"
    alone, also = together(areas, *asked), together(more, *asked)
    assert names(alone) == {"body", "bisque_cones_below_04"} != names(also)
    assert max(alone.chance, also.chance) < CLEAR
    assert together_surely(areas, more, *asked) is None
    assert _clear_pair(areas, more, None, "crawling") is None
    assert together_surely(areas, [], *asked).say == alone.say
    few = more[: len(areas) + 4]
    held = together_surely(areas, few, *asked)
    assert names(held) == names(alone) and held.here == alone.here
    assert held.chance == max(alone.chance, together(few, *asked).chance)

"""Matched comparisons: who is set beside whom, what is counted, and what is said."""

import pytest

from diagnose.comparing.comparison import compare
from diagnose.comparing.factors import ALIKE, FACTORS
from tiles.cli.compare import _lines
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


def test_a_shelf_is_one_whatever_its_capitals():
    shelves = ("Top", "top", "TOP", "top", "low", "Low")
    tiles = [tile(n, coats=2, shelf=shelf, stood="flat") for n, shelf in enumerate(shelves)]
    assert compare(tiles, "shelf").groups == ["low", "top"]
    assert compare(tiles, "shelf").tiles == [2, 4]
    kilns = [{"name": "F", "kiln": kiln} for kiln in ("big", "Big", "BIG", "big")]
    tiles = [tile(n, coats=2 + n % 2, firing=firing) for n, firing in enumerate(kilns)]
    assert (compare(tiles, "coats").sets, compare(tiles, "coats").alone) == (1, 0)


def test_a_chance_within_several_sets_says_so():
    white = [tile(20 + n, coats=2 + 2 * (n % 2), body="white clay") for n in range(4)]
    for records, is_said in ((ladder(), False), (ladder() + white, True)):
        (crawling,) = compare(records, "coats").outcomes
        assert (", within the sets)" in crawling.say) is is_said


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


def bisques(lots):
    """Tiles of one body and glaze: bisque firing, cone reached, and how many failed of how many."""
    dealt = [(bisque, cone, n < failed) for bisque, cone, failed, many in lots for n in range(many)]
    return [
        tile(n, defects=["pinholes"] * failed, bisque_firing=bisque, cone_reached=cone)
        for n, (bisque, cone, failed) in enumerate(dealt)
    ]


def test_a_group_is_not_dropped_for_the_sake_of_a_stricter_likeness():
    """B1 and B2 are alike in the cone reached, B3 met another one: the cone is let go."""
    found = compare(
        bisques([("B1", "05", 0, 6), ("B2", "05", 0, 6), ("B3", "04", 5, 6)]), "bisque firing"
    )
    assert (found.groups, found.tiles) == (["B1", "B2", "B3"], [6, 6, 6])
    assert "cone reached" in found.let_go
    assert found.outcomes[0].say.startswith("pinholes: more often with B3 (5 of 6, else 0 of 12); ")


def test_a_group_that_nothing_is_like_is_named_with_the_tiles_that_have_the_fault():
    lots = bisques([("B1", "05", 0, 6), ("B2", "05", 0, 6)])
    other = [tile(n, body="white", defects=["pinholes"] * (n < 43), bisque_firing="B3")
             for n in range(40, 46)]  # fmt: skip
    found = compare([*lots, *other], "bisque firing", defect="pinholes")
    assert [vars(each) for each in found.groups_left_out] == [
        {"group": "B3", "tiles": 6, "failed": {"pinholes": 3}}
    ]
    assert found.failed_left_out == {"pinholes": 3}
    assert found.outcomes[0].say == (
        "pinholes: no tile compared has it, but 3 left out have: nothing can be told."
    )


def test_more_tiles_do_not_lose_what_was_known():
    """Four pairs part clearly; ten more tiles, whose coats were counted, must not hide it."""
    known = [tile(n, glaze=("pond", "leaf")[n % 2], defects=["crawling"] * (n % 2))
             for n in range(8)]  # fmt: skip
    more = [tile(n, glaze=("pond", "leaf")[n % 2], coats=1 + n % 4, defects=["crawling"] * (n % 2))
            for n in range(8, 18)]  # fmt: skip
    before, after = (compare(each, "glaze").outcomes[0] for each in (known, [*known, *more]))
    assert after.p_value < before.p_value < 0.05


def test_what_costs_nothing_is_held_alike_after_what_would_cost_too_much():
    """The cones differ and are let go; the method, further down the list, is held all the same."""
    records = bisques([("B1", "05", 0, 4), ("B2", "04", 2, 4)])
    for record in records:
        record.areas[0].layers[0].method = "brush"
    found = compare(records, "bisque firing")
    assert ("cone reached" in found.let_go, "method" in found.alike) == (True, True)


def test_groups_are_named_that_fail_more_than_all_together_on_two_tiles_or_more():
    lots = bisques(
        [("B1", "05", 0, 19), ("B2", "05", 4, 6), ("B3", "05", 5, 6), ("B4", "05", 1, 2)]
    )
    said = compare(lots, "bisque firing").outcomes[0].say
    assert "more often with B2 and B3 (9 of 12, else 1 of 21); " in said
    single = bisques([("B1", "05", 0, 9), ("B2", "05", 0, 9), ("B3", "05", 1, 1)])
    assert "with B3 (1 of 1, else 0 of 18)" in compare(single, "bisque firing").outcomes[0].say


def test_a_group_that_fails_more_often_only_among_tiles_alike_is_said_to_do_so():
    """B1 was fired where hardly any fail, and nearly all that did are of it."""
    lots = [(name, cone, failed, many, "white" if cone == "05" else "red") for name, cone, failed,
            many in (("B1", "05", 9, 60), ("B2", "05", 0, 30), ("B3", "05", 0, 30),
                     ("B1", "04", 3, 3), ("B2", "04", 20, 30), ("B3", "04", 20, 30))]  # fmt: skip
    records = [
        tile(1000 * at + n, defects=["pinholes"] * (n < failed), bisque_firing=name,
             cone_reached=cone, body=body)
        for at, (name, cone, failed, many, body) in enumerate(lots)
        for n in range(many)
    ]  # fmt: skip
    said = compare(records, "bisque firing").outcomes[0].say
    assert "more often with B1 among tiles alike (in all 12 of 63, else 40 of 120); " in said


def by_day(defects_by_month):
    """Six tiles a month, so many of them with the defect; the months as (year, month)."""
    return [
        tile(100 * at + n, defects=["crawling"] * (n < failed),
             firing={"name": f"F{at}", "fired_on": f"{2024 + at // 12}-{at % 12 + 1:02}-15"})
        for at, failed in enumerate(defects_by_month)
        for n in range(6)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("months", "said"),
    [
        ([0, 0, 1, 0, 0, 3, 4, 2, 5, 3], "from 2024-06 on (17 of 30, else 1 of 30); "),
        ([4, 3, 5, 4, 0, 0, 1, 0, 0, 0], "until 2024-04 (16 of 24, else 1 of 36); "),
        ([0, 0, 0, 5, 4, 5, 0, 0, 0, 0], "from 2024-04 to 2024-06 (14 of 18, else 0 of 42); "),
        ([0, 0, 0, 6, 0, 0, 1, 0, 0, 0], "in 2024-04 (6 of 6, else 1 of 54); "),
        ([0, 0, 0, 0, 3, 4, 3, 4, 3, 2], "from 2024-05 on (19 of 36, else 0 of 24); "),
    ],
)
def test_when_it_began_and_whether_it_ended_is_told(months, said):
    assert (
        compare(by_day(months), "month").outcomes[0].say.startswith(f"crawling: more often {said}")
    )


def test_two_years_are_told_as_before_and_after():
    assert (
        compare(by_day([0] * 12 + [3] * 6), "year")
        .outcomes[0]
        .say.startswith("crawling: more often from 2025 on; ")
    )


def layered(number, under, *, failed, coats=None):
    beneath = {"glaze": under} | ({"coats": coats} if coats else {})
    layers = [beneath] * bool(under) + [{"glaze": "pond"}]
    return tile(number, areas=[{"number": 1, "layers": layers}], defects=["crawling"] * failed)


def test_what_lies_under_a_glaze_is_set_against_the_same_glaze_on_bare_clay():
    plain = [layered(n, None, failed=False) for n in range(6)]
    over = [layered(n, "leaf", failed=n > 6) for n in range(6, 12)]
    found = compare([*plain, *over, tile(20, glaze="sky")], "under")
    assert (found.groups, found.tiles) == (["bare clay", "leaf"], [6, 6])
    assert (found.outcomes[0].failed, found.alone) == ([0, 5], 1)


def test_layers_of_one_name_and_several_coats_are_pointed_to_and_can_be_set_apart():
    plain = [layered(n, None, failed=False) for n in range(5)]
    thin = [layered(n, "leaf", failed=False, coats=1) for n in range(5, 9)]
    thick = [layered(n, "leaf", failed=True, coats=3) for n in range(9, 14)]
    lots = [*plain, *thin, *thick]
    assert compare(lots, "under").coats_under == {"leaf": [1, 3]}
    assert compare([*plain, *thick], "under").coats_under == {}
    found = compare(lots, "coats under")
    assert (found.groups, found.coats_under) == (["0 coats", "1 coat", "3 coats"], {})
    assert (found.outcomes[0].failed, found.outcomes[0].p_value < 0.01) == ([0, 0, 5], True)
    told = "\n".join(_lines(compare(lots, "under"), "pond"))
    assert 'leaf lies there in 1 and 3 coats: --by "coats under" sets them apart.' in told


@pytest.mark.parametrize(("by", "groups"), [("month", ["2024-01", "2024-03"]), ("year", ["2024"])])
def test_months_and_years_are_those_of_the_firing(by, groups):
    records = [
        tile(n, firing={"name": f"F{n % 2}", "fired_on": f"2024-0{1 + 2 * (n % 2)}-05"})
        for n in range(4)
    ]
    found = compare(records, by)
    assert (found.groups or [each.group for each in found.groups_left_out]) == groups


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


@pytest.mark.parametrize(("many", "is_told"), [(2, True), (9, False)])
def test_too_few_tiles_are_told_how_many_it_takes(many, is_told):
    thin = [tile(n, coats=2) for n in range(many)]
    thick = [tile(20 + n, coats=4, defects=["crawling"] * (n == 0)) for n in range(many)]
    (crawling,) = compare(thin + thick, "coats").outcomes
    assert "too few tiles to tell" in crawling.say
    assert ("It takes 4 alike of each" in crawling.say) is is_told


def test_what_is_recorded_of_the_layer_beneath_alone_is_pointed_to():
    def made(number, beneath, top=None):
        layers = [
            {"glaze": {"name": "leaf", "role": "underglaze"}, "applied_on": beneath},
            {"glaze": "clear", "coats": 2, "applied_on": top},
        ]
        return tile(number, areas=[{"number": 1, "layers": layers}])

    tiles = [made(1, "bisque"), made(2, "greenware"), made(3, None), made(4, "bisque", "bisque")]
    found = compare(tiles, "applied on", glaze="clear")
    assert (found.blank, found.blank_but_under) == (3, 2)
    told = " ".join(_lines(found, "clear"))
    assert 'Of 2 it is recorded for the layer beneath: --by "under put on"' in " ".join(
        told.split()
    )
    assert compare(tiles, "under put on", glaze="clear").blank_but_under == 0


def test_a_wiped_bisque_counts_as_not_dusty_and_a_dusty_one_stays_so():
    dusty = [tile(n, defects=["crawling"], clues={"bisque_dusty": "yes"}) for n in range(4)]
    both = tile(8, defects=["crawling"], clues={"bisque_wiped": "yes", "bisque_dusty": "yes"})
    wiped = [tile(10 + n, clues={"bisque_wiped": "yes"}) for n in range(4)]
    found = compare([*dusty, both, *wiped], "bisque_dusty", defect="crawling")
    assert (found.groups, found.blank) == (["no", "yes"], 0)
    assert (found.outcomes[0].failed, found.outcomes[0].tiles) == ([0, 5], [4, 5])


def test_that_a_clue_is_blank_on_the_others_is_told_as_what_to_record():
    dusty = [tile(n, defects=["crawling"], clues={"bisque_dusty": "yes"}) for n in range(2)]
    told = " ".join(_lines(compare([*dusty, tile(5), tile(6)], "bisque_dusty"), "All tiles"))
    told = " ".join(told.split())
    assert "Of 2 more it is not recorded. To record it on the others as well would help" in told
    assert "tiles change MARK --clue bisque_dusty=no" in told


def test_faults_left_out_are_counted_over_all_that_were():
    like = [tile(n, coats=2 + n % 2, clues={"bisque_dusty": "yes"}) for n in range(2)]
    alone = [tile(9, defects=["crawling"], body="white clay", clues={"bisque_dusty": "no"})]
    blank = [tile(20 + n, defects=["crawling"]) for n in range(2)]
    told = " ".join(_lines(compare([*like, *alone, *blank], "bisque_dusty"), "All tiles"))
    told = " ".join(told.split())
    assert "3 with no like tile to set beside, 2 without bisque dusty recorded" in told
    assert "(of these 5, crawling on 3)" in told

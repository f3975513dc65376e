"""What own tiles say of one failed tile: counts, what they are worth, and silence."""

from dataclasses import replace

import pytest

from diagnose.case import weigh_case
from diagnose.own_tiles.lift import MOST_CLEAR
from diagnose.own_tiles.say import joined, your_tiles_say
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.why_counts import counts


def sound(count, mm=0.7, start=100):
    return [tile(start + n, mm=mm) for n in range(count)]


def crawled(count, mm=1.5, start=200):
    return [tile(start + n, mm=mm, defects=["crawling"]) for n in range(count)]


FAILED = tile(1, mm=1.4, defects=["crawling"])


def said(records, record=FAILED, defect="crawling"):
    return your_tiles_say(records, record, 1, defect)


def test_counts_of_the_issues_kind_are_told():
    told = said([*sound(9), *crawled(4), *sound(1, 1.5, 300), FAILED])
    (lesson,) = told.lessons
    assert (lesson.here_failed, lesson.here_all) == (4, 5)
    assert (lesson.there_failed, lesson.there_all) == (0, 9)
    assert "none crawled, of 5 like this one, with" in lesson.say
    assert lesson.say.endswith("4 did.")


def test_like_this_one_is_said_of_its_own_side_only():
    (lesson,) = said([*sound(9), *crawled(5), FAILED]).lessons
    assert "like this one, with 1.4 mm or more" in lesson.say
    one, two = (over_ink(n) for n in (1, 2))
    others = [tile(100 + n, coats=3) for n in range(9)]
    others += [two.model_copy(update={"mark": f"U-{n}"}) for n in range(6)]
    (lesson,) = said([*others, two], two).lessons
    assert "like this one, with 2 coats or more of colour under the glaze" in lesson.say
    (lesson,) = said([*others, one], one).lessons
    assert "of 6 like this one, over ink, 6 did" in lesson.say


def test_the_failures_of_three_coats_are_not_those_of_two_that_came_out_more_like_one():
    """3 coats crawled 11 of 12 times, 2 coats 3 of 9, 1 coat 2 of 8."""
    tiles = [
        tile(100 * coats + n, coats=coats, defects=["crawling"] if n < failed else [])
        for coats, failed, of in ((3, 11, 12), (2, 3, 9), (1, 2, 8))
        for n in range(of)
    ]
    for coats, like_it in ((3, (11, 12)), (2, (5, 17)), (1, (5, 17))):
        (lesson,) = said(tiles, tile(1, coats=coats, defects=["crawling"])).lessons
        assert (lesson.here_failed, lesson.here_all) == like_it
        assert (lesson.lift > 0) is (coats == 3)


def over_ink(coats):
    """A crawled tile with so many coats of underglaze under its glaze."""
    ink = {"name": "ink", "kind": "jar", "role": "underglaze"}
    layers = [{"glaze": ink, "coats": coats}, {"glaze": "pond", "coats": 3}]
    return tile(coats, defects=["crawling"], areas=[{"number": 1, "layers": layers}])


def test_the_tile_asked_about_does_not_count_itself():
    told = said([*sound(4), *crawled(2), FAILED])
    assert (told.failed, told.areas) == (2, 6)


def test_other_glazes_do_not_count():
    others = [tile(n, mm=1.5, glaze="moss", defects=["crawling"]) for n in range(300, 304)]
    assert said([*others, FAILED]).areas == 0


@pytest.mark.parametrize("records", [[], sound(5), sound(1) + crawled(1), crawled(6)])
def test_too_few_or_one_sided_counts_say_nothing(records):
    told = said([*records, FAILED])
    assert told.lessons == []
    case = weigh_case(FAILED, "crawling")
    assert joined(case, told) == case


def thick(case):
    return next(row for row in case.rows if row.cause and row.cause.name == "coat_too_thick")


def test_own_tiles_raise_the_cause_they_bear_out():
    case = weigh_case(FAILED, "crawling")
    together = joined(case, said([*sound(9), *crawled(5), FAILED]))
    assert 0 < thick(together).own <= MOST_CLEAR
    assert thick(together).share > thick(case).share
    assert sum(row.share for row in together.rows) == pytest.approx(1)
    assert together.practice_shares["coat_too_thick"] == pytest.approx(thick(case).share)


def test_counts_that_speak_against_a_cause_are_told_and_not_weighed():
    """As many thin tiles crawled as thick ones: thickness is not what tells."""
    thin = [*sound(4, 0.7), *crawled(6, 0.7, 400)]
    heavy = [*sound(6, 1.5, 500), *crawled(4, 1.5)]
    case = weigh_case(FAILED, "crawling")
    together = joined(case, said([*thin, *heavy, FAILED]))
    assert thick(together).own == 0
    assert [each.measure for each in together.own.lessons] == ["thickness_mm"]


def test_a_count_that_luck_often_parts_as_far_says_nothing_however_many_tiles_it_has():
    thin = [*sound(6, 0.7), *crawled(2, 0.7, 400)]
    heavy = [*sound(5, 1.5, 500), *crawled(3, 1.5)]
    told = said([*thin, *heavy, FAILED])
    assert (told.failed, told.areas, told.lessons) == (5, 16, [])


def test_why_tells_the_counts_and_both_shares():
    (told,) = why(FAILED, "crawling", [*sound(9), *crawled(5)])
    first = told.causes[0]
    assert first.your_tiles[0].startswith("Of 9 others with a dry coat of 0.7 mm or less none")
    assert first.practice_share < first.share
    (alone,) = why(FAILED, "crawling")
    assert alone.causes[0].share == pytest.approx(first.practice_share)
    assert alone.causes[0].your_tiles == []


def test_the_cut_that_puts_this_tile_on_the_failing_side_comes_before_a_more_uneven_one():
    """Two coats failed more often than one, three coats always: two coats are told of one."""
    own = tile(1, coats=2, defects=["crawling"])
    others = [
        tile(100 * coats + n, coats=coats, defects=["crawling"] * (n < failed))
        for coats, failed, all_ in ((1, 0, 8), (2, 5, 12), (3, 12, 12))
        for n in range(all_)
    ]
    lesson = next(each for each in said(others, own).lessons if each.measure == "coats")
    assert (lesson.here_failed, lesson.here_all, lesson.there_failed) == (17, 24, 0)
    assert lesson.lift > 0


def test_failures_beyond_a_better_cut_are_not_counted_as_this_tiles_own():
    """One and two coats never failed, three did: a tile with two that failed is no thick one."""
    own = tile(1, coats=2, defects=["crawling"])
    others = [
        tile(100 * coats + n, coats=coats, defects=["crawling"] * (n < failed))
        for coats, failed, all_ in ((1, 0, 8), (2, 0, 9), (3, 8, 10))
        for n in range(all_)
    ]
    lesson = next(each for each in said(others, own).lessons if each.measure == "coats")
    counts = lesson.here_failed, lesson.here_all, lesson.there_failed, lesson.there_all
    assert counts == (0, 17, 8, 10)
    assert lesson.lift == 0


def test_of_two_cuts_that_part_the_tiles_alike_the_one_that_parts_their_areas_is_told():
    """Each tile has 0.5, 0.9 and 1.5 mm, and only its thickest area crawled."""
    others = [
        tile(
            100 + n,
            areas=[
                {"number": at, "layers": [{"glaze": "pond", "thickness_mm": mm}]}
                for at, mm in enumerate((0.5, 0.9, 1.5), start=1)
            ],
            inspections=[
                {"inspected_on": "2024-05-01", "defects": [{"defect": "crawling", "area": 3}]}
            ],
        )
        for n in range(8)
    ]
    (lesson,) = said(others, tile(1, mm=1.5, defects=["crawling"])).lessons
    assert "with a dry coat of 0.9 mm or less none" in lesson.say


def test_a_wash_over_the_glaze_is_not_the_glaze_counted():
    wash = {"glaze": {"name": "iron wash", "role": "wash"}}
    area = [{"number": 1, "layers": [{"glaze": "pond", "thickness_mm": 1.5}, wash]}]
    washed = [tile(n, areas=area, defects=["crawling"]) for n in range(300, 303)]
    assert said([*washed, FAILED]).areas == 3


def test_more_tiles_are_worth_more():
    few = said([*sound(3), *crawled(3), FAILED]).lessons[0].lift
    many = said([*sound(12), *crawled(12), FAILED]).lessons[0].lift
    assert 0 < few < many


def in_kiln(name, numbers, defects=(), **changed):
    firing = {"name": f"F {name}", "kiln": name, "target_cone": "05"}
    return [tile(n, defects=list(defects), firing=firing, **changed) for n in numbers]


def test_a_clear_count_by_kiln_speaks_for_the_causes_of_a_firing_alone():
    hot = in_kiln("little", range(100, 105), ["running"])
    own = hot[0]
    told = said([*hot, *in_kiln("big", range(200, 212))], own, "running")
    assert (
        "of 12 others with kiln big none ran, of 4 like this one, with kiln little, 4 did"
        in told.lessons[0].say
    )
    case = weigh_case(own, "running")
    moved = {row.name: row.own for row in joined(case, told).rows}
    assert moved["overfired"] > 1
    assert moved["coat_too_thick"] == moved[""] == 0
    few = said([*hot[:2], *in_kiln("big", range(200, 204))], own, "running")
    assert not [each for each in few.lessons if each.measure == "kiln"]


def from_jar(jar, numbers, defects=()):
    layers = [{"glaze": "pond", "coats": 2, "batch": {"name": jar}}]
    areas = [{"number": 1, "layers": layers}]
    return [tile(n, defects=list(defects), areas=areas) for n in numbers]


def test_a_clear_count_that_no_cause_of_the_list_explains_speaks_for_what_is_not_in_it():
    old = from_jar("old", range(100, 106), ["pinholes"])
    told = said([*old, *from_jar("new", range(200, 212))], old[0], "pinholes")
    assert "of 5 like this one, with batch old, 5 did" in told.lessons[0].say
    moved = joined(weigh_case(old[0], "pinholes"), told).rows
    assert [row.name for row in moved if row.own] == [""]


def test_a_count_by_batch_short_of_very_clear_is_told_as_a_hint_and_not_weighed():
    """5 of 7 against 0 of 5: once in 36 by luck; two batches are cut in one way only."""
    old = from_jar("old", range(100, 108), ["underfired"])
    for each in old[6:]:
        each.inspections[0].defects.clear()
    new = from_jar("new", range(200, 205))
    told = said([*old, *new], old[0], "underfired")
    (lesson,) = told.lessons
    assert (lesson.is_hint, lesson.lift, lesson.instead) == (True, 0, "new")
    assert lesson.say.endswith(
        "of 7 like this one, with batch old, 5 did (a hint: chance would do this about 1 time in "
        "36, so it moves no cause)."
    )
    case = joined(weigh_case(old[0], "underfired"), told)
    assert not any(row.own for row in case.rows)
    (answer,) = why(old[0], None, [*old, *new])
    batch = next(each for each in answer.causes if "batch" in each.title)
    assert batch.your_tiles and batch.fixes[0] == (
        "Another batch: of 5 tiles from batch new none came out underfired."
    )
    assert any("only the new batch" in each for each in batch.not_recorded)
    assert "so it moves no cause). That would speak for:" in counts(answer)[0].in_full


def test_where_the_count_by_batch_is_weighed_nobody_is_asked_for_it():
    old = from_jar("old", range(100, 106), ["underfired"])
    (answer,) = why(old[0], None, [*old, *from_jar("new", range(200, 212))])
    batch = next(each for each in answer.causes if "batch" in each.title)
    assert batch.own_log_odds > 0
    assert not any("only the new batch" in each for each in batch.not_recorded)


def over(name, numbers, defects=()):
    ink = {"name": name, "kind": "jar", "role": "underglaze"}
    layers = [{"glaze": ink, "coats": 2}, {"glaze": "pond", "thickness_mm": 0.9}]
    areas = [{"number": 1, "layers": layers}]
    return [tile(n, defects=list(defects), areas=areas) for n in numbers]


def test_of_two_underglazes_the_one_that_fails_is_named_and_the_other_advised():
    moss, brick = over("moss", range(100, 112), ["crawling"]), over("brick", range(200, 207))
    bare = sound(6, 0.9, 300)
    (answer,) = why(moss[0], None, [*moss, *brick, *bare])
    beneath = next(each for each in answer.causes if each.name == "colour_beneath")
    assert beneath.your_tiles == [
        "Of 13 others over another layer or bare clay none crawled, of 11 like this one, over "
        "moss, 11 did."
    ]
    assert beneath.own_log_odds > 1
    assert beneath.fixes[0] == (
        "Another layer under the glaze: of 7 tiles over brick none crawled."
    )
    thick = next(each for each in answer.causes if each.name == "coat_too_thick")
    assert not any("0.5 to 1.0 mm" in each for each in thick.fixes)
    heavy = moss[0].model_copy(deep=True)
    heavy.areas[0].layers[1].thickness_mm = 1.2
    (answer,) = why(heavy)
    thick = next(each for each in answer.causes if each.name == "coat_too_thick")
    assert any("0.5 to 1.0 mm" in each for each in thick.fixes)


TWO_OR_THREE, FIRED_ON = (
    "Two or three thin coats of underglaze.",
    "Fire the underglaze on at bisque, before the glaze goes over.",
)


@pytest.mark.parametrize(
    ("coats", "put_on", "first", "last"),
    [(5, "bisque", TWO_OR_THREE, None), (3, "bisque", FIRED_ON, TWO_OR_THREE),
     (5, "greenware", TWO_OR_THREE, FIRED_ON)],
)  # fmt: skip
def test_what_the_tile_has_already_is_not_the_first_thing_to_do(coats, put_on, first, last):
    failed = over("moss", range(1), ["crawling"])[0].model_copy(deep=True)
    failed.clues["only_over_colour"] = "yes"
    failed.areas[0].layers[0].coats = coats
    failed.areas[0].layers[0].applied_on = put_on
    fixes = why(failed)[0].causes[0].fixes
    assert fixes[0] == first
    assert last is None or fixes[-1] == last


def test_the_screen_tells_a_count_for_another_cause_only_where_it_is_clear():
    (told,) = why(FAILED, None, [*sound(9), *crawled(5)])
    (lesson,) = told.case.own.lessons
    other_first = tuple(sorted(told.case.rows, key=lambda row: row.name == "coat_too_thick"))

    def shown(chance):
        own = replace(told.case.own, lessons=[replace(lesson, chance=chance)])
        case = replace(told.case, own=own, rows=other_first)
        return [each.in_full for each in counts(replace(told, case=case))]

    assert "That speaks for:" in shown(0.01)[0]
    assert shown(0.14) == []


def test_areas_of_one_tile_are_no_more_witnesses_than_one():
    def of(mark, kiln, defects):
        layer = {"glaze": "pond", "coats": 3}
        areas = [{"number": at, "layers": [layer]} for at in range(1, 7)]
        firing = {"name": kiln, "kiln": kiln}
        return tile(mark, defects=defects, areas=areas, firing=firing)

    failed = [of(n, "big", ["crawling"]) for n in range(6)]
    sound_there = [of(n, "small", []) for n in range(10, 16)]
    assert said([*failed[:2], *sound_there[:2], failed[0]], failed[0]).lessons == []
    told = said([*failed, *sound_there], failed[0]).lessons
    assert [each.here_all for each in told if each.measure == "kiln"] == [5]


def test_a_shelf_is_the_same_whatever_its_capitals():
    low = [tile(n, shelf="low") for n in range(100, 108)]
    top = [tile(n, shelf="Top" if n % 2 else "top", defects=["crawling"]) for n in range(200, 208)]
    (lesson,) = said([*low, *top], top[0]).lessons
    assert "8 others with shelf low none crawled, of 7 like this one, with shelf" in lesson.say


def test_where_more_of_it_is_sound_much_of_it_is_not_why():
    """Tiles with more opacifier are sound: that this one has much speaks for no stiff melt."""

    def white(number, zircon, *defects):
        lines = {"soda feldspar": 60, "whiting": 15, "kaolin": 25, "zircon": zircon}
        recipe = {"lines": [{"material": m, "parts": p, "is_addition": m == "zircon"}
                            for m, p in lines.items()]}  # fmt: skip
        made = tile(number, glaze={"name": "white", "kind": "recipe"}, defects=defects)
        layer = made.areas[0].layers[0].model_dump() | {"recipe": recipe}
        return type(made).model_validate(
            made.model_dump() | {"areas": [{"number": 1, "layers": [layer]}]}
        )

    def stiff(less, more):
        failed = white(1, less, "crawling")
        others = [white(10 + n, less, "crawling") for n in range(8)]
        others += [white(30 + n, more) for n in range(8)]
        (told,) = why(failed, "crawling", others)
        return next(each for each in told.causes if each.name == "stiff_melt")

    assert stiff(10, 12).your_tiles == [] and stiff(10, 12).own_log_odds <= 0
    assert stiff(10, 4).your_tiles and stiff(10, 4).own_log_odds > 0

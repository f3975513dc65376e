"""Areas made alike are counted once for all of them, however many ask."""

import pytest

from tiles.cli.palette_others import failed_so
from tiles.cli.palette_rows import all_of_one
from tiles.queries.combinations import combinations, made, made_otherwise
from tiles.queries.search import Found


def found(mark, **more):
    parts = {"area": 1, "area_label": None, "body": "red", "firing": "F1", "fired_on": None,
             "cone_reached": "05", "inspected": True, "glazes": ["pond"], "versions": [None],
             "coats": [2]}  # fmt: skip
    return Found(mark, **parts | more)


def test_no_recipe_and_the_first_version_are_counted_together_a_later_one_apart():
    areas = [found("T-1"), found("T-2", versions=[1]), found("T-3", versions=[2])]
    first, later = combinations(areas).values()
    assert (first.marks, first.versions) == (["T-1", "T-2"], [None])
    assert (later.marks, later.versions) == (["T-3"], [2])


def test_the_tiles_of_a_combination_are_counted_once():
    areas = [found("T-1"), found("T-2", severity={"crawling": None}), found("T-3", area=2),
             found("T-3"), found("T-4", coats=[3]), found("T-5", inspected=False)]  # fmt: skip
    by_make = combinations(areas)
    of = by_make[made(areas[0])]
    assert (of.marks, of.clean, of.defects) == (
        ["T-1", "T-2", "T-3"], ["T-1", "T-3"], {"crawling": 1},
    )  # fmt: skip
    assert of.marks is of.marks and of.clean is of.clean
    assert by_make[made(areas[4])].marks == ["T-4"] and len(by_make) == 2


def test_the_same_layers_made_otherwise_are_those_of_other_coats_and_clays_at_the_cone():
    areas = [found("T-1"), found("T-2", coats=[3]), found("T-3", body="white"),
             found("T-4", cone_reached="04"), found("T-5", glazes=["moss"]),
             found("T-6", versions=[2])]  # fmt: skip
    others = made_otherwise(combinations(areas))
    assert [each.marks for each in others[made(areas[0])]] == [["T-2"], ["T-3"]]
    assert others[made(areas[3])] == []


def test_a_way_that_failed_spoils_no_other_way_of_the_same_tile():
    thick = {"area": 3, "coats": [3], "severity": {"cloudiness": None}}
    areas = [found("T-1", coats=[1]), found("T-1", area=2), found("T-1", **thick)]
    others = made_otherwise(combinations(areas))
    sound = [[len(each.clean) for each in others[made(area)]] for area in areas]
    assert sound == [[1, 0], [1, 0], [1, 1]]


def test_a_kiln_in_which_all_faults_came_is_named_where_another_had_none():
    bad = {"severity": {"crawling": None}}
    areas = [found("T-1", kiln="big"), found("T-2", kiln="small"), found("T-3", kiln="big", **bad)]
    (of,) = combinations(areas).values()
    assert of.by_kiln == {"big": (1, 2), "small": (1, 1)}
    assert of.only_bad_kiln() == "big"
    for more in ([found("T-4", kiln="small", **bad)], [found("T-4", **bad)]):
        (of,) = combinations([*areas, *more]).values()
        assert of.only_bad_kiln() is None
    (of,) = combinations([areas[0], areas[2]]).values()
    assert of.only_bad_kiln() is None


def test_a_batch_of_which_most_failed_is_named_where_all_faults_are_of_it():
    bad = {"severity": {"crawling": None}, "batches": ["new"]}
    areas = [found("T-1", batches=["old"]), found("T-2", batches=["new"]),
             *(found(f"T-{n}", **bad) for n in (3, 4))]  # fmt: skip
    (of,) = combinations(areas).values()
    assert (of.bad_batch(), of.only_bad_batch()) == (("new", 2, 3), None)
    for more in ("T-5", "T-6"):  # no more of it are faulty than are clean
        areas.append(found(more, batches=["new"]))
    (of,) = combinations(areas).values()
    assert of.bad_batch() is None
    elsewhere = found("T-7", batches=["old"], severity={"crawling": None})
    for none in ([*areas[:4], elsewhere], areas[1:4]):
        (of,) = combinations(none).values()
        assert of.bad_batch() is None


def test_where_both_hold_the_batch_is_named_and_not_the_kiln_that_has_clean_tiles_too():
    def told(*clean_in):
        bad = [found(f"B-{n}", kiln="big", batches=["new"], severity={"crawling": None})
               for n in range(3)]  # fmt: skip
        sound = [found(f"S-{kiln}-{n}", kiln=kiln, batches=["old"])
                 for n, kiln in enumerate(clean_in)]  # fmt: skip
        (of,) = combinations([*bad, *sound]).values()
        return all_of_one(of)

    assert told("big", "big", "small") == ", all of batch new"
    assert told("small", "small") == ", all of batch new, all in big"


@pytest.mark.parametrize(
    ("bad", "good", "said"),
    [
        (1, 1, ("x3", "crawling 1 of 2")),
        (1, 2, None),
        (2, 0, ("x3", "crawling 2 of 2")),
        (0, 2, None),
    ],
)
def test_a_clean_way_says_with_which_coats_half_of_the_same_layers_failed(bad, good, said):
    failed = {"coats": [3], "severity": {"crawling": None}}
    areas = [found(f"B-{n}", **failed) for n in range(bad)]
    areas += [found(f"G-{n}", coats=[3]) for n in range(good)]
    own = found("T-1")
    told = failed_so(own, made_otherwise(combinations([own, *areas]))[made(own)])
    assert (told and (told.way, told.fault)) == said

"""Areas made alike are counted once for all of them, however many ask."""

from tiles.queries.combinations import combinations, made
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

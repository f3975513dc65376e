"""What follows from a record: the cone reached, the stage, whether an area is clean."""

import pytest

from tiles.records import derived, forms

LOOK = {"inspected_on": "2026-05-01"}


def tile(**values):
    return forms.read(forms.TileRecord, {"mark": "M-1", "body": "red earthenware"} | values)


def firing(*cones, **values):
    read = [{"shelf": shelf, "cone": cone} for shelf, cone in cones]
    return {"name": "F1", "target_cone": "5", "witness_cones": read} | values


@pytest.mark.parametrize(
    ("values", "cone", "said_by"),
    [
        ({"cone_reached": "05", "firing": firing(("top", "04")), "shelf": "top"}, "05", "tile"),
        ({"firing": firing(("top", "04"), (None, "05")), "shelf": "top"}, "04", "witness cone"),
        ({"firing": firing(("top", "04"), (None, "05")), "shelf": "door"}, "05", "witness cone"),
        ({"firing": firing((None, "05"))}, "05", "witness cone"),
    ],
    ids=["its own", "its shelf's", "the load's for another shelf", "the load's without a shelf"],
)
def test_the_cone_reached_is_the_nearest_reading(values, cone, said_by):
    assert derived.cone_reached(tile(**values)) == derived.ConeReached(cone, said_by)


@pytest.mark.parametrize(
    ("values", "known"),
    [
        ({"bisque_cone": "06", "bisque_firing": firing((None, "05"))}, ("06", "tile")),
        ({"bisque_firing": firing((None, "05"))}, ("05", "witness cone")),
        ({"bisque_firing": firing(("top", "06"), (None, "05"))}, ("05", "witness cone")),
        ({"bisque_firing": firing(("top", "05"), ("door", "05"))}, ("05", "witness cone")),
        ({"bisque_firing": firing(("top", "06"), ("door", "5"))}, None),
        ({"bisque_firing": firing()}, ("5", "target")),
        ({"bisque_firing": {"name": "B1"}}, None),
        ({"firing": firing()}, None),
    ],
)
def test_the_bisque_cone_is_read_the_same_way_but_its_target_counts(values, known):
    assert derived.bisque_cone(tile(**values)) == (known and derived.ConeReached(*known))


@pytest.mark.parametrize(
    ("own", "cones", "by_shelf", "otherwise"),
    [
        (None, ["04", "06", "05"], "06 to 04", None),
        (None, ["06", "06"], None, None),
        ("05", ["04", "06"], None, None),
        ("03", ["04", "06"], None, "06 to 04"),
        ("04", ["06", "06"], None, "06"),
    ],
)
def test_shelves_of_a_bisque_are_told_as_a_range_that_a_tiles_own_cone_may_leave(
    own, cones, by_shelf, otherwise
):
    read = firing(*((f"shelf {at}", cone) for at, cone in enumerate(cones)))
    record = tile(bisque_cone=own, bisque_firing=read)
    assert derived.bisque_by_shelf(record) == by_shelf
    assert derived.bisque_read_otherwise(record) == otherwise


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"firing": firing()},
        {"firing": firing(("top", "04")), "shelf": "bottom"},
        {"firing": firing(("top", "04"))},
    ],
    ids=["no firing", "target only", "another shelf", "no shelf"],
)
def test_the_cone_reached_is_never_the_target_nor_another_shelfs(values):
    assert derived.cone_reached(tile(**values)) is None


TRIAL = {"trial_of": "T-0", "trial_defect": "crawling", "trial_change": "as it was"}


def layer(**values):
    return [{"number": 1, "layers": [{"glaze": "clear"} | values]}]


@pytest.mark.parametrize(
    ("values", "stage"),
    [
        ({}, "planned"),
        ({"bisque_cone": "04", "areas": layer(coats=2)}, "planned"),
        ({"glazed_on": "2026-04-01"}, "glazed"),
        ({"areas": layer(thickness_mm=0.5)}, "glazed"),
        ({"areas": layer(method="dip")}, "glazed"),
        ({"areas": layer(batch="bucket")}, "glazed"),
        ({"areas": layer(method="dip", applied_on="bisque", batch="bucket"), **TRIAL}, "planned"),
        ({"areas": layer(thickness_mm=0.5), **TRIAL}, "glazed"),
        ({"firing": "F1"}, "loaded"),
        ({"firing": {"name": "F1", "target_cone": "05"}}, "loaded"),
        ({"firing": {"name": "F1", "fired_on": "2026-04-20"}}, "fired"),
        ({"firing": firing(("top", "05"))}, "fired"),
        ({"firing": {"name": "F1", "peak_c": 1030}}, "fired"),
        ({"cone_reached": "05"}, "fired"),
        ({"inspections": [LOOK]}, "inspected"),
    ],
)
def test_the_stage_follows_from_what_is_recorded(values, stage):
    assert derived.stage(tile(**values)) == stage


@pytest.mark.parametrize(
    ("values", "day"),
    [
        ({"firing": firing(fired_on="2026-04-20"), "inspections": [LOOK]}, "2026-04-20"),
        ({"firing": firing(), "inspections": [LOOK | {"inspected_on": "2026-06-01"}, LOOK],
          "made_on": "2026-01-02"}, "2026-05-01"),
        ({"glazed_on": "2026-02-03", "made_on": "2026-01-02"}, "2026-02-03"),
        ({"made_on": "2026-01-02"}, "2026-01-02"),
        ({}, "None"),
    ],
    ids=["fired", "first looked at", "glazed", "made", "never"],
)  # fmt: skip
def test_the_day_of_a_tile_is_that_of_its_firing_or_the_nearest_to_it(values, day):
    assert str(derived.day_of(tile(**values))) == day


TWO = [{"number": 1}, {"number": 2}]


def look(*defects):
    return LOOK | {"defects": [{"defect": name, "area": area} for name, area in defects]}


@pytest.mark.parametrize(
    ("looks", "clean", "areas"),
    [
        ([], None, []),
        ([look()], True, [1, 2]),
        ([look(("crazing", 2))], False, [1]),
        ([look(("crazing", None))], False, []),
        ([look(), look(("crazing", 1))], False, [2]),
        ([look(("crazing", 1)), look()], False, [2]),
    ],
    ids=["never looked at", "clean", "one area", "whole tile", "later", "seen once, not again"],
)
def test_clean_is_inspected_and_no_look_saw_a_defect(looks, clean, areas):
    summary = derived.summary(tile(areas=TWO, inspections=looks))
    assert summary["clean"] is clean
    assert summary["clean_areas"] == areas


@pytest.mark.parametrize(
    ("roles", "place"),
    [
        ([], None),
        (["slip", "glaze", "underglaze"], 1),
        (["glaze", "glaze"], 1),
        ([None, "wash"], 0),
        (["slip", "wash"], 1),
    ],
)
def test_the_main_layer_is_the_topmost_glaze_else_the_topmost_layer(roles, place):
    assert derived.main_layer(roles) == place


def test_a_layer_stands_for_another_where_their_recipes_have_the_same_lines():
    def recipe(version, *lines):
        told = [{"material": name, "parts": parts} for name, parts in lines]
        return forms.RecipeRecord(version=version, lines=told)

    own = recipe(1, ("whiting", 20), ("Kaolin", 10))
    assert derived.is_of_recipe(own, recipe(2, ("kaolin", 10), ("whiting", 20)))
    assert not derived.is_of_recipe(own, recipe(1, ("kaolin", 11), ("whiting", 20)))
    assert not derived.is_of_recipe(own, None), "which version it is of is not recorded"
    assert derived.is_of_recipe(None, own) and derived.is_of_recipe(None, None)

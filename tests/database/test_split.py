"""One name of two things parted and made one again, on both back ends."""

import pytest

from tests.database.test_merge import merge, stored, tile
from tests.database.whole_record import put
from tiles.errors import AlreadyOnRecord, Questioned, UnknownName
from tiles.queries.days import days_of
from tiles.records import models, store

CLEAR = {"name": "clear", "kind": "recipe", "cone_low": "06", "remark": "drum 3"}
ONE = {"lines": [{"material": "frit", "parts": 80}, {"material": "kaolin", "parts": 20}]}
TWO = {"lines": [{"material": "frit", "parts": 70}, {"material": "kaolin", "parts": 30}]}


def split(session, model, *how):
    return store.split(session, model, *how, confirmed=True)


def test_tiles_of_a_new_delivery_go_by_a_name_of_their_own(session):
    put(session, tile("A", body={"name": "red", "colour": "brick", "remark": "bag 3"}))
    for mark in "BC":
        put(session, tile(mark))
    done = split(session, models.ClayBody, "RED", "red, new", ["c"])
    assert (done.name, done.moved, done.left) == ("red", ["C"], ["A", "B"])
    new = stored(session, "C").body
    assert (new.name, new.colour, new.remark) == ("red, new", "brick", None)
    assert stored(session, "B").body.name == "red"
    merge(session, models.ClayBody, "red, new", "red")
    assert stored(session, "C").body == stored(session, "A").body


def test_the_recipes_and_buckets_of_a_glaze_go_along_and_come_back(session):
    june = {"name": "june", "sieve_mesh": 80}
    put(session, tile("A", glaze=CLEAR, recipe=ONE))
    put(session, tile("B", glaze="clear", recipe=TWO, batch=june))
    put(session, tile("C", glaze="clear", recipe=TWO, batch=june))
    before = stored(session, "C")
    split(session, models.Glaze, "clear", "clear of 2026", ["C"])
    (layer,) = stored(session, "C").areas[0].layers
    assert (layer.glaze.name, layer.glaze.cone_low) == ("clear of 2026", "06")
    assert (layer.recipe.version, layer.batch.name, layer.batch.sieve_mesh) == (2, "june", 80)
    (left,) = stored(session, "B").areas[0].layers
    assert (left.glaze.name, left.recipe.version, left.batch.name) == ("clear", 2, "june")
    merge(session, models.Glaze, "clear of 2026", "clear")
    assert stored(session, "C") == before
    assert len(store.find(session, models.Glaze, "clear").recipe_versions) == 2


def test_firings_of_a_kiln_with_new_elements_are_of_another_one(session):
    for mark, day in (("A", "2024-01-05"), ("B", "2024-03-01"), ("C", None)):
        put(session, tile(mark, firing={"name": f"F {mark}", "kiln": "big", "fired_on": day}))
    days = days_of(session, models.Kiln, "big")
    assert [str(days[f"F {mark}"]) for mark in "ABC"] == ["2024-01-05", "2024-03-01", "None"]
    split(session, models.Kiln, "big", "big, new elements", ["F B"])
    assert [stored(session, mark).firing.kiln for mark in "ABC"] == [
        "big", "big, new elements", "big"]  # fmt: skip


def test_a_tile_is_of_the_clay_of_the_day_it_was_made_and_the_glaze_of_that_of_glazing(session):
    days = {"made_on": "2024-01-02", "glazed_on": "2024-02-03"}
    put(session, tile("A", firing={"name": "F1", "fired_on": "2024-03-04"}, **days))
    put(session, tile("B", firing={"name": "F1", "fired_on": "2024-03-04"}))
    put(session, tile("C"))
    for model, name, first in (
        (models.ClayBody, "red", "2024-01-02"),
        (models.Glaze, "clear", "2024-02-03"),
    ):
        found = {mark: day and str(day) for mark, day in days_of(session, model, name).items()}
        assert found == {"A": first, "B": "2024-03-04", "C": None}


def test_nothing_is_parted_before_it_is_asked_nor_into_what_is_there(session):
    for mark, body in (("A", "red"), ("B", "red"), ("C", "white")):
        put(session, tile(mark, body=body))
    with pytest.raises(Questioned, match="1 tile of 'red' will be of a new clay body 'x': B. 1 t"):
        store.split(session, models.ClayBody, "red", "x", ["B"])
    with pytest.raises(AlreadyOnRecord, match="'white' is already on record"):
        split(session, models.ClayBody, "red", "White", ["B"])
    with pytest.raises(UnknownName, match="'C' is not of 'red'"):
        split(session, models.ClayBody, "red", "x", ["C"])
    assert [stored(session, mark).body.name for mark in "ABC"] == ["red", "red", "white"]
    with pytest.raises(UnknownName):
        store.find(session, models.ClayBody, "x")

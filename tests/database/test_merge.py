"""Two names of one thing made one, on both back ends."""

import pytest
from sqlalchemy import func, select

from tests.database.whole_record import put
from tiles.errors import InvalidValue, Questioned, UnknownName
from tiles.records import forms, models, reading, store
from tiles.records.store.named import Names

CLEAR = {"name": "clear", "kind": "recipe"}
ONE = {"lines": [{"material": "frit", "parts": 80}, {"material": "kaolin", "parts": 20}]}
TWO = {"lines": [{"material": "frit", "parts": 70}, {"material": "kaolin", "parts": 30}]}


def tile(mark, body="red", glaze="clear", recipe=None, batch=None, **more):
    layer = {"glaze": glaze, "recipe": recipe, "batch": batch, "coats": 2}
    values = {"mark": mark, "body": body, "areas": [{"number": 1, "layers": [layer]}]} | more
    return forms.read(forms.TileRecord, values)


def stored(session, mark):
    session.expire_all()
    return reading.tile_record(store.get_tile(session, mark))


def merge(session, model, *names):
    return store.merge(session, model, *names, confirmed=True)


def test_tiles_of_two_spellings_of_a_clay_are_of_one_and_what_either_says_stays(session):
    put(session, tile("A", body={"name": "Barn red EW", "colour": "red", "remark": "bag 3"}))
    put(session, tile("B", body={"name": "barn red", "kind": "earthenware", "remark": "soft"}))
    merge(session, models.ClayBody, "barn RED ew", "Barn Red")
    body = stored(session, "A").body
    assert body == stored(session, "B").body
    assert (body.name, body.kind, body.colour) == ("barn red", "earthenware", "red")
    assert body.remark == "soft; bag 3"
    with pytest.raises(UnknownName):
        store.find(session, models.ClayBody, "Barn red EW")


def test_it_is_asked_first_and_until_then_nothing_is_changed(session):
    put(session, tile("A", body="brick cley"))
    put(session, tile("B", body="brick clay"))
    with pytest.raises(Questioned, match=r"will be of 'brick clay' \(A\), and 'brick cley'"):
        store.merge(session, models.ClayBody, "brick cley", "brick clay")
    assert stored(session, "A").body.name == "brick cley"


def test_a_name_that_nothing_has_is_said_to_have_nothing(session):
    for name in ("top loder", "top loader"):
        store.add_kiln(session, name)
    with pytest.raises(Questioned, match="are one kiln: no firing is of 'top loder', and"):
        store.merge(session, models.Kiln, "top loder", "top loader")


@pytest.mark.parametrize(
    ("model", "one", "other", "field"),
    [
        (models.ClayBody, {"colour": "red"}, {"colour": "white"}, "colour"),
        (models.Glaze, {"role": "slip"}, {"role": "glaze"}, "role"),
        (models.Glaze, {"cone_low": "06"}, {"cone_low": "5", "cone_high": "6"}, "cone_low"),
        (models.ClayBody, {"cone_low": "6"}, {"cone_high": "06"}, "cone_low"),
        (models.Glaze, {"cone_low": "06"}, {"cone_high": "6"}, "cone_low"),
        (models.ClayBody, {"cone_low": "06"}, {"cone_low": "06", "cone_high": "04"}, "cone_low"),
        (models.Firing, {"fired_on": "2026-01-02"}, {"fired_on": "2026-01-03"}, "fired_on"),
        (models.Firing, {"witness_cones": [{"cone": "05"}]}, {"witness_cones": [{"cone": "04"}]},
         "witness_cones"),
    ],
)  # fmt: skip
def test_what_is_described_differently_is_not_one(session, model, one, other, field):
    for mark, name, values in (("A", "one", one), ("B", "other", other)):
        of = {"name": name} | values
        if model is models.ClayBody:
            put(session, tile(mark, body=of))
        elif model is models.Glaze:
            put(session, tile(mark, glaze=of))
        else:
            put(session, tile(mark, firing=of))
    before = stored(session, "A"), stored(session, "B")
    with pytest.raises(InvalidValue) as refused:
        merge(session, model, "one", "other")
    assert refused.value.field == field and "change" in refused.value.hint
    assert (stored(session, "A"), stored(session, "B")) == before


def test_the_labels_and_the_days_that_differ_are_told_as_a_person_writes_them(session):
    put(session, tile("A", body={"name": "one", "cone_low": "06", "cone_high": "04"}, firing={
        "name": "F1", "fired_on": "2026-01-02"}))  # fmt: skip
    put(session, tile("B", body={"name": "other", "cone_high": "04"}, firing={
        "name": "F2", "fired_on": "2026-01-03"}))  # fmt: skip
    with pytest.raises(InvalidValue, match="the cone range is '06 to 04' of 'one' and '04' of"):
        merge(session, models.ClayBody, "one", "other")
    with pytest.raises(InvalidValue, match="fired_on is 2026-01-02 of 'F1' and 2026-01-03 of"):
        merge(session, models.Firing, "F1", "F2")


def test_labels_that_give_the_same_one_cone_are_one(session):
    put(session, tile("A", body={"name": "one", "cone_low": "06"}))
    put(session, tile("B", body={"name": "other", "cone_high": "06"}))
    merge(session, models.ClayBody, "one", "other")
    body = stored(session, "A").body
    assert (body.cone_low, body.cone_high) == ("06", "06")


@pytest.mark.parametrize(
    ("gone", "kept", "both"),
    [
        ("red", "fired", "fired; red"),
        ("red", "red", "red"),
        ("soft; red", "big; red", "big; red; soft"),
        (None, "red", "red"),
        ("red", None, "red"),
    ],
)
def test_no_remark_is_lost_and_none_stands_twice(session, gone, kept, both):
    store.add_kiln(session, "k2", gone)
    store.add_kiln(session, "k1", kept)
    assert merge(session, models.Kiln, "k2", "k1").remark == both


def test_the_note_of_a_recipe_that_is_there_already_stays(session):
    for name, note in (("one", "from B's book, page 9"), ("other", "tenths"), ("third", None)):
        record = forms.read(forms.RecipeRecord, ONE | {"note": note})
        store.add_glaze(session, forms.read(forms.GlazeRecord, {"name": name, "kind": "recipe"}))
        store.add_recipe_version(session, name, record)
    merge(session, models.Glaze, "one", "third")
    glaze = merge(session, models.Glaze, "other", "third")
    session.expire_all()
    assert [each.note for each in glaze.recipe_versions] == ["from B's book, page 9; tenths"]


def test_a_name_is_not_merged_into_itself(session):
    put(session, tile("A"))
    with pytest.raises(InvalidValue, match="'red' and 'RED' are the same clay body"):
        merge(session, models.ClayBody, "red", "RED")


def test_recipes_and_batches_go_along_and_the_same_recipe_is_one_version(session):
    june, july = {"name": "june"}, {"name": "july"}
    put(session, tile("A", glaze={"name": "our clear", "kind": "recipe"}, recipe=TWO, batch=june))
    store.add_recipe_version(session, "our clear", forms.read(forms.RecipeRecord, ONE))
    same = tile("C", glaze="our clear", recipe=ONE | {"version": 2})
    put(session, same)
    put(session, tile("B", glaze=CLEAR, recipe=ONE, batch=july))
    merge(session, models.Glaze, "our clear", "clear")
    layers = {mark: stored(session, mark).areas[0].layers[0] for mark in "ABC"}
    assert {each.glaze.name for each in layers.values()} == {"clear"}
    assert {mark: each.recipe.version for mark, each in layers.items()} == {"A": 2, "B": 1, "C": 1}
    assert [line.parts for line in layers["A"].recipe.lines] == [70, 30]
    assert (layers["A"].batch.name, layers["B"].batch.name) == ("june", "july")
    counts = [
        session.scalar(select(func.count()).select_from(model))
        for model in (models.Glaze, models.RecipeVersion, models.RecipeLine, models.Batch)
    ]
    assert counts == [1, 2, 4, 2]


def test_a_jar_by_default_is_one_with_the_recipe_it_was(session):
    put(session, tile("A", glaze="tin white (ours)"))
    put(session, tile("B", glaze={"name": "tin white", "kind": "recipe"}, recipe=ONE))
    merge(session, models.Glaze, "tin white", "tin white (ours)")
    assert stored(session, "B").areas[0].layers[0].recipe.version == 1
    assert stored(session, "A").areas[0].layers[0].glaze.kind == "recipe"


def test_the_same_bucket_under_two_glazes_is_one_with_what_either_says(session):
    put(session, tile("A", glaze="one", batch={"name": "June", "mixed_on": "2025-06-01"}))
    put(session, tile("B", glaze="other", batch={"name": "june", "sieve_mesh": 80, "note": "x"}))
    with pytest.raises(Questioned, match="Both have a batch june: that becomes one"):
        store.merge(session, models.Glaze, "one", "other")
    merge(session, models.Glaze, "one", "other")
    first, second = (stored(session, mark).areas[0].layers[0].batch for mark in "AB")
    assert first == second
    assert (str(first.mixed_on), first.sieve_mesh, first.note) == ("2025-06-01", 80, "x")
    assert session.scalar(select(func.count()).select_from(models.Batch)) == 1


def test_two_buckets_of_one_name_are_told_apart_first(session):
    for mark, glaze, mesh in (("A", "one", 60), ("B", "other", 80)):
        put(session, tile(mark, glaze=glaze, batch={"name": "June", "sieve_mesh": mesh}))
    told = "both have a batch called 'June', and its sieve mesh is 60 of the first and 80 of"
    with pytest.raises(InvalidValue, match=told):
        merge(session, models.Glaze, "one", "other")
    assert stored(session, "A").areas[0].layers[0].glaze.name == "one"


def test_two_firings_are_one_with_the_cones_of_both(session):
    top, low = {"shelf": "top", "cone": "05"}, {"shelf": "low", "cone": "06"}
    first = {"name": "sprnig load", "kiln": "big", "witness_cones": [top]}
    second = {"name": "spring load", "target_cone": "05", "witness_cones": [low]}
    put(session, tile("A", firing=first, shelf="top"))
    put(session, tile("B", firing=second, shelf="low"))
    merge(session, models.Firing, "sprnig load", "spring load")
    firing = stored(session, "A").firing
    assert (firing.name, firing.kiln, firing.target_cone) == ("spring load", "big", "05")
    assert {each.shelf: each.cone for each in firing.witness_cones} == {"top": "05", "low": "06"}


def test_a_bisque_firing_is_merged_too_and_never_with_a_glaze_firing(session):
    put(session, tile("A", bisque_firing={"name": "b 1", "kind": "bisque"}))
    put(session, tile("B", bisque_firing={"name": "b1", "kind": "bisque"}, firing="F1"))
    with pytest.raises(InvalidValue) as refused:
        merge(session, models.Firing, "b1", "F1")
    assert refused.value.field == "kind"
    merge(session, models.Firing, "b 1", "b1")
    assert stored(session, "A").bisque_firing.name == "b1"


def test_firings_of_two_spellings_of_a_kiln_are_in_one(session):
    put(session, tile("A", firing={"name": "F1", "kiln": "litle kiln"}))
    put(session, tile("B", firing={"name": "F2", "kiln": "little kiln"}))
    merge(session, models.Kiln, "litle kiln", "little kiln")
    assert stored(session, "A").firing.kiln == "little kiln"
    assert session.scalars(select(models.Kiln.name)).all() == ["little kiln"]


def test_what_tiles_contradict_is_refused(session):
    """Glazed after one of the two was fired."""
    put(session, tile("A", firing={"name": "F1"}, glazed_on="2026-03-01"))
    put(session, tile("B", firing={"name": "F2", "fired_on": "2026-02-01"}))
    with pytest.raises(InvalidValue):
        merge(session, models.Firing, "F1", "F2")
    assert stored(session, "A").firing.name == "F1"


def test_names_of_the_import_are_kept_by_a_merged_glaze(session):
    """A merged name that a sheet brings again is another glaze again."""
    put(session, tile("A", glaze="pond gren"))
    put(session, tile("B", glaze="pond green"))
    merge(session, models.Glaze, "pond gren", "pond green")
    names = Names(session, add_missing=True)
    store.add_tile(session, tile("C", glaze="pond gren"), names=names)
    assert [str(each) for each in names.added] == ["glaze pond gren"]


def test_one_firing_of_two_is_questioned_as_a_changed_one_is(session):
    """Merging moves tiles to a cone: one far beyond their clay is told before it is done."""
    red = {"name": "red", "cone_low": "06", "cone_high": "02"}
    put(session, tile("A", body=red, firing={"name": "F1"}))
    hot = {"name": "F2", "witness_cones": [{"cone": "6"}]}
    store.add_firing(session, forms.read(forms.FiringRecord, hot))
    set_low = {"name": "F3", "target_cone": "06"}
    store.add_firing(session, forms.read(forms.FiringRecord, set_low))
    far = "leaves the record. Firing F2 holds A: cone reached 6 .* is far above cone 02"
    with pytest.raises(Questioned, match=far):
        store.merge(session, models.Firing, "F1", "F2")
    with pytest.raises(
        Questioned, match="leaves the record. Firing F3: witness cone 6 .* the target"
    ):
        store.merge(session, models.Firing, "F2", "F3")
    with pytest.raises(Questioned, match="leaves the record. Try"):
        store.merge(session, models.Firing, "F1", "F3")
    merge(session, models.Firing, "F1", "F2")
    assert stored(session, "A").firing.name == "F2"

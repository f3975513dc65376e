"""The store's promises, on both back ends."""

from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import func, select, text

from tests.database.whole_record import full, put, stored
from tiles.chemistry.materials import from_analysis
from tiles.errors import AlreadyOnRecord, DatabaseProblem, InvalidValue, Questioned, UnknownName
from tiles.exchange.json_file import Choices, import_records
from tiles.records import forms, models, reading, store
from tiles.records.store.material import add_material


def rows(session, model):
    return session.scalar(select(func.count()).select_from(model))


def test_a_whole_record_comes_back_as_it_went_in(with_tile):
    came = stored(with_tile).model_dump(mode="json")
    went = full().model_dump(mode="json")
    # What the store works out: a glaze's kind and role, the number of a recipe's version.
    layers = [layer for area in went["areas"] for layer in area["layers"]]
    for layer, of in zip(layers, ["jar", "recipe", "recipe"], strict=True):
        layer["glaze"]["kind"] = of
        layer["glaze"]["role"] = layer["glaze"]["role"] or "glaze"
    layers[1]["recipe"]["version"] = 1
    assert came == went


TRIAL = {"trial_of", "trial_defect", "trial_change"}
"""Told of a trial alone; its tests are in tests/cli."""


def test_the_whole_record_tells_every_field_that_is_a_tiles_own():
    """Else a new field would not be seen to be stored, read back and joined."""
    record = full()
    layers = [layer for area in record.areas for layer in area.layers]
    faults = [fault for look in record.inspections for fault in look.defects]
    for parts in ([record], record.areas, layers, record.inspections, faults, record.photos):
        told = {name for each in parts for name, value in each if value not in (None, [], {})}
        assert set(type(parts[0]).model_fields) - TRIAL == told


def test_what_may_be_blank_of_a_tile_is_blanked_by_no_file_unsaid(with_tile):
    whole = full().model_dump(mode="json")
    blank = [name for name, of in forms.TileRecord.model_fields.items() if of.default is None]
    for name in set(blank) - TRIAL:
        done = import_records(with_tile, [whole | {name: None}], "a file", Choices(replace=True))
        (_, _, refused) = done.refused[0]
        assert f"would lose the {name.replace('_', ' ')} " in refused.message
    assert stored(with_tile).note == whole["note"]


def test_the_record_returned_by_the_store_is_the_one_that_is_read_back(session):
    assert put(session, full()) == stored(session)


def test_a_recipe_version_used_on_a_tile_never_changes(with_tile):
    lines = [{"material": "frit", "parts": 70}, {"material": "flint", "parts": 30}]
    second = store.add_recipe_version(
        with_tile, "house clear", forms.read(forms.RecipeRecord, {"lines": lines})
    )
    assert second.version == 2
    recipe = stored(with_tile).areas[0].layers[1].recipe
    assert recipe.version == 1
    assert [(line.material, line.parts, line.is_addition) for line in recipe.lines] == [
        ("frit", 80, False),
        ("kaolin", 20, False),
        ("tin oxide", 6, True),
    ]


@pytest.mark.parametrize(
    ("glaze", "values", "told"),
    [
        ("white slip", {}, "is on record as a jar"),
        ("house clear", {"version": 5}, "next version of 'house clear' is 2, not 5"),
        ("house clear", {"lines": [{"material": "frit", "parts": 1}] * 2}, "twice"),
    ],
)
def test_a_recipe_that_cannot_be_is_refused(with_tile, glaze, values, told):
    values = {"lines": [{"material": "frit", "parts": 100}]} | values
    before = rows(with_tile, models.RecipeVersion)
    with pytest.raises(InvalidValue, match=told):
        store.add_recipe_version(with_tile, glaze, forms.read(forms.RecipeRecord, values))
    assert rows(with_tile, models.RecipeVersion) == before


def test_a_batch_name_belongs_to_its_glaze(with_tile):
    batch = forms.BatchRecord(name="Bucket 1")
    with pytest.raises(AlreadyOnRecord):
        store.add_batch(with_tile, "house clear", batch)
    assert store.add_batch(with_tile, "white slip", batch).name == "Bucket 1"


def test_a_batch_of_another_glaze_is_refused(with_tile):
    layer = {"glaze": "white slip", "batch": "bucket 1"}
    record = full(mark="M-2", areas=[{"number": 1, "layers": [layer]}])
    with pytest.raises(UnknownName, match="no batch called 'bucket 1'"):
        store.add_tile(with_tile, record)


def test_a_look_stored_long_ago_with_a_fault_twice_bars_no_change_of_its_tile(with_tile):
    row = store.get_tile(with_tile, "M-1")
    row.inspections[0].defects = [models.Defect(defect="pinholes") for _ in range(2)]
    with_tile.flush()
    record = stored(with_tile).model_copy(update={"note": "other words"})
    assert store.replace_tile(with_tile, record).note == "other words"
    new = forms.read(forms.InspectionRecord, {"inspected_on": "2026-06-01", "defects": [
        {"defect": "crazing", "severity": "slight"}, {"defect": "crazing"}]})  # fmt: skip
    with pytest.raises(InvalidValue, match="crazing is named twice in the look of 2026-06-01"):
        store.add_inspection(with_tile, "M-1", new)


def test_changing_a_firing_changes_its_fields_only(with_tile):
    changes = {"hold_min": 20.0, "witness_cones": [{"cone": "03"}], "kiln": None}
    store.change(with_tile, models.Firing, "F2", changes)
    firing = stored(with_tile).firing
    assert (firing.hold_min, firing.kiln, firing.peak_c) == (20, None, 1035)
    assert [(read.shelf, read.cone) for read in firing.witness_cones] == [(None, "03")]


def test_an_impossible_change_changes_nothing(database):
    with database.transaction() as session:
        put(session, full())
    with pytest.raises(InvalidValue, match="cone range"), database.transaction() as session:
        store.change(session, models.ClayBody, "red earthenware", {"cone_low": "6"})
    with pytest.raises(InvalidValue, match="two witness"), database.transaction() as session:
        twice = {"witness_cones": [{"cone": "05"}, {"cone": "04"}]}
        store.change(session, models.Firing, "F2", {"hold_min": 1.0} | twice)
    with database.transaction() as session:
        record = stored(session)
        assert record.body.cone_low == "06"
        assert (record.firing.hold_min, len(record.firing.witness_cones)) == (10, 2)


def test_a_second_look_is_added_and_the_first_kept(with_tile):
    look = forms.read(
        forms.InspectionRecord,
        {"inspected_on": "2026-09-01", "defects": [{"defect": "dunting", "area": 2}]},
    )
    told = {"cone_reached": "04", "clues": {"washed_or_soaked": "yes"}}
    with pytest.raises(Questioned, match="crazing on area 1 was seen on 2026-05-02"):
        store.add_inspection(with_tile, "M-1", look, **told)
    store.add_inspection(with_tile, "M-1", look, **told, confirmed=True)
    record = stored(with_tile)
    assert record.clues == {"bisque_wiped": "no", "washed_or_soaked": "yes"}
    days = [each.inspected_on for each in record.inspections]
    assert days == [date(2026, 2, 4), date(2026, 5, 2), date(2026, 9, 1)]
    assert record.inspections[-1].defects[0].area == 2
    assert record.cone_reached == "04"
    assert [area.label for area in record.areas] == ["left", None]


def test_a_look_before_the_firing_is_refused(with_tile):
    look = forms.InspectionRecord(inspected_on=date(2026, 1, 1))
    with pytest.raises(InvalidValue, match="2026-02-03"):
        store.add_inspection(with_tile, "M-1", look)


def test_replacing_a_tile_leaves_no_row_of_the_old_one(with_tile):
    plain = full(areas=[], clues={}, inspections=[], photos=[], note=None)
    store.replace_tile(with_tile, plain)
    record = stored(with_tile)
    assert (len(record.areas), record.areas[0].layers, record.note) == (1, [], None)
    for model in (models.Layer, models.TileClue, models.Inspection, models.Defect, models.Photo):
        assert rows(with_tile, model) == 0
    assert rows(with_tile, models.Area) == 1


def test_removing_a_tile_takes_all_it_owns_and_nothing_it_names(with_tile):
    removed = store.remove_tile(with_tile, "M-1")
    assert removed.mark == "M-1"
    owned = "Tile Area Layer TileClue Inspection Defect Photo".split()
    assert [rows(with_tile, getattr(models, name)) for name in owned] == [0] * 7
    kept = "ClayBody Glaze RecipeVersion Batch Kiln Firing".split()
    assert [rows(with_tile, getattr(models, name)) for name in kept] == [1, 2, 1, 1, 1, 2]


def test_loading_puts_tiles_into_a_firing_and_says_what_may_not_go_in(with_tile):
    put(with_tile, full(mark="M-2", firing=None, cone_reached=None, inspections=[], shelf=None))
    store.add_firing(with_tile, forms.FiringRecord(name="F3", target_cone="04"))
    (loaded,) = store.load_tiles(with_tile, "F3", ["M-2"], "middle")
    assert (loaded.firing.name, loaded.shelf) == ("F3", "middle")
    with pytest.raises(InvalidValue, match="fired in F2 already"):
        store.load_tiles(with_tile, "F3", ["M-1"])
    store.add_firing(with_tile, forms.FiringRecord(name="F4", target_cone="6"))
    with pytest.raises(Questioned, match="cone 6"):
        store.load_tiles(with_tile, "F4", ["M-2"])
    with pytest.raises(InvalidValue, match="F1 is a bisque firing"):
        store.load_tiles(with_tile, "F1", ["M-2"])


@pytest.mark.parametrize("field", ["bisque_firing", "firing"])
def test_a_firing_of_the_other_kind_is_refused(with_tile, field):
    other = {"bisque_firing": "F2", "firing": "F1"}[field]
    with pytest.raises(InvalidValue, match=f"{other} is a"):
        put(with_tile, full(mark="M-2", **{field: other}))


def test_a_refused_tile_leaves_nothing_of_what_it_would_have_added(database):
    record = full(body="new body", cone_reached="10")
    with pytest.raises(Questioned), database.transaction() as session:
        put(session, record)
    with database.transaction() as session:
        counts = {
            name: session.scalar(select(func.count()).select_from(table))
            for name, table in models.ClayBody.metadata.tables.items()
        }
    assert counts == dict.fromkeys(counts, 0)


def test_a_refused_record_leaves_nothing_where_the_transaction_goes_on(database):
    with database.transaction() as session:
        put(session, full())
        with pytest.raises(InvalidValue):
            put(session, full(mark="M-2", body="another body", firing="F1"))
        with pytest.raises(Questioned):
            put(session, full(mark="M-4", body="new body", cone_reached="10"))
        put(session, full(mark="M-3"))
    with database.transaction() as session:
        assert set(session.scalars(select(models.Tile.mark))) == {"M-1", "M-3"}
        assert list(session.scalars(select(models.ClayBody.name))) == ["red earthenware"]


@pytest.mark.parametrize(
    "write",
    [
        lambda s: store.replace_tile(s, full(cone_reached="10", note="new", areas=[])),
        lambda s: store.load_tiles(s, "F3", ["M-2", "M-1"]),
        lambda s: store.change(s, models.Firing, "F2", {"peak_c": 700.0, "remark": "cold"}),
        lambda s: store.change(s, models.Firing, "F2", {"fired_on": "2027-01-01"}),
        lambda s: store.add_firing(
            s, forms.FiringRecord(name="F4", witness_cones=[{"cone": "05"}, {"cone": "04"}])
        ),
    ],
    ids=["a tile", "a load", "an unlikely firing", "an impossible firing", "witness cones"],
)
def test_a_refused_change_leaves_all_as_it_was_where_the_transaction_goes_on(database, write):
    with database.transaction() as session:
        put(session, full())
        put(session, full(mark="M-2", firing=None, cone_reached=None, inspections=[], shelf=None))
        store.add_firing(session, forms.FiringRecord(name="F3"))
    before = _everything(database)
    with database.transaction() as session, pytest.raises((Questioned, InvalidValue)):
        write(session)
    assert _everything(database) == before


def _everything(database):
    with database.transaction(looking=True) as session:
        tables = models.ClayBody.metadata.tables.values()
        return [session.execute(select(table)).all() for table in tables]


def test_the_database_itself_keeps_references_whole(database):
    with database.transaction() as session:
        put(session, full())
    with pytest.raises(DatabaseProblem) as refused, database.transaction() as session:
        session.execute(text("DELETE FROM clay_body"))
    assert "another program may have written" in refused.value.hint
    with database.transaction() as session:
        assert rows(session, models.ClayBody) == 1


def test_a_picture_is_noted_once(with_tile):
    store.add_photo(with_tile, "M-1", "b.png", "back")
    with pytest.raises(AlreadyOnRecord):
        store.add_photo(with_tile, "M-1", "b.png")
    assert [photo.file for photo in stored(with_tile).photos] == ["a.png", "b.png"]


def test_records_are_given_in_the_order_asked_for(with_tile):
    for number in (2, 3):
        put(with_tile, full(mark=f"M-{number}"))
    found = reading.find_records(with_tile, ["M-3", "M-9", "M-1"])
    assert [record.mark for record in found] == ["M-3", "M-1"]


def test_records_of_tiles_come_with_the_users_own_analyses(with_tile):
    sheet = from_analysis("Frit", {"SiO2": 50, "B2O3": 30, "Na2O": 20})
    add_material(with_tile, sheet)
    record = reading.find_records(with_tile, ["M-1"])[0]
    assert record.areas[0].layers[-1].recipe.own == (replace(sheet, name="frit"),)

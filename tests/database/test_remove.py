"""What nothing uses leaves the record with all that is its own, on both back ends."""

import pytest

from tests.database.test_whole_export import rows
from tests.database.whole_record import full, put
from tiles.errors import InvalidValue, Questioned
from tiles.records import forms, models, store

LINES = [{"material": "odd powder", "parts": 60}, {"material": "kaolin", "parts": 40}]


def test_what_is_removed_leaves_no_row_behind(database):
    url = database.engine.url.render_as_string(hide_password=False)
    with database.transaction() as session:
        put(session, full())
    before = rows(url)
    recipe = forms.read(forms.RecipeRecord, {"lines": LINES})
    with database.transaction() as session:
        store.add_body(session, forms.BodyRecord(name="spare"))
        store.add_kiln(session, "attic")
        cone = {"cone": "05", "shelf": "top"}
        fired = {"name": "Fx", "kiln": "attic", "witness_cones": [cone]}
        store.add_firing(session, forms.read(forms.FiringRecord, fired))
        store.add_glaze(session, forms.GlazeRecord(name="new", kind="recipe"))
        store.add_recipe_version(session, "new", recipe)
        store.add_batch(session, "new", forms.BatchRecord(name="May"))
        store.add_batch(session, "house clear", forms.BatchRecord(name="May"))
        store.add_recipe_version(session, "house clear", recipe)
    with database.transaction() as session:
        with pytest.raises(InvalidValue, match="kiln 'attic' is used by Fx, so it stays"):
            store.remove(session, models.Kiln, "attic", confirmed=True)
        with pytest.raises(InvalidValue, match="batch 'bucket 1' of 'house clear' is used by M-1"):
            store.remove_batch(session, "house clear", "bucket 1", confirmed=True)
        with pytest.raises(Questioned, match="with 1 version of its recipe and 1 batch"):
            store.remove(session, models.Glaze, "new")
    with database.transaction() as session:
        for model, name in (
            (models.ClayBody, "spare"), (models.Firing, "Fx"), (models.Kiln, "attic"),
            (models.Glaze, "new"),
        ):  # fmt: skip
            assert store.remove(session, model, name, confirmed=True) == name
        store.remove_batch(session, "house clear", "may", confirmed=True)
        store.remove_version(session, "house clear", None, confirmed=True)
    assert rows(url) == before

"""A whole export brings back every column of every table, from one back end to the other."""

import json
from collections import Counter

import pytest

from tests.database.whole_record import full, put
from tiles import settings
from tiles.records import forms, models, store
from tiles.records.database import open_database
from tiles.records.store.material import add_material

COLD = {"name": "F9", "kind": "glaze", "kiln": "attic", "target_cone": "05", "peak_c": 1186}
LINES = [{"material": "own feldspar", "parts": 60}, {"material": "silica", "parts": 40}]


def fill(session):
    """A full tile, an unlikely one, and of each kind of thing one that no tile names."""
    from tiles.chemistry.materials import from_analysis

    store.add_kiln(session, "loft", "not for bisque")
    store.rename(session, models.Kiln, "loft", "attic")
    store.add_kiln(session, "loft")
    store.rename(session, models.Kiln, "loft", "shed")  # an old name that two had
    store.add_kiln(session, "top loader", "Öffnet schwer")
    analysis = {"SiO2": 66.0, "Al2O3": 19.0, "K2O": 12.0, "Na2O": 3.0}
    own = from_analysis("own feldspar", analysis, loss_on_ignition_percent=0.4, source="sheet 3")
    add_material(session, own, remark="last bag")
    # Magnetite, told as Fe2O3, takes up oxygen in the kiln: over 100 %, and a loss below 0.
    add_material(session, from_analysis("scale", {"Fe2O3": 103.4}, loss_on_ignition_percent=-3.4))
    store.add_body(session, forms.BodyRecord(name="old clay", colour="buff", is_retired=True))
    store.add_glaze(session, forms.GlazeRecord(name="moss", kind="recipe", maker="us"))
    for parts in (20, 30):
        lines = [*LINES, {"material": "whiting", "parts": parts}]
        recipe = {"lines": lines, "note": f"with {parts}"}
        store.add_recipe_version(session, "moss", forms.read(forms.RecipeRecord, recipe))
    store.add_batch(session, "moss", forms.BatchRecord(name="spring", sieve_mesh=80))
    store.add_firing(session, forms.read(forms.FiringRecord, COLD))
    newest = {"version": 2, "lines": [*LINES, {"material": "whiting", "parts": 30}]}
    layer = {"glaze": "moss", "recipe": newest, "coats": 2, "thickness_mm": 8}
    put(session, full())
    trial = {"trial_of": "M-1", "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}
    odd = full(mark="M-2", areas=[{"number": 1, "layers": [layer]}], inspections=[], **trial)
    store.add_tile(session, odd, names=store_names(session), confirmed=True)


def store_names(session):
    from tiles.records.store.named import Names

    return Names(session, add_missing=True)


def rows(url):
    """How often each row stands in each table, but for its keys."""
    with open_database(settings.database_url(url)).transaction(looking=True) as session:
        return {
            name: Counter(
                tuple(row[column.name] for column in table.columns if column.name[-3:] != "_id")
                for row in session.execute(table.select()).mappings()
            )
            for name, table in models.ClayBody.metadata.tables.items()
        }


@pytest.fixture(params=["from sqlite", "from postgresql"])
def two(request, tmp_path, postgresql_url):
    """Where a full database is, and an empty one on the other back end."""
    places = [str(tmp_path / "tiles.db"), postgresql_url]
    first, second = places if request.param == "from sqlite" else reversed(places)
    opened = open_database(settings.database_url(first), create=True)
    with opened.transaction() as session:
        fill(session)
    opened.engine.dispose()
    return first, second


def test_an_export_comes_back_whole_in_an_empty_database(two, tiles, tmp_path):
    first, second = two
    whole, again = tmp_path / "all.json", tmp_path / "again.json"
    assert tiles("export", whole, "--db", first).code == 0
    ran = tiles("import", whole, "--db", second)
    assert ran.code == 0, ran.err
    before = rows(first)
    assert all(before.values()), "a table without a row tells nothing"
    assert rows(second) == before
    assert tiles("export", again, "--db", second).code == 0
    assert again.read_text(encoding="utf-8") == whole.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("part", "change", "told"),
    [
        ("kilns", {"remark": "other"}, "kiln 'attic' comes with remark 'other', but is on record"),
        ("materials", {"source": "sheet 4"}, "material 'own feldspar' comes with source 'sheet 4'"),
        ("bodies", {"colour": "red"}, "clay body 'old clay' comes with colour 'red'"),
        ("firings", {"peak_c": 1190}, "firing 'F9' comes with peak_c 1190"),
        ("kilns", {"remarks": "a"}, "(all.json, studio, kiln 1). Try: 'remark', or one of name, "),
        ("kilns", {"name": "new", "remark": 3}, "it must be text (all.json, studio, kiln 1)"),
    ],
)
def test_what_is_on_record_otherwise_is_refused_or_kept(fresh, tiles, tmp_path, part, change, told):
    with open_database(settings.database_url(str(fresh)), create=True).transaction() as session:
        fill(session)
    file = tmp_path / "all.json"
    assert tiles("export", file).code == 0
    before = rows(str(fresh))
    value = json.loads(file.read_text(encoding="utf-8"))
    value["studio"][part][0] |= change
    file.write_text(json.dumps(value), encoding="utf-8")
    ran = tiles("import", file, "--replace")
    assert (ran.code, ran.err.count("\n")) == (1, 1)
    assert told in ran.err and "Try: " in ran.err
    assert rows(str(fresh)) == before
    if "on record" in ran.err:
        assert tiles("import", file, "--replace", "--keep-stored").code == 0
        assert rows(str(fresh)) == before


def test_a_firing_changed_by_hand_in_an_export_is_questioned(fresh, tiles, tmp_path):
    file = tmp_path / "all.json"
    value = {"studio": {"kilns": ["attic"], "firings": [COLD]}, "tiles": []}
    file.write_text(json.dumps(value), encoding="utf-8")
    ran = tiles("import", file)
    assert ran.code == 1 and "firing F9: peak 1186 C" in ran.err
    assert not fresh.exists()
    assert tiles("import", file, "--yes").code == 0


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ({"tiles": [], "kilns": []}, "all.json has 'kilns' beside its tiles"),
        ({"tiles": {}}, "all.json has tiles that are no list"),
        ({"tiles": [], "studio": []}, "parts are wanted here"),
    ],
)
def test_a_file_that_is_no_whole_export_says_so(fresh, tiles, tmp_path, value, told):
    file = tmp_path / "all.json"
    file.write_text(json.dumps(value), encoding="utf-8")
    ran = tiles("import", file)
    assert (ran.code, ran.err.count("\n")) == (1, 1)
    assert told in ran.err

"""The store's promises on names and marks, on both back ends."""

import pytest

from tests.database.whole_record import full, put, stored
from tiles.errors import AlreadyOnRecord, InvalidValue, UnknownName
from tiles.queries.search import Search, run
from tiles.records import derived, forms, models, reading, store


@pytest.mark.parametrize("mark", ["M-1", "m-1", " M-1 "])
def test_a_mark_is_found_whatever_its_capitals_and_taken_only_once(with_tile, mark):
    assert store.get_tile(with_tile, mark).mark == "M-1"
    with pytest.raises(AlreadyOnRecord):
        put(with_tile, full(mark=mark))


def test_a_mark_is_looked_for_without_comparing_every_mark_on_record(tmp_path, monkeypatch):
    """Or each further tile of an import takes longer than the one before."""
    from tiles.records.database import open_database
    from tiles.records.store import mark
    from tiles.settings import database_url

    compared: list[str] = []
    key = mark.name_key
    monkeypatch.setattr(mark, "name_key", lambda text: compared.append(text) or key(text))
    opened = open_database(database_url(str(tmp_path / "tiles.db")), create=True)
    with opened.transaction() as session:
        for number in range(9):
            put(session, full(mark=f"Ü-{number}" if number == 8 else f"M-{number}"))
        compared.clear()
        assert [store.has_mark(session, mark) for mark in ("m-3", "M-9")] == ["M-3", None]
        assert {*compared} == {"M-3", "m-3", "M-9"}
        assert store.has_mark(session, "ü-8") == "Ü-8"


def test_a_thousand_marks_that_end_in_a_letter_are_looked_for(with_tile):
    """Two of them may spell a third one with a blank, and SQLite takes no thousand at once."""
    with pytest.raises(UnknownName, match="'P-0a'"):
        store.get_tiles(with_tile, ["M-1", *(f"P-{number}a" for number in range(1100))])


@pytest.mark.parametrize("known", [("mug a", "mug"), ("mug a", "a")])
def test_a_mark_with_a_blank_is_no_question_where_one_of_its_parts_is_no_mark(session, known):
    for mark in known:
        put(session, full(mark=mark))
    with pytest.raises(UnknownName):
        store.get_tiles(session, ["mug", "a"])
    assert [row.mark for row in store.get_tiles(session, [*known])] == [*known]


def test_names_are_one_whatever_their_capitals(with_tile):
    with pytest.raises(AlreadyOnRecord):
        store.add_body(with_tile, forms.BodyRecord(name="Red Earthenware"))
    found = store.find(with_tile, models.ClayBody, "RED  EARTHENWARE")
    assert found.name == "red earthenware"


def test_names_are_one_however_their_accents_are_written(with_tile):
    composed, decomposed = "gr\u00fcn", "gru\u0308n"
    put(with_tile, full(mark=f"{decomposed}-1", body={"name": f"{decomposed}er Ton"}))
    assert store.get_tile(with_tile, f"{composed}-1").body.name == f"{composed}er Ton"
    assert store.find(with_tile, models.ClayBody, f"{decomposed}er Ton").name[2] == "\u00fc"
    with pytest.raises(AlreadyOnRecord):
        put(with_tile, full(mark=f"{composed}-1"))


def test_an_unknown_name_suggests_the_nearest(with_tile):
    with pytest.raises(UnknownName, match="'hous clear'") as unknown:
        store.find(with_tile, models.Glaze, "hous clear")
    assert '"house clear"' in unknown.value.hint


def test_a_name_with_quotes_is_suggested_as_a_shell_reads_it(with_tile):
    name = '50% "q" \u00fc'
    store.rename(with_tile, models.Glaze, "house clear", name)
    with pytest.raises(UnknownName) as unknown:
        store.find(with_tile, models.Glaze, '50% "q"')
    assert unknown.value.hint.startswith(f"'{name}', which is on record")


@pytest.mark.parametrize(("part", "meant"), [("HOUSE", "house clear"), ("slip", "white slip")])
def test_a_part_of_just_one_name_suggests_that_one(with_tile, part, meant):
    with pytest.raises(UnknownName) as unknown:
        store.find(with_tile, models.Glaze, part)
    assert unknown.value.hint.startswith(f'"{meant}", which is on record')


def test_renaming_keeps_the_tiles(with_tile):
    store.rename(with_tile, models.Glaze, "house clear", "studio clear")
    store.rename(with_tile, models.ClayBody, "red earthenware", "brick clay")
    store.rename(with_tile, models.Firing, "F2", "F22")
    record = stored(with_tile)
    assert [layer.glaze.name for layer in record.areas[0].layers] == ["white slip", "studio clear"]
    assert (record.body.name, record.firing.name) == ("brick clay", "F22")
    with pytest.raises(UnknownName):
        store.find(with_tile, models.Glaze, "house clear")


def test_renaming_may_change_capitals_but_not_take_a_name(with_tile):
    assert store.rename(with_tile, models.Glaze, "house clear", "House Clear").name == "House Clear"
    with pytest.raises(AlreadyOnRecord):
        store.rename(with_tile, models.Glaze, "House Clear", "White Slip")


def test_a_mark_may_change_but_not_take_another_and_its_trials_follow(with_tile):
    trial = {"trial_of": "m-1", "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}
    put(with_tile, full(mark="M-2", **trial))
    store.rename_tile(with_tile, "m-1", "N-1")
    assert stored(with_tile, "M-2").trial_of == "N-1"
    with pytest.raises(AlreadyOnRecord):
        store.rename_tile(with_tile, "N-1", "m-2")
    with pytest.raises(InvalidValue):
        store.rename_tile(with_tile, "N-1", " ")
    store.rename_tile(with_tile, "n-1", "n-1")
    assert stored(with_tile, "M-2").trial_of == "n-1"


def test_a_trial_stored_before_its_tile_names_it_whatever_its_capitals(with_tile):
    trial = {"trial_of": "m-9", "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}
    put(with_tile, full(mark="M-2", **trial))
    put(with_tile, full(mark="M-9"))
    assert stored(with_tile, "M-2").trial_of == "M-9"
    assert reading.sharing_marks(with_tile, stored(with_tile, "M-9"), 1) == ["M-2"]


def test_retiring_keeps_the_tiles_and_can_be_taken_back(with_tile):
    before = stored(with_tile)
    store.retire(with_tile, models.Glaze, "house clear")
    assert store.find(with_tile, models.Glaze, "house clear").is_retired
    assert stored(with_tile).mark == before.mark
    store.retire(with_tile, models.Glaze, "house clear", False)
    assert not store.find(with_tile, models.Glaze, "house clear").is_retired
    assert stored(with_tile) == before


@pytest.mark.parametrize(
    ("known", "typed"),
    [("ÄRMEL", "ärmel"), ("Großer Ofen", "GROSSER OFEN"), ("Ölgrün", "ÖLGRÜN")],
)
def test_a_name_with_an_umlaut_is_one_however_its_capitals_are_written(session, known, typed):
    for model, add in ((models.ClayBody, store.add_body), (models.Glaze, store.add_glaze)):
        form = forms.BodyRecord if model is models.ClayBody else forms.GlazeRecord
        add(session, form(name=known))
        assert store.find(session, model, typed).name == known
        with pytest.raises(AlreadyOnRecord):
            add(session, form(name=typed))
    store.add_kiln(session, known)
    with pytest.raises(AlreadyOnRecord):
        store.add_kiln(session, typed)


@pytest.mark.parametrize(("mark", "typed"), [("Ü-1", "ü-1"), ("Maß 7_b", "MASS 7_B")])
def test_a_mark_with_an_umlaut_is_one_however_its_capitals_are_written(session, mark, typed):
    put(session, full(mark=mark))
    put(session, full(mark=mark.replace("7_", "7x")) if "7" in mark else full(mark="A-1"))
    assert store.has_mark(session, typed) == mark
    assert [row.mark for row in store.get_tiles(session, [typed])] == [mark]
    assert store.get_tile(session, typed).mark == mark
    with pytest.raises(AlreadyOnRecord):
        put(session, full(mark=typed))
    trial = {"trial_of": typed, "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}
    put(session, full(mark="T-1", **trial))
    store.rename_tile(session, typed, "N-1")
    assert stored(session, "T-1").trial_of == "N-1"


@pytest.mark.parametrize(
    ("pack", "stood"), [("Öfchen", "öfchen"), ("große Platte", "GROSSE PLATTE")]
)
def test_a_tile_is_found_by_the_cone_of_its_shelf_whatever_the_capitals(session, pack, stood):
    firing = {"name": "F9", "witness_cones": [{"shelf": pack, "cone": "05"}]}
    record = full(mark="S-1", firing=firing, shelf=stood, cone_reached=None)
    put(session, record)
    assert derived.cone_reached(stored(session, "S-1")).cone == "05"
    found = run(session, Search(cone_from="05", cone_to="05"))
    assert "S-1" in [row.mark for row in found]

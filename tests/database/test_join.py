"""A record of a tile on record: what either knows is kept, and no fact gives way to another."""

import copy

import pytest

from tests.database.whole_record import FULL, put, stored
from tiles.errors import AlreadyOnRecord, InvalidValue, Questioned
from tiles.records import forms, store
from tiles.records.store.named import Names


def join(session, values, **how):
    record = forms.read(forms.TileRecord, values)
    return store.join_tile(session, record, names=Names(session, add_missing=True), **how)


def changed(path, value):
    """The full record with another value at a place in it."""
    values = copy.deepcopy(FULL)
    *outer, key = path
    part = values
    for step in outer:
        part = part[step]
    part[key] = value
    return values


def at(record, path):
    """The value at a place in a record."""
    part = record.model_dump()
    for step in path:
        part = part[step]
    return part


CLEAR = ("areas", 0, "layers", 1)
CRAZED = ("inspections", 1, "defects", 0)
FACTS = {
    ("made_on",): "2026-01-11",
    ("form",): "flat",
    ("bisque_cone",): "05",
    ("bisque_firing",): "F3",
    ("firing",): "F4",
    ("shelf",): "bottom",
    ("note",): "another",
    ("clues", "bisque_wiped"): "yes",
    ("areas", 0, "label"): "right",
    ("areas", 0, "clues", "raw_coat_cracked"): "no",
    ("areas", 1, "layers", 0, "coats"): 3,
    (*CLEAR, "thickness_mm"): 0.5,
    (*CLEAR, "batch"): "bucket 2",
    (*CLEAR, "recipe"): {"lines": [{"material": "frit", "parts": 100}]},
    ("inspections", 1, "note"): "another",
    (*CRAZED, "severity"): "severe",
    (*CRAZED, "place"): "rim",
    ("photos", 0, "caption"): "back",
}


def test_what_the_record_leaves_blank_stays_as_it_is(with_tile):
    before = stored(with_tile)
    for path in FACTS:
        assert not join(with_tile, changed(path, None)).has_more, path
    assert stored(with_tile) == before


def test_what_is_blank_on_record_is_filled_and_named(with_tile):
    before = stored(with_tile)
    for path in FACTS:
        store.remove_tile(with_tile, "M-1")
        put(with_tile, forms.read(forms.TileRecord, changed(path, None)))
        found = join(with_tile, FULL)
        (told,) = found.fields
        assert str(path[-1]) in told
        assert (found.looks, found.pictures) == ([], 0)
        assert stored(with_tile) == found.record == before, path


def test_every_field_that_may_be_blank_is_filled(with_tile):
    """Of a tile, an area and a layer, so that a new one of either is not lost."""
    before = stored(with_tile)
    bare = copy.deepcopy(FULL)
    area = bare["areas"][0]
    for values, form in (
        (bare, forms.TileRecord),
        (area, forms.AreaRecord),
        (area["layers"][1], forms.LayerRecord),
    ):
        for name in [name for name, of in form.model_fields.items() if of.default is None]:
            values.pop(name, None)
    store.remove_tile(with_tile, "M-1")
    put(with_tile, forms.read(forms.TileRecord, bare))
    join(with_tile, FULL)
    assert stored(with_tile) == before


def test_what_is_said_otherwise_is_refused_with_the_field_and_both_values(with_tile):
    before = stored(with_tile)
    for path, other in FACTS.items():
        with pytest.raises(AlreadyOnRecord) as refused:
            join(with_tile, changed(path, other), confirmed=True)
        said = str(refused.value)
        assert "'M-1' is already on record with" in said
        assert "--replace" in said
        assert str(path[-1]) in said or path[0] == "inspections", "a look is told as a whole"
        shown = other["lines"][0]["material"] if isinstance(other, dict) else str(other)
        assert shown in said.partition("and comes with")[2], path
    assert stored(with_tile) == before


@pytest.mark.parametrize(
    ("path", "value", "told"),
    [
        (("areas",), FULL["areas"][:1], "with areas 1, 2, and comes with area 1"),
        (("areas", 1, "layers", 0, "glaze"), "white slip", "glaze 'house clear' on area 2"),
        (("areas", 0, "layers"), FULL["areas"][1]["layers"], r"'white slip \+ house clear' on"),
        (("body",), "porcelain", "body 'red earthenware', and comes with 'porcelain'"),
    ],
)
def test_another_make_is_another_tile(with_tile, path, value, told):
    values = changed(path, value)
    values["inspections"] = []
    with pytest.raises(AlreadyOnRecord, match=told):
        join(with_tile, values)


def test_capitals_and_the_names_alone_are_no_difference(with_tile):
    values = changed(("body",), "RED Earthenware")
    values |= {"mark": "m-1", "firing": "f2", "shelf": "Top", "note": "Ünïcode – 釉"}
    assert not join(with_tile, values).has_more


def test_a_later_look_and_a_picture_come_beside_the_others(with_tile):
    before = stored(with_tile)
    more = {"inspected_on": "2026-09-01", "defects": [{"defect": "pinholes", "area": 1}]}
    values = changed(("inspections",), [FULL["inspections"][1], more])
    values["photos"] = [{"file": "b.png"}]
    found = join(with_tile, values)
    assert [str(look.inspected_on) for look in found.looks] == ["2026-09-01"]
    assert (found.pictures, found.fields) == (1, [])
    after = stored(with_tile)
    assert found.record == after
    assert after.inspections[:2] == before.inspections
    assert [seen.defect for seen in after.inspections[2].defects] == ["pinholes"]
    assert [photo.file for photo in after.photos] == ["a.png", "b.png"]
    assert not join(with_tile, values).has_more


def test_of_several_looks_of_a_day_each_is_its_own(session):
    day = "2026-02-04"
    crawled = {"inspected_on": day, "defects": [{"defect": "crawling"}, {"defect": "pinholes"}]}
    at_foot = {"defect": "crawling", "place": "foot"}
    further = {"inspected_on": day, "defects": [at_foot, {"defect": "crawling"}]}
    put(session, forms.read(forms.TileRecord, changed(("inspections",), [crawled, further])))
    before = stored(session)
    turned = {"inspected_on": day, "defects": further["defects"][::-1]}
    assert not join(session, changed(("inspections",), [turned, crawled])).has_more
    found = join(session, changed(("inspections",), [crawled, turned, crawled]))
    assert (len(found.looks), found.fields) == (1, [])
    assert stored(session).inspections[:2] == before.inspections


def test_of_looks_that_differ_in_their_notes_alone_each_is_its_own(session):
    day = {"inspected_on": "2026-02-04", "defects": [{"defect": "crawling"}]}
    plain, noted = day, day | {"note": "at the window"}
    put(session, forms.read(forms.TileRecord, changed(("inspections",), [plain, noted])))
    assert not join(session, changed(("inspections",), [noted, plain])).has_more
    assert [look.note for look in stored(session).inspections] == [None, "at the window"]


def test_without_any_look_in_common_it_is_asked_whether_it_is_one_tile(with_tile):
    before = stored(with_tile)
    values = changed(("inspections",), [{"inspected_on": "2026-09-01"}])
    with pytest.raises(Questioned, match="another tile of that mark, perhaps"):
        join(with_tile, values)
    assert stored(with_tile) == before
    assert len(join(with_tile, values, confirmed=True).looks) == 1


def test_a_look_that_contradicts_those_on_record_is_asked_about(session):
    crazed = {"inspected_on": "2026-05-02", "defects": [{"defect": "crazing"}]}
    put(session, forms.read(forms.TileRecord, changed(("inspections",), [crazed])))
    before = stored(session)
    healed = [crazed, {"inspected_on": "2026-09-01"}]
    with pytest.raises(Questioned, match="does not heal"):
        join(session, changed(("inspections",), healed))
    assert stored(session) == before


def test_a_body_described_otherwise_is_refused_though_the_tile_says_the_same(with_tile):
    with pytest.raises(InvalidValue, match="absorption_pct 3, but is on record with 12.5"):
        join(with_tile, changed(("body", "absorption_pct"), 3))
    names = Names(with_tile, add_missing=True, keep_stored=True)
    record = forms.read(forms.TileRecord, changed(("body", "absorption_pct"), 3))
    assert not store.join_tile(with_tile, record, names=names).has_more
    kept = "clay body 'red earthenware' keeps absorption_pct 12.5; 3 is not taken"
    assert names.told == [kept]


OF_FIRING = {key: value for key, value in FULL["firing"].items() if key not in ("name", "kind")}
OF_BATCH = {key: value for key, value in FULL["areas"][0]["layers"][1]["batch"].items()
            if key != "name"}  # fmt: skip
OF_OTHERS = {
    **{("firing", key): "firing F2" for key in OF_FIRING},
    **{(*CLEAR, "batch", key): "batch bucket 1 of house clear" for key in OF_BATCH},
    ("body", "absorption_pct"): "clay body red earthenware",
    ("body", "remark"): "clay body red earthenware",
}


@pytest.mark.parametrize(("path", "of"), OF_OTHERS.items(), ids=[path[-1] for path in OF_OTHERS])
def test_what_is_blank_of_a_firing_a_bucket_or_a_body_is_filled_and_named(session, path, of):
    blank = [] if path[-1] == "witness_cones" else None
    put(session, forms.read(forms.TileRecord, changed(path, blank)))
    record, names = forms.read(forms.TileRecord, FULL), Names(session, add_missing=True)
    assert at(stored(session), path) == blank
    store.join_tile(session, record, names=names)
    (told,) = names.gained
    assert told.startswith(f"{of} gained {path[-1]}")
    assert at(stored(session), path) == at(record, path)


def test_a_blank_is_filled_only_where_the_tiles_bear_it(session):
    put(session, forms.read(forms.TileRecord, changed(("firing", "peak_c"), None)))
    before = stored(session)
    heated = forms.read(forms.TileRecord, changed(("firing", "peak_c"), 1215))
    names = Names(session, add_missing=True, ask_of_firings=True)
    with pytest.raises(Questioned):
        store.join_tile(session, heated, names=names)
    assert stored(session) == before
    names = Names(session, add_missing=True)
    store.join_tile(session, heated, names=names, confirmed=True)
    assert stored(session).firing.peak_c == 1215


def test_a_plan_fills_no_blank_of_what_it_names(session):
    put(session, forms.read(forms.TileRecord, changed(("firing", "peak_c"), None)))
    names = Names(session, add_missing=True, keep_blanks=True)
    names.firing(forms.read(forms.TileRecord, FULL).firing, "glaze")
    assert (stored(session).firing.peak_c, names.gained) == (None, [])


def test_what_one_row_filled_another_of_its_file_contradicts(session):
    put(session, forms.read(forms.TileRecord, changed(("body", "kind"), None)))
    names = Names(session, add_missing=True)
    store.join_tile(session, forms.read(forms.TileRecord, FULL), names=names)
    other = forms.read(forms.TileRecord, changed(("body", "kind"), "stoneware"))
    again = Names(session, add_missing=True, earlier=names.filled)
    told = "kind 'stoneware', but stands earlier in this file with 'earthenware'"
    with pytest.raises(InvalidValue, match=told):
        store.join_tile(session, other, names=again)


def test_witness_cones_are_told_as_a_sheet_has_them(with_tile):
    cones = [{"shelf": "top", "cone": "03"}, {"shelf": "bottom", "cone": "06"}]
    with pytest.raises(InvalidValue) as refused:
        join(with_tile, changed(("firing", "witness_cones"), cones))
    told = "comes with witness_cones top=03; bottom=06, but is on record with top=05; 04."
    assert told in refused.value.message

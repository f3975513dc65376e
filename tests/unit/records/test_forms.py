"""The door for outside values: what is read, what is refused, and how it is said."""

import pytest

from tiles.errors import InvalidValue, TilesError, UnknownName
from tiles.exchange import json_file
from tiles.records import forms


def record(**values):
    return {"mark": "M-1", "body": "red earthenware"} | values


def layer(**values):
    return record(areas=[{"number": 1, "layers": [{"glaze": "pond green"} | values]}])


def read(values):
    return forms.read(forms.TileRecord, values, "tiles.json, record 3")


def test_names_are_tidied_and_words_and_cones_read():
    found = read(
        record(mark="  M  1 ", form="FLAT", cone_reached="^05", clues={"Bisque-Wiped": "Y"})
    )
    assert (found.mark, found.form, found.cone_reached) == ("M 1", "flat", "05")
    assert found.clues == {"bisque_wiped": "yes"}


def test_a_tile_without_areas_has_one():
    assert [area.number for area in read(record()).areas] == [1]


def test_not_recorded_stays_not_recorded():
    found = read(layer(coats=None, thickness_mm=None))
    assert found.areas[0].layers[0].coats is None
    assert found.cone_reached is None
    assert read(record(clues={"bisque_wiped": None})).clues == {}


@pytest.mark.parametrize(
    ("values", "field", "told"),
    [
        (layer(thickness_mm=-1), "thickness_mm", "-1"),
        (layer(thickness_mm=0), "thickness_mm", "0"),
        (layer(thickness_mm=11), "thickness_mm", "11"),
        (layer(fired_thickness_mm=float("nan")), "fired_thickness_mm", "nan"),
        (layer(coats=0), "coats", "0"),
        (layer(coats=2.5), "coats", "2.5"),
        (layer(method="rolled"), "method", "'rolled'"),
        (record(cone_reached="055"), None, "'055'"),
        (record(made_on="yesterday"), "made_on", "yesterday"),
        (record(mark=""), "mark", "''"),
        (record(mark="x" * 121), "mark", "120"),
        (record(body={"name": "b", "absorption_pct": 101}), "absorption_pct", "101"),
        (record(body={"name": "b", "cone_low": "04", "cone_high": "06"}), "cone_low", "06"),
        (record(firing={"name": "F", "rate_c_per_h": 0}), "rate_c_per_h", "0"),
        (record(firing={"name": "F", "peak_c": 1888}), "peak_c", "1888"),
        (record(clues={"bisque_wiped": "perhaps"}), "bisque_wiped", "perhaps"),
    ],
)
def test_an_impossible_value_is_refused_with_its_field_value_and_place(values, field, told):
    with pytest.raises(InvalidValue) as refused:
        read(values)
    assert told in refused.value.message
    assert "tiles.json, record 3" in refused.value.message
    assert "\n" not in str(refused.value)
    assert refused.value.hint
    if field:
        assert refused.value.field == field


@pytest.mark.parametrize(
    ("values", "told"),
    [
        (layer(thickness_mm=800.0), "thickness_mm 800 is not possible: it must be at most 10 ("),
        (layer(thickness_mm="0,4"), "write it in digits, such as 7.5"),
        (layer(coats=2.5), "it must be a whole number"),
        (layer(coats="two"), "write it in digits, as a whole number"),
        (record(made_on="24.11.2026"), "a day is year-month-day, such as 2026-03-01"),
        (record(made_on="2026-02-30"), "there is no such day"),
        (
            record(firing={"name": "F", "peak_c": 1888}),
            "at most 1450; is it in F? 1888 F is 1031 C",
        ),
        (record(firing={"name": "F", "peak_c": 9000}), "it must be at most 1450 ("),
        (record(mark="x" * 130), "...' is not possible: it must be at most 120 letters long"),
        (record(mark=" "), "it is empty"),
        (record(areas="x"), "a list is wanted here"),
        (record(body=5), "its parts are wanted here, each by its name"),
        (record(note=5), "it must be text"),
    ],
)
def test_what_is_wrong_is_said_in_plain_words(values, told):
    with pytest.raises(InvalidValue) as refused:
        read(values)
    assert told in refused.value.message
    assert "nput" not in refused.value.message


@pytest.mark.parametrize(
    ("low", "high", "meant"),
    [
        ("6", "4", "^06 and ^04 if the 0 was lost"),
        ("6", "04", "^06 and ^04 if the 0 was lost"),
        ("6½", "5", "^06½ and ^05 if the 0 was lost"),
        ("04", "06", "06 to 04: cone 06 is the cooler one."),
        ("4", "06", "06 to 4: cone 06 is the cooler one."),
    ],
)
def test_a_range_that_runs_down_is_turned_round_only_where_no_zero_is_lost(low, high, meant):
    with pytest.raises(InvalidValue) as refused:
        forms.read(forms.GlazeRecord, {"name": "pond green", "cone_low": low, "cone_high": high})
    assert f"runs from {low} down to {high}" in refused.value.message
    assert refused.value.hint.startswith(meant)


def test_the_place_is_told_as_a_person_counts():
    layers = [{"glaze": "slip"}, {"glaze": "clear", "coats": 0}]
    with pytest.raises(InvalidValue, match=r"record 3, area 2, layer 2"):
        read(record(areas=[{"number": 1}, {"number": 2, "layers": layers}]))


@pytest.mark.parametrize(
    "values",
    [
        record(colour="red"),
        layer(thicknes_mm=1),
        record(body={"name": "b", "colours": "x"}),
        record(inspections=[{"inspected_on": "2026-01-01", "defect": []}]),
    ],
)
def test_an_unknown_key_is_refused_and_never_lost(values):
    with pytest.raises(UnknownName, match="there is no field"):
        read(values)


@pytest.mark.parametrize(
    ("values", "hint"),
    [
        (record(colour="red"), "one of mark, made_on, "),
        (layer(thicknes_mm=1), "'thickness_mm', or one of glaze, recipe, batch, coats, "),
        (record(firing={"name": "F", "witness_cones": [{"con": "05"}]}), "'cone', or one of shelf"),
        (record(derivd={}), "'derived', or one of mark, "),
    ],
)
def test_of_an_unknown_key_the_nearest_and_all_that_are_known_there_are_told(values, hint):
    with pytest.raises(TilesError) as refused:
        read(values)
    assert refused.value.hint.startswith(hint)


def test_a_tile_as_an_export_has_it_is_read_and_what_was_worked_out_is_not_believed():
    plain = read(record())
    exported = json_file.to_json(plain)
    assert {"confirmed", "derived"} <= exported.keys()
    assert read(exported | {"derived": {"clean": True}}) == plain


def test_a_missing_value_is_named():
    with pytest.raises(InvalidValue, match="body is missing"):
        read({"mark": "M-1"})


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"areas": [{"number": 1}, {"number": 1}]}, "same number"),
        ({"inspections": [{"inspected_on": "2026-01-01",
                           "defects": [{"defect": "crazing", "area": 2}]}]}, "area 1 only"),
    ],
)  # fmt: skip
def test_areas_must_agree_with_each_other(values, told):
    with pytest.raises(TilesError, match=told):
        read(record(**values))


TRIAL = {"trial_of": "M-41", "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}


def test_a_trial_says_of_which_tile_which_fault_and_what_was_changed():
    assert read(record(**TRIAL)).trial_change == "coats 3 -> 2"
    for missing in TRIAL:
        with pytest.raises(InvalidValue, match="needs all of trial_of.*all three, or none"):
            read(record(**TRIAL | {missing: None}))
    with pytest.raises(InvalidValue, match=r"a tile \(m-41\) cannot be a trial of itself"):
        read(record(**TRIAL | {"mark": "m-41"}))


def test_the_recipe_of_a_layer_needs_lines_with_parts():
    for lines in ([], [{"material": "frit", "parts": 0}], [{"material": "frit"}]):
        with pytest.raises(InvalidValue):
            read(layer(recipe={"lines": lines}))


def test_no_field_invites_a_pupils_name():
    """By the words of the forms: no field for a person at all."""
    people = {"pupil", "student", "person", "author", "owner", "name_of", "by", "made_by"}
    shapes = [shape for shape in vars(forms).values()
              if isinstance(shape, type) and issubclass(shape, forms.BaseModel)]  # fmt: skip
    fields = {name for shape in shapes for name in shape.model_fields}
    assert len(fields) > 50
    assert not fields & people

"""Cautions come from what the glaze holds, by the screen of the materials (tested on its own)."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.handling import leaching, of_layers, that_apply
from diagnose.report import why
from tiles.cli.why_screen import lines as screen
from tiles.records import forms

BASE = {"soda feldspar": 40, "whiting": 24, "kaolin": 12, "silica": 18, "magnesium carbonate": 6}
FLUORINE = "Fluorspar and cryolite give off fumes"


def _record(extras, *, base=BASE, name="river", kind="recipe", remark=None, defect="blisters"):
    lines = [{"material": key, "parts": parts} for key, parts in base.items()]
    lines += [{"material": key, "parts": p, "is_addition": True} for key, p in extras.items()]
    glaze = {"name": name, "kind": kind, "cone_low": "5", "cone_high": "6", "remark": remark}
    layer = {"glaze": glaze, "thickness_mm": 0.6}
    if kind == "recipe":
        layer["recipe"] = {"lines": lines}
    values = {
        "mark": "M-1",
        "body": {"name": "buff", "kind": "stoneware", "cone_low": "5", "cone_high": "7"},
        "cone_reached": "6",
        "areas": [{"number": 1, "layers": [layer]}],
        "inspections": [{"inspected_on": "2026-05-01", "defects": [{"defect": defect}]}],
    }
    return forms.read(forms.TileRecord, values)


MANGANESE = {"manganese carbonate": 4, "cobalt carbonate": 3}


def test_what_a_recipe_holds_is_cautioned_where_it_is_to_be_weighed():
    (answer,) = fix(_record(MANGANESE))
    told = " ".join(answer.handling)
    assert "manganese (manganese carbonate)" in told and "nerves" in told
    assert "cobalt (cobalt carbonate)" in told and "free silica dust" in told
    (change,) = [each for each in answer.causes[0].fixes if each.is_recipe][:1]
    assert any(each.startswith("manganese") for each in change.cautions)


def test_why_tells_what_the_tiles_own_recipe_holds():
    (diagnosis,) = why(_record(MANGANESE))
    assert any(each.startswith("manganese (manganese carbonate)") for each in diagnosis.handling)
    assert diagnosis.as_dict()["handling"] == diagnosis.handling


def test_a_caution_for_what_is_not_in_the_recipe_is_left_out():
    record = _record(MANGANESE)
    for cause in (*why(record)[0].causes, *fix(record)[0].causes):
        assert not any(FLUORINE in text for text in cause.cautions)


@pytest.mark.parametrize(
    "changes",
    [{"extras": {"fluorspar": 3}}, {"extras": {"mystery powder": 3}}],
    ids=["it is there", "nobody knows"],
)
def test_a_caution_stays_where_it_may_apply(changes):
    causes = {each.name: each for each in why(_record(**changes))[0].causes}
    assert any(FLUORINE in text for text in causes["gassy_recipe"].cautions)


def test_a_caution_that_names_no_material_always_stays():
    layers = _record(MANGANESE).areas[0].layers
    assert that_apply(["Sharp rims cut."], layers) == ["Sharp rims cut."]


def test_a_jar_is_judged_by_the_words_on_it():
    jar = _record({}, kind="jar", name="lava", remark="with manganese speckle").areas[0].layers
    assert [each.hazard for each in of_layers(jar)] == ["manganese"]


def test_a_material_in_the_base_and_added_or_under_two_names_is_no_obstacle():
    record = _record({"silica": 4, "china clay": 2})
    assert [each.hazard for each in of_layers(record.areas[0].layers)] == ["free silica dust"]


def test_what_a_change_brings_in_is_cautioned_too():
    base = {"nepheline syenite": 60, "whiting": 15, "kaolin": 10, "silica": 15}
    (answer,) = fix(_record({}, base=base, defect="crazing"), body_limit=6.9)
    brought = {m for c in answer.causes for f in c.fixes if f.blend for m in f.blend[-1].parts}
    assert brought > set(base)
    if "lithium carbonate" in brought or "spodumene" in brought:
        assert any(each.startswith("lithium") for each in answer.handling)


def test_where_a_recipe_names_the_material_no_remark_stands_for_it():
    remark = "version 1 crazed; version 2 has more silica, and some copper"
    found = {
        each.hazard: each.found_in for each in of_layers(_record({}, remark=remark).areas[0].layers)
    }
    assert not any("version" in each for each in found["free silica dust"])
    assert any("copper" in each for each in found["copper"]), "which no line of the recipe names"


@pytest.mark.parametrize(
    ("glaze", "recipe", "is_told"),
    [
        ({"kind": "jar"}, None, True),
        ({"kind": "jar", "role": "underglaze"}, None, True),
        ({"kind": "jar", "role": "slip"}, None, False),
        ({"kind": "jar", "role": "wash"}, None, False),
        ({"kind": "jar", "role": "stain"}, None, False),
        ({}, None, True),
        ({}, BASE, False),
    ],
    ids=["jar", "underglaze", "slip", "wash", "stain", "kind not told", "recipe known"],
)
def test_only_what_may_be_a_bought_red_may_hold_cadmium_by_its_name(glaze, recipe, is_told):
    lines = [{"material": name, "parts": parts} for name, parts in (recipe or {}).items()]
    layer = {"glaze": {"name": "brick red", **glaze}} | (
        {"recipe": {"lines": lines}} if recipe else {}
    )
    told = leaching([forms.read(forms.LayerRecord, layer)], "crazing")
    assert ("may hold cadmium" in told) is bool(told) is is_told


@pytest.mark.parametrize(
    ("name", "remark", "kind", "defect", "start"),
    [
        ("sun", "cadmium stain", "jar", "crazing", "Cadmium in sun: "),
        ("Fire Orange", None, "jar", "colour shift", "Fire Orange may hold cadmium"),
        ("Fire Orange", None, "jar", "underfired", "Fire Orange may hold cadmium"),
        ("Kirschrot", None, "jar", "crazing", "Kirschrot may hold cadmium"),
        ("Jaune d'or", None, "jar", "crazing", "Jaune d'or may hold cadmium"),
        ("Parrot green", None, "jar", "crazing", ""),
        ("Fire Orange", None, "jar", "crawling", ""),
        ("Fire Orange", None, "recipe", "crazing", ""),
        ("pond", None, "jar", "crazing", ""),
    ],
)
def test_a_cadmium_colour_with_a_fault_that_frees_more_is_kept_from_food(
    name, remark, kind, defect, start
):
    record = _record({}, name=name, kind=kind, remark=remark, defect=defect)
    (told,) = why(record)
    assert told.leaching.startswith(start) and bool(told.leaching) is bool(start)
    short = " ".join(" ".join(screen(record, [told])).split())
    full = " ".join(" ".join(screen(record, [told], show_all=True)).split())
    assert full.count("whatever the label says") == bool(start)
    is_said = "Cadmium colours: " in short
    assert short.count("whatever the label says") == (bool(start) and not is_said)
    assert told.as_dict()["leaching"] == (told.leaching or None)


@pytest.mark.parametrize(
    ("label", "hazards"),
    [
        ({"food_label": "not for food, contains lead"}, ["lead"]),
        ({"colour": "cadmium red"}, ["cadmium"]),
        ({"food_label": "lead free"}, []),
        ({"name": "lead amber", "colour": "free"}, ["lead"]),
    ],
)
def test_every_word_on_a_jar_is_read_by_why_and_fix(label, hazards):
    record = _record({}, name="old amber", kind="jar", defect="crazing")
    jar = record.areas[0].layers[0]
    jar.glaze = jar.glaze.model_copy(update=label)
    for (answer,) in (why(record), fix(record)):
        assert [each.partition(" (")[0] for each in answer.handling] == hazards
    assert bool(leaching([jar], "crazing")) is ("cadmium" in hazards)


def test_beside_a_layer_that_holds_cadmium_the_one_that_may_is_named():
    (held,) = _record({}, name="sun", kind="jar", remark="cadmium stain").areas[0].layers
    (may,) = _record({}, name="Fire Orange", kind="jar").areas[0].layers
    told = "Cadmium in sun, and Fire Orange may hold it, as many such colours do: crazed, dull"
    assert leaching([held, may], "crazing").startswith(told)

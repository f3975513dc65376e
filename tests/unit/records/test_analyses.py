"""Recipes on record to chemistry, the user's own analyses going before the shipped ones."""

import pytest

from tiles.chemistry.materials import from_analysis, index, shipped
from tiles.chemistry.own_materials import clay_of
from tiles.errors import AlreadyOnRecord, InvalidValue, UnknownName
from tiles.records import analyses, forms, store
from tiles.records.store.material import add_material


def sheet(name, loss=0.0, **analysis):
    return from_analysis(name, analysis, loss_on_ignition_percent=loss, source="data sheet")


@pytest.fixture
def session(database):
    with database.transaction() as open_session:
        yield open_session


def recipe(*lines) -> forms.RecipeRecord:
    keys = ("material", "parts", "is_addition")
    return forms.RecipeRecord(lines=[dict(zip(keys, line, strict=False)) for line in lines])


def test_an_analysis_comes_back_as_it_was_stored(session):
    given = sheet("our feldspar", 0.3, SiO2=68.5, Al2O3=18.6, Na2O=12.4)
    add_material(session, given, remark="half a bag left")
    session.expire_all()
    (found,) = analyses.own_materials(session)
    assert found == given


def test_an_own_material_answers_to_the_names_of_the_shipped_one(session):
    add_material(session, sheet("silica", SiO2=99.0, Al2O3=1.0))
    known = index(analyses.own_materials(session))
    assert known["flint"].analysis == {"SiO2": 99.0, "Al2O3": 1.0}


def test_two_own_materials_under_two_names_of_one_stay_two(session):
    add_material(session, sheet("silica", SiO2=99.0, Al2O3=1.0))
    add_material(session, sheet("flint", SiO2=98.0, CaO=2.0))
    known = index(analyses.own_materials(session))
    assert known["flint"].analysis["SiO2"] == 98.0
    assert known["silica"].analysis["SiO2"] == 99.0
    assert known["quartz"].analysis["SiO2"] in (98.0, 99.0)


def test_a_name_from_a_recipe_without_analysis_is_no_own_material(session):
    store.add_glaze(session, forms.GlazeRecord(name="g", kind="recipe"))
    store.add_recipe_version(session, "g", recipe(("shed frit", 10), ("silica", 5)))
    assert analyses.own_materials(session) == ()
    add_material(session, sheet("Shed Frit", SiO2=50.0, Na2O=50.0))
    assert [each.name for each in analyses.own_materials(session)] == ["shed frit"]


def test_a_second_analysis_is_refused_unless_it_replaces(session):
    add_material(session, sheet("shed frit", SiO2=50.0, Na2O=50.0))
    with pytest.raises(AlreadyOnRecord, match="already has an analysis"):
        add_material(session, sheet("shed frit", SiO2=60.0, K2O=40.0))
    add_material(session, sheet("shed frit", SiO2=60.0, K2O=40.0), replace=True)
    session.expire_all()
    (found,) = analyses.own_materials(session)
    assert found.analysis == {"SiO2": 60.0, "K2O": 40.0}


def test_additions_are_kept_apart():
    found = recipe(("silica", 5), ("tin oxide", 4, True))
    assert (found.base, found.extras) == ([("silica", 5.0)], [("tin oxide", 4.0)])


def test_own_analyses_beside_a_recipe_do_not_travel_with_it():
    found = recipe(("silica", 5))
    plain = found.model_dump_json()
    found.analysed((sheet("silica", SiO2=99.0, Al2O3=1.0),))
    assert found.model_dump_json() == plain
    assert found.model_copy(update={"note": "again"}).own == found.own


def test_own_analysis_decides_what_a_recipe_is_made_of(session):
    add_material(session, sheet("silica", SiO2=50.0, Na2O=50.0))
    own = analyses.own_materials(session)
    assert analyses.composition(recipe(("silica", 10)), own).unity["Na2O"] == 1.0


def test_the_newest_version_is_found_when_none_is_named(session):
    store.add_glaze(session, forms.GlazeRecord(name="g", kind="recipe"))
    store.add_recipe_version(session, "g", recipe(("silica", 1)))
    store.add_recipe_version(session, "g", recipe(("silica", 2)))
    assert store.find_recipe(session, "G").lines[0].parts == 2
    assert store.find_recipe(session, "g", 1).lines[0].parts == 1
    with pytest.raises(UnknownName, match="has no version 3"):
        store.find_recipe(session, "g", 3)


def test_a_jar_and_an_empty_recipe_are_told_apart(session):
    store.add_glaze(session, forms.GlazeRecord(name="jar"))
    store.add_glaze(session, forms.GlazeRecord(name="empty", kind="recipe"))
    with pytest.raises(InvalidValue, match="is a jar"):
        store.find_recipe(session, "jar")
    with pytest.raises(InvalidValue, match="has no recipe"):
        store.find_recipe(session, "empty")


def test_the_clay_rule_picks_the_shipped_clays_with_bound_water_and_no_other_material():
    picked = {m.name for m in shipped() if clay_of(m.analysis, m.loss_percent) == "raw"}
    raw = {m.name for m in shipped() if m.clay == "raw"}
    # Red earthenware loses 5 % only; as a shipped name it counts as clay without the rule.
    assert picked == raw - {"red earthenware clay"}


def test_an_own_clay_counts_as_raw_clay(session):
    add_material(session, sheet("pit clay", 9.0, SiO2=60.0, Al2O3=28.0, Fe2O3=3.0))
    own = analyses.own_materials(session)
    made_of = analyses.composition(recipe(("pit clay", 25), ("silica", 75)), own)
    assert made_of.raw_clay_percent == 25

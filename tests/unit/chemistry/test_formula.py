import numpy as np
import pytest

from tiles.chemistry import formula, materials, oxides
from tiles.errors import InvalidValue, OutOfRange, UnknownName

SATIN = {"soda feldspar": 32, "whiting": 14, "talc": 8, "kaolin": 16, "silica": 22}


def test_an_unknown_material_is_never_zero_but_a_share_not_understood():
    found = formula.analyse({"silica": 20, "kaolin": 20, "whitting": 5, "zz": 5})
    assert found.not_understood_percent == pytest.approx(20)
    assert found.suggestions == {"whitting": "whiting", "zz": None}


def test_a_recipe_of_unknown_materials_only_has_no_formula():
    found = formula.analyse({"secret": 20})
    assert found.not_understood_percent == 100
    with pytest.raises(OutOfRange, match="understood"):
        _ = found.unity


def test_a_recipe_without_flux_has_no_formula_but_has_its_oxides():
    found = formula.analyse({"kaolin": 50, "silica": 50})
    with pytest.raises(OutOfRange, match="no flux"):
        _ = found.unity
    assert found.weight_percent["SiO2"] > 70


def test_raw_and_calcined_clay_are_told_apart():
    found = formula.analyse({"kaolin": 10, "calcined kaolin": 15, "ball clay": 5, "whiting": 70})
    assert found.raw_clay_percent == pytest.approx(15)
    assert found.calcined_clay_percent == pytest.approx(15)


def test_additions_count_in_the_share_of_parts_and_in_the_oxides():
    plain = formula.analyse(SATIN)
    found = formula.analyse(SATIN, extras={"tin oxide": 4})
    assert found.total_parts == plain.total_parts + 4
    assert found.mole_percent["SnO2"] > 0
    assert found.unity["SiO2"] == pytest.approx(plain.unity["SiO2"])


def test_the_kinds_of_analysis_behind_the_answer_are_told():
    found = formula.analyse({"potash feldspar": 50, "whiting": 25, "calcium borate frit": 25})
    assert found.kind_percent == pytest.approx({"measured": 50, "derived": 25, "estimated": 25})


def test_without_alumina_there_is_no_ratio():
    assert formula.analyse({"silica": 50, "whiting": 50}).silica_to_alumina is None


def test_boron_counts_beside_silica_at_low_fire():
    found = formula.analyse({"calcium borate frit": 80, "kaolin": 20})
    assert found.boron > 0
    assert found.silica_and_boron_to_alumina > found.silica_to_alumina


def test_compare_tells_only_what_moved():
    more = formula.analyse(SATIN | {"silica": 30})
    change = formula.compare(formula.analyse(SATIN), more)
    assert change.parts == {"silica": (22.0, 30.0)}
    assert set(change.unity) == {"SiO2"}


def test_many_agrees_with_one_at_a_time():
    names = list(SATIN)
    rows = [[32, 14, 8, 16, 22], [10, 30, 0, 20, 40], [0.5, 0.25, 0.1, 1, 2]]
    found = formula.many(rows, names)
    for place, row in enumerate(rows):
        recipe = {name: parts for name, parts in zip(names, row, strict=True) if parts}
        one = formula.analyse(recipe)
        for many_value, one_value in (
            (found.unity, one.unity),
            (found.mole_percent, one.mole_percent),
            (found.weight_percent, one.weight_percent),
        ):
            expected = [one_value.get(oxide, 0.0) for oxide in found.oxides]
            assert many_value[place] == pytest.approx(expected, rel=1e-9, abs=1e-12)
        assert found.silica_to_alumina[place] == pytest.approx(one.silica_to_alumina)
        assert found.loss_on_ignition_percent[place] == pytest.approx(one.loss_on_ignition_percent)


def test_many_leaves_rows_without_flux_or_alumina_undefined():
    found = formula.many([[0, 10, 5], [10, 0, 5], [0, 0, 0]], ["whiting", "kaolin", "silica"])
    assert np.isnan(found.unity).all(axis=1).tolist() == [True, False, True]
    assert np.isnan(found.silica_to_alumina).tolist() == [False, True, True]
    assert found.column("ZnO").tolist() == [0, 0, 0]


@pytest.mark.parametrize("bad", [-1.0, float("nan"), float("inf")])
def test_many_names_the_first_bad_recipe(bad):
    with pytest.raises(InvalidValue, match="Recipe 2, kaolin: (-1 parts|.*not a number)"):
        formula.many([[1, 2], [1, bad]], ["whiting", "kaolin"])


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), "3"])
def test_an_amount_that_is_no_number_is_refused_everywhere(bad):
    for call in (oxides.moles, oxides.masses, lambda each: formula.recipe_for(each, ["kaolin"])):
        with pytest.raises(InvalidValue, match="SiO2 is not a number"):
            call({"SiO2": bad, "CaO": 1.0})


def test_many_refuses_shapes_and_names_that_do_not_fit():
    with pytest.raises(InvalidValue, match="do not fit 2 materials"):
        formula.many([[1, 2, 3]], ["whiting", "kaolin"])
    with pytest.raises(InvalidValue, match="two columns"):
        formula.many([[1, 2]], ["flint", "silica"])
    with pytest.raises(InvalidValue, match="No material"):
        formula.many(np.empty((2, 0)), [])
    with pytest.raises(UnknownName):
        formula.many([[1, 2]], ["flint", "unobtainium"])


def test_a_formula_some_materials_cannot_meet_tells_what_is_left():
    wanted = {"Li2O": 0.5, "CaO": 0.5, "Al2O3": 0.3, "SiO2": 3}
    fitted = formula.recipe_for(wanted, ["whiting", "kaolin", "silica"])
    assert fitted.missing == ("Li2O",)
    assert fitted.residual["Li2O"] == pytest.approx(-0.5)
    assert abs(fitted.worst[1]) >= 0.5
    assert sum(fitted.parts.values()) == pytest.approx(100)


def test_oxides_that_come_unasked_are_told():
    wanted = {"CaO": 1, "Al2O3": 0.3, "SiO2": 3}
    fitted = formula.recipe_for(wanted, ["whiting", "ball clay", "silica"])
    assert fitted.residual["Fe2O3"] > 0


def test_materials_already_decided_are_kept():
    wanted = {"CaO": 1, "Al2O3": 0.3, "SiO2": 3}
    names = ["whiting", "calcined kaolin", "silica"]
    fitted = formula.recipe_for(wanted, names, given={"kaolin": 20})
    assert fitted.parts_per_formula["kaolin"] == pytest.approx(20)
    assert abs(fitted.worst[1]) < 1e-9


def test_materials_without_flux_cannot_meet_a_formula():
    with pytest.raises(OutOfRange, match="none of the fluxes"):
        formula.recipe_for({"CaO": 1, "SiO2": 3}, ["silica"])


@pytest.mark.parametrize(
    "wanted,names,error",
    [
        ({"CaO": -1, "SiO2": 3}, ["whiting"], InvalidValue),
        ({"CaO": "1"}, ["whiting"], InvalidValue),
        ({"SiO2": 3}, ["whiting"], OutOfRange),
        ({"CaO": 1}, [], InvalidValue),
        ({"CaO": 1}, ["unobtainium"], UnknownName),
        ({"Qq2O": 1}, ["whiting"], UnknownName),
    ],
)
def test_a_formula_that_cannot_be_right_is_refused(wanted, names, error):
    with pytest.raises(error):
        formula.recipe_for(wanted, names)


def test_the_users_own_analysis_changes_the_formula():
    own = materials.from_analysis("whiting", {"CaO": 50, "MgO": 6}, loss_on_ignition_percent=44)
    found = formula.analyse(SATIN, own=[own])
    assert found.unity["MgO"] > formula.analyse(SATIN).unity["MgO"]

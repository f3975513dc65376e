import pytest

from tiles.chemistry import oxides
from tiles.errors import InvalidValue, OutOfRange, UnknownName


def test_every_oxide_has_a_role_and_a_molar_mass():
    for oxide in oxides.all_oxides():
        assert oxides.role(oxide)
        assert oxides.molar_mass(oxide) > 10


def test_iron_and_other_colourants_are_kept_out_of_the_flux_sum():
    assert not {"FeO", "Fe2O3", "MnO", "CoO", "CuO", "NiO"} & set(oxides.with_role("flux"))
    base = {"CaO": 1.0, "SiO2": 3.0}
    assert oxides.unity(base)["SiO2"] == oxides.unity(base | {"Fe2O3": 0.3, "CoO": 0.1})["SiO2"]


def test_a_flux_counts_however_its_formula_is_typed():
    assert oxides.unity({"cao": 0.5, "Na₂O": 0.5, "sio2": 3.0}) == {
        "CaO": 0.5, "Na2O": 0.5, "SiO2": 3.0,
    }  # fmt: skip


def test_the_flux_sum_can_be_told_otherwise():
    found = oxides.unity({"CaO": 1.0, "FeO": 1.0, "SiO2": 3.0}, fluxes=["CaO", "FeO"])
    assert found["SiO2"] == 1.5


def test_iron_is_reported_as_fe2o3_and_keeps_its_atoms():
    found = oxides.reported({"FeO": 1.0, "Fe2O3": 1.0})
    assert found == {"Fe2O3": 1.5}


@pytest.mark.parametrize("text", ["sio2", "SIO2", " SiO2 ", "SiO₂"])
def test_oxides_are_read_in_any_case(text):
    assert oxides.read_oxide(text) == "SiO2"


@pytest.mark.parametrize("text", ["", "XyO2", "silica oxide of lime", "5"])
def test_an_unknown_oxide_is_refused(text):
    with pytest.raises(UnknownName, match="not an oxide"):
        oxides.read_oxide(text)


@pytest.mark.parametrize("formula", ["", "Ca(CO3", "CaCO3)", "caco3", "Ca CO3", "·CaO"])
def test_text_that_is_no_formula_is_refused(formula):
    with pytest.raises(InvalidValue):
        oxides.molar_mass(formula)


def test_an_unknown_element_is_refused():
    with pytest.raises(UnknownName, match="'Xx'"):
        oxides.molar_mass("XxO2")


def test_without_a_flux_there_is_no_formula():
    with pytest.raises(OutOfRange, match="no flux"):
        oxides.unity({"SiO2": 1.0})


def test_percent_of_nothing_is_refused():
    with pytest.raises(InvalidValue):
        oxides.percent({"SiO2": 0.0})

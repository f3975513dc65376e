import pytest

from tiles.chemistry import materials, oxides
from tiles.chemistry._tables import read_table
from tiles.errors import InvalidValue, UnknownName


def test_no_two_shipped_materials_share_a_name():
    names = [materials.fold(name) for each in materials.shipped() for name in each.names]
    assert len(names) == len(set(names))


def test_every_shipped_analysis_can_be_right():
    for each in materials.shipped():
        again = materials.from_analysis(
            each.name,
            each.analysis,
            loss_on_ignition_percent=each.loss_on_ignition_percent,
            kind=each.kind,
            source=each.source,
            clay=each.clay,
        )
        assert again.analysis == each.analysis
        assert each.source


def test_derived_materials_add_up_to_100():
    derived = [each for each in materials.shipped() if each.kind == "derived"]
    assert len(derived) > 40
    for each in derived:
        total = materials.sum_percent(each.analysis, each.loss_on_ignition_percent)
        assert total == pytest.approx(100, abs=0.01), each.name


def test_every_source_key_is_explained():
    from tiles.chemistry._tables import DATA

    explained = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    for each in materials.shipped():
        assert f"## {each.source}\n" in explained


def test_invented_frits_are_marked_as_estimates():
    frits = [each for each in materials.shipped() if "frit" in each.name]
    assert len(frits) >= 3
    assert {each.kind for each in frits} == {"estimated"}
    assert all("replace by your supplier's analysis" in each.note for each in frits)


@pytest.mark.parametrize(
    "one,other",
    [("flint", "silica"), ("quartz", "silica"), ("china clay", "kaolin"), ("China-Clay", "kaolin")],
)
def test_other_names_lead_to_the_same_material(one, other):
    assert materials.find(one) is materials.find(other)


def test_an_unknown_material_is_refused_with_the_nearest_name():
    with pytest.raises(UnknownName, match="whiting"):
        materials.find("whitting")


def test_the_users_own_analysis_goes_before_the_shipped_one():
    own = materials.from_analysis("whiting", {"CaO": 55.0}, loss_on_ignition_percent=45.0)
    assert materials.find("Whiting", [own]).analysis == {"CaO": 55.0}
    assert materials.find("flint", [own]).name == "silica"
    assert materials.find("whiting").analysis != {"CaO": 55.0}


@pytest.mark.parametrize(
    "analysis,loss,what",
    [
        ({"SiO2": 70, "Al2O3": 60}, None, "adds up to 130.0 %"),
        ({"CaO": 56}, None, "adds up to 56.0 %.*loss on ignition, 44.0 %"),
        ({"CaO": -3}, 44, "CaO -3 %"),
        ({"CaO": float("nan")}, 44, "CaO is not a number: nan"),
        ({"CaO": "56"}, 44, "CaO is not a number: '56'"),
        ({"CaO": 50, "cao": 6}, 44, "listed twice"),
        ({}, 44, "lists no oxide"),
        ({"CaO": 56}, -20, "loss on ignition -20 %"),
        ({"CaO": 56}, True, "loss on ignition is not a number: True"),
    ],
)
def test_an_analysis_that_cannot_be_right_is_refused(analysis, loss, what):
    with pytest.raises(InvalidValue, match=what):
        materials.from_analysis("whiting", analysis, loss_on_ignition_percent=loss)


def test_an_analysis_with_an_unknown_oxide_is_refused():
    with pytest.raises(UnknownName):
        materials.from_analysis("odd", {"QrO": 100})


def test_a_material_without_a_name_or_of_an_unknown_kind_is_refused():
    with pytest.raises(InvalidValue, match="name"):
        materials.from_analysis("  ", {"SiO2": 100})
    with pytest.raises(InvalidValue, match="kind 'guess'"):
        materials.from_analysis("sand", {"SiO2": 100}, kind="guess")


def test_sulphate_and_fluorine_listed_apart_count_as_loss():
    plaster = materials.from_analysis("plaster", {"CaO": 38.6, "SO3": 55.2, "H2O": 6.2})
    assert plaster.loss_percent == pytest.approx(61.4)
    spar = materials.find("fluorspar")
    fired = sum(oxides.masses(spar.moles_per_g).values()) * 100
    assert fired + spar.loss_percent == pytest.approx(100, abs=0.01)


def test_every_material_loses_and_keeps_all_of_itself():
    for each in materials.shipped():
        if each.kind == "derived":
            fired = 100 * sum(oxides.masses(each.moles_per_g).values())
            assert fired + each.loss_percent == pytest.approx(100, abs=0.01), each.name


def test_a_guess_never_puts_one_metal_for_another_nor_hides_a_poison():
    for name in ("cadmium sulphide", "manganese sulphate", "cadmium", "potassium dichromate",
                 "silver nitrate", "Silberoxid", "Zinnoxyd", "feldspath lithique",
                 "Lithiumfeldspat", "oxyde d'argent", "Kalk"):  # fmt: skip
        assert materials.nearest_name(name, materials.index()) is None
    for name, meant in {"nickle oxide": "nickel oxide", "barum carbonate": "barium carbonate",
                        "magnesium carb": "magnesium carbonate"}.items():  # fmt: skip
        assert materials.nearest_name(name, materials.index()) == meant


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Kalifeldspat", "potash feldspar"), ("feldspath sodique", "soda feldspar"),
        ("Zinnoxid", "tin oxide"), ("Eisenoxid", "red iron oxide"), ("óxido de cinc", "zinc oxide"),
        ("oxyde d\N{RIGHT SINGLE QUOTATION MARK}étain", "tin oxide"), ("craie", "whiting"),
        ("skaleń potasowy", "potash feldspar"), ("caolin", "kaolin"), ("Mennige", "red lead"),
    ],
)  # fmt: skip
def test_a_material_is_known_by_its_name_in_other_languages(typed, meant):
    # General vocabulary, common knowledge, no source.
    assert materials.find(typed).name == meant


def test_a_name_in_another_language_stands_for_one_material_alone():
    names = [
        materials.fold(name)
        for row in read_table("material_names")
        for name in row["names"].split(";")
    ]
    assert len(names) == len(set(names))
    shipped = {materials.fold(each) for row in materials.shipped() for each in row.names}
    assert not shipped & set(names)

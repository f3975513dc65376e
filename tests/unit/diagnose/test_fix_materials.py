"""Materials are told apart by what they are made of, not by their names."""

import pytest

from diagnose.fixes.materials import kind_of
from tiles.chemistry.materials import find, from_analysis


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("flint", "silica"),
        ("soda feldspar", "feldspar"),
        ("potash feldspar", "feldspar"),
        ("nepheline syenite", "feldspar"),
        ("china clay", "raw clay"),
        ("ball clay", "raw clay"),
        ("calcined kaolin", "calcined clay"),
        ("whiting", "whiting"),
        ("wollastonite", "wollastonite"),
        ("talc", "talc"),
        ("zinc oxide", "zinc oxide"),
        ("spodumene", "lithium mineral"),
        ("petalite", "lithium mineral"),
        ("lithium carbonate", "lithium carbonate"),
        ("soda borate frit", "soda borate frit"),
        ("calcium borate frit", "calcium borate frit"),
        ("low expansion frit", "low expansion frit"),
        ("high alkali frit", "alkali frit"),
        ("colemanite", "borate mineral"),
        ("tin oxide", "opacifier"),
        ("zirconium silicate", "opacifier"),
        ("copper carbonate", "fluxing colour"),
        ("copper oxide", "fluxing colour"),
        ("manganese dioxide", "fluxing colour"),
        ("manganese carbonate", "fluxing colour"),
        ("rutile", ""),
        ("red iron oxide", ""),
        ("barium carbonate", ""),
        ("bentonite", ""),
    ],
)
def test_shipped_materials_are_of_their_kind(name, kind):
    assert kind_of(find(name)) == kind


def test_a_frit_of_the_users_own_is_known_by_its_analysis():
    own = from_analysis("frit from the sack", {"SiO2": 52, "B2O3": 20, "Na2O": 18, "CaO": 8})
    assert kind_of(own) == "soda borate frit"

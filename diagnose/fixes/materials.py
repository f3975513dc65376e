"""What kind of raw material a line of a recipe is, told from its analysis rather than its name."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from tiles.chemistry import oxides as ox

if TYPE_CHECKING:
    from diagnose.fixes.glass import Recipe
    from tiles.chemistry.materials import Material

Analysis = Callable[[str], float]

# Shares in wt % that tell plain materials apart; checked against the shipped list, estimates.
_KINDS: dict[str, Callable[[Analysis, float], bool]] = {
    "silica": lambda of, loss: of("SiO2") > 96,
    "whiting": lambda of, loss: of("CaO") > 48 and loss > 38 and of("MgO") < 6,
    "borate mineral": lambda of, loss: of("B2O3") > 25 and loss > 15 and of("CaO") > 10,
    "lithium carbonate": lambda of, loss: of("Li2O") > 30,
    "lithium mineral": lambda of, loss: of("Li2O") > 3,
    "opacifier": lambda of, loss: of("SnO2") > 50 or of("ZrO2") > 30,
    "zinc oxide": lambda of, loss: of("ZnO") > 90,
    "fluxing colour": lambda of, loss: of("CuO") > 50 or of("MnO") > 50,
    "talc": lambda of, loss: of("MgO") > 25 and of("SiO2") > 50,
    "wollastonite": lambda of, loss: of("CaO") > 38 and of("SiO2") > 45,
    "low expansion frit": lambda of, loss: of("B2O3") > 8 and of("MgO") > 5 and _alkali(of) < 6,
    "soda borate frit": lambda of, loss: of("B2O3") > 5 and _alkali(of) >= 8 and of("SiO2") > 30,
    "calcium borate frit": lambda of, loss: of("B2O3") > 8 and of("CaO") > 8 and of("SiO2") > 30,
    "alkali frit": lambda of, loss: _alkali(of) >= 15 and of("SiO2") > 40 and of("Al2O3") < 12,
    "feldspar": lambda of, loss: _alkali(of) >= 6 and of("Al2O3") >= 12 and of("SiO2") > 50,
}

LEAST_ALUMINA = 25.0
"""A white clay that kaolin can be changed for has at least so much Al2O3. [wt %], estimate."""

SAME_WHEN_FIRED = 3.0
"""A calcined clay is the fired form of a raw one where no more than so much of it would have to be
another oxide. [wt %], estimate; two sheets of one clay differ by about as much."""

CALCINED_LOSS = 2.0
"""A calcined clay has lost its water but for so much at most. [wt %], estimate."""


def _alkali(of: Analysis) -> float:
    return of("Na2O") + of("K2O")


def kind_of(material: "Material") -> str:
    """The kind of a material, empty when it is none that a change here could use.

    Examples
    --------
    >>> from tiles.chemistry.materials import find
    >>> [kind_of(find(name)) for name in ("flint", "nepheline syenite", "china clay", "rutile")]
    ['silica', 'feldspar', 'raw clay', '']
    """

    def of(oxide: str) -> float:
        return material.analysis.get(oxide, 0.0)

    if material.clay:
        # Bentonite and red clays are no kaolin: they stay as they are.
        return f"{material.clay} clay" if of("Al2O3") >= LEAST_ALUMINA else ""
    loss = material.loss_on_ignition_percent
    return next((kind for kind, is_so in _KINDS.items() if is_so(of, loss)), "")


def calcined_form(line: str, recipe: "Recipe") -> tuple[str, float] | None:
    """The calcined clay of the same chemistry as a raw clay of a recipe, and its weight.

    A line of the recipe goes first, then the user's own analyses, then the shipped list.

    Returns
    -------
    tuple of str and float, or None
        Its name and the weight that 1 of the raw clay leaves. [g/g]. None where none is known.
    """
    from tiles.chemistry.materials import shipped

    raw = recipe.materials[line]
    lines = (recipe.materials[title] for title in recipe.parts)
    known = filter(_may_be_calcined, (*lines, *recipe.own, *shipped()))
    found = next((each for each in known if _other_when_fired(raw, each) <= SAME_WHEN_FIRED), None)
    if found is None:
        return None
    return recipe.material(found.name).name, round(_left(raw) / _left(found), 3)


def _may_be_calcined(material: "Material") -> bool:
    """Whether it is noted as a calcined clay, or as none but without the water of a raw one."""
    return material.clay == "calcined" or (
        not material.clay and material.loss_percent <= CALCINED_LOSS
    )


def _left(material: "Material") -> float:
    """What firing leaves of 1. [g/g]."""
    return 1 - material.loss_percent / 100


def _other_when_fired(one: "Material", other: "Material") -> float:
    """How much of the fired material is another oxide in the other. [wt %]."""
    first, second = _fired(one), _fired(other)
    return sum(abs(first.get(each, 0) - second.get(each, 0)) for each in {**first, **second}) / 2


def _fired(material: "Material") -> dict[str, float]:
    """Its oxides without what leaves on firing. [wt %]."""
    return ox.percent(ox.masses(material.moles_per_g))

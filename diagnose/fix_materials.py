"""What kind of raw material a line of a recipe is, told from its analysis rather than its name."""

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
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

"""From a recipe to its oxides and Seger formula, and back to a recipe.

Conventions are those of ``oxides``: fluxes add up to 1, iron is reported as Fe2O3 and kept out of
the flux sum, as are the other colouring oxides. Percentages of oxides are of the fired glaze.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from tiles.chemistry import oxides as ox
from tiles.chemistry._formula_arrays import ManyFormulas, many
from tiles.chemistry._formula_fit import FittedRecipe, recipe_for
from tiles.chemistry.materials import KINDS, Material, index, nearest_name
from tiles.chemistry.recipes import Line, Recipe, read_recipe
from tiles.errors import OutOfRange

__all__ = [
    "Change",
    "Composition",
    "FittedRecipe",
    "ManyFormulas",
    "analyse",
    "compare",
    "many",
    "moved_parts",
    "recipe_for",
]


@dataclass(frozen=True)
class Composition:
    """What a recipe is made of.

    ``lines`` as `read_recipe` gives them; ``suggestions`` maps each name that no material goes by
    to the nearest known one, or None. Everything else follows from the lines. What is not
    understood is never taken as zero: `not_understood_percent` says how much is left out.
    """

    lines: tuple[Line, ...]
    suggestions: dict[str, str | None]

    @cached_property
    def total_parts(self) -> float:
        """All parts, additions included."""
        return sum(line.parts for line in self.lines)

    @cached_property
    def not_understood_percent(self) -> float:
        """Share of the recipe made of materials that are not known. [wt % of the parts]."""
        missing = sum(line.parts for line in self.lines if line.material is None)
        return 100 * missing / self.total_parts

    @cached_property
    def moles(self) -> dict[str, float]:
        """Moles of each oxide brought by the parts taken as grams. [mol]."""
        found: dict[str, float] = {}
        for line in self.lines:
            for oxide, per_g in line.material.moles_per_g.items() if line.material else ():
                found[oxide] = found.get(oxide, 0.0) + per_g * line.parts
        # Oxides in the order of the table, so that the order of the lines does not show.
        return {oxide: found[oxide] for oxide in ox.all_oxides() if found.get(oxide)}

    @cached_property
    def fired_mass(self) -> dict[str, float]:
        """Mass of each oxide left after firing, of the parts taken as grams. [g]."""
        return ox.masses(self.moles)

    @cached_property
    def unity(self) -> dict[str, float]:
        """Seger formula: moles with the fluxes adding up to 1; OutOfRange without a flux."""
        if not self.moles:
            raise OutOfRange(
                "No material of this recipe is understood, so it has no formula.",
                "add their analyses.",
            )
        return ox.unity(self.moles)

    @cached_property
    def mole_percent(self) -> dict[str, float]:
        """Moles of each oxide in the fired glaze. [mol %]."""
        return ox.percent(self.moles)

    @cached_property
    def weight_percent(self) -> dict[str, float]:
        """Mass of each oxide in the fired glaze. [wt %]."""
        return ox.percent(self.fired_mass)

    @cached_property
    def silica_to_alumina(self) -> float | None:
        """Moles of SiO2 per mole of Al2O3, None without alumina."""
        alumina = self.moles.get("Al2O3", 0.0)
        return self.moles.get("SiO2", 0.0) / alumina if alumina else None

    @cached_property
    def silica_and_boron_to_alumina(self) -> float | None:
        """Moles of SiO2 and B2O3 per mole of Al2O3: the ratio to judge low-fire glazes by."""
        alumina = self.moles.get("Al2O3", 0.0)
        glass = self.moles.get("SiO2", 0.0) + self.moles.get("B2O3", 0.0)
        return glass / alumina if alumina else None

    @property
    def boron(self) -> float:
        """B2O3 in the Seger formula. [mol per mol flux]."""
        return self.unity.get("B2O3", 0.0)

    @cached_property
    def loss_on_ignition_percent(self) -> float:
        """What the understood part of the recipe loses on firing. [wt %]."""
        known = [line for line in self.lines if line.material]
        loss = sum(line.parts * line.material.loss_percent for line in known)
        return loss / sum(line.parts for line in known) if known else 0.0

    @property
    def raw_clay_percent(self) -> float:
        """Share of raw clay. [wt % of the parts]."""
        return self._clay_percent("raw")

    @property
    def calcined_clay_percent(self) -> float:
        """Share of calcined clay. [wt % of the parts]."""
        return self._clay_percent("calcined")

    def _clay_percent(self, clay: str) -> float:
        found = [line for line in self.lines if line.material and line.material.clay == clay]
        return 100 * sum(line.parts for line in found) / self.total_parts

    @cached_property
    def kind_percent(self) -> dict[str, float]:
        """Share of the recipe resting on each kind of analysis. [wt % of the parts]."""
        known = [line for line in self.lines if line.material]
        return {
            kind: 100
            * sum(line.parts for line in known if line.material.kind == kind)
            / self.total_parts
            for kind in KINDS
        }


def analyse(
    recipe: Recipe,
    *,
    extras: Recipe = (),
    own: Iterable[Material] = (),
    strict: bool = False,
) -> Composition:
    """What a recipe is made of: oxides, Seger formula, ratios, loss on ignition, clay.

    Parameters
    ----------
    recipe, extras, own, strict
        As `recipes.read_recipe`.

    Returns
    -------
    Composition

    Raises
    ------
    InvalidValue, UnknownName
        As `recipes.read_recipe`.

    Examples
    --------
    >>> recipe = {"potash feldspar (ideal)": 40, "china clay": 10, "whiting": 20, "flint": 30}
    >>> found = analyse(recipe)
    >>> {oxide: round(moles, 2) for oxide, moles in found.unity.items()}
    {'SiO2': 3.71, 'Al2O3': 0.41, 'K2O': 0.26, 'CaO': 0.74}
    >>> round(found.silica_to_alumina, 2), round(found.loss_on_ignition_percent, 2)
    (9.11, 10.19)
    >>> analyse({"whiting": 50, "secret glaze": 50}).not_understood_percent
    50.0
    """
    own = tuple(own)
    lines = read_recipe(recipe, extras=extras, own=own, strict=strict)
    known = index(own)
    missing = [line.name for line in lines if line.material is None]
    return Composition(lines, {name: nearest_name(name, known) for name in missing})


@dataclass(frozen=True)
class Change:
    """What differs between two recipes: (before, after) of each line and oxide that moved."""

    parts: dict[str, tuple[float, float]]
    unity: dict[str, tuple[float, float]]


def compare(before: Composition, after: Composition) -> Change:
    """What changed between two recipes, in parts and in Seger formula.

    Examples
    --------
    >>> base = {"nepheline syenite": 60, "whiting": 20}
    >>> compare(analyse(base), analyse(base, extras={"tin oxide": 5})).parts
    {'tin oxide': (0.0, 5.0)}
    """
    return Change(parts=moved_parts(before, after), unity=_moved(before.unity, after.unity))


def moved_parts(before: Composition, after: Composition) -> dict[str, tuple[float, float]]:
    """Each line whose parts moved, before and after; also of recipes that have no formula."""
    return _moved(*({line.title: line.parts for line in each.lines} for each in (before, after)))


def _moved(before: dict[str, float], after: dict[str, float]) -> dict[str, tuple[float, float]]:
    pairs = {name: (before.get(name, 0.0), after.get(name, 0.0)) for name in (before | after)}
    return {name: pair for name, pair in pairs.items() if abs(pair[0] - pair[1]) > 1e-9}

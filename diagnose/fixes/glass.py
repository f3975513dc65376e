"""A recipe in parts per 100 and the figures of its glass, cheap enough to ask for thousands of."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from diagnose.fixes.materials import kind_of
from tiles.chemistry import expansion, melt
from tiles.chemistry import oxides as ox
from tiles.chemistry.materials import Material, find

if TYPE_CHECKING:
    from tiles.chemistry.formula import Composition


@dataclass(frozen=True)
class Recipe:
    """Parts by material, the base adding up to 100, additions on top.

    ``materials`` holds each by its usual name; ``names`` are those the recipe is written with;
    ``own`` are the user's own analyses; ``base`` is what the base adds up to as it is written.
    """

    parts: Mapping[str, float]
    materials: dict[str, Material]
    additions: frozenset[str] = frozenset()
    own: tuple[Material, ...] = field(default=(), repr=False)
    names: Mapping[str, str] = field(default_factory=dict)
    base: float = 100.0

    def written(self, title: str) -> str:
        """A material as this recipe writes it, such as flint for silica."""
        return self.names.get(title, title)

    def material(self, name: str) -> Material:
        """A material of the recipe, of the user's own, or of the shipped list."""
        if name not in self.materials:
            self.materials[name] = find(name, self.own)
        return self.materials[name]

    def moved(self, moves: Mapping[str, float]) -> "Recipe":
        """The recipe after some parts went out and others in; lines that reach 0 are dropped."""
        parts = dict(self.parts)
        for name, by in moves.items():
            parts[self.material(name).name] = parts.get(name, 0.0) + by
        kept = {name: round(amount, 6) for name, amount in parts.items() if amount > 1e-6}
        return Recipe(kept, self.materials, self.additions, self.own, self.names, self.base)


def per_hundred(made_of: "Composition", own: Iterable[Material] = ()) -> Recipe:
    """An analysed recipe with every material understood, its base brought to 100."""
    base = sum(line.parts for line in made_of.lines if not line.is_extra)
    scale = 100.0 / base if base else 1.0
    # A recipe that already says 100 keeps its own numbers.
    scale = 1.0 if abs(scale - 1) < 1e-9 else scale
    parts = {line.title: round(line.parts * scale, 4) for line in made_of.lines}
    materials = {line.title: line.material for line in made_of.lines}
    extras = frozenset(line.title for line in made_of.lines if line.is_extra)
    names = {line.title: line.name for line in made_of.lines}
    return Recipe(parts, materials, extras, tuple(own), names, 100.0 / scale)


@dataclass(frozen=True)
class Figures:
    """What the numbers of a recipe are; each is worked out when it is asked for.

    ``temperature_c`` is that of the melt, None when no cone is known. ``counts_boron`` puts B2O3
    beside SiO2 in the ratio to Al2O3, as low-fire glazes are judged.
    """

    recipe: Recipe
    temperature_c: float | None
    counts_boron: bool

    @cached_property
    def moles(self) -> dict[str, float]:
        """[mol per 100 g of base]."""
        found: dict[str, float] = {}
        for name, parts in self.recipe.parts.items():
            for oxide, per_g in self.recipe.materials[name].moles_per_g.items():
                found[oxide] = found.get(oxide, 0.0) + per_g * parts
        return found

    @cached_property
    def unity(self) -> dict[str, float]:
        """Seger formula. [mol per mol flux]."""
        return ox.unity(self.moles)

    @property
    def boron(self) -> float:
        """B2O3. [mol per mol flux]."""
        return self.unity.get("B2O3", 0.0)

    @property
    def silica(self) -> float:
        """SiO2. [mol per mol flux]."""
        return self.unity.get("SiO2", 0.0)

    @property
    def alumina(self) -> float:
        """Al2O3. [mol per mol flux]."""
        return self.unity.get("Al2O3", 0.0)

    @cached_property
    def ratio(self) -> float:
        """SiO2 (and B2O3 at low fire) to Al2O3; infinite without alumina."""
        glass = self.silica + (self.boron if self.counts_boron else 0.0)
        return glass / self.alumina if self.alumina else float("inf")

    @cached_property
    def expansion(self) -> float:
        """Estimated mean linear expansion. [1e-6/K]."""
        return expansion.middle(self.moles)

    @cached_property
    def viscosity(self) -> float | None:
        """Log10 viscosity of the melt at the cone. [log10 Pa.s]."""
        if self.temperature_c is None:
            return None
        return melt.middle(self.moles, self.temperature_c)

    @cached_property
    def raw_clay(self) -> float:
        """[wt % of the dry batch]."""
        parts = self._parts(lambda material: material.clay == "raw")
        return 100 * parts / sum(self.recipe.parts.values())

    @cached_property
    def opacifier(self) -> float:
        """Tin oxide and zircon. [parts per 100 of the base, as additions are written]."""
        return self._parts(lambda material: kind_of(material) == "opacifier")

    @cached_property
    def zinc(self) -> float:
        """Zinc oxide. [parts per 100 of the base]."""
        return self._parts(lambda material: kind_of(material) == "zinc oxide")

    @cached_property
    def colour_flux(self) -> float:
        """Copper and manganese, which colour and flux. [parts per 100 of the base]."""
        return self._parts(lambda material: kind_of(material) == "fluxing colour")

    @cached_property
    def loss(self) -> float:
        """Loss on ignition. [wt % of the dry batch]."""
        parts, materials = self.recipe.parts, self.recipe.materials
        lost = sum(amount * materials[name].loss_percent for name, amount in parts.items())
        return lost / sum(parts.values())

    def _parts(self, is_one: Callable[[Material], bool]) -> float:
        """Parts of all materials of a kind, base and additions alike."""
        parts, materials = self.recipe.parts, self.recipe.materials
        return sum(amount for name, amount in parts.items() if is_one(materials[name]))


def glass_moved(before: Mapping[str, float], after: Mapping[str, float]) -> float:
    """Half the sum of all changes of the composition. [mol %].

    Examples
    --------
    >>> glass_moved({"SiO2": 3, "CaO": 1}, {"SiO2": 6, "CaO": 2, "MgO": 2})
    20.0
    """
    return round(50 * glass_shares_moved(before, after), 9)


def glass_shares_moved(before: Mapping[str, float], after: Mapping[str, Any]) -> Any:
    """The sum of all changes of the composition, as shares of it; arrays where amounts are."""
    sums = sum(before.values()), sum(after.values())
    return sum(
        abs(before.get(each, 0.0) / sums[0] - after.get(each, 0.0) / sums[1])
        for each in {**before, **after}
    )

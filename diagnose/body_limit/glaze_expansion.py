"""Computed expansions of the glazes on record, each recipe worked out once."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.view import View
from tiles.errors import TilesError

if TYPE_CHECKING:
    from tiles.chemistry.materials import Material
    from tiles.records.forms import AreaRecord, LayerRecord, RecipeRecord


@dataclass(frozen=True)
class GlassOf:
    """A glaze's computed expansion with its 90 % range. [1e-6/K]."""

    glaze: str
    value: float
    low: float
    high: float


NO_GLAZE, LAYERED, JAR, NO_RECIPE = (
    "without a glaze",
    "with one glaze over another",
    "from a jar (recipe not known)",
    "without a recipe on record",
)


def why_unknown(area: "AreaRecord") -> str | None:
    """Why there is nothing to compute of an area; None where one recipe lies there alone."""
    glazes = _glazes(area)
    if len(glazes) != 1:
        return LAYERED if glazes else NO_GLAZE
    if glazes[0].recipe:
        return None
    return JAR if glazes[0].glaze.kind == "jar" else NO_RECIPE


def _glazes(area: "AreaRecord") -> "list[LayerRecord]":
    return View(record=None, area=area).glazes  # only the layers are asked for


class Expansions:
    """Expansions by recipe; ``own`` are the user's own analyses, which go first.

    Without them those that came with a recipe do.
    """

    def __init__(self, own: "Iterable[Material]" = ()):
        self.own = tuple(own)
        self._known: dict[tuple, tuple[float, float, float] | None] = {}

    def of_area(self, area: "AreaRecord") -> GlassOf | None:
        """The glaze of an area, where it lies alone and its whole recipe is understood."""
        if why_unknown(area):
            return None
        (layer,) = _glazes(area)
        return self.of_recipe(layer.glaze.name, layer.recipe)

    def of_recipe(self, glaze: str, recipe: "RecipeRecord") -> GlassOf | None:
        """The expansion of a recipe, or None where it cannot be told."""
        lines = tuple((each.material, each.parts, each.is_addition) for each in recipe.lines)
        if lines not in self._known:
            self._known[lines] = self._worked_out(recipe)
        told = self._known[lines]
        return GlassOf(glaze, *told) if told else None

    def _worked_out(self, recipe: "RecipeRecord") -> tuple[float, float, float] | None:
        from tiles.chemistry import expansion
        from tiles.chemistry.formula import analyse

        try:
            own = self.own or recipe.own
            made_of = analyse(recipe.base, extras=recipe.extras, own=own)
            if made_of.not_understood_percent:
                return None
            found = expansion.estimate(made_of.mole_percent)
        except TilesError:
            return None
        return found.value, found.low, found.high

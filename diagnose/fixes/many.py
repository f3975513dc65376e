"""Every amount of one change worked out at once: the figures of thousands of recipes as arrays.

Only what may be the best is handed back; its numbers are then worked out one by one, so that what
is told does not depend on how an array adds up.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from diagnose.fixes.bounds import HAIR, Aim, Band, keeps_new_fluxes
from diagnose.fixes.glass import Figures, glass_shares_moved
from tiles.chemistry import expansion, melt
from tiles.chemistry import oxides as ox

if TYPE_CHECKING:
    from diagnose.fixes.swaps import FittedSwap

    Moves = dict[str, Any]

SLOW = ("expansion", "viscosity")
"""Numbers that take longest to work out."""

AS_NEAR, AS_DEAR = 3e-9, 1e-7
"""Shortfalls and costs that the order of adding up could turn about."""


@dataclass(frozen=True)
class ManyFigures(Figures):
    """Figures of many recipes: the parts of some materials, and so every number, are arrays."""

    @cached_property
    def unity(self) -> dict[str, Any]:
        """Seger formula. [mol per mol flux]."""
        flux = sum(self.moles.get(oxide, 0.0) for oxide in ox.with_role("flux"))
        return {oxide: amount / flux for oxide, amount in self.moles.items()}

    @cached_property
    def ratio(self) -> Any:
        """SiO2 (and B2O3 at low fire) to Al2O3; infinite without alumina."""
        import numpy as np

        glass = self.silica + (self.boron if self.counts_boron else 0.0)
        alumina = np.asarray(self.alumina, dtype=float)
        return np.where(alumina > 0, glass / np.where(alumina > 0, alumina, 1.0), np.inf)

    @cached_property
    def expansion(self) -> Any:
        """Estimated mean linear expansion. [1e-6/K]."""
        import numpy as np

        return expansion.middle(self.moles, numbers=np)

    @cached_property
    def viscosity(self) -> Any:
        """Log10 viscosity of the melt at the cone. [log10 Pa.s]."""
        import numpy as np

        if self.temperature_c is None:
            return None
        return melt.middle(self.moles, self.temperature_c, numbers=np)


@dataclass(frozen=True)
class Search:
    """What the best change is looked for by.

    Attributes
    ----------
    before : Figures
        The recipe as it is.
    aim : Aim
        What must move, and where to.
    limits : sequence of Band
        What everything else must stay within.
    most_parts : float
        No more than so many may move. [parts].
    flux_room : float
        How far new fluxes may go beyond their limits. [mol per mol flux].
    """

    before: Figures
    aim: Aim
    limits: Sequence[Band]
    most_parts: float
    flux_room: float

    @property
    def others(self) -> list[Band]:
        """The bands of all that is not the aim."""
        return [band for band in self.limits if band.quantity != self.aim.quantity]


def leaders(
    points: Iterable[tuple[float, ...]],
    family: tuple["FittedSwap", ...],
    search: Search,
    costs: tuple[float, float, float],
) -> list[tuple[float, ...]]:
    """The amounts that may be the best of some: most often one, none where none keeps the limits.

    Parameters
    ----------
    points : iterable of tuple of float
        Amounts of each swap of the family. [parts].
    family : tuple of FittedSwap
        One swap, or two.
    search : Search
        What is looked for.
    costs : (float, float, float)
        Parts moved that cost 1; what a new material costs; mol % of the glass moved that cost 1.
    """
    import numpy as np

    points = list(points)
    moves = _moves(family, np.array(points, dtype=float).T)
    chosen = np.flatnonzero(_can_be_made(moves, search))
    after = _after(search.before, _of(moves, chosen))
    quick = [band for band in search.others if band.quantity not in SLOW]
    chosen = chosen[_keeps(after, quick, search, len(chosen))]
    after = _after(search.before, _of(moves, chosen))
    kept = _keeps(after, search.limits, search, len(chosen))
    chosen, after = chosen[kept], _after(search.before, _of(moves, chosen[kept]))
    if not len(chosen):
        return []
    shortfall = np.broadcast_to(_shortfall(search.aim, after), chosen.shape)
    near = shortfall <= shortfall.min() + AS_NEAR
    cost = np.broadcast_to(_cost(_of(moves, chosen), after, search, costs), chosen.shape)
    if shortfall.min() == 0:
        near = near & (cost <= cost[near].min() + AS_DEAR)
    return [points[at] for at in chosen[near]]


def _moves(family: tuple["FittedSwap", ...], amounts: Any) -> "Moves":
    """What goes out of each material and in, for each point. [parts]."""
    import numpy as np

    moves: Moves = {}
    for each, amount in zip(family, amounts, strict=True):
        for name, weight in each.moves.items():
            moves[name] = np.round(moves.get(name, 0.0) + weight * amount, 6)
    return {name: np.where(abs(by) > HAIR, by, 0.0) for name, by in moves.items()}


def _of(moves: "Moves", chosen: Any) -> "Moves":
    return {name: by[chosen] for name, by in moves.items()}


def _parts_moved(moves: "Moves") -> Any:
    import numpy as np

    gone = sum(-np.minimum(by, 0.0) for by in moves.values())
    return np.maximum(gone, sum(np.maximum(by, 0.0) for by in moves.values()))


def _can_be_made(moves: "Moves", search: Search) -> Any:
    """Whether the parts are there to be taken, and no more of them than may move."""
    moved = _parts_moved(moves)
    possible = (moved > HAIR) & (moved <= search.most_parts + HAIR)
    for name, by in moves.items():
        possible &= (by == 0) | (search.before.recipe.parts.get(name, 0.0) + by >= -HAIR)
    return possible


def _after(before: Figures, moves: "Moves") -> ManyFigures:
    import numpy as np

    recipe, parts = before.recipe, dict(before.recipe.parts)
    for name, by in moves.items():
        amount = np.round(recipe.parts.get(name, 0.0) + by, 6)
        parts[recipe.material(name).name] = np.where(amount > 1e-6, amount, 0.0)
    moved = replace(recipe, parts=parts)
    return ManyFigures(moved, before.temperature_c, before.counts_boron)


def _keeps(after: ManyFigures, bands: Sequence[Band], search: Search, count: int) -> Any:
    import numpy as np

    kept = np.ones(count, dtype=bool)
    kept &= keeps_new_fluxes(search.before.unity, after.unity, search.flux_room)
    for band in bands:
        kept &= band.holds(after)
    return kept


def _shortfall(aim: Aim, after: ManyFigures) -> Any:
    import numpy as np

    way = aim.wanted - aim.now
    value = getattr(after, aim.quantity)
    return np.maximum(0.0, (aim.wanted - value) / way - HAIR) if way else 0.0


def _cost(
    moves: "Moves", after: ManyFigures, search: Search, costs: tuple[float, float, float]
) -> Any:
    a_part, a_material, a_glass = costs
    parts: Mapping[str, float] = search.before.recipe.parts
    new = sum((by != 0) * 1.0 for name, by in moves.items() if name not in parts)
    others = search.others
    strain = sum(band.strain(after) for band in others) / len(others)
    glass = 50 * glass_shares_moved(search.before.moles, after.moles)
    return _parts_moved(moves) / a_part + a_material * new + glass / a_glass + strain

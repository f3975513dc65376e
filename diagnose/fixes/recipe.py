"""Recipe changes found by the search, told with before and after, error and a line to fire."""

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.fixes.aims import AIMS, LEAST_MARGIN, Body, aims_for
from diagnose.fixes.bounds import MOST_PARTS, Aim
from diagnose.fixes.glass import Figures, Recipe, per_hundred
from diagnose.fixes.search import Found, search
from diagnose.fixes.shapes import BlendPoint, Change, Fix, Prediction
from diagnose.fixes.spoils import spoils
from tiles.errors import TilesError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tiles.chemistry.materials import Material
    from tiles.records.forms import LayerRecord

MELT = "melt viscosity"

SHARES = (("0", 0.0), ("1/3", 1 / 3), ("2/3", 2 / 3), ("1", 1.0))
"""The points of the line blend to fire."""

SMALL = f"A change of up to {MOST_PARTS:g} parts per 100 that leaves the glaze as it is"
NO_WAY = f"{SMALL} does not get there, nor does a larger one: start from another recipe."
FAR_END = "Another glaze to test, the far end of the line"
OTHER_CLAY = "Or keep this glaze for a clay whose own expansion is {least:.1f} or more, measured."

LEADED = "The recipe holds lead: no amounts for it, and no use of it in a classroom."

ENOUGH = 99.99
"""Share of the recipe that must be understood. [wt %]."""


def read_recipe(
    layer: "LayerRecord | None", cone: str | None, own: "Iterable[Material]"
) -> tuple[Figures | None, str]:
    """The figures of a layer's recipe, or the reason why there are none.

    Parameters
    ----------
    layer : LayerRecord or None
        The glaze on the tile.
    cone : str or None
        Where its melt is judged.
    own : iterable of Material
        The user's own analyses; they go before the shipped ones.
    """
    if layer is None or layer.glaze.kind != "recipe":
        return None, ""
    if layer.recipe is None:
        return None, f"The recipe of {layer.glaze.name} on this tile is not recorded: no amounts."
    try:
        return _figures(layer, cone, tuple(own))
    except TilesError as error:
        return None, f"{error.message} So no amounts can be worked out."


def _figures(layer: "LayerRecord", cone: str | None, own: tuple) -> tuple[Figures | None, str]:
    from tiles.chemistry import cones, melt
    from tiles.chemistry.formula import analyse

    made_of = analyse(layer.recipe.base, extras=layer.recipe.extras, own=own)
    if made_of.not_understood_percent > 100 - ENOUGH:
        names = ", ".join(made_of.suggestions)
        return None, (
            f"{made_of.not_understood_percent:.0f} % of the recipe is not understood ({names}). "
            "Add the analysis from its data sheet: tiles material add."
        )
    if made_of.moles.get("PbO"):
        return None, LEADED
    counts_boron = cone is None or cones.band(cone) == "low fire"
    temperature_c = cones.temperature_c(cone) if cone else None
    if temperature_c is not None and not melt.LOWEST_C <= temperature_c <= melt.HIGHEST_C:
        temperature_c = None
    found = Figures(per_hundred(made_of, own), temperature_c, counts_boron)
    _ = found.unity, found.expansion
    return found, ""


@dataclass
class Desk:
    """The recipe on a tile, worked on for one cause after the other.

    ``now`` are its figures, None with the ``problem`` when there are none; ``cone`` is where the
    melt is judged.
    """

    now: Figures | None
    problem: str
    cone: str | None
    body: Body
    setting: str
    _known: dict[Aim, tuple[list[Fix], list[str]]] = field(default_factory=dict)

    def fixes(self, defect: str, cause: str) -> tuple[list[Fix], list[str]]:
        """The recipe changes for one cause of a defect, and the sentences that go with them."""
        if (defect, cause) not in AIMS:
            return [], []
        if self.now is None:
            return [], [self.problem] if self.problem else []
        fixes: list[Fix] = []
        said: list[str] = []
        for aimed in aims_for(defect, cause, self.now, self.body):
            found, stops = self._search(aimed.aim) if aimed.aim else ([], [])
            said += [aimed.or_else] if aimed.or_else and not found else [aimed.say, *stops]
            fixes += found
            if found and not aimed.and_next:
                break
        return fixes, [each for each in said if each]

    def _search(self, aim: Aim) -> tuple[list[Fix], list[str]]:
        """The changes, and what stops them. Two causes may have one aim: it is searched once."""
        if aim not in self._known:
            small = search(self.now, aim, self.setting)
            is_enough = bool(small) and small[0].reaches
            fixes = [_fix(self.now, each, self.cone) for each in small]
            self._known[aim] = (fixes, []) if is_enough else self._beyond(aim, small)
        return self._known[aim]

    def _beyond(self, aim: Aim, small: list[Found]) -> tuple[list[Fix], list[str]]:
        """Where no small change is enough: those worth firing, a larger one, and what stops."""
        from diagnose.fixes.large import is_worth_showing, larger

        large = larger(self.now, aim, self.setting)
        shown = [each for each in small[:1] if is_worth_showing(aim, each)]
        is_better = large and (not shown or large.shortfall < shown[0].shortfall - 0.05)
        fixes = [_fix(self.now, each, self.cone) for each in shown]
        fixes += [_far_end(_fix(self.now, large, self.cone))] if is_better else []
        return fixes, [_why_not(self.now, aim, large, shown), *_for_clay(self.now, aim)]


def _fix(now: Figures, found: Found, cone: str | None) -> Fix:
    moves = sorted(found.moves.items(), key=lambda pair: pair[1])
    swaps = list({each.swap.name: each.swap for each in found.swaps}.values())
    return Fix(
        name="",
        key=" + ".join(each.name for each in swaps),
        title=_spoken(now.recipe, found.moves) + _in_own_parts(now.recipe, found.moves),
        changes=[_change(now.recipe, name, by) for name, by in moves],
        spoils=spoils(now, found.after, swaps),
        cautions=_cautions(found),
        predictions=_predictions(now, found.after, cone),
        blend=blend(now.recipe, found.after.recipe),
        remarks=_remarks(found),
        generic=_generic(found),
        reaches=found.reaches,
    )


def _far_end(fix: Fix) -> Fix:
    """A larger change, named as what it is."""
    warning = "Cone, gloss and colour may all move: stand the tiles on a scrap of bisque."
    return replace(fix, title=f"{FAR_END}: {fix.title}", spoils=[warning, *fix.spoils])


def _why_not(now: Figures, aim: Aim, large: Found | None, shown: list[Found]) -> str:
    """What stops a small change, told by what the larger one does to the rest."""
    from diagnose.fixes.large import what_stops
    from diagnose.wording import listed

    if large is None:
        return (
            f"{SMALL} goes only part of the way; no larger one goes further." if shown else NO_WAY
        )
    stops = what_stops(now, aim, large) or ["three materials or more would have to move"]
    told = f"{SMALL} does not get there: {listed(stops)}."
    return told if large.reaches else f"{told} Even that goes only part of the way."


def _for_clay(now: Figures, aim: Aim) -> list[str]:
    """The other way round against crazing: a clay that shrinks more."""
    if aim.word != "expansion down":
        return []
    return [OTHER_CLAY.format(least=now.expansion + LEAST_MARGIN)]


def _spoken(recipe: Recipe, moves: dict[str, float]) -> str:
    """Such as ``11 soda feldspar out, 6.5 silica and 4.5 kaolin in``."""

    def side(sign: int) -> str:
        told = (
            f"{abs(by):g} {recipe.written(name)}" for name, by in moves.items() if by * sign > 0
        )
        return " and ".join(told)

    going, coming = side(-1), side(1)
    return f"{going} out" + (f", {coming} in" if coming else "")


def _in_own_parts(recipe: Recipe, moves: dict[str, float]) -> str:
    """The same in the parts the recipe is written in, where these do not add up to 100."""
    if abs(recipe.base - 100) < 0.05:
        return ""
    own = {name: round(by * recipe.base / 100, 2) for name, by in moves.items()}
    return f"; as you write it (base {recipe.base:g}): {_spoken(recipe, own)}"


def _change(recipe: Recipe, name: str, by: float) -> Change:
    before = recipe.parts.get(name, 0.0)
    return Change(recipe.written(name), round(before, 2), round(before + by, 2), "parts")


def _predictions(now: Figures, after: Figures, cone: str | None) -> list[Prediction]:
    from tiles.chemistry import expansion, melt

    moved = expansion.difference(now.moles, after.moles)
    found = [
        Prediction("expansion", "1e-6/K", now.expansion, after.expansion, moved.low, moved.high)
    ]
    if now.temperature_c is not None:
        moved = melt.difference(now.moles, after.moles, now.temperature_c)
        found.append(
            Prediction(
                *(f"{MELT} at cone {cone}", "log10 Pa.s"),
                *(now.viscosity, after.viscosity, moved.low, moved.high),
            )
        )
    name = "(SiO2 + B2O3):Al2O3" if now.counts_boron else "SiO2:Al2O3"
    plain = (
        (name, "mol/mol", now.ratio, after.ratio),
        ("SiO2", "mol per mol flux", now.silica, after.silica),
        ("Al2O3", "mol per mol flux", now.alumina, after.alumina),
        ("B2O3", "mol per mol flux", now.boron, after.boron),
        ("raw clay", "wt %", now.raw_clay, after.raw_clay),
        ("loss on ignition", "wt %", now.loss, after.loss),
    )
    return found + [Prediction(*each) for each in plain if max(each[2:]) < float("inf")]


def blend(before: Recipe, after: Recipe) -> list[BlendPoint]:
    """The recipes of the line from before to after. Parts by material."""
    names = list(dict.fromkeys([*before.parts, *after.parts]))
    points = []
    for label, share in SHARES:
        mixed = {
            name: round(
                (1 - share) * before.parts.get(name, 0.0) + share * after.parts.get(name, 0.0), 2
            )
            for name in names
        }
        parts = {before.written(name): amount for name, amount in mixed.items() if amount > 0}
        extras = [before.written(name) for name in mixed if name in before.additions]
        points.append(BlendPoint(label, share, parts, [each for each in extras if each in parts]))
    return points


def _cautions(found: Found) -> list[str]:
    """The usual handling of everything in the changed recipe, additions as well."""
    from diagnose.handling import of_materials, spoken

    recipe = found.after.recipe
    return spoken(of_materials(map(recipe.written, recipe.parts), recipe.own))


def _remarks(found: Found) -> list[str]:
    """What to know before relying on the expansion of the changed glass."""
    from tiles.chemistry import expansion

    return list(expansion.estimate(found.after.moles).remarks)


def _generic(found: Found) -> list[str]:
    """Materials that move and whose shipped analysis stands in for the supplier's own."""
    materials = found.after.recipe.materials
    return [
        found.after.recipe.written(name)
        for name in found.moves
        if materials[name].kind == "estimated" and "replace by" in materials[name].note
    ]

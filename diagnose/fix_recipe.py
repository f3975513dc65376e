"""Recipe changes found by the search, told with before and after, error and a line to fire."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from diagnose.fix_aims import AIMS, Body, aims_for
from diagnose.fix_bounds import MOST_PARTS, Aim
from diagnose.fix_glass import Figures, Recipe, per_hundred
from diagnose.fix_search import Found, search
from diagnose.fix_shapes import BlendPoint, Change, Fix, Prediction
from tiles.errors import TilesError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tiles.chemistry.materials import Material
    from tiles.records.forms import LayerRecord

MELT = "melt viscosity"

SHARES = (("0", 0.0), ("1/3", 1 / 3), ("2/3", 2 / 3), ("1", 1.0))
"""The points of the line blend to fire."""

NO_WAY = f"No change of up to {MOST_PARTS:g} parts does that and leaves the rest near as it is."
HALF_WAY = f"No change of up to {MOST_PARTS:g} parts goes all the way; what follows goes furthest."

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

    lines = layer.recipe.lines
    base = [(line.material, line.parts) for line in lines if not line.is_addition]
    extras = [(line.material, line.parts) for line in lines if line.is_addition]
    made_of = analyse(base, extras=extras, own=own)
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
    _known: dict[Aim, list[Fix]] = field(default_factory=dict)

    def fixes(self, defect: str, cause: str) -> tuple[list[Fix], list[str]]:
        """The recipe changes for one cause of a defect, and the sentences that go with them."""
        if (defect, cause) not in AIMS:
            return [], []
        if self.now is None:
            return [], [self.problem] if self.problem else []
        said: list[str] = []
        for aimed in aims_for(defect, cause, self.now, self.body):
            said.append(aimed.say)
            found = self._search(aimed.aim) if aimed.aim else []
            if found:
                return found, said + ([] if found[0].reaches else [HALF_WAY])
            said += [NO_WAY] if aimed.aim else []
        return [], said

    def _search(self, aim: Aim) -> list[Fix]:
        """Two causes may have the same aim: it is searched for once."""
        if aim not in self._known:
            self._known[aim] = [
                _fix(self.now, each, self.cone) for each in search(self.now, aim, self.setting)
            ]
        return self._known[aim]


def _fix(now: Figures, found: Found, cone: str | None) -> Fix:
    moves = sorted(found.moves.items(), key=lambda pair: pair[1])
    swaps = list({each.swap.name: each.swap for each in found.swaps}.values())
    return Fix(
        name="",
        key=" + ".join(each.name for each in swaps),
        title=_spoken(now.recipe, found.moves),
        changes=[_change(now.recipe, name, by) for name, by in moves],
        spoils=list(dict.fromkeys(each.spoils for each in swaps)),
        cautions=_cautions(found),
        predictions=_predictions(now, found.after, cone),
        blend=blend(now.recipe, found.after.recipe),
        remarks=_remarks(found),
        generic=_generic(found),
        reaches=found.reaches,
    )


def _spoken(recipe: Recipe, moves: dict[str, float]) -> str:
    """Such as ``11 soda feldspar out, 6.5 silica and 4.5 kaolin in``."""

    def side(sign: int) -> str:
        told = (
            f"{abs(by):g} {recipe.written(name)}" for name, by in moves.items() if by * sign > 0
        )
        return " and ".join(told)

    going, coming = side(-1), side(1)
    return f"{going} out" + (f", {coming} in" if coming else "")


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

"""From a cause to the number of the recipe that must move, and how far."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.fixes.bounds import Aim
from diagnose.fixes.glass import Figures
from tiles.chemistry.expansion import USUAL_MARGIN_PPM_PER_K

if TYPE_CHECKING:
    from diagnose.body_limit.fit import BodyLimit

LEAST_MARGIN, MOST_MARGIN = USUAL_MARGIN_PPM_PER_K
"""The glaze is put this far below the body. [1e-6/K]."""

STEP = 0.5
"""One step where the body's limit is not known. [1e-6/K]; half of what crazes at once, estimate."""

TWICE = 0.301
"""Twice as stiff, or half. [log10 Pa.s]; a draining film then runs half, or twice, as far."""

USUAL_CLAY, MUCH_CLAY = 15.0, 18.0
"""Raw clay aimed at, and from which it is worth lowering. [wt %]; 10 to 15 is usual."""

CALM_LOSS, MUCH_LOSS = 6.0, 8.0
"""Loss on ignition aimed at, and from which gas is trouble. [wt %], estimate."""

GLOSS_RATIO = 7.0
"""Silica to alumina from which gloss is usual: 7 to 9 (Stull 1912, from memory)."""

CLEAR_ALUMINA, MORE_ALUMINA = 0.25, 0.06
"""Alumina from which a boron clear seldom clouds, and one step: 3 to 6 parts of kaolin (common
practice, no source). [mol per mol flux], estimate."""

LITTLE_HELP = (
    "By calculation a feldspar in place of part of the lithium hardly moves the expansion of this "
    "recipe (much lithium is poorly covered by the measured glasses); so:"
)

FULL_COLOUR, MUCH_COLOUR = 3.0, 4.0
"""Copper and manganese aimed at, and from which they flux a melt. [parts per 100 of the base]; 2 to
3 % is common practice; the rules count copper from 4 % on (fluid_recipe in causes/running.toml)."""

LESS_OPACIFIER = 3.0
"""[parts per 100 of the base]; 2 to 3 parts less is common practice."""


@dataclass(frozen=True)
class Body:
    """What is known of the body's limits. [1e-6/K].

    ``expansion`` measured; ``limit`` the highest glaze expansion that the user's own tiles show to
    stay whole on it, which goes first; ``estimate`` is what it is the safe end of, with its range.
    """

    name: str
    expansion: float | None = None
    limit: float | None = None
    estimate: "BodyLimit | None" = None


@dataclass(frozen=True)
class Aimed:
    """An aim with its sentence, or without one the reason why there is none.

    ``or_else`` is said in place of it all where no change serves the aim and another one follows.
    ``and_next`` where the aim that follows is served as well. An empty ``say`` says nothing.
    """

    aim: Aim | None
    say: str
    or_else: str = ""
    and_next: bool = False


Maker = Callable[[Figures, Body], Aimed]


def lower_expansion(now: Figures, body: Body) -> Aimed:
    """Below the body's limit; by one step where there is none, or it is met already."""
    value = now.expansion
    limit, why = _upper_limit(body)
    if limit is None:
        say = f"{why} Lower the glaze by {STEP} and try: expansion {value:.1f} -> "
        return _expansion(value, value - STEP, say)
    if value <= limit:
        say = (
            f"By calculation it should fit already ({why}), yet it failed; the calculation can be "
            f"off by about 1. Lower it by {STEP} and try: expansion {value:.1f} -> "
        )
        return _expansion(value, value - STEP, say)
    safe = "; the safe end of it is aimed at" if body.estimate else ""
    return _expansion(value, limit, f"{why[:1].upper()}{why[1:]}{safe}. Expansion {value:.1f} -> ")


def raise_expansion(now: Figures, body: Body) -> Aimed:
    """Not further below the body than is usual; by one step where that cannot be told."""
    value = now.expansion
    if body.expansion is None:
        start = f"The expansion of {body.name} is not measured, so fit cannot be told. Raise the "
        return _expansion(value, value + STEP, f"{start}glaze by {STEP} and try: {value:.1f} -> ")
    limit = body.expansion - MOST_MARGIN
    if value >= limit:
        say = f"Raise it by {STEP} and try (body {body.expansion:g}): {value:.1f} -> "
        return _expansion(value, value + STEP, say)
    say = f"Not more than {MOST_MARGIN} below the body ({body.expansion:g}): {value:.1f} -> "
    return _expansion(value, limit, say)


def less_lithium(now: Figures, body: Body) -> Aimed:
    """The same, by taking lithium out."""
    if not now.unity.get("Li2O"):
        return Aimed(None, "It holds no lithium.")
    wanted = now.expansion + STEP
    say = f"Part of the lithium out, one step: expansion {now.expansion:.1f} -> {wanted:.1f}"
    aim = Aim("lithium out, expansion up", "expansion", now.expansion, wanted)
    return Aimed(aim, f"{say} (millionths per K). Only tiles show whether it fits.", LITTLE_HELP)


def no_zinc(now: Figures, body: Body) -> Aimed:
    """Zinc out of a base that holds chromium."""
    if now.zinc <= 0:
        return Aimed(None, "It holds no zinc oxide as such.")
    say = f"Zinc oxide {now.zinc:.3g} -> 0 parts per 100 of the base, lime in its place."
    return Aimed(Aim("zinc down", "zinc", now.zinc, 0.0), say)


def more_alumina(now: Figures, body: Body) -> Aimed:
    """Alumina keeps a boron glass from clouding."""
    held = now.alumina
    if held >= CLEAR_ALUMINA:
        return Aimed(None, f"Alumina is {held:.2f} in the Seger formula, enough: leave it.")
    wanted = min(CLEAR_ALUMINA, held + MORE_ALUMINA)
    say = f"Alumina {held:.2f} -> {wanted:.2f} in the Seger formula: boron then clouds less."
    return Aimed(Aim("alumina up", "alumina", held, wanted), say)


def _upper_limit(body: Body) -> tuple[float | None, str]:
    if body.limit is not None:
        who = "you" if body.estimate is None else "your own tiles"
        return body.limit, f"{who} put the limit on {body.name} at {_estimated(body)}"
    if body.expansion is None:
        return None, f"The expansion of {body.name} is not measured, so fit cannot be told."
    limit = body.expansion - LEAST_MARGIN
    why = f"body {body.expansion:g} measured, the usual aim is {LEAST_MARGIN} to {MOST_MARGIN}"
    return limit, f"{why} below it (estimate), so {limit:.1f} or less"


def _estimated(body: Body) -> str:
    told = body.estimate
    if told is None:
        return f"{body.limit:.1f}"
    return f"{told.value:.1f}, range {told.low:.1f} to {told.high:.1f}"


def _expansion(value: float, wanted: float, say: str) -> Aimed:
    word = "expansion up" if wanted > value else "expansion down"
    aim = Aim(word, "expansion", value, wanted)
    return Aimed(aim, f"{say}{wanted:.1f} (millionths per K). Only tiles show whether it fits.")


def stiffer(now: Figures, body: Body) -> Aimed:
    """Twice as stiff a melt."""
    say = "Twice as stiff a melt at the cone: it then runs about half as far."
    return _viscosity(now, TWICE, "viscosity up", say)


def more_fluid(now: Figures, body: Body) -> Aimed:
    """Half as stiff a melt."""
    say = "Half as stiff a melt at the cone, so that it flows out and heals."
    return _viscosity(now, -TWICE, "viscosity down", say)


def _viscosity(now: Figures, by: float, word: str, say: str) -> Aimed:
    if now.viscosity is None:
        return Aimed(None, "The melt cannot be worked out without a cone between 600 and 1500 °C.")
    return Aimed(Aim(word, "viscosity", now.viscosity, now.viscosity + by), say)


def less_raw_clay(now: Figures, body: Body) -> Aimed:
    """The usual share of raw clay."""
    clay = now.raw_clay
    if clay < MUCH_CLAY:
        return Aimed(None, f"Raw clay is {clay:.0f} %, which is not much: leave it.")
    say = f"Raw clay {clay:.0f} % -> {USUAL_CLAY:.0f} %, 10 to 15 is usual: it shrinks less."
    return Aimed(Aim("raw clay down", "raw_clay", clay, USUAL_CLAY), say)


def less_gas(now: Figures, body: Body) -> Aimed:
    """Less weight that leaves as gas."""
    loss = now.loss
    if loss < MUCH_LOSS:
        return Aimed(None, f"Only {loss:.0f} % of the dry glaze leaves as gas: leave it.")
    wanted = max(CALM_LOSS, loss - 4)
    say = f"Of the dry glaze {loss:.0f} % leaves as gas: bring it to {wanted:.0f} %."
    return Aimed(Aim("gas down", "loss", loss, wanted), say)


def less_opacifier(now: Figures, body: Body) -> Aimed:
    """A little less tin oxide or zircon."""
    held = now.opacifier
    if held <= 0:
        return Aimed(None, "It holds no tin oxide or zircon.")
    wanted = max(0.0, held - LESS_OPACIFIER)
    say = f"Opacifier {held:.3g} -> {wanted:.3g} parts per 100 of the base."
    return Aimed(Aim("opacifier down", "opacifier", held, wanted), say)


def less_colour_flux(now: Figures, body: Body) -> Aimed:
    """Copper and manganese down to a full colour, with the way to keep the colour after it."""
    held = now.colour_flux
    if held < MUCH_COLOUR:
        return Aimed(None, "")
    say = f"Copper and manganese {held:.3g} -> {FULL_COLOUR:g} parts per 100 of the base: much of"
    melt = None if now.viscosity is None else ("viscosity", now.viscosity + TWICE)
    aim = Aim("colour flux down", "colour_flux", held, FULL_COLOUR, melt)
    return Aimed(aim, f"{say} them fluxes a melt.", and_next=True)


def glossier(now: Figures, body: Body) -> Aimed:
    """More silica for the alumina."""
    ratio = now.ratio
    if ratio >= GLOSS_RATIO:
        return Aimed(None, f"Silica to alumina is {ratio:.1f}, which is a gloss: leave it.")
    wanted = min(GLOSS_RATIO, ratio * 1.4)
    say = f"Silica to alumina {ratio:.1f} -> {wanted:.1f}; 7 to 9 is bright (Stull, from memory)."
    return Aimed(Aim("gloss up", "ratio", ratio, wanted), say)


AIMS: dict[tuple[str, str], tuple[Maker, ...]] = {
    ("crazing", "poor_fit"): (lower_expansion,),
    ("crazing", "too_much_alkali"): (lower_expansion,),
    ("crazing", "small_margin"): (lower_expansion,),
    ("crazing", "thermal_shock"): (lower_expansion,),
    ("crazing", "body_changed"): (lower_expansion,),
    ("shivering", "too_much_compression"): (raise_expansion,),
    ("shivering", "lithium_rich"): (less_lithium, raise_expansion),
    ("colour shift", "zinc_chrome_brown"): (no_zinc,),
    ("cloudiness", "boron_crystals"): (more_alumina,),
    ("dunting", "too_much_compression"): (raise_expansion,),
    ("running", "fluid_recipe"): (less_colour_flux, stiffer),
    ("blisters", "gassy_recipe"): (less_gas,),
    ("pinholes", "gassy_recipe"): (less_gas,),
    ("crawling", "coat_shrinks"): (less_raw_clay,),
    ("crawling", "stiff_melt"): (less_opacifier, more_fluid),
    ("underfired", "refractory_recipe"): (more_fluid,),
    ("unwanted matt", "alumina_high"): (glossier,),
    ("metal marking", "zircon_rich"): (less_opacifier,),
}
"""Which numbers may be moved for a cause of a defect, the first that can be going first."""


def aims_for(defect: str, cause: str, now: Figures, body: Body) -> list[Aimed]:
    """The aims of one cause, empty when no recipe change is made for it."""
    return [make(now, body) for make in AIMS.get((defect, cause), ())]

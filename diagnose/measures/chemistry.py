"""Measures worked out from a recipe's oxides: Seger formula, expansion, melt.

Given only when the base of the recipe is wholly understood; expansion and melt only when every
addition is understood too. Worked-out numbers carry their 90 % range in what is said.
"""

from collections.abc import Iterator

from diagnose.measures.application import Reading
from diagnose.measures.recipe import recognised
from diagnose.view import View
from tiles.errors import TilesError
from tiles.records.words import COLOUR_ROLES

# Moles per mole of flux, by the oxides they count.
UNITY = {
    "silica_unity": (("SiO2",), "silica"),
    "alumina_unity": (("Al2O3",), "alumina"),
    "boron_unity": (("B2O3",), "boron oxide"),
    "alkali_unity": (("Na2O", "K2O"), "soda and potash"),
    "lithia_unity": (("Li2O",), "lithia"),
    "lime_unity": (("CaO",), "lime"),
    "magnesia_unity": (("MgO",), "magnesia"),
    "zinc_unity": (("ZnO",), "zinc oxide"),
    "baria_unity": (("BaO",), "barium oxide"),
}
WEIGHT = {
    "zinc_wt_pct": ("ZnO", "zinc oxide"),
    "lime_wt_pct": ("CaO", "lime"),
    "magnesia_wt_pct": ("MgO", "magnesia"),
}


def read(view: View) -> Iterator[Reading]:
    """Formula, expansion against the body, and how fluid the melt was at the cone reached."""
    recipe = view.top.recipe if view.top else None
    lines = recognised(recipe) if recipe else None
    if not lines or view.top.glaze.role in COLOUR_ROLES:  # colour is no glass
        return
    from tiles.chemistry.formula import Composition

    composition = Composition(tuple(line for line in lines if line.material), {})
    try:
        yield from _formula(composition)
    except TilesError:  # no flux at all: a wash of bare oxide has no formula
        return
    if all(line.material for line in lines):
        yield from _glass(view, composition.mole_percent)


def _formula(composition) -> Iterator[Reading]:
    unity, percent = composition.unity, composition.weight_percent
    for name, (oxides, plain) in UNITY.items():
        moles = round(sum(unity.get(oxide, 0.0) for oxide in oxides), 2)
        yield name, moles, f"{plain} {moles:g} in the Seger formula"
    for name, (oxide, plain) in WEIGHT.items():
        weight = round(percent.get(oxide, 0.0), 1)
        yield name, weight, f"{weight:g} % {plain} in the fired glaze by weight"
    ratio = composition.silica_and_boron_to_alumina
    if ratio is not None:
        ratio = round(ratio, 1)
        said = f"silica and boron oxide to alumina {ratio:g} to 1 in the Seger formula"
        yield "silica_boron_to_alumina", ratio, said


def _glass(view: View, mole_percent: dict[str, float]) -> Iterator[Reading]:
    from tiles.chemistry import cones, expansion, melt

    try:
        glass = expansion.estimate(mole_percent)
    except TilesError:  # outside what the estimate knows: nothing is said
        return
    value, low, high = (round(each, 1) for each in (glass.value, glass.low, glass.high))
    body = view.record.body.expansion_ppm_per_k
    if body is not None:
        yield "expansion_gap_ppm_per_k", *_gap(value, low, high, body)
    else:  # never both: they are one calculation and must not count as two signs
        said = f"the glaze works out to expand {value:g} millionths per K ({low:g} to {high:g})"
        yield "glaze_expansion_ppm_per_k", value, said
    if view.cone_reached is None:
        return
    try:
        answer = melt.estimate(mole_percent, cones.temperature_c(view.cone_reached))
    except TilesError:
        return
    words = " or ".join(melt.words_within(answer))
    said = f"at cone {view.cone_reached} the melt works out as {words}"
    # Both ends of the 90 % range, so that a rule can ask for more than the middle value.
    yield "melt_stiffest_log10_pa_s", round(answer.high, 2), said
    yield "melt_thinnest_log10_pa_s", round(answer.low, 2), said


def _gap(value: float, low: float, high: float, body: float) -> tuple[float, str]:
    """Glaze less body. [1e-6/K]: above 0 the glaze is stretched, below it is squeezed."""
    gap = round(value - body, 1)
    side = "more" if gap >= 0 else "less"
    span = f"{low - body:+.1f} to {high - body:+.1f}"
    said = f"the glaze works out to shrink {abs(gap):g} millionths per K {side} than the body"
    return gap, f"{said} ({span})"

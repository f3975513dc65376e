"""A user's own materials beside the shipped list: the names they answer to, and which are clays."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from tiles.chemistry.materials import Material, fold, index

CLAY_SILICA_PERCENT, CLAY_ALUMINA_PERCENT, CLAY_LOSS_PERCENT = 40.0, 12.0, 5.5
"""From these up an analysis is that of a raw clay. [wt %], estimate: of the shipped materials they
pick the clays with bound water and neither pyrophyllite nor a feldspar."""


def beside_shipped(analysed: Iterable[Material]) -> tuple[Material, ...]:
    """Own analyses, each as the shipped material that it replaces, where it replaces one.

    It then also answers to the other names of that one, unless the user has a material of that
    other name too.

    Parameters
    ----------
    analysed : iterable of Material
        Every own material, from `materials.from_analysis`.
    """
    analysed = tuple(analysed)
    taken = {fold(each.name) for each in analysed}
    found = []
    for each in analysed:
        twin = index().get(fold(each.name))
        aliases = [name for name in twin.names if fold(name) not in taken] if twin else []
        taken.update(map(fold, aliases))
        clay = twin.clay if twin else clay_of(each.analysis, each.loss_on_ignition_percent)
        found.append(replace(each, clay=clay, aliases=tuple(aliases)))
    return tuple(found)


def clay_of(analysis: Mapping[str, float], loss_on_ignition_percent: float) -> str:
    """``raw`` for the analysis of a raw clay, else nothing; see `CLAY_LOSS_PERCENT`."""
    is_clay = (
        analysis.get("SiO2", 0.0) >= CLAY_SILICA_PERCENT
        and analysis.get("Al2O3", 0.0) >= CLAY_ALUMINA_PERCENT
        and loss_on_ignition_percent >= CLAY_LOSS_PERCENT
    )
    return "raw" if is_clay else ""

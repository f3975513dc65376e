"""What a recipe change may spoil, told by the numbers before and after."""

from collections.abc import Iterator, Sequence

from diagnose.fixes.bounds import CLAY_LOW, SAME_GLASS
from diagnose.fixes.glass import Figures, glass_moved
from diagnose.fixes.swaps import Swap

# From these shifts on a number is worth a word; estimates.
MELT_LOG10_PA_S, RATIO_SHARE, CLAY_WT_PCT, BORON_MOL, EXPANSION = 0.05, 0.08, 1.0, 0.03, 0.2

STIFFER = "It melts a little stiffer: pinholes and brush marks heal less readily."
MORE_FLUID = "The melt is more fluid: watch the foot."
DULLER = "Less silica for the alumina: the gloss may soften."
GLOSSIER = "More silica for the alumina: a matt or satin turns glossier."
MORE_CLAY = "More raw clay shrinks more as it dries: thick coats may crack and crawl."
LESS_CLAY = "Less raw clay settles faster in the bucket: add 1 to 2 % bentonite if it does."
MORE_BORON = "More boron can turn a thick clear milky."
MORE_MAGNESIA = "Magnesia softens the gloss."
CRAZES = "It expands more: too much crazes, so stop at the first step that no longer fails."
SAME = "Next to nothing in the glass: its Seger formula stays as it was."
LITTLE = "Little that these numbers tell; a colour may still shift."


def spoils(now: Figures, after: Figures, swaps: Sequence[Swap]) -> list[str]:
    """Sentences on what the change may spoil, each once.

    Parameters
    ----------
    now, after : Figures
        The recipe before and after.
    swaps : sequence of Swap
        What it is made of, for what no number tells.
    """
    told = [*_by_numbers(now, after), *_by_swaps(now, swaps)]
    return list(dict.fromkeys(told)) or [LITTLE]


def _by_numbers(now: Figures, after: Figures) -> Iterator[str]:
    if glass_moved(now.moles, after.moles) <= SAME_GLASS:
        yield SAME
    if now.viscosity is not None and after.viscosity is not None:
        yield from _told(after.viscosity - now.viscosity, MELT_LOG10_PA_S, STIFFER, MORE_FLUID)
    if 0 < now.ratio < float("inf") and after.ratio < float("inf"):
        yield from _told(after.ratio / now.ratio - 1, RATIO_SHARE, GLOSSIER, DULLER)
    # Less of much raw clay still keeps a slop afloat.
    less = LESS_CLAY if after.raw_clay < CLAY_LOW + 2 else ""
    yield from _told(after.raw_clay - now.raw_clay, CLAY_WT_PCT, MORE_CLAY, less)
    yield from _told(after.boron - now.boron, BORON_MOL, MORE_BORON, "")
    magnesia = after.unity.get("MgO", 0.0) - now.unity.get("MgO", 0.0)
    yield from _told(magnesia, BORON_MOL, MORE_MAGNESIA, "")
    yield from _told(after.expansion - now.expansion, EXPANSION, CRAZES, "")


def _told(shift: float, least: float, up: str, down: str) -> Iterator[str]:
    said = up if shift >= least else down if shift <= -least else ""
    if said:
        yield said


def _by_swaps(now: Figures, swaps: Sequence[Swap]) -> Iterator[str]:
    for swap in swaps:
        if swap.spoils:
            yield swap.spoils
        yield from (text for oxide, text in swap.spoils_with.items() if now.moles.get(oxide))

"""Which glazes to fire next on a body to find the expansion it bears."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from diagnose.body_limit.fit import chance_and_worth
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.body_limit.fit import Belief
    from diagnose.body_limit.glaze_expansion import GlassOf

MOST_TILES = 5
APART_PPM = 0.1
"""Two glazes nearer than this tell the same. [1e-6/K]."""
SAME_PPM = 0.05
"""Recipes of one glaze nearer than this fit alike: two versions of it, one changed for the slip
alone. [1e-6/K]."""
LEAST_BITS = 0.02


@dataclass(frozen=True)
class NextGlaze:
    """A glaze worth firing: its computed expansion, and the chance that it fails on the body.

    ``failed`` of ``tiles`` of it on this body did: they say more of it than what is computed; as
    did ``others_failed`` of ``others`` of versions of its recipe that fit otherwise. ``holds`` are
    its poisons.
    """

    glaze: str
    value: float
    low: float
    high: float
    chance: float
    bits: float
    failed: int = 0
    tiles: int = 0
    holds: tuple[str, ...] = ()
    others_failed: int = 0
    others: int = 0


def next_glazes(
    glasses: "Iterable[GlassOf]",
    belief: "Belief",
    defect: str,
    poisons: "Mapping[str, Sequence[str]]" = MappingProxyType({}),
) -> list[NextGlaze]:
    """The glazes that tell most about the body's limit, the most telling first.

    One that holds a poison only where no other tells anything.

    Parameters
    ----------
    glasses : iterable of GlassOf
        Glazes that can be computed.
    belief : Belief
        What is believed of the limit so far, from `body_limit.fit.believe`.
    defect : str
        ``"crazing"`` or ``"shivering"``.
    poisons : mapping, optional
        What some glazes hold, by their names.
    """
    rated = []
    for each in glasses:
        span = (each.value, each.low, each.high)
        chance, bits = chance_and_worth(belief, defect, *span, each.glaze)
        known = [seen for seen in belief.seen if same_name(seen.glaze, each.glaze)]
        own = [s.happened for s in known if abs(s.value - each.value) < SAME_PPM]
        other = [s.happened for s in known if abs(s.value - each.value) >= SAME_PPM]
        holds = tuple(poisons.get(each.glaze, ()))
        counts = (sum(own), len(own), holds, sum(other), len(other))
        rated.append(NextGlaze(each.glaze, *span, chance, bits, *counts))
    telling = [each for each in rated if each.bits >= LEAST_BITS]
    telling = [each for each in telling if not each.holds] or telling
    chosen: list[NextGlaze] = []
    for each in sorted(telling, key=lambda one: (-one.bits, one.glaze)):
        is_apart = all(abs(each.value - other.value) >= APART_PPM for other in chosen)
        if is_apart and len(chosen) < MOST_TILES:
            chosen.append(each)
    return chosen

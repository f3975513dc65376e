"""The search for small recipe changes: every half part, after whole parts have set the mark.

A change is one swap of ``swaps.toml``, or two that share a material, so that three materials move
at most (one swap alone may move what it needs). It must reach the aim, stay within the bands, and
move no more than `MOST_PARTS`; `SAME_GLASS_PARTS` where the glass stays as it was, such as raw clay
changed for calcined. Such a change goes first. Of all others that do, the one of least cost is
taken::

    cost = parts moved / 15 + mol % of the glass moved / 10
           + mean of (shift / room)^2 over the bands + 0.1 for each new material

The second term is there because the error of a predicted difference grows with it.

The search is plain enumeration, leaving out only what cannot win: the same recipe always gives the
same answer.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from diagnose.fix_bounds import (
    HAIR,
    LARGE_FLUX_ROOM,
    MOST_PARTS,
    SAME_GLASS,
    SAME_GLASS_PARTS,
    Aim,
    Band,
    bands,
    keeps_new_fluxes,
)
from diagnose.fix_glass import Figures, glass_moved
from diagnose.fix_swaps import FittedSwap, fitted

COARSE, FINE = 1.0, 0.5
"""Steps of the search. [parts]."""

NEW_MATERIAL = 0.1
"""What a material that is not yet in the recipe adds to the cost."""

GLASS_MOVED = 10.0
"""So many mol % of the glass exchanged add 1 to the cost."""

MOST_MATERIALS = 3
SLOW = ("expansion", "viscosity")
"""Numbers that take longest to work out."""
MOST_CHANGES, MOST_NEARLY = 3, 2
"""So many are proposed, of those that reach the aim or of those that do not."""
WORTH_FIRING = 0.25
"""A change that goes less than this share of the way is not offered."""
AS_NEAR = 0.1
"""Where none reaches the aim, what leaves the glass as it was still goes first if it falls short
by no more than this share of the way beyond the nearest."""


@dataclass(frozen=True)
class Found:
    """One change: the swaps with their parts, what moves, and the figures after it.

    ``glass`` is how much of the glass is exchanged. [mol %].
    """

    swaps: tuple[FittedSwap, ...]
    amounts: tuple[float, ...]
    moves: dict[str, float]
    after: Figures
    shortfall: float
    cost: float
    glass: float

    @property
    def keeps_glass(self) -> bool:
        """Whether the glass stays as it was, but for what an analysis can be off by."""
        return self.glass <= SAME_GLASS

    @property
    def reaches(self) -> bool:
        """Whether the aim is reached."""
        return self.shortfall == 0

    @property
    def main(self) -> FittedSwap:
        """The swap that moves most."""
        return max(zip(self.amounts, self.swaps, strict=True), key=lambda pair: pair[0])[1]

    @property
    def parts_moved(self) -> float:
        """The larger of what goes out and what comes in. [parts]."""
        return parts_moved(self.moves)


def parts_moved(moves: dict[str, float]) -> float:
    """The larger of what goes out and what comes in. [parts]."""
    gone = -sum(by for by in moves.values() if by < 0)
    return max(gone, sum(by for by in moves.values() if by > 0))


def search(before: Figures, aim: Aim, setting: str) -> list[Found]:
    """The best three distinct changes; no two of them bring in the same materials.

    What leaves the glass as it was goes first.

    Parameters
    ----------
    before : Figures
        The recipe as it is.
    aim : Aim
        What must move, and where to.
    setting : str
        ``"low_fire"``, ``"mid_range"`` or ``"unknown"``.

    Returns
    -------
    list of Found
        Those that reach the aim. When none does, the one or two that come nearest; empty when no
        small change goes a quarter of the way.
    """
    limits = bands(before, aim)
    known = families(before, aim, setting)
    best = [best_of(family, before, aim, limits) for family in known]
    best += [_best_same_glass(family, before, aim, limits) for family in known]
    ranked = sorted((each for each in best if each), key=_rank)
    ranked = [each for each in ranked if 1 - each.shortfall >= WORTH_FIRING]
    reaching = [each for each in ranked if each.reaches]
    how_many = MOST_CHANGES if reaching else MOST_NEARLY
    return _distinct(_same_glass_first(reaching or ranked), how_many)


def _same_glass_first(ranked: list[Found]) -> list[Found]:
    """The ranked changes, those that leave the glass as it was and go about as far before all."""
    near = ranked[0].shortfall + AS_NEAR if ranked else 0.0
    return sorted(ranked, key=lambda each: not (each.keeps_glass and each.shortfall <= near))


def families(before: Figures, aim: Aim, setting: str) -> list[tuple[FittedSwap, ...]]:
    """Every swap that may help, alone and in pairs that share a material."""
    single = fitted(before.recipe, aim.word, setting)
    pairs = [
        pair
        for pair in combinations(single, 2)
        if set(pair[0].moves) & set(pair[1].moves)
        and len(set(pair[0].moves) | set(pair[1].moves)) <= MOST_MATERIALS
    ]
    return [*((each,) for each in single), *pairs]


def best_of(
    family: tuple[FittedSwap, ...], before: Figures, aim: Aim, limits: Sequence[Band]
) -> Found | None:
    """The best amounts for one or two swaps, None when no amount keeps within the limits."""
    coarse = _best(_grid(len(family), COARSE), family, before, aim, limits)
    return _best(_grid(len(family), FINE), family, before, aim, limits, coarse)


def best_at(
    family: tuple[FittedSwap, ...],
    before: Figures,
    aim: Aim,
    limits: Sequence[Band],
    most_parts: float,
    step: float,
) -> Found | None:
    """The best amounts in one step and up to some other size. [parts]."""
    points = _grid(len(family), step, most_parts)
    return _best(points, family, before, aim, limits, most_parts=most_parts)


def _best_same_glass(
    family: tuple[FittedSwap, ...], before: Figures, aim: Aim, limits: Sequence[Band]
) -> Found | None:
    """The best amounts beyond those of a small change, where the glass stays as it was."""
    room = min(_same_glass_parts(each, before) for each in family)
    if room <= MOST_PARTS:
        return None
    found = best_at(family, before, aim, limits, room, FINE)
    return found if found and found.keeps_glass else None


def _same_glass_parts(one: FittedSwap, before: Figures) -> float:
    """How many parts of a swap leave the glass as it was. [parts]."""
    after = before.recipe.moved(one.moves)
    a_part = glass_moved(before.moles, Figures(after, None, before.counts_boron).moles)
    return min(SAME_GLASS_PARTS, SAME_GLASS * parts_moved(one.moves) / max(a_part, HAIR))


def _grid(
    dimensions: int, step: float, most_parts: float = MOST_PARTS
) -> Iterator[tuple[float, ...]]:
    counts = range(1, int(most_parts / step) + 1)
    for steps in product(counts, repeat=dimensions):
        yield tuple(step * number for number in steps)


def _best(
    points: Iterable[tuple[float, ...]],
    family: tuple[FittedSwap, ...],
    before: Figures,
    aim: Aim,
    limits: Sequence[Band],
    best: Found | None = None,
    most_parts: float = MOST_PARTS,
) -> Found | None:
    """The best of the points and of the one known already.

    What cannot win is left out before the slow numbers, expansion and melt, are asked for.
    """
    room = LARGE_FLUX_ROOM if most_parts > MOST_PARTS else 0.0
    others = [band for band in limits if band.quantity != aim.quantity]
    quick = [band for band in others if band.quantity not in SLOW]
    for amounts in points:
        moves = _moves(family, amounts)
        if not _can_be_made(moves, before, most_parts) or _is_dearer(_work(moves, before), best):
            continue
        after = Figures(before.recipe.moved(moves), before.temperature_c, before.counts_boron)
        if not _keeps(before, after, quick, room):
            continue
        if _is_dearer(_cost(moves, after, before, quick, len(others)), best):
            continue
        shortfall = aim.shortfall(getattr(after, aim.quantity))
        if best and round(shortfall, 9) > round(best.shortfall, 9):
            continue
        if not _keeps(before, after, limits, room):
            continue
        cost = _cost(moves, after, before, others, len(others))
        glass = glass_moved(before.moles, after.moles)
        found = Found(family, amounts, moves, after, shortfall, cost, glass)
        best = found if best is None else min(best, found, key=_rank)
    return best


def _is_dearer(least_cost: float, best: Found | None) -> bool:
    """Whether a change costs more than the best, whatever the rest of its cost may be."""
    return best is not None and best.reaches and least_cost > best.cost


def _can_be_made(moves: dict[str, float], before: Figures, most_parts: float) -> bool:
    """Whether the parts are there to be taken, and no more of them than may move."""
    if not moves or parts_moved(moves) > most_parts + HAIR:
        return False
    return all(before.recipe.parts.get(name, 0.0) + by >= -HAIR for name, by in moves.items())


def _keeps(before: Figures, after: Figures, limits: Sequence[Band], room: float) -> bool:
    in_bands = all(band.holds(after) for band in limits)
    return in_bands and keeps_new_fluxes(before.unity, after.unity, room)


def _moves(family: tuple[FittedSwap, ...], amounts: tuple[float, ...]) -> dict[str, float]:
    moves: dict[str, float] = {}
    for each, amount in zip(family, amounts, strict=True):
        for name, weight in each.moves.items():
            moves[name] = round(moves.get(name, 0.0) + weight * amount, 6)
    return {name: by for name, by in moves.items() if abs(by) > HAIR}


def _cost(moves, after: Figures, before: Figures, known: Sequence[Band], count: int) -> float:
    """The cost with all ``count`` bands; at least so much where fewer of them are known."""
    strain = sum(band.strain(after) for band in known) / count
    glass = glass_moved(before.moles, after.moles) / GLASS_MOVED
    return _work(moves, before) + glass + strain


def _work(moves: dict[str, float], before: Figures) -> float:
    """What a change costs the potter: parts moved and materials to buy."""
    new = sum(name not in before.recipe.parts for name in moves)
    return parts_moved(moves) / MOST_PARTS + NEW_MATERIAL * new


def _rank(found: Found) -> tuple:
    """Nearest to the aim first, then the least cost; amounts make the order certain."""
    return (round(found.shortfall, 9), round(found.cost, 9), found.amounts)


def _distinct(ranked: list[Found], how_many: int) -> list[Found]:
    """The first of each kind: no two that bring in the same materials."""
    kept: dict[frozenset, Found] = {}
    for each in ranked:
        brought = frozenset(name for name, by in each.moves.items() if by > 0)
        kept.setdefault(brought, each)
    found: list[Found] = []
    for each in kept.values():
        if all(each.main.swap.name != other.main.swap.name for other in found):
            found.append(each)
    return found[:how_many]

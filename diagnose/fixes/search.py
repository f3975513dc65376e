"""The search for small recipe changes: every half part.

A change is one swap of ``swaps.toml``, or two that share a material, so that three materials move
at most (one swap alone may move what it needs). It must reach the aim, stay within the bands, and
move no more than `MOST_PARTS`; `SAME_GLASS_PARTS` where the glass stays as it was, such as raw clay
changed for calcined. Such a change goes first. Of all others that do, the one of least cost is
taken::

    cost = parts moved / 15 + mol % of the glass moved / 10
           + mean of (shift / room)^2 over the bands + 0.1 for each new material

The second term is there because the error of a predicted difference grows with it.

The search is plain enumeration (`diagnose.fixes.many` does the sums): the same recipe always gives
the same answer.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from diagnose.fixes.bounds import (
    HAIR,
    LARGE_FLUX_ROOM,
    MOST_PARTS,
    SAME_GLASS,
    SAME_GLASS_PARTS,
    Aim,
    Band,
    bands,
)
from diagnose.fixes.glass import Figures, glass_moved
from diagnose.fixes.many import Search, leaders
from diagnose.fixes.swaps import FittedSwap, fitted

FINE = 0.5
"""Step of the search. [parts]."""

NEW_MATERIAL = 0.1
"""What a material that is not yet in the recipe adds to the cost."""

GLASS_MOVED = 10.0
"""So many mol % of the glass exchanged add 1 to the cost."""

MOST_MATERIALS = 3
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
    return best_at(family, before, aim, limits, MOST_PARTS, FINE)


def best_at(
    family: tuple[FittedSwap, ...],
    before: Figures,
    aim: Aim,
    limits: Sequence[Band],
    most_parts: float,
    step: float,
) -> Found | None:
    """The best amounts in one step and up to some other size. [parts]."""
    room = LARGE_FLUX_ROOM if most_parts > MOST_PARTS else 0.0
    looked_for = Search(before, aim, limits, most_parts, room)
    points = _grid(len(family), step, most_parts)
    best = leaders(points, family, looked_for, (MOST_PARTS, NEW_MATERIAL, GLASS_MOVED))
    found = [_found(amounts, family, looked_for) for amounts in best]
    return min(found, key=_rank, default=None)


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


def _grid(dimensions: int, step: float, most_parts: float) -> Iterator[tuple[float, ...]]:
    counts = range(1, int(most_parts / step) + 1)
    for steps in product(counts, repeat=dimensions):
        yield tuple(step * number for number in steps)


def _found(amounts: tuple[float, ...], family: tuple[FittedSwap, ...], looked_for: Search) -> Found:
    before, aim = looked_for.before, looked_for.aim
    moves = _moves(family, amounts)
    after = Figures(before.recipe.moved(moves), before.temperature_c, before.counts_boron)
    shortfall = aim.shortfall(getattr(after, aim.quantity))
    glass = glass_moved(before.moles, after.moles)
    others = looked_for.others
    strain = sum(band.strain(after) for band in others) / len(others)
    cost = _work(moves, before) + glass / GLASS_MOVED + strain
    return Found(family, amounts, moves, after, shortfall, cost, glass)


def _moves(family: tuple[FittedSwap, ...], amounts: tuple[float, ...]) -> dict[str, float]:
    moves: dict[str, float] = {}
    for each, amount in zip(family, amounts, strict=True):
        for name, weight in each.moves.items():
            moves[name] = round(moves.get(name, 0.0) + weight * amount, 6)
    return {name: by for name, by in moves.items() if abs(by) > HAIR}


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

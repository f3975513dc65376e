"""The search for small recipe changes: whole parts first, then half parts around the best.

A change is one swap of ``swaps.toml``, or two that share a material, so that three materials move
at most (one swap alone may move what it needs). It must reach the aim, stay within the bands, and
move no more than `MOST_PARTS`. Of all that do, the one of least cost is taken::

    cost = parts moved / 15 + mol % of the glass moved / 10
           + mean of (shift / room)^2 over the bands + 0.1 for each new material

The second term is there because the error of a predicted difference grows with it.

The search is plain enumeration, so the same recipe always gives the same answer.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from diagnose.fix_bounds import HAIR, MOST_PARTS, Aim, Band, bands, keeps_new_fluxes
from diagnose.fix_glass import Figures
from diagnose.fix_swaps import FittedSwap, fitted

COARSE, FINE = 1.0, 0.5
"""Steps of the search. [parts]."""

NEW_MATERIAL = 0.1
"""What a material that is not yet in the recipe adds to the cost."""

GLASS_MOVED = 10.0
"""So many mol % of the glass exchanged add 1 to the cost."""

MOST_MATERIALS = 3
WORTH_FIRING = 0.25
"""A change that goes less than this share of the way is not offered."""


@dataclass(frozen=True)
class Found:
    """One change: the swaps with their parts, what moves, and the figures after it."""

    swaps: tuple[FittedSwap, ...]
    amounts: tuple[float, ...]
    moves: dict[str, float]
    after: Figures
    shortfall: float
    cost: float

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


def search(before: Figures, aim: Aim, setting: str, how_many: int = 3) -> list[Found]:
    """The best distinct changes, those that reach the aim first.

    Parameters
    ----------
    before : Figures
        The recipe as it is.
    aim : Aim
        What must move, and where to.
    setting : str
        ``"low_fire"``, ``"mid_range"`` or ``"unknown"``.
    how_many : int
        No two of them bring in the same materials.

    Returns
    -------
    list of Found
        Empty when no small change goes a quarter of the way. When none reaches the aim, the one
        or two that come nearest.
    """
    limits = bands(before, aim)
    best = [best_of(family, before, aim, limits) for family in families(before, aim, setting)]
    ranked = sorted((each for each in best if each), key=_rank)
    ranked = [each for each in ranked if 1 - each.shortfall >= WORTH_FIRING]
    reaching = [each for each in ranked if each.reaches]
    return _distinct(reaching, how_many) if reaching else _distinct(ranked, min(2, how_many))


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
    if coarse is None:
        return _best(_grid(len(family), FINE), family, before, aim, limits)
    near = [coarse.amounts]
    best = coarse
    while near:
        steps = list(_around(near.pop()))
        finer = _best(steps, family, before, aim, limits)
        if finer and _rank(finer) < _rank(best):
            best = finer
            near.append(best.amounts)
    return best


def _grid(dimensions: int, step: float) -> Iterator[tuple[float, ...]]:
    count = int(MOST_PARTS / step)
    if dimensions == 1:
        yield from ((step * number,) for number in range(1, count + 1))
        return
    for first in range(1, count):
        yield from ((step * first, step * second) for second in range(1, count - first + 1))


def _around(amounts: tuple[float, ...]) -> Iterator[tuple[float, ...]]:
    """The half steps around a point, two each way, so that a narrow valley is not lost."""
    offsets = [FINE * number for number in range(-2, 3)]
    first, *rest = amounts
    for by in offsets:
        if not rest:
            yield (first + by,)
            continue
        yield from ((first + by, rest[0] + other) for other in offsets)


def _best(points, family, before: Figures, aim: Aim, limits: Sequence[Band]) -> Found | None:
    tried = (_try(family, amounts, before, aim, limits) for amounts in points)
    return min((each for each in tried if each), key=_rank, default=None)


def _try(
    family: tuple[FittedSwap, ...],
    amounts: tuple[float, ...],
    before: Figures,
    aim: Aim,
    limits: Sequence[Band],
) -> Found | None:
    """One set of amounts, None when it cannot be made or leaves a band."""
    if min(amounts) < FINE:
        return None
    moves = _moves(family, amounts)
    if not moves or parts_moved(moves) > MOST_PARTS + HAIR:
        return None
    if any(before.recipe.parts.get(name, 0.0) + by < -HAIR for name, by in moves.items()):
        return None
    after = Figures(before.recipe.moved(moves), before.temperature_c, before.counts_boron)
    if not keeps_new_fluxes(before.unity, after.unity):
        return None
    if not all(band.holds(after) for band in limits):
        return None
    shortfall = aim.shortfall(getattr(after, aim.quantity))
    return Found(family, amounts, moves, after, shortfall, _cost(moves, after, before, aim, limits))


def _moves(family: tuple[FittedSwap, ...], amounts: tuple[float, ...]) -> dict[str, float]:
    moves: dict[str, float] = {}
    for each, amount in zip(family, amounts, strict=True):
        for name, weight in each.moves.items():
            moves[name] = round(moves.get(name, 0.0) + weight * amount, 6)
    return {name: by for name, by in moves.items() if abs(by) > HAIR}


def _cost(moves, after: Figures, before: Figures, aim: Aim, limits: Sequence[Band]) -> float:
    others = [band.strain(after) for band in limits if band.quantity != aim.quantity]
    new = sum(name not in before.recipe.parts for name in moves)
    work = parts_moved(moves) / MOST_PARTS + NEW_MATERIAL * new
    return work + glass_moved(before.moles, after.moles) / GLASS_MOVED + sum(others) / len(others)


def glass_moved(before: Mapping[str, float], after: Mapping[str, float]) -> float:
    """Half the sum of all changes of the composition. [mol %].

    Examples
    --------
    >>> glass_moved({"SiO2": 3, "CaO": 1}, {"SiO2": 6, "CaO": 2, "MgO": 2})
    20.0
    """
    sums = sum(before.values()), sum(after.values())
    shares = (
        abs(before.get(each, 0.0) / sums[0] - after.get(each, 0.0) / sums[1])
        for each in {**before, **after}
    )
    return round(50 * sum(shares), 9)


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

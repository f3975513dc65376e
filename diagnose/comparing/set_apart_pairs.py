"""Two facts together that set failing areas apart from sound ones better than either alone.

Of each question asked first its most uneven cut is taken on the side that fails more, and every
two of these are tried together. How often luck alone would find a pair as uneven is told by dealing
the failures out anew, with cuts and pairs chosen anew each time; where one fact is clear already,
within its two sides.
"""

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from diagnose.comparing.comparison_words import HINT, all_others, by_luck
from diagnose.comparing.counted import Counted, Fact, facts_of, failed_and_all
from diagnose.comparing.exact_test import fails_more, two_groups
from diagnose.own_tiles.layer import PAIR, TOGETHER
from diagnose.wording import DID

if TYPE_CHECKING:
    from diagnose.comparing.set_apart import Difference

DEALS, SEED = 1999, 20
BETTER = 4.0
"""A pair is told where chance parts either of its facts so many times as often (estimate)."""


@dataclass(frozen=True)
class Side:
    """One side of a cut as bits: the areas on it, and those of which the fact is known.

    ``holds`` says whether a value lies on it, ``is_more`` of a number whether the greater ones do.
    """

    name: str
    said: str
    here: int
    known: int
    holds: Callable[[float | str], bool]
    is_more: bool | None = None

    def has(self, values: Mapping[str, float | str]) -> bool:
        """Whether an area with these measures lies on it."""
        return self.name in values and self.holds(values[self.name])


@dataclass(frozen=True)
class Pair:
    """Two facts together that tell more than either.

    ``here`` is how many tiles failed with both, and of how many, ``there`` without; on ``blank``
    either is not recorded. ``chance`` is how often luck alone would find a pair as uneven, ``luck``
    says so.
    """

    sides: tuple[Side, Side]
    did: str
    here: tuple[int, int]
    there: tuple[int, int]
    blank: int
    chance: float
    luck: str

    @property
    def counts(self) -> str:
        """Both counts in words, without what they are of."""
        failed, many = self.here
        return f"{failed} of {many} {self.did}; {all_others(self.there, self.blank)}"

    @property
    def say(self) -> str:
        """The two facts, the counts, and what luck would do."""
        both = " and ".join(side.said for side in self.sides)
        return f"{both}: {self.counts} ({self.luck})."


@dataclass(frozen=True)
class _Best:
    """The most uneven pair: its sides, the areas with both and without, and the chance."""

    sides: tuple[Side, Side]
    here: int
    there: int
    p_value: float


@dataclass(frozen=True)
class _Better:
    """A pair that parts areas better than either fact, with the areas, and the cuts looked at."""

    best: _Best
    areas: list[Counted]
    cuts: dict[str, list]
    failed: int


def together(
    areas: Sequence[Counted],
    names: Sequence[str],
    defect: str,
    clear: "Difference | None" = None,
) -> Pair | None:
    """What two facts together tell; None where no pair is clearly better.

    Parameters
    ----------
    areas : sequence of Counted
        Failing and sound ones.
    names : sequence of str
        The facts to take two of; not those that tell of two layers by themselves.
    defect : str
        One word of the defect list.
    clear : Difference, optional
        The single fact that is clear beyond chance.
    """
    found = _better_pair(areas, names)
    if found is None:
        return None
    facts = facts_of(list(areas), clear.name.__eq__) if clear else {}
    areas, cuts, failed, best = found.areas, found.cuts, found.failed, found.best
    strata = _strata(areas, facts, clear)
    chance = _chance(cuts, failed, strata, best.p_value)
    if chance >= HINT:
        return None
    many = len(cuts) * (len(cuts) - 1) // 2
    counts = [_tiles(areas, side) for side in (best.here, best.there)]
    told = {each.record.mark for at, each in enumerate(areas) if (best.here | best.there) >> at & 1}
    blank = len({each.record.mark for each in areas} - told)
    beyond = "beyond what the first difference tells" if clear else ""
    pairs = f"all {many} pairs taken together" if many > 1 else ""
    luck = by_luck(chance, ", ".join(filter(None, (beyond, pairs))))
    did = f"tiles {DID.get(defect, 'failed')}"
    return Pair(best.sides, did, *counts, blank, chance, luck)


def sides_to_tell(areas: Sequence[Counted], names: Sequence[str]) -> tuple[Side, ...]:
    """Both sides of the pair that `together` would tell, if luck would not do as well; else none.

    It takes a small part of the time: nothing is dealt out.
    """
    found = _better_pair(areas, names)
    return found.best.sides if found else ()


def together_surely(
    areas: Sequence[Counted],
    with_early: Sequence[Counted],
    names: Sequence[str],
    defect: str,
    clear: "Difference | None" = None,
) -> Pair | None:
    """The same, where those two facts tell as much with the early looks counted in.

    Their side that fails more must be the same as well; the greater chance is told.
    ``with_early`` are the areas and the sound ones that were looked at too early to tell, if any.
    """
    pair = together(areas, names, defect, clear)
    if pair is None or not with_early:
        return pair
    also = together(with_early, names, defect, clear)
    if also is None or _facts(also) != _facts(pair):
        return None
    return replace(pair, chance=also.chance, luck=also.luck) if also.chance > pair.chance else pair


def _facts(pair: Pair) -> set[tuple]:
    """Which facts, and which side of them; of a number only whether the greater ones."""
    return {(side.name, side.said if side.is_more is None else side.is_more) for side in pair.sides}


def _tiles(areas: Sequence[Counted], side: int) -> tuple[int, int]:
    """How many tiles with an area on a side failed there, and of how many."""
    return failed_and_all(each for at, each in enumerate(areas) if side >> at & 1)


def _once(areas: Sequence[Counted], facts: Sequence[Sequence[Fact]]) -> list[Counted]:
    """Areas of one tile that are alike in all facts count once: they do not tell of two firings."""
    found: dict[tuple, Counted] = {}
    for each in areas:
        sides = tuple(cut.holds(each) for cuts in facts for cut in cuts)
        known = found.setdefault((each.record.mark, sides), each)
        if each.failed and not known.failed:
            found[each.record.mark, sides] = each
    return list(found.values())


def _sides(name: str, cuts: Sequence[Fact], areas: Sequence[Counted]) -> list[tuple[Side, Side]]:
    """Both sides of each cut of a fact."""
    found = []
    for cut in cuts:
        sides = [cut.holds(each) for each in areas]
        known = _bits(side is not None for side in sides)
        here = _bits(side is True for side in sides)
        if here and here != known:
            found.append(sides_of(name, cut, here, known))
    return found


def sides_of(name: str, cut: Fact, here: int = 0, known: int = 0) -> tuple[Side, Side]:
    """The side of a cut on which its fact holds, and the other."""
    more, less = (True, False) if cut.is_number else (None, None)
    return (
        Side(name, cut.in_full, here, known, cut.has, more),
        Side(name, cut.otherwise_in_full, known & ~here, known, lambda v: not cut.has(v), less),
    )


def worse_side(
    clear: "Difference", areas: Sequence[Counted]
) -> tuple[Side, tuple[int, int], tuple[int, int]] | None:
    """The side of a clear difference that fails more, and the counts of it and of the other side.

    The counts are failed and all. None where these areas have no such cut of its fact.
    """
    cut = clear.cut_among(facts_of(list(areas), clear.name.__eq__))
    if cut is None:
        return None
    with_it, without = sides_of(clear.name, cut)
    if fails_more(clear.with_, clear.without):
        return with_it, clear.with_, clear.without
    return without, clear.without, clear.with_


def _bits(flags) -> int:
    return sum(1 << at for at, flag in enumerate(flags) if flag)


def _better_pair(areas: Sequence[Counted], names: Sequence[str]) -> _Better | None:
    """The most uneven pair, where chance parts either of its facts far more often."""
    names = [name for name in names if name not in (TOGETHER, PAIR)]
    facts = facts_of(list(areas), {*names}.__contains__)
    areas = _once(areas, [facts[name] for name in names if name in facts])
    cuts = {name: found for name in names if (found := _sides(name, facts.get(name, ()), areas))}
    failed = _bits(each.failed for each in areas)
    best = _best_pair(cuts, failed)
    if best is None or best.p_value * BETTER > _p_of_either(best, failed):
        return None
    return _Better(best, areas, cuts, failed)


def _best_pair(cuts: dict[str, list], failed: int) -> _Best | None:
    chosen = [_most_uneven(sides, failed) for sides in cuts.values()]
    best = None
    for one, other in combinations(chosen, 2):
        here, known = one.here & other.here, one.known & other.known
        with_, without = _count(here, failed), _count(known & ~here, failed)
        if not with_[1] or not without[1]:
            continue
        p_value = two_groups([[with_, without]])
        if fails_more(with_, without) and (best is None or p_value < best.p_value):
            best = _Best((one, other), here, known & ~here, p_value)
    return best


def _p_of_either(best: _Best, failed: int) -> float:
    """The smaller chance of its two facts, each by itself, on the same areas: both are known."""
    known = best.sides[0].known & best.sides[1].known
    return min(
        two_groups([[_count(each.here & known, failed), _count(known & ~each.here, failed)]])
        for each in best.sides
    )


def _most_uneven(sides: list[tuple[Side, Side]], failed: int) -> Side:
    """The side that fails more of the cut that parts them most, one with a name if there is one."""
    found = []
    for yes, no in sides:
        with_, without = _count(yes.here, failed), _count(no.here, failed)
        is_worse = not fails_more(without, with_)
        found.append((two_groups([[with_, without]]), not is_worse, yes if is_worse else no))
    return min(found, key=lambda each: each[:2])[2]


def _count(here: int, failed: int) -> tuple[int, int]:
    return (here & failed).bit_count(), here.bit_count()


def _strata(areas: Sequence[Counted], facts: dict, clear: "Difference | None") -> list[list[int]]:
    """The places of the areas on each side of what is clear already; else all in one."""
    cut = clear.cut_among(facts) if clear else None
    found: dict[bool | None, list[int]] = {}
    for at, each in enumerate(areas):
        found.setdefault(cut.holds(each) if cut else None, []).append(at)
    return list(found.values())


def _chance(cuts: dict[str, list], failed: int, strata: list[list[int]], seen: float) -> float:
    """Share of the deals (and this one) whose best pair is as uneven."""
    rng = random.Random(SEED)
    many = [sum(failed >> at & 1 for at in places) for places in strata]
    as_uneven = 1
    for _ in range(DEALS):
        dealt = sum(
            1 << at
            for places, fails in zip(strata, many, strict=True)
            for at in rng.sample(places, fails)
        )
        best = _best_pair(cuts, dealt)
        as_uneven += best is not None and best.p_value <= seen * (1 + 1e-9)
        if as_uneven >= HINT * (DEALS + 1):  # nothing will be told
            return HINT
    return as_uneven / (DEALS + 1)

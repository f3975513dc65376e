"""Exact tests of whether a defect goes with a difference, within sets of tiles alike otherwise.

Within each set the number of failed tiles is held fixed and dealt out to the groups at random:
nothing is assumed of how often tiles fail. One set and two groups make Fisher's exact test.
"""

from array import array
from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate, groupby
from math import comb
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

Stratum = Sequence[tuple[int, int]]
"""Failed and all tiles of each group, in one set of tiles that are alike otherwise."""

PERMUTATIONS, SEED = 9999, 20
ROUNDING = 1 + 1e-9
"""Deals as uneven but for the rounding of floats are the same."""
TINY = 10**9
"""What chance gives less often than once in so many times need not be known better."""


def two_groups(strata: Sequence[Stratum]) -> float:
    """How often chance alone would part two groups at least as unevenly, over all sets.

    Parameters
    ----------
    strata : sequence of Stratum
        Two groups in each.

    Returns
    -------
    float
        Exact conditional probability: the sum over all outcomes no likelier than this one.

    Examples
    --------
    Fisher's tea, 3 of 4 cups told right:

    >>> round(two_groups([[(3, 4), (1, 4)]]), 4)
    0.4857

    Source
    ------
    R. A. Fisher, The Design of Experiments (1935), chapter 2 (from memory); checked against
    scipy.stats.fisher_exact in the tests.
    """
    if len(strata) == 1:
        ((failed, size), (other_failed, other_size)) = strata[0]
        total = failed + other_failed
        return _chances(size, size + other_size, total)[failed - max(0, total - other_size)]
    ways = _ways(strata)
    seen = sum(first[0] for first, _ in strata)
    return _no_likelier(ways, ways[seen])


@lru_cache(maxsize=8192)
def _chances(many: int, size: int, failed: int) -> array:
    """The chance of each number of failed tiles among ``many``, from the least possible on.

    Who deals the failed tiles out anew asks for the same ones again and again.
    """
    tails, every = _tails(many, size, failed), comb(size, failed)
    return array("d", (tails[own] / every for own in sorted(tails)))


def least_possible(strata: Sequence[Stratum]) -> float:
    """The smallest chance that tiles of these numbers could have shown, whatever came out."""
    ways = _ways(strata)
    return _no_likelier(ways, min(ways.values()))


def _no_likelier(ways: dict[int, int], than: int) -> float:
    """Share of the outcomes that can come about in no more ways; whole numbers of any length."""
    return sum(each for each in ways.values() if each <= than) / sum(ways.values())


def _ways(strata: Sequence[Stratum]) -> dict[int, int]:
    """Ways to deal out the failed tiles, by how many fall to the first groups."""
    ways = {0: 1}
    for (failed, size), (other_failed, other_size) in strata:
        own = _ways_of_one(size, size + other_size, failed + other_failed)
        summed: dict[int, int] = {}
        for before, many in ways.items():
            for more, some in own.items():
                summed[before + more] = summed.get(before + more, 0) + many * some
        ways = summed
    return ways


def _ways_of_one(many: int, size: int, failed: int) -> dict[int, int]:
    """The same for ``many`` of ``size`` tiles; each from the last, as `comb` of many is slow."""
    others = size - many
    low, high = max(0, failed - others), min(many, failed)
    each = comb(many, low) * comb(others, failed - low)
    ways = {}
    for own in range(low, high + 1):
        ways[own] = each
        each = each * (many - own) * (failed - own) // ((own + 1) * (others - failed + own + 1))
    return ways


def best_cut(values: Stratum, *, is_ordered: bool) -> tuple[float, float]:
    """How often chance alone would cut tiles in two somewhere at least as unevenly.

    Every cut is looked at and the most uneven taken, which is allowed for exactly: the failed
    tiles are dealt out in all ways, and those counted in which no cut is so uneven.

    Parameters
    ----------
    values : Stratum
        Failed and all tiles of each value.
    is_ordered : bool
        The values rise, and are cut between two of them; else each is cut off from all others.

    Returns
    -------
    tuple
        The chance, and the smallest that tiles of these numbers could have shown; of one that is
        smaller than any that is ever asked for, what it is smaller than (`TINY`).

    Examples
    --------
    Two values make one cut, and Fisher's exact test:

    >>> [round(each, 4) for each in best_cut([(3, 4), (1, 4)], is_ordered=True)]
    [0.4857, 0.0286]
    """
    failed, size = (sum(each) for each in zip(*values, strict=True))
    cut_off = list(accumulate(values, _together)) if is_ordered else values
    tails = [_tails(many, size, failed) for _, many in cut_off]
    seen = min(tail[own] for tail, (own, _) in zip(tails, cut_off, strict=True))
    least = min(min(tail.values()) for tail in tails)
    every = comb(size, failed)
    asked = [seen, least]
    if len(tails) * least * TINY < every:  # so seldom at any cut, and so no oftener at the best
        asked.pop()
    above = (_ways_above(each, values, tails, is_ordered=is_ordered) for each in asked)
    found = [(every - ways) / every for ways in above]
    return found[0], found[1] if len(found) > 1 else 1 / TINY


def _together(before: tuple[int, int], more: tuple[int, int]) -> tuple[int, int]:
    return before[0] + more[0], before[1] + more[1]


def _tails(many: int, size: int, failed: int) -> dict[int, int]:
    """For each number of failed tiles among ``many``: the ways of all numbers no likelier."""
    ways = _ways_of_one(many, size, failed)
    tails, summed = {}, 0
    for own, like in groupby(sorted(ways, key=ways.__getitem__), key=ways.__getitem__):
        like = list(like)
        summed += own * len(like)
        tails |= dict.fromkeys(like, summed)
    return tails


def _ways_above(
    limit: int, values: Stratum, tails: Sequence[dict[int, int]], *, is_ordered: bool
) -> int:
    """Ways to deal out the failed tiles in which the tail of every cut is above the limit."""
    failed = sum(failed for failed, _ in values)
    start, ways = 0, [1]  # the ways of dealing out ``start`` failed tiles so far, and of each more
    for (_, size), tail in zip(values, tails, strict=True):
        above = [number for number, each in tail.items() if each > limit]
        if not above:
            return 0
        low, high = min(above), max(above)
        own_ways = _choices(size)
        if is_ordered:
            least, most = max(start, low), high
        else:
            own_ways = own_ways[low : high + 1]
            start += low
            least, most = start, failed
        ways = _joined(ways, own_ways, least - start, most - start)
        start = least
    return ways[failed - start] if 0 <= failed - start < len(ways) else 0


def _joined(ways: list[int], own_ways: list[int], least: int, most: int) -> list[int]:
    """The ways of each sum from the least to the most, of two numbers dealt out in so many ways."""
    most = min(most, len(ways) + len(own_ways) - 2)
    found = [0] * max(0, most - least + 1)
    for at, own in enumerate(own_ways):
        first, end = max(at, least), min(at + len(ways), most + 1)
        if first < end:
            told, more = found[first - least : end - least], ways[first - at : end - at]
            found[first - least : end - least] = [
                so_far + each * own for so_far, each in zip(told, more, strict=True)
            ]
    return found


def _choices(size: int) -> list[int]:
    """``comb(size, n)`` for every n, each from the last."""
    found = [1]
    for many in range(size):
        found.append(found[-1] * (size - many) // (many + 1))
    return found


def many_groups(strata: Sequence[Stratum], *, is_ordered: bool) -> float:
    """The same for three or more groups, by dealing the failed tiles out again and again.

    Parameters
    ----------
    strata : sequence of Stratum
        The same groups, in the same order, in each; a group may be empty in a set.
    is_ordered : bool
        The groups rise from first to last (1, 2, 3 coats), so that a trend is looked for; else
        any unevenness counts.

    Returns
    -------
    float
        Share of the 9999 deals (and this one) at least as uneven. The deals are always the same.
    """
    import numpy as np

    more, sizes = _dealt_anew(strata)
    if is_ordered:
        uneven = np.abs(more @ np.arange(more.shape[1]))
    else:
        uneven = _unevenness(more, sizes)
    return float(_chance_of_each(uneven)[0])


def many_times(strata: Sequence[Stratum]) -> float:
    """The same for three or more groups that follow each other in time.

    Looked at are how uneven all groups are and how uneven the best cut into before and after is;
    the less likely of the two counts, and that two were looked at is allowed for by looking at
    both in every deal as well.
    """
    import numpy as np

    more, sizes = _dealt_anew(strata)
    strata = [(sum(failed for failed, _ in table), [size for _, size in table]) for table in strata]
    variance = np.sum(
        [[chance_variance(failed, sum(own), before) for before in accumulate(own)]
         for failed, own in strata], axis=0
    )  # fmt: skip
    cut = (np.cumsum(more, axis=1) ** 2 / np.maximum(variance, 1e-9))[:, :-1].max(axis=1)
    chances = [_chance_of_each(each) for each in (cut, _unevenness(more, sizes))]
    return float(_chance_of_each(1 - np.minimum(*chances))[0])


def fails_more(here: tuple[int, int], there: tuple[int, int]) -> bool:
    """Whether a larger part failed of some tiles than of others; failed and all of each.

    Examples
    --------
    >>> fails_more((2, 4), (3, 9)), fails_more((1, 2), (2, 4)), fails_more((1, 2), (0, 0))
    (True, False, False)
    """
    return here[0] * there[1] > there[0] * here[1]


def surplus(strata: Sequence[Stratum]) -> list[float]:
    """By how many more tiles each group failed, over all sets, than the sets' shares would make."""
    found = [0.0] * len(strata[0])
    for table in strata:
        share = sum(failed for failed, _ in table) / sum(size for _, size in table)
        for at, (failed, size) in enumerate(table):
            found[at] += failed - share * size
    return found


def chance_variance(failed: int, size: int, many: int) -> float:
    """The variance of how many of ``failed`` tiles fall to ``many`` of ``size``, dealt at random.

    Examples
    --------
    >>> chance_variance(2, 4, 2)
    0.3333333333333333
    """
    if size < 2:
        return 0.0
    return failed * (size - failed) * many * (size - many) / (size**2 * (size - 1))


def _dealt_anew(strata: Sequence[Stratum]) -> tuple["np.ndarray", "np.ndarray"]:
    """The surplus of each group as it was (first line) and in each deal; and its tiles."""
    import numpy as np

    rng = np.random.default_rng(SEED)
    table = np.array(strata, dtype=int)
    sizes = table[:, :, 1]
    expected = sizes * (table[:, :, 0].sum(axis=1) / sizes.sum(axis=1))[:, None]
    dealt = np.zeros((PERMUTATIONS, table.shape[1]))
    for failed, all_ in zip(table[:, :, 0], sizes, strict=True):
        dealt += rng.multivariate_hypergeometric(all_, failed.sum(), size=PERMUTATIONS)
    more = np.vstack([table[:, :, 0].sum(axis=0), dealt]) - expected.sum(axis=0)
    return more, sizes.sum(axis=0)


def _unevenness(more: "np.ndarray", sizes: "np.ndarray") -> "np.ndarray":
    import numpy as np

    return (more**2 / np.maximum(sizes, 1)).sum(axis=1)


def _chance_of_each(uneven: "np.ndarray") -> "np.ndarray":
    """For each deal the share of all that are at least as uneven."""
    import numpy as np

    ordered = np.sort(uneven)
    return 1 - np.searchsorted(ordered, uneven / ROUNDING - 1e-12) / len(uneven)

"""The exact tests against scipy and a published table."""

from itertools import combinations

import pytest
from scipy.stats import contingency, fisher_exact, hypergeom

from diagnose.comparing.exact_test import (
    best_cut,
    least_possible,
    many_groups,
    many_times,
    two_groups,
)

FISHER = "R. A. Fisher, The Design of Experiments (1935), chapter 2 (from memory)"
TABLES = [
    ((3, 9), (7, 8)),
    ((0, 6), (5, 7)),
    ((1, 1), (0, 12)),
    ((4, 20), (2, 4)),
    ((8, 9), (1, 9)),
]


def test_tea_tasting_gives_fishers_own_chances():
    """Four of four cups right: 1 in 70 for that table, its mirror counted too: 2 in 70."""
    assert two_groups([[(4, 4), (0, 4)]]) == pytest.approx(2 / 70), FISHER
    assert two_groups([[(3, 4), (1, 4)]]) == pytest.approx(34 / 70), FISHER


@pytest.mark.parametrize("table", TABLES)
def test_one_set_of_two_groups_is_fishers_exact_test_as_scipy_has_it(table):
    (a, m), (b, n) = table
    assert two_groups([table]) == pytest.approx(fisher_exact([[a, m - a], [b, n - b]])[1])


def test_thousands_of_tiles_are_counted_exactly_as_scipy_has_it():
    (a, m), (b, n) = table = ((310, 1400), (240, 1300))
    assert two_groups([table]) == pytest.approx(fisher_exact([[a, m - a], [b, n - b]])[1])
    assert 0 <= least_possible([table]) < 1e-100


@pytest.mark.parametrize("table", [*TABLES, ((310, 1400), (240, 1300)), ((0, 3), (0, 2))])
def test_a_set_of_no_tiles_beside_it_changes_nothing(table):
    """One set is looked up, several are counted together."""
    assert two_groups([table]) == pytest.approx(two_groups([table, [(0, 0), (0, 0)]]), rel=1e-9)


@pytest.mark.parametrize("failed", [(4, 0), (8, 1), (3, 7)])
def test_dealing_out_two_groups_of_one_size_comes_near_the_exact_chance(failed):
    """With groups of one size both ways of counting "at least as uneven" are the same."""
    table = [(failed[0], 10), (failed[1], 10)]
    exact = fisher_exact([[n, 10 - n] for n in failed])[1]
    dealt = many_groups([[*table, (0, 0)]], is_ordered=False)
    assert dealt == pytest.approx(exact, abs=0.02)


def test_three_groups_agree_with_scipys_chi_square_on_a_large_table():
    """With 300 tiles dealing out and the chi-square approximation must agree (scipy)."""
    failed, sizes = (20, 30, 42), (100, 100, 100)
    observed = [list(failed), [n - f for n, f in zip(sizes, failed, strict=True)]]
    p_scipy = contingency.chi2_contingency(observed, correction=False).pvalue
    dealt = many_groups([list(zip(failed, sizes, strict=True))], is_ordered=False)
    assert dealt == pytest.approx(p_scipy, abs=0.004)


def test_least_possible_chance_is_that_of_the_most_uneven_table():
    assert least_possible([[(1, 3), (2, 3)]]) == pytest.approx(2 / 20)
    assert two_groups([[(3, 3), (0, 3)]]) == pytest.approx(2 / 20)


def most_uneven(counts, sizes, *, is_ordered):
    """The smallest of scipy's chances over all cuts of the values in two."""
    places = range(len(sizes))
    cuts = [range(at) for at in places if at] if is_ordered else [[at] for at in places]
    chances = []
    for cut in cuts:
        failed, many = sum(counts[at] for at in cut), sum(sizes[at] for at in cut)
        rest = sum(counts) - failed, sum(sizes) - many
        table = [[failed, many - failed], [rest[0], rest[1] - rest[0]]]
        chances.append(fisher_exact(table)[1])
    return min(chances)


@pytest.mark.parametrize("is_ordered", [True, False])
@pytest.mark.parametrize("values", [
    [(0, 3), (1, 2), (3, 4)],
    [(2, 2), (0, 3), (1, 3), (0, 2)],
    [(1, 4), (1, 4)],
    [(0, 1), (2, 5), (0, 3)],
])  # fmt: skip
def test_the_best_cut_is_as_often_by_chance_as_in_a_count_of_every_way(values, is_ordered):
    sizes = [many for _, many in values]
    value_of = [at for at, many in enumerate(sizes) for _ in range(many)]
    failed = sum(each for each, _ in values)
    found = []
    for picked in combinations(value_of, failed):
        counts = [picked.count(at) for at in range(len(sizes))]
        found.append(most_uneven(counts, sizes, is_ordered=is_ordered))
    seen = most_uneven([each for each, _ in values], sizes, is_ordered=is_ordered)
    expected = [
        sum(each <= limit * (1 + 1e-9) for each in found) / len(found)
        for limit in (seen, min(found))
    ]
    assert best_cut(values, is_ordered=is_ordered) == pytest.approx(expected)


def chance_of_the_less_likely(failed, sizes):
    """Of all deals of the failed tiles, those whose cut or unevenness is as rare as these."""
    total, whole = sum(failed), sum(sizes)
    places = [group for group, size in enumerate(sizes) for _ in range(size)]
    deals = [failed, *([dealt.count(group) for group in range(len(sizes))]
                       for dealt in combinations(places, total))]  # fmt: skip
    cuts, uneven = [], []
    for each in deals:
        more = [own - total * size / whole for own, size in zip(each, sizes, strict=True)]
        uneven.append(sum(own**2 / size for own, size in zip(more, sizes, strict=True)))
        cuts.append(max(
            sum(more[:at]) ** 2 / hypergeom(whole, total, sum(sizes[:at])).var()
            for at in range(1, len(sizes))
        ))  # fmt: skip

    def chances(values):
        every = values[1:]
        return [sum(other >= each - 1e-9 for other in every) / len(every) for each in values]

    less = [min(pair) for pair in zip(chances(cuts), chances(uneven), strict=True)]
    return sum(each <= less[0] + 1e-9 for each in less[1:]) / len(less[1:])


@pytest.mark.parametrize("failed", [(0, 0, 3, 3), (0, 3, 0, 0), (1, 2, 1, 2)])
def test_groups_in_time_agree_with_all_deals_counted_one_by_one(failed):
    sizes = (3, 3, 3, 3)
    counted = chance_of_the_less_likely(list(failed), sizes)
    dealt = many_times([list(zip(failed, sizes, strict=True))])
    assert dealt == pytest.approx(counted, abs=0.02)

"""The words for a share: one table, which agrees with the percentage that stands beside it."""

import pytest

from diagnose.comparing.comparison_words import often
from diagnose.wording import how_sure, in_ten, same_cause


@pytest.mark.parametrize(
    ("share", "sure", "odds"),
    [
        (0.02, "best guess", "less than 1 in 10"),
        (0.31, "best guess", "about 3 in 10"),
        (0.594, "best guess", "about 6 in 10"),
        (0.596, "most likely", "about 6 in 10"),
        (0.844, "most likely", "about 8 in 10"),
        (0.8496, "almost certainly", "about 9 in 10"),
        (0.8502, "almost certainly", "about 9 in 10"),
        (0.944, "almost certainly", "about 9 in 10"),
        (0.992, "almost certainly", "more than 9 in 10"),
    ],
)
def test_a_share_has_one_wording(share, sure, odds):
    assert (how_sure(share), in_ten(share)) == (sure, odds)
    assert same_cause(share) == f"{sure.capitalize()}: the same cause ({odds})."


def test_shares_told_as_the_same_percentage_have_the_same_words():
    told = {}
    for thousandths in range(1001):
        share = thousandths / 1000
        told.setdefault(f"{share:.0%}", set()).add((how_sure(share), in_ten(share)))
    assert all(len(words) == 1 for words in told.values())


def test_what_chance_does_every_time_is_not_told_as_nine_in_ten():
    assert (often(0.9), often(1.0)) == ("9 times in 10", "more than 9 times in 10")

"""Whether a load failed as a whole, or only what was in it: a glaze, a clay, a number of coats."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.comparison_words import CLEAR
from diagnose.comparing.counted import Counted, failed_and_all
from diagnose.comparing.exact_test import two_groups
from tiles.records.words import name_key

if TYPE_CHECKING:
    from diagnose.comparing.set_apart_pairs import Side

LOAD = "firing"
"""The fact by which loads are told apart."""
WHAT_WENT_IN = ("glaze", "body", "coats")
"""What may fill a load and fail wherever it is fired: the load must fail beyond each of these."""
LEAST_GLAZES = 2
"""Of a single glaze nobody can tell whether the load failed or the jar."""


def fails_as_a_whole(side: "Side", areas: Sequence[Counted]) -> bool:
    """Whether a load that stands out does so among tiles of one glaze, of one clay, of one coat.

    Parameters
    ----------
    side : Side
        The side of a cut by firing on which more failed.
    areas : sequence of Counted
        The areas that were counted.
    """
    known = [each for each in areas if LOAD in each.values]
    here = [side.has(each.values) for each in known]
    load = [each for each, is_in in zip(known, here, strict=True) if is_in]
    glazes = {each.values.get("glaze") for each in load if each.failed}
    is_one = len({name_key(str(each.values[LOAD])) for each in load}) == 1
    return (
        is_one
        and len(glazes) >= LEAST_GLAZES
        and all(_parts_alike(known, here, what) for what in WHAT_WENT_IN)
    )


def _parts_alike(known: Sequence[Counted], here: Sequence[bool], what: str) -> bool:
    """Whether the load parts tiles that are alike in what went in."""
    strata: dict[object, tuple[list[Counted], list[Counted]]] = {}
    for each, is_in in zip(known, here, strict=True):
        strata.setdefault(each.values.get(what), ([], []))[not is_in].append(each)
    tables = [
        (failed_and_all(own), failed_and_all(others))
        for own, others in strata.values()
        if own and others
    ]
    expected = sum(own[1] * (own[0] + other[0]) / (own[1] + other[1]) for own, other in tables)
    is_more = sum(own[0] for own, _ in tables) > expected
    return bool(tables) and is_more and two_groups(tables) < CLEAR

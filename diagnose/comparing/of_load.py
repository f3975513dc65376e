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
BISQUE = ("bisque firing", "bisque_cones_below_04")
"""Where a load took ware of several bisques, it must fail beyond each of these as well."""
LEAST_GLAZES = 2
"""Of a single glaze nobody can tell whether the load failed or the jar."""


def fails_as_a_whole(side: "Side", areas: Sequence[Counted]) -> bool:
    """Whether a load that stands out does so among tiles of one glaze, clay, coat and bisque.

    Of a bisque that went into no other load nobody can tell: then none may stand out within it.

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
        and all(_parts_alike(known, here, what, _is_even(load, what)) for what in BISQUE)
    )


def _parts_alike(
    known: Sequence[Counted], here: Sequence[bool], what: str, if_none: bool = False
) -> bool:
    """Whether the load parts tiles that are alike in what went in; ``if_none`` are in any other."""
    strata: dict[object, tuple[list[Counted], list[Counted]]] = {}
    for each, is_in in zip(known, here, strict=True):
        strata.setdefault(each.values.get(what), ([], []))[not is_in].append(each)
    tables = [
        (failed_and_all(own), failed_and_all(others))
        for own, others in strata.values()
        if own and others
    ]
    if not tables:
        return if_none
    expected = sum(own[1] * (own[0] + other[0]) / (own[1] + other[1]) for own, other in tables)
    is_more = sum(own[0] for own, _ in tables) > expected
    return is_more and two_groups(tables) < CLEAR


def _is_even(load: Sequence[Counted], what: str) -> bool:
    """Whether of the tiles of a load with each value none fail clearly otherwise than the rest."""
    for value in {each.values.get(what) for each in load}:
        own, rest = [], []
        for each in load:
            (own if each.values.get(what) == value else rest).append(each)
        if two_groups([[failed_and_all(own), failed_and_all(rest)]]) < CLEAR:
            return False
    return True

"""What is not recorded of a tile and would tell most of why it failed."""

from typing import TYPE_CHECKING

from diagnose import wording
from diagnose.vocabulary import effort_of, one_of_each_kind

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from diagnose.measures.of_area import Measure
    from diagnose.weighing import Weighed

MOST_MISSING = 4


def most_telling(
    rows: "Sequence[Weighed]",
    known: "Mapping[str, Measure]",
    how_many: int = 3,
    first: "Collection[str]" = (),
) -> list[str]:
    """The unrecorded measures and clues that could move the shares most, by name.

    What the piece must be broken for comes after all that can be told of it whole; ``first`` are
    those to ask before all others.
    """
    worth: dict[str, float] = {}
    for row in rows:
        for sign in row.missing:
            gain = row.share * max(sign.weight_for, sign.weight_against)
            worth[sign.measure] = worth.get(sign.measure, 0.0) + gain
    by_worth = sorted(worth, key=lambda n: (n not in first, effort_of(n), -worth[n]))
    return _to_ask(by_worth, known)[:how_many]


def missing_names(row: "Weighed", known: "Mapping[str, Measure]") -> list[str]:
    """What would settle this cause, the weightiest first, one of each kind."""
    weights = {sign.measure: max(sign.weight_for, sign.weight_against) for sign in row.missing}
    return _to_ask(sorted(weights, key=lambda name: -weights[name]), known)[:MOST_MISSING]


def _to_ask(names: list[str], known: "Mapping[str, Measure]") -> list[str]:
    """One of each kind; nobody counts the coats of a tile that was dipped once."""
    is_one_dip = wording.is_one_dip(known)
    return one_of_each_kind([n for n in names if not (n == "coats" and is_one_dip)], known)

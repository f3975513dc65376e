"""What other tiles of a glaze say of a way of glazing that looks clean."""

from collections.abc import Sequence
from dataclasses import dataclass

FEWEST_FAILED = 2
"""So many others must show the fault: one may be luck."""
MOSTLY = 1 / 2
OFTEN_OF_FIT = 1 / 3
"""A fault of fit often comes when nobody looks any more, so that fewer weigh (estimate)."""


@dataclass(frozen=True)
class Others:
    """The fault that many other tiles of a glaze on a clay show, and on how many of them."""

    defect: str
    failed: int
    tiles: int


def others_with(made, areas: Sequence) -> Others | None:
    """The fault of which the clean tiles of a line may be free by luck alone.

    Parameters
    ----------
    made : Combination
        The line: some tiles, most of them clean.
    areas : sequence of Found
        Own other areas of its uppermost glaze on its clay. Those at other cones tell of faults of
        fit alone: another heat mends most others.

    Returns
    -------
    Others or None
        The commonest; None where none came on most of the others, or they are fewer than its own.
    """
    from tiles.records.words import OF_FIT

    if 2 * len(made.clean) <= len(made.marks):
        return None
    cone, told = made.areas[0].cone_reached, []
    for defect in dict.fromkeys(name for each in areas for name in each.severity):
        is_of_fit = defect in OF_FIT
        here = [each for each in areas if is_of_fit or each.cone_reached == cone]
        tiles = {each.mark for each in here} - {*made.marks}
        failed = tiles & {each.mark for each in here if defect in each.severity}
        share = len(failed) / len(tiles) if tiles else 0
        if (
            len(failed) >= FEWEST_FAILED
            and len(tiles) > len(made.marks)
            and (share >= OFTEN_OF_FIT if is_of_fit else share > MOSTLY)
        ):
            told.append((share, Others(defect, len(failed), len(tiles))))
    return max(told, key=lambda each: each[0])[1] if told else None


@dataclass(frozen=True)
class Otherwise:
    """A way of putting on the same layers of which most tiles failed.

    ``way`` is that in which it differs: "x3", "on white clay", "x3 on white clay"; ``fault`` what
    came of it: "crawling 5 of 7"; ``area`` (a Found) is one made so.
    """

    way: str
    fault: str
    area: object


def failed_so(own, others: Sequence) -> Otherwise | None:
    """With which other coats, or on which other clays, most tiles of the same layers failed.

    Parameters
    ----------
    own : Found
        An area of the way that came out clean.
    others : sequence of Combination
        The same layers made otherwise, at the same cone.

    Returns
    -------
    Otherwise or None
        Of several the one on its clay of which most failed; None where none did.
    """
    failed = [each for each in others if each.defects and 2 * len(each.clean) <= len(each.marks)]
    worst = min(
        failed,
        key=lambda each: (each.areas[0].body != own.body, len(each.clean) - len(each.marks)),
        default=None,
    )
    if worst is None:
        return None
    return Otherwise(_way(own, worst.areas[0]), _worst(worst), worst.areas[0])


def _way(own, other) -> str:
    is_known = any(other.coats)
    coats = " + ".join(f"x{each or '?'}" for each in other.coats) if is_known else "coats unknown"
    coats = "" if other.coats == own.coats else coats
    clay = "" if other.body == own.body else f"on {other.body}"
    return " ".join(filter(None, (coats, clay)))


def _worst(made) -> str:
    defect, failed = next(iter(made.defects.items()))
    return f"{defect} {failed} of {len(made.marks)}"

"""A record of failures alone: its rates say nothing of how often pieces fail.

Who writes down only what came out badly has, of any fault, as many failing tiles as there are such
pieces among the bad ones. What sound tiles would say is missing, and nothing can be put in its
place.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from tiles.records.derived import is_clean

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

FEWEST = 10
"""Of fewer inspected tiles all may have failed by chance (estimate)."""
MOST_SOUND = 1 / 10
"""Where no larger part is clean, only failures were written down (estimate): of test tiles that
are all recorded, more come out clean in any studio."""
WHAT_TO_DO = "Write down the sound ones as well: tiles log --clean, a line each."


def failures_only(records: "Iterable[TileRecord]") -> str:
    """What is said of some tiles if hardly one that was looked at is clean, else empty."""
    clean = [
        all(is_clean(record, area) for area in record.areas)
        for record in records
        if record.inspections
    ]
    return said(len(clean), sum(clean))


def said(inspected: int, clean: int) -> str:
    """The same of counts.

    Parameters
    ----------
    inspected : int
        Tiles that were looked at.
    clean : int
        Those of them without a fault.
    """
    if inspected < FEWEST or clean > MOST_SOUND * inspected:
        return ""
    few = f"only {clean} {'is' if clean == 1 else 'are'}" if clean else "none is"
    return (
        f"Of {inspected} tiles looked at {few} clean: failures alone are on record, so "
        f"no count of them says how often pieces fail. {WHAT_TO_DO}"
    )

"""The tiles of a stretch of time against all that were fired before or after."""

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.compared import compared
from diagnose.comparing.comparison_words import CLEAR, by_luck
from diagnose.comparing.counted import Counted, Sides
from diagnose.comparing.exact_test import fails_more
from diagnose.wording import DID
from tiles.records.derived import day_of

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

TO_ASK = (
    "So look first for what they share: the load (damp, packed tight, fired fast), the bisque, who "
    "glazed them, a bucket or a bag."
)
"""What befalls a load or a term, and no single tile of it (common practice, no source)."""


def of_stretch(
    records: "Sequence[TileRecord]", marks: Collection[str], glaze: str | None, defect: str
) -> tuple[str, bool]:
    """How often the fault came then and at other times, in words; and whether that is clear.

    Empty where nothing is to be set beside the other, or none of them failed.

    Parameters
    ----------
    records : sequence of TileRecord
        Tiles of any time; those without a day stand on neither side.
    marks : collection of str
        Those of the stretch.
    glaze, defect : str or None, str
        As `over_tiles`.
    """
    asked = compared(records, glaze, defect)
    sides = _sides(asked.areas, marks)
    here, there = sides.tiles
    (failed, many), (others_failed, others) = here, there
    if not many or not others or not failed + others_failed:
        return "", False
    chance = max(each.p_value for each in (sides, _sides(asked.with_early or asked.areas, marks)))
    firings = {each.record.firing.name for each in sides.here if each.record.firing}
    is_one = len(firings) == 1 and all(each.record.firing for each in sides.here)
    which = f", all of firing {firings.pop()}," if is_one else ""
    tiles = "tile" if many == 1 else "tiles"
    told = (
        f"{failed} of these {many} {tiles}{which} {DID.get(defect, 'failed')}; of {others} fired "
        f"before or after, {others_failed} ({by_luck(chance, '')}){asked.when}."
    )
    is_clear = fails_more(here, there) and chance < CLEAR
    return f"{told} {TO_ASK}" if is_clear else told, is_clear


def _sides(areas: Sequence[Counted], marks: Collection[str]) -> Sides:
    dated = [each for each in areas if day_of(each.record)]
    here, there = (
        [each for each in dated if (each.record.mark in marks) is side] for side in (True, False)
    )
    return Sides(here, there)

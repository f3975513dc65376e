"""What is clear over all tiles, weighed for each failing one, as counts of own tiles are."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.comparing.coat_in_mm import gainsays
from diagnose.comparing.counted import Counted
from diagnose.comparing.of_load import LOAD
from diagnose.comparing.set_apart_pairs import Side, worse_side
from diagnose.own_tiles.lesson import Lesson
from diagnose.own_tiles.lift import lift_of_count
from diagnose.own_tiles.say import YourTiles
from diagnose.weighing import with_own

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.comparing.set_apart import Difference
    from diagnose.weighing import Weighed


@dataclass(frozen=True)
class ClearCount:
    """A clear difference as a count, and its failing side."""

    lesson: Lesson
    side: Side

    def rows_of(
        self, rows: "Sequence[Weighed]", case: "Case", area: Counted
    ) -> "tuple[Weighed, ...]":
        """The causes of a tile with it, where the tile lies on the failing side."""
        if not self.side.has(area.values):
            return tuple(rows)
        told = YourTiles("", case.defect, self.lesson.here_failed, 0, [self.lesson])
        return with_own(rows, {row.name: told.lift_of(row, case.facts) for row in rows})


def clear_count(
    clear: "Difference | None", areas: Sequence[Counted], defect: str
) -> ClearCount | None:
    """The count of a clear difference; None of a load, or where the dry coat gainsays the coats.

    Parameters
    ----------
    clear : Difference or None
        What tells most of those that are clear.
    areas : sequence of Counted
        The areas that were counted.
    defect : str
        One word of the defect list.
    """
    worse = worse_side(clear, areas) if clear and clear.name != LOAD else None
    if worse is None:
        return None
    side, here, there = worse
    if gainsays(areas, clear.name, is_more=bool(side.is_more)):
        return None
    chance = clear.p_value_of_best
    lift = round(lift_of_count(here, there, chance), 3)
    counts = clear.name, *here, *there, chance, lift, clear.say

    def is_here(each: Counted) -> bool | None:
        return side.has(each.values) if clear.name in each.values else None

    return ClearCount(Lesson(*counts, is_here, side.is_more, holds_with=side.holds), side)

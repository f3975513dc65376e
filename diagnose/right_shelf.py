"""The other shelf of a firing that reached its target where the tile's own shelf missed it.

Such a kiln is uneven, not wrong: to fire the whole load otherwise would spoil the other shelf.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tiles.chemistry.cones import steps_between
from tiles.records.derived import cone_reached
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

_OVER, _SHORT = ("overfired",), ("kiln_short", "cold_shelf")
"""The causes that a cooler or a hotter shelf mends."""


@dataclass(frozen=True)
class RightShelf:
    """A shelf that reached the target, and what the tile's own shelf reached."""

    name: str
    cone: str
    here: str
    cone_here: str

    @property
    def say(self) -> str:
        """As a fix."""
        return (
            f"Put such ware on shelf {self.name}: in the same firing it reached cone {self.cone}, "
            f"as set, shelf {self.here} cone {self.cone_here}."
        )

    @property
    def confirm(self) -> str:
        """What proves it."""
        return f"Fire a twin on shelf {self.name}, with a witness cone beside it."


def right_shelf(record: "TileRecord", cause: str) -> RightShelf | None:
    """Where such ware belongs; None for other causes, and where no other shelf was right."""
    firing, reached = record.firing, cone_reached(record)
    if firing is None or firing.target_cone is None or reached is None or not record.shelf:
        return None
    over = steps_between(firing.target_cone, reached.cone)
    if over == 0 or cause not in (_OVER if over > 0 else _SHORT):
        return None
    for read in firing.witness_cones:
        is_right = steps_between(firing.target_cone, read.cone) == 0
        if is_right and read.shelf and not same_name(read.shelf, record.shelf):
            return RightShelf(read.shelf, read.cone, record.shelf, reached.cone)
    return None

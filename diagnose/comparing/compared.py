"""The areas that are set side by side: those that tell of a fault, all at one age."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.comparing.counted import Counted
from diagnose.own_tiles.areas import looked_at, with_layer
from diagnose.own_tiles.same_age import SameAge, same_age
from tiles.records.derived import shows

if TYPE_CHECKING:
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import TileRecord

OF_CLAY = ("bloating", "dunting")
"""Faults of which tiles without a glaze tell as well."""
TOO_FEW = 3
"""With fewer failing or fewer sound areas little can be told from the counts."""


@dataclass(frozen=True)
class Compared:
    """The areas that tell of a fault at one age, ``at``, and how many do not.

    ``with_early`` are all, where late ones are compared and some were looked at too early;
    ``showing`` those that showed the fault whenever it was.
    """

    areas: list[Counted]
    with_early: list[Counted]
    showing: list[Counted]
    left_out: int
    at: SameAge

    @property
    def counts(self) -> tuple[int, int]:
        """How many of the areas failed, and how many are sound."""
        failed = sum(each.failed for each in self.areas)
        return failed, len(self.areas) - failed

    @property
    def is_too_few(self) -> bool:
        """Whether of either kind there are too few to compare."""
        return min(self.counts) < TOO_FEW

    @property
    def when(self) -> str:
        """The age of all, to stand behind a count; empty where it is none."""
        return f" ({self.at.when})" if self.at.by_day else ""


def compared(records: "Sequence[TileRecord]", glaze: str | None, defect: str) -> Compared:
    """The areas with a glaze, or of all, that are set side by side."""
    looked = looked_for(records, glaze, defect)
    at = same_age(looked, defect)
    areas = [Counted(*each, at.failed(*each), glaze) for each in looked if at.tells(*each)]
    left_out = len(looked) - len(areas)
    every = [Counted(*each, shows(*each, defect), glaze) for each in looked]
    showing = [each for each in every if each.failed]
    return Compared(areas, every if left_out and not at.by_day else [], showing, left_out, at)


def looked_for(records: "Sequence[TileRecord]", glaze: str | None, defect: str) -> "list[Looked]":
    """The areas with a glaze that were looked at, or of all those that can have the fault."""
    if glaze:
        return with_layer(glaze, records, defect)
    return [each for each in looked_at(records, defect) if each[1].layers or defect in OF_CLAY]

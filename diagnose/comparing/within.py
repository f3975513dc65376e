"""Failing areas that all share one fact: what else sets them apart is counted among its areas.

Where only amber came out matt, and no colour ever lay under amber, "no colour under the glaze"
tells nothing of the matt: it tells where amber was used.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.comparing.counted import Counted, Fact, facts_of
from diagnose.comparing.set_apart import Difference


@dataclass(frozen=True)
class Within:
    """The side of a clear difference on which all failing areas lie."""

    name: str
    cut: Fact
    holds: bool

    @property
    def said(self) -> str:
        """The side in words: "with glaze amber"."""
        return self.cut.in_full if self.holds else self.cut.otherwise_in_full

    def of(self, areas: Sequence[Counted]) -> list[Counted]:
        """Those of some areas that lie there."""
        known = [each for each in areas if self.name in each.values]
        return [each for each in known if self.cut.has(each.values[self.name]) is self.holds]


def side_of_all(areas: Sequence[Counted], clear: Difference) -> Within | None:
    """The side of a difference on which every failing area lies; None where some lie elsewhere."""
    cut = clear.cut_among(facts_of(list(areas), clear.name.__eq__))
    if cut is None:
        return None
    failing = [each for each in areas if each.failed]
    sides = (Within(clear.name, cut, holds) for holds in (True, False))
    return next((each for each in sides if len(each.of(failing)) == len(failing)), None)

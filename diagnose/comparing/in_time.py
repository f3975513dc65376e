"""The stretch of time in which a defect came more often: when it began, and whether it ended."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from diagnose.comparing.exact_test import Stratum, chance_variance, surplus

EACH_END = 4.0
"""So much clearer (squared deviations of chance) must a stretch be for each end that is told of it:
without, the last tile that came out sound would seem to end it (estimate)."""


@dataclass(frozen=True)
class Stretch:
    """From the group ``first`` to the group ``last``, both within."""

    first: int
    last: int

    def said(self, groups: Sequence[str]) -> str:
        """The stretch as a person says it.

        Examples
        --------
        >>> Stretch(1, 2).said(["2023", "2024", "2025"])
        'from 2024 on'
        >>> Stretch(0, 1).said(["2023", "2024", "2025"])
        'until 2024'
        """
        if self.last == len(groups) - 1:
            return f"from {groups[self.first]} on"
        if self.first == 0:
            return f"until {groups[self.last]}"
        if self.first == self.last:
            return f"in {groups[self.first]}"
        return f"from {groups[self.first]} to {groups[self.last]}"


def clearest_stretch(tables: Sequence[Stratum]) -> Stretch:
    """Where it came most clearly more often than chance would make it, over all sets.

    Parameters
    ----------
    tables : sequence of Stratum
        The same groups in the order of time in each, two or more.
    """
    many = len(tables[0])
    more = [0.0, *accumulate(surplus(tables))]
    sizes = [[0, *accumulate(size for _, size in table)] for table in tables]
    failed = [sum(failed for failed, _ in table) for table in tables]

    def clear(stretch: Stretch) -> float:
        start, end = stretch.first, stretch.last + 1
        variance = sum(
            chance_variance(of, own[-1], own[end] - own[start])
            for of, own in zip(failed, sizes, strict=True)
        )
        told = (start > 0) + (end < many)
        return max(0.0, more[end] - more[start]) ** 2 / max(variance, 1e-9) - EACH_END * told

    stretches = (Stretch(first, last) for first in range(many) for last in range(first, many))
    return max((each for each in stretches if each != Stretch(0, many - 1)), key=clear)

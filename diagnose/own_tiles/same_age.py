"""Tiles set side by side at one age, where a fault may come months after the firing.

What failed counts whenever it did, a sound tile only if it was looked at late enough to tell.
Where hardly one was, nothing is left to hold the failures against, though at the first looks all
may have been alike in age. Then all tiles are compared as they were by the usual first look: that
one age and no other, for the best of many would be found by luck. One whose own first look was
much earlier or later is left out whatever it saw: were failures kept, or clean looks of later days,
tiles that were all looked at sooner, or later, would seem to fail more, or less.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.measures.looks import UNLOADED_WITHIN_DAYS, saw
from diagnose.own_tiles.late_looks import LateLooks, late_looks, middle
from diagnose.wording import sentence
from tiles.records.derived import shows
from tiles.records.gone import telling_looks

if TYPE_CHECKING:
    from collections.abc import Callable

    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import AreaRecord, TileRecord

LEAST_EACH = 3
"""So many failed and so many sound tiles are two sides to compare (estimate)."""
ABOUT = 2
"""A look is about as old as another that is no more than so many times older (estimate)."""


@dataclass(frozen=True)
class SameAge:
    """Which tiles are compared: by their last looks, or by the first, ``from_day`` to ``by_day``.

    Both days are 0 where every failure counts, and of the sound tiles those that tell late.
    """

    late: LateLooks
    from_day: int = 0
    by_day: int = 0

    def tells(self, record: "TileRecord", area: "AreaRecord") -> bool:
        """Whether an inspected area is known to have failed or not, at the age of all."""
        if not self.by_day:
            return self.late.tells(record, area)
        return self.from_day <= min(_looked(record), default=-1) <= self.by_day

    def failed(self, record: "TileRecord", area: "AreaRecord") -> bool:
        """Whether an area is known to have shown the fault by then."""
        if not self.by_day:
            return shows(record, area, self.late.defect)
        days = _days(record, area, self.late.defect)
        return self.tells(record, area) and any(day <= self.by_day for day in days)

    def by_mark(self, areas: "Iterable[Looked]") -> dict[str, bool]:
        """Each tile that tells by its mark, and whether any of these areas failed by then."""
        found: dict[str, bool] = {}
        for each in areas:
            if self.tells(*each):
                found[each[0].mark] = found.get(each[0].mark, False) or self.failed(*each)
        return found

    @property
    def when(self) -> str:
        """The age of all, in words; empty where it is none."""
        return f"by the first look, within {self.by_day} days" if self.by_day else ""

    @property
    def beside(self) -> str:
        """The same, to stand in brackets behind a count; where it is none, what is left out."""
        if not self.by_day:
            return f"sound ones looked at within {self.late.within} days left out"
        return self.when

    def left_out(self, many: int, noun: str = "tile") -> str:
        """What is said of those that do not tell, and of the age of all; empty where none is."""
        if not self.by_day:
            return self.late.left_out(many, noun)
        said = (
            f"all are compared as they were {self.when} of the firing: hardly a sound one was "
            f"looked at late enough ({self.late.said}; {self.late.tells_from})."
        )
        if many:
            did = "was" if many == 1 else "were"
            said += f" {many} {did} first looked at much earlier or later."
        return sentence(said)


def same_age(
    areas: "Iterable[Looked]",
    defect: str,
    group: "Callable[[TileRecord, AreaRecord], object] | None" = None,
) -> SameAge:
    """At which age some areas are compared.

    Parameters
    ----------
    areas : iterable of (TileRecord, AreaRecord)
        All that are compared; one that nobody looked at yet, as a planned one, tells nothing.
    defect : str
        One word of the defect list.
    group : callable, optional
        What sets an area apart from others: of two of these some must tell late.

    Returns
    -------
    SameAge
        Late, wherever so there are two sides, and where the first looks give none either.
    """
    areas = [each for each in areas if each[0].inspections]
    late = late_looks(areas, defect)
    if late.needed_everywhere(record.body.name for record, _ in areas) == 0:
        return SameAge(late)
    at_last = SameAge(late)
    groups = {group(*each) for each in areas if at_last.tells(*each)} if group else set()
    if _sound(at_last, areas) >= LEAST_EACH and (group is None or len(groups - {None}) > 1):
        return at_last
    at_first = _first_looks(late, areas)
    failed = sum(at_first.by_mark(areas).values())
    is_told = min(failed, _sound(at_first, areas)) >= LEAST_EACH
    return at_first if is_told else at_last


def _sound(at: SameAge, areas: "Sequence[Looked]") -> int:
    return sum(not failed for failed in at.by_mark(areas).values())


def _first_looks(late: LateLooks, areas: "Sequence[Looked]") -> SameAge:
    """The age at the usual first look, whatever it saw."""
    days = {record.mark: each[0] for record, _ in areas if (each := _looked(record))}
    usual = middle(sorted(days.values()))
    from_day = round(usual / ABOUT) if usual > UNLOADED_WITHIN_DAYS else 0
    return SameAge(late, from_day, max(UNLOADED_WITHIN_DAYS, usual * ABOUT))


def _looked(record: "TileRecord") -> list[int]:
    """How many days after its firing a tile was looked at; none where no day of it is known."""
    fired_on = record.firing.fired_on if record.firing else None
    if fired_on is None:
        return []
    days = ((look.inspected_on - fired_on).days for look in telling_looks(record))
    return sorted(day for day in days if day >= 0)


def _days(record: "TileRecord", area: "AreaRecord", defect: str) -> list[int]:
    """How many days after the firing a fault was seen on an area, each time."""
    fired_on = record.firing.fired_on if record.firing else None
    looks = (look for look in record.inspections if saw(look, area, defect))
    return [(look.inspected_on - fired_on).days for look in looks] if fired_on else []

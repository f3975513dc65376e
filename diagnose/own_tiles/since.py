"""Since when a fault comes on the tiles of a glaze on one clay, where a day parts them clearly."""

from collections.abc import Sequence
from datetime import date
from itertools import accumulate
from typing import TYPE_CHECKING

from diagnose.comparing.counted import DAY, Counted
from diagnose.wording import sentence
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.comparing.set_apart import Difference
    from tiles.records.forms import TileRecord

LEAST_SQUARES = 8.0
"""Squared deviations of chance under which no cut in time is clear among its like: to look at all
facts beside the day takes a while, and is not done in vain."""


def since_when(
    every: Sequence[Counted], others: Sequence[Counted], record: "TileRecord", defect: str
) -> str:
    """The best cut in time, as `tiles why --glaze` tells it; empty where none is clear.

    Nor where the tile itself was fired when the fault came less often.

    Parameters
    ----------
    every, others : sequence of Counted
        Own areas of the glaze on any clay, and those of them looked at late enough to tell.
    record : TileRecord
        The failed tile.
    defect : str
        One word of the defect list.
    """
    fired_on = record.firing.fired_on if record.firing else None
    told = _on_clay(others, record)
    if fired_on is None or not _may_part(told):
        return ""
    from diagnose.comparing.set_apart import differences
    from diagnose.comparing.since_when import ASK

    early = _on_clay(every, record)
    early = early if len(early) > len(told) else []
    day = next((each for each in differences(told, defect, with_early=early)
                if each.name == DAY and each.is_firm), None)  # fmt: skip
    if day is None or not _is_on_failing_side(day, fired_on):
        return ""
    counts, _, began = day.say.partition(ASK)
    counts = counts.partition(" (")[0]
    return sentence(f"on {record.body.name}, {counts}. What changed about then?{began}")


def _is_on_failing_side(day: "Difference", fired_on: date) -> bool:
    first = date.fromisoformat(day.fact.partition(" from ")[2][:10])
    fails_more = day.with_failed * day.without_all > day.without_failed * day.with_all
    return (fired_on >= first) is fails_more


def _on_clay(areas: Sequence[Counted], record: "TileRecord") -> list[Counted]:
    return [each for each in areas if same_name(each.record.body.name, record.body.name)]


def _may_part(areas: Sequence[Counted]) -> bool:
    """Whether any cut in time parts them far enough to be worth a closer look."""
    known = sorted(
        (each.record.firing.fired_on, each.failed)
        for each in areas
        if each.record.firing and each.record.firing.fired_on
    )
    many, failed = len(known), sum(failed for _, failed in known)
    if not 0 < failed < many:
        return False
    share = failed / many
    before = accumulate(failed for _, failed in known)
    return any(
        (here - size * share) ** 2 * many
        >= LEAST_SQUARES * size * (many - size) * share * (1 - share)
        for size, here in enumerate(before, start=1)
        if size < many
    )

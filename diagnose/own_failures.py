"""Changes that own tiles show to be in vain: made so already, and the fault was there too."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from diagnose.fix_bench import Bench, Step
from diagnose.next_changes import Owned, changed
from diagnose.next_odds import COUNTED, Inspected, inspected, late_on, made_like
from diagnose.other_areas import failed_so
from diagnose.tried import changed_in, trials_of, without
from tiles.records.derived import shows
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import TileRecord

FEWEST, MOSTLY = 3, 0.75
"""From so many own tiles made so on, in any firing, and where so large a part of them failed, a
change is in vain (estimates)."""


def beside(case: "Case", others: "Sequence[TileRecord]") -> Inspected:
    """The inspected tiles of the same firing, the trials for the tile left out."""
    trials = trials_of(case, others)
    return inspected(_of_its_firing(case.record, without(others, trials)), late_on(case, others))


def failed_beside(
    around: Inspected, bench: Bench, step: Step, kind: str, owned: Owned
) -> list[str]:
    """Marks of the tiles among some that were made as a change would have it, and failed as well.

    Parameters
    ----------
    around : Inspected
        Own tiles, as `beside` gives them.
    bench, step, kind : Bench, Step, str
        The failed tile, the change, and what it changes.
    owned : Owned
        What is on record to change to.
    """
    return [mark for mark, failed in _made_so(around, bench, step, kind, owned) if failed]


def is_in_vain(case: "Case", bench: Bench, step: Step, others: "Sequence[TileRecord]") -> bool:
    """Whether other areas, tiles of its firing, or most tiles made so at any time failed too."""
    glazes = {"batches": {bench.view.glaze_name or "": list(bench.batches)}}
    owned = Owned(bodies=bench.bodies, glazes=bench.glazes, **glazes)
    asked = bench, step, step.changes[0].what, owned
    if failed_so(bench, step) or failed_beside(beside(case, others), *asked):
        return True
    trials = trials_of(case, others)
    ever = inspected(without(others, changed_in(trials)), late_on(case, others))
    failed = [each for _, each in _made_so(ever, *asked)]
    return len(failed) >= FEWEST and sum(failed) >= MOSTLY * len(failed)


def _made_so(
    around: Inspected, bench: Bench, step: Step, kind: str, owned: Owned
) -> list[tuple[str, bool]]:
    """Marks of the tiles made so, each with whether an area made so failed."""
    if kind not in COUNTED:
        return []
    view, then = bench.view, changed(bench.view, step, owned)
    found: dict[str, bool] = {}
    for other, area in made_like(around, then, view.area.number if view.area else None, kind):
        if not same_name(other.mark, view.record.mark):
            has_it = shows(other, area, view.defect)
            found[other.mark] = found.get(other.mark, False) or has_it
    return list(found.items())


def _of_its_firing(record: "TileRecord", others: "Sequence[TileRecord]") -> "Iterator[TileRecord]":
    firing = record.firing.name if record.firing else None
    for each in others:
        is_of_it = each.firing is not None and same_name(each.firing.name, firing)
        if is_of_it and not same_name(each.mark, record.mark):
            yield each

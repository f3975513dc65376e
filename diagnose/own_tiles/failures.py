"""Changes that own tiles show to be in vain: made so already, and the fault was there too."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.shapes import ORDER, UNDER
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.odds import COUNTED, Inspected, inspected, late_on, made_like
from diagnose.own_tiles.areas import failed_by_mark
from diagnose.own_tiles.other_areas import failed_so
from diagnose.trials.tried import changed_in, trials_of, without
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.late_looks import LateLooks
    from tiles.records.forms import TileRecord

_ANOTHER_PAIR = ("body", "glaze", UNDER, ORDER)
"""Changes after which a fault lies between another clay, or other layers."""
FEWEST, MOSTLY = 3, 0.75
"""From so many own tiles made so on, in any firing, and where so large a part of them failed (in
its own firing from one on), a change is in vain (estimates)."""


@dataclass(frozen=True)
class OwnTiles:
    """What own tiles tell of the changes of one failed tile.

    ``trials`` are those fired or planned for it, and all others that it was weighed with, ``late``
    how late its fault comes. ``beside`` are
    the inspected tiles of its firing but for these trials, ``ever`` those of any firing, where only
    trials that changed something are left out; ``every`` are all that were handed over.
    """

    trials: "list[TileRecord]"
    late: "LateLooks"
    beside: Inspected
    ever: Inspected
    every: "Sequence[TileRecord]" = ()


def own_tiles(case: "Case", others: "Sequence[TileRecord]") -> OwnTiles:
    """Read own tiles for one failed tile, once for all its changes."""
    weighed_with, late = {each.mark for each in case.tried}, late_on(case, others)
    trials = trials_of(case, others)
    own = {each.mark for each in trials}
    trials += [each for each in others if each.mark in weighed_with - own]
    of_its_firing = _of_its_firing(case.record, without(others, trials))
    ever = inspected(without(others, changed_in(trials)), late)
    return OwnTiles(trials, late, inspected(of_its_firing, late), ever, others)


def failed_beside(
    around: Inspected, bench: Bench, step: Step, kind: str, owned: Owned
) -> list[str]:
    """Marks of the tiles among some that were made as a change would have it, and failed as well.

    None where too many others made so came out sound (``MOSTLY``).

    Parameters
    ----------
    around : Inspected
        Own tiles, such as `OwnTiles.beside`.
    bench, step, kind : Bench, Step, str
        The failed tile, the change, and what it changes.
    owned : Owned
        What is on record to change to.
    """
    made = _made_so(around, bench, step, kind, owned)
    marks = [mark for mark, failed in made if failed]
    return marks if len(marks) >= MOSTLY * len(made) else []


def failed_ever(around: Inspected, bench: Bench, step: Step, kind: str, owned: Owned) -> list[str]:
    """Marks of the tiles of any firing and kiln made with another clay or layers, if all failed.

    What the other pair does there is known already; none where one came out sound. The parameters
    are those of `failed_beside`.
    """
    if kind not in _ANOTHER_PAIR:
        return []
    made = _made_so(around, bench, step, kind, owned, in_any_kiln=True)
    return [mark for mark, _ in made] if all(failed for _, failed in made) else []


def is_in_vain(own: OwnTiles, bench: Bench, step: Step) -> bool:
    """Whether other areas, tiles of its firing, or those made so at any time failed too.

    Most of several; of another clay or layers all, as `tiles next` has it.
    """
    batches = {bench.view.glaze_name or "": list(bench.batches)}
    owned = Owned(bodies=bench.bodies, glazes=bench.glazes, batches=batches)
    asked = bench, step, step.changes[0].what, owned
    if failed_so(bench, step) or failed_beside(own.beside, *asked):
        return True
    if failed_ever(own.ever, *asked):
        return True
    return made_so_ever(own, *asked)[0] > 0


def made_so_ever(
    own: OwnTiles, bench: Bench, step: Step, kind: str, owned: Owned
) -> tuple[int, int]:
    """Failed and all own tiles made so in any firing; none failed where too few did to tell."""
    failed = [each for _, each in _made_so(own.ever, bench, step, kind, owned)]
    is_told = len(failed) >= FEWEST and sum(failed) >= MOSTLY * len(failed)
    return (sum(failed) if is_told else 0), len(failed)


def _made_so(
    around: Inspected, bench: Bench, step: Step, kind: str, owned: Owned, *, in_any_kiln=False
) -> list[tuple[str, bool]]:
    """Marks of the tiles made so, each with whether an area made so failed."""
    if kind not in COUNTED:
        return []
    view, then = bench.view, changed(bench.view, step, owned)
    if in_any_kiln and then.firing:
        anywhere = then.firing.model_copy(update={"kiln": None})
        then = then.model_copy(update={"firing": anywhere})
    like_it = made_like(around, then, view.area.number if view.area else None, kind)
    others = (each for each in like_it if not same_name(each[0].mark, view.record.mark))
    telling = (each for each in others if around.tells(*each))
    return list(failed_by_mark(telling, view.defect).items())


def _of_its_firing(record: "TileRecord", others: "Sequence[TileRecord]") -> "Iterator[TileRecord]":
    firing = record.firing.name if record.firing else None
    for each in others:
        is_of_it = each.firing is not None and same_name(each.firing.name, firing)
        if is_of_it and not same_name(each.mark, record.mark):
            yield each

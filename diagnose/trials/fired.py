"""In what a trial was fired otherwise than the tile beside which its outcome is read."""

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from diagnose.own_tiles.occasions import lies_in
from diagnose.trials.changes import FIRED, apart
from diagnose.trials.controls import beside_it
from diagnose.view import View
from tiles.records.spoken import spoken_kiln

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import TileRecord


BEARS = 0.1
"""Causes that come with a kiln or shelf must hold so much together for it to bear on a fault
(estimate)."""


def fired_otherwise(
    case: "Case",
    trial: "TileRecord",
    controls: "Sequence[TileRecord]" = (),
    but: Collection[str] = (),
) -> tuple[str, ...]:
    """Where a trial was fired, or what it reached, that the tile it is compared with did not.

    That is the control of its firing that was fired most alike, else the failed tile itself: what
    a control shares with a trial, its outcome has answered. Another shelf or kiln that reached the
    same cone is told only where it bears on the fault: it can mend none that was not a matter of
    the firing.

    Parameters
    ----------
    case : Case
        The failed tile, as its causes weigh without trials.
    trial : TileRecord
        Fired and looked at.
    controls : sequence of TileRecord
        That tile once more, in any firing.
    but : collection of str
        What is not looked at, of kiln, cone and shelf.
    """
    beside = [View(each, each.areas[0]) for each in beside_it(trial, controls) if each.areas]
    return min((_said(case, trial, view, but) for view in beside or [case.view]), key=len)


def _said(case: "Case", trial: "TileRecord", other: View, but: Collection[str]) -> tuple[str, ...]:
    own, mark = View(trial, trial.areas[0]), other.record.mark
    is_read = bool(own.cone_reached and other.cone_reached)
    is_as_hot = is_read and not apart(own, other, ["cone"])
    looked_at = [name for name in FIRED if name not in but]
    return tuple(
        _SPOKEN[name](here, mark, there)
        for name, (here, there) in apart(own, other, looked_at).items()
        if not (is_as_hot and _bears_not(case, name))
    )


def _bears_not(case: "Case", name: str) -> bool:
    """Whether hardly any cause of the fault comes with another kiln or shelf."""
    with_it = (row.share for row in case.rows if row.cause is None or lies_in(name, row.cause))
    return sum(with_it) < BEARS


_SPOKEN = {
    "kiln": lambda here, mark, there: (
        f"fired in {spoken_kiln(here)}, {mark} in {spoken_kiln(there)}"
    ),
    "cone": lambda here, mark, there: f"reached cone {here}, {mark} {there}",
    "shelf": lambda here, mark, there: f"fired on shelf {here}, {mark} on shelf {there}",
}

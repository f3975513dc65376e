"""In what a trial was fired otherwise than the tile beside which its outcome is read."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.trials.changes import FIRED, apart
from diagnose.trials.controls import beside_it
from diagnose.view import View
from tiles.records.spoken import spoken_kiln

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord


def fired_otherwise(
    trial: "TileRecord", failed: View, controls: "Sequence[TileRecord]" = ()
) -> tuple[str, ...]:
    """Where it was fired, or what it reached, that the tile it is compared with did not.

    That is the control of its firing that was fired most alike, else the failed tile itself: what
    a control shares with a trial, its outcome has answered.

    Parameters
    ----------
    trial : TileRecord
        Fired and looked at.
    failed : View
        The failed tile.
    controls : sequence of TileRecord
        That tile once more, in any firing.
    """
    beside = [View(each, each.areas[0]) for each in beside_it(trial, controls) if each.areas]
    return min((_said(trial, view) for view in beside or [failed]), key=len)


def _said(trial: "TileRecord", other: View) -> tuple[str, ...]:
    mark = other.record.mark
    found = apart(View(trial, trial.areas[0]), other, FIRED)
    return tuple(_SPOKEN[name](here, mark, there) for name, (here, there) in found.items())


_SPOKEN = {
    "kiln": lambda here, mark, there: (
        f"fired in {spoken_kiln(here)}, {mark} in {spoken_kiln(there)}"
    ),
    "cone": lambda here, mark, there: f"reached cone {here}, {mark} {there}",
    "shelf": lambda here, mark, there: f"fired on shelf {here}, {mark} on shelf {there}",
}

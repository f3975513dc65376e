"""Whether the shelf that a set of trials stands on mostly goes hotter than the ware stands."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.fixes.ranges import ceiling, hotter_than
from diagnose.own_tiles.right_shelf import firings_of, missed_alone
from diagnose.wording import listed
from tiles.chemistry.cones import CONES, cone_at, step, steps_between
from tiles.records.derived import witness_cone
from tiles.records.kiln_habit import FEWEST_MISSES, NOTED_SHARE

if TYPE_CHECKING:
    from diagnose.view import View
    from tiles.records.forms import TileRecord


def hot_shelf(view: "View", others: "Sequence[TileRecord]") -> str:
    """What own firings say of the shelf of a set that is fired as the tile was; "" if it is right.

    A tile that was too hot itself has its set on another shelf, or set less hot
    (`diagnose.fixes.trials`); here one that just stood it, on a shelf that often goes over.

    Parameters
    ----------
    view : View
        The failed tile.
    others : sequence of TileRecord
        Own tiles, for the firings of its kiln.
    """
    found = missed_alone(view.record)
    if not found or found.over < 0 or ceiling(view):
        return ""
    firings = firings_of(view.record, others)
    read = [
        (each.name, steps_between(each.target_cone, cone))
        for each in sorted(firings, key=lambda each: str(each.fired_on))
        if (cone := witness_cone(each, found.here))
    ]
    over = [(name, *most) for name, by in read if (most := _too_hot(view, by))]
    if len(over) < max(FEWEST_MISSES, NOTED_SHARE * len(read)):
        return ""
    _, cone, stands, ware = max(over, key=lambda each: step(each[1]))
    return (
        f"Set for cone {view.target}, shelf {found.here} goes to cone {cone}, if it does as in "
        f"{listed([name for name, *_ in over])}: {ware} stands cone {stands}. Set this one lower, "
        f"with a witness cone on shelf {found.here}."
    )


def _too_hot(view: "View", by: float) -> tuple[str, str, str] | None:
    """The cone that so many more than set are, where that is too much for clay or glaze.

    With the cone that the one of them stands, and its name.
    """
    cone = cone_at(min(step(view.target) + by, step(CONES[-1])))
    for one in (view.record.body, *(layer.glaze for layer in view.glazes)):
        if most := hotter_than(one, cone):
            return cone, most, one.name
    return None

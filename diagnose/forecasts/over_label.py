"""A fault of a colour beneath that is fired over its own label: causes as `why` weighs them."""

from typing import TYPE_CHECKING

from diagnose.case import weigh_case
from diagnose.colour_layer import judged
from diagnose.view import View, area_of
from tiles.chemistry.cones import steps_outside

if TYPE_CHECKING:
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord


def causes_over_label(record: "TileRecord", area: int, defect: str) -> "tuple[Weighed, ...]":
    """The causes of a fault as they weigh once the tile has reached what it is set for.

    Parameters
    ----------
    record : TileRecord
        The tile to be fired, without inspections.
    area : int
        Which of its areas.
    defect : str
        One word of the defect list.

    Returns
    -------
    tuple[Weighed, ...]
        The likeliest first; none where the fault does not lie in a colour under a clear, or that
        is fired within its label, or not set for a cone.
    """
    view = View(record, area_of(record, area), defect)
    colour = judged(view)
    if colour is view or not (view.cone and colour.label):
        return ()
    if steps_outside(view.cone, *colour.label) <= 0:
        return ()
    alone = [area_of(record, area)]
    fired = record.model_copy(update={"cone_reached": view.cone, "areas": alone})
    return weigh_case(fired, defect).rows

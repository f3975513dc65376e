"""A fault that own tiles showed late: how late, and the causes that `tiles why` would then name."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.case import weigh_case
from diagnose.own_tiles.areas import under
from diagnose.own_tiles.late_looks import COMES_LATE, LateLooks, late_looks
from diagnose.own_tiles.sisters import soonest_on
from diagnose.rules import load
from diagnose.view import View, area_of
from diagnose.weighing import weigh
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord


def seen_late(
    others: "Sequence[TileRecord]", record: "TileRecord", area: int, defect: str
) -> "tuple[LateLooks, tuple[Weighed, ...]]":
    """How late own tiles of the glaze on this clay showed it, and the causes of that.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles.
    record : TileRecord
        The tile to be fired, without inspections.
    area : int
        Which of its areas.
    defect : str
        One word of the defect list.

    Returns
    -------
    tuple
        The days and the causes as they weigh for a tile like this one on which the fault shows as
        soon as it did on any of them; none where it came at unloading, or where nobody looked both
        then and later.
    """
    glaze = View(record, area_of(record, area)).glaze_name
    if defect not in COMES_LATE or glaze is None:
        return LateLooks(defect), ()
    on_clay = [
        each
        for each in others
        if same_name(each.body.name, record.body.name) and not same_name(each.mark, record.mark)
    ]
    late = late_looks(under(glaze, on_clay), defect)
    soonest = soonest_on(on_clay, glaze, defect)
    if not late.seen_after or soonest is None:
        return LateLooks(defect), ()
    case = weigh_case(record, defect)
    facts = {**case.facts, soonest.name: soonest}
    return late, tuple(weigh(load(defect), facts, case.setting))

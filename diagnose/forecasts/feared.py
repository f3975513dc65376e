"""The causes that are feared before a firing: as practice has them, and as `tiles why` weighs them.

`why` would name them of a fault that own tiles showed late, and of a colour beneath that is fired
over its own label.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from diagnose.case import weigh_case
from diagnose.colour_layer import judged
from diagnose.forecasts.drivers import LEAST_DRIVE
from diagnose.own_tiles.areas import under
from diagnose.own_tiles.late_looks import COMES_LATE, LateLooks, late_looks
from diagnose.own_tiles.sisters import soonest_on
from diagnose.rules import load
from diagnose.weighing import weigh
from tiles.chemistry.cones import steps_outside
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.forecasts.of_tile import Forecast
    from diagnose.learning.signs import Evidence
    from diagnose.measures.of_area import Measure
    from diagnose.rules import Cause
    from diagnose.view import View
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

LEAST_SHARE, MOST_FEARED = 0.2, 2
"""Causes that hold less of what is feared are not named."""


def by_practice(defect: str, evidence: "Evidence", facts: "Mapping[str, Measure]") -> list[str]:
    """The causes that common practice sees here, where it sees more than usual."""
    if evidence.log_hazard[0] < LEAST_DRIVE:
        return []
    # Only a clear glaze can be cloudy.
    if defect == "cloudiness" and "finish" in facts and facts["finish"].value != "clear":
        return []
    titles = {each.name: each.title for each in load(defect).causes if _is_of_tile(each)}
    held = sorted(zip(evidence.responsible[0], evidence.causes, strict=True), reverse=True)
    return _first((share, titles[name]) for share, name in held if name in titles)


def with_late(found: "Forecast", others: "Sequence[TileRecord]", view: "View") -> "Forecast":
    """With the causes of a fault that comes late, where own tiles on this clay showed it late."""
    late, rows = seen_late(others, view)
    if not late.seen_after:
        return found
    told = {"late_after": late.seen_after, "late_said": late.when_said(view.record.body.name)}
    return replace(found, **told, feared=_likeliest(rows) or found.feared)


def with_label(found: "Forecast", view: "View") -> "Forecast":
    """With the causes of a fault of a colour beneath that is fired over its own label.

    The learner sees the glaze on top, whose label may allow what burns the colour out.
    """
    feared = _likeliest(causes_over_label(view))
    if not feared:
        return found
    return replace(found, feared=feared, leans="more" if found.chance is None else found.leans)


def seen_late(
    others: "Sequence[TileRecord]", view: "View"
) -> "tuple[LateLooks, tuple[Weighed, ...]]":
    """How late own tiles of the glaze on this clay showed a fault, and the causes of that.

    The causes weigh as for a tile like this one on which the fault shows as soon as it did on any
    of them; none where it came at unloading, or where nobody looked both then and later.
    """
    record, glaze, defect = view.record, view.glaze_name, view.defect
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


def causes_over_label(view: "View") -> "tuple[Weighed, ...]":
    """The causes of a fault as they weigh once the tile has reached what it is set for.

    None where the fault does not lie in a colour under a clear, or that is fired within its label,
    or not set for a cone.
    """
    colour = judged(view)
    if colour is view or not (view.cone and colour.label):
        return ()
    if steps_outside(view.cone, *colour.label) <= 0:
        return ()
    fired = view.record.model_copy(update={"cone_reached": view.cone, "areas": [view.area]})
    return weigh_case(fired, view.defect).rows


def _likeliest(rows: "Sequence[Weighed]") -> list[str]:
    """The first causes of a tile, as far as they hold much of what may go wrong."""
    return _first((row.share, row.title) for row in rows if row.cause and _is_of_tile(row.cause))


def _first(held: Iterable[tuple[float, str]]) -> list[str]:
    """Of shares and titles, the greatest first, those that are named."""
    return [title for share, title in islice(held, MOST_FEARED) if share >= LEAST_SHARE]


def _is_of_tile(cause: "Cause") -> bool:
    """What is wrong with the record alone goes wrong in no firing."""
    return set(cause.who_can_act) != {"record"}

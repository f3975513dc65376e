"""A fault of fit lies in a glaze and a clay together: how soon it came on any of their tiles."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.measures import looks
from diagnose.measures.of_area import Measure
from diagnose.own_tiles.late_looks import COMES_LATE
from diagnose.view import View
from diagnose.vocabulary import unit_of
from diagnose.wording import sentence
from tiles.records.derived import shows
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import AreaRecord, TileRecord

SOON = "days_to_first_seen"
BY_THEN = "days_before_first_look"
ANSWERED = "came_later"
WHEN_SEEN = (SOON, BY_THEN, ANSWERED)
"""How soon it was seen, or was there by the first look, and as it was answered."""
EARLY_DAYS = 7
"""What was there at a first look so many days after the firing came early (estimate)."""


def as_soon_as_sisters(case: "Case", others: "Sequence[TileRecord]") -> "Case":
    """The case with the soonest day on which the fault was seen on a tile of this glaze and clay.

    One tile that crazes while it is unpacked tells of a pair that does not fit, whatever the day
    on which it was seen on another, or what was answered of that. A later day never stands in for
    what the tile's own looks or answers tell: there at its first look, it had come by then.

    Parameters
    ----------
    case : Case
        As common practice weighs the tile alone.
    others : sequence of TileRecord
        Own tiles.
    """
    glaze = case.view.glaze_name
    if case.defect not in COMES_LATE or glaze is None:
        return case
    on_clay = [each for each in others if same_name(each.body.name, case.record.body.name)]
    sisters = [each for each in on_clay if each.mark != case.record.mark]
    own = case.facts.get(SOON) or case.facts.get(BY_THEN)
    soonest = soonest_on(sisters, glaze, case.defect)
    if soonest is None or not _tells_more(soonest, own, case.facts.get(ANSWERED)):
        return case
    facts = {name: each for name, each in case.facts.items() if name not in WHEN_SEEN}
    facts |= {soonest.name: soonest}
    return replace(case, facts=facts, rows=case.weighed(facts), sister=_said(soonest, own))


def soonest_on(on_clay: "Sequence[TileRecord]", glaze: str, defect: str) -> Measure | None:
    """How soon the fault was seen on any of some tiles of one clay under a glaze; None if unknown.

    A first look tells only where it was early: the fault may have come on any day before it.

    Parameters
    ----------
    on_clay : sequence of TileRecord
        Own tiles of the clay.
    glaze, defect : str
        The uppermost glaze, and one word of the defect list.
    """
    # What shows it is looked for first: it is on few tiles, and each failed one asks all of them.
    found = [
        replace(
            fact,
            said=f"{record.mark}, the same glaze on the same clay: {fact.said}",
            sister=record.mark,
        )
        for record in on_clay
        for area in record.areas
        if shows(record, area, defect) and same_name(View(record, area).glaze_name, glaze)
        for fact in [_seen(record, area, defect)]
        if fact is not None
    ]
    return min(found, key=lambda each: each.value, default=None)


def _tells_more(soonest: Measure, own: Measure | None, answered: Measure | None) -> bool:
    """Whether the day of a sister is sooner than all that the tile itself tells of its own."""
    if own is not None:
        return soonest.value < own.value
    if answered is not None:
        return answered.value == "yes" and soonest.value <= EARLY_DAYS
    return True


def _said(soonest: "Measure", own: "Measure | None") -> str:
    """What was taken for the day of this tile, and why its own is not weighed."""
    here = f" Here it was {own.said}: little is made of that." if own else ""
    return sentence(f"{soonest.said}.{here}")


def _seen(record: "TileRecord", area: "AreaRecord", defect: str) -> Measure | None:
    read = looks.read(View(record, area, defect))
    days = (each for each in read if each[0] in (SOON, BY_THEN))
    told = (Measure(name, value, unit_of(name), said) for name, value, said in days)
    return next((each for each in told if each.name == SOON or each.value <= EARLY_DAYS), None)

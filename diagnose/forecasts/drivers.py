"""What drives a forecast, as a person says it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.learning import pairs
from diagnose.learning.explain import PAIR
from diagnose.learning.model import MET
from diagnose.measures.of_area import Measure
from diagnose.view import View
from tiles.records.spoken import spoken_range

if TYPE_CHECKING:
    from diagnose.learning.explain import LeftOpen
    from diagnose.learning.model import Learned
    from diagnose.learning.table import Table

LEAST_DRIVE = 0.2
"""What moves the log-odds by less is not named (estimate)."""
MOST_DRIVERS = 4


@dataclass(frozen=True)
class Driver:
    """One recorded fact, as it is said, and how far it moves the forecast. [log-odds]."""

    said: str
    log_odds: float


def drivers(row: "LeftOpen", view: View, facts: Mapping[str, Measure]) -> list[Driver]:
    """The facts that move the forecast of a fault furthest, in words, the strongest first.

    Parameters
    ----------
    row : LeftOpen
        The area as the model sees it.
    view : View
        The area, with the fault in mind.
    facts : Mapping[str, Measure]
        Its measures.
    """
    return [
        Driver(said_of(each.fact, view, facts), each.effect)
        for each in row.drivers(view.defect)[:MOST_DRIVERS]
        if abs(each.effect) >= LEAST_DRIVE and was_met(each.fact, row.learned, row.seen.table)
    ]


def was_met(fact: str, learned: "Learned", table: "Table") -> bool:
    """Whether own tiles can tell what a glaze or clay does, or a glaze in one company.

    Of what no inspected tile had a forecast knows only that it is none of the others.
    """
    if fact.startswith(PAIR):
        at = pairs.COMPANY.index(fact.removeprefix(PAIR))
        return pairs.names(table)[at, 0] in learned.known_pairs.names
    group = fact.removeprefix("this ")
    name = table.groups[group][0] if group in table.groups else ""
    return group not in MET or learned.has_met(group, name)


def said_of(fact: str, view: View, facts: Mapping[str, Measure]) -> str:
    """A fact of the learner on one area as a person says it: "coat 1.6 mm dry, as applied"."""
    together = {
        "coat": ("thickness_mm", "coats", "fired_thickness_mm"),
        "cone reached": ("cone_reached", "cones_over_target"),
        "bisque": ("bisque_minus_glaze_cones", "bisque_cones_below_04"),
        "colour_beneath": ("colour_beneath", "colour_coats_beneath"),
        "recipe": (),
    }
    if fact == "label" and view.label:
        return f"its label, {spoken_range(view.label)}"
    if fact.startswith(PAIR):
        return f"{_with_company(fact.removeprefix(PAIR), view)}, on your tiles"
    if fact.startswith("this "):
        return f"how {_name(fact.removeprefix('this '), view)} does on your tiles"
    known = [facts[name].said for name in together.get(fact, (fact,)) if name in facts]
    return known[0] if known else f"the {fact.replace('_', ' ')}"


def _with_company(kind: str, view: View) -> str:
    """How a glaze does in one company: "how pond green does with 3 coats"."""
    return f"how {view.glaze_name} does {pairs.said(kind, pairs.company(view)[kind])}"


def _name(group: str, view: View) -> str:
    if group == "body":
        return view.record.body.name
    if group == "kiln":
        return view.kiln or "this kiln"
    glaze = view.glaze_name or "this glaze"
    return f"the base of {glaze}" if group == "base" else glaze

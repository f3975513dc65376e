"""Advice on the bisque: the cone that `tiles fix` works out, and none that cannot be fired."""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.bought_bisque import fires_it
from diagnose.fixes.shapes import BISQUE_CONE
from diagnose.fixes.steps import makers
from diagnose.fixes.steps_body import denser_bisque, enough_bisque, hotter_bisque, softer_bisque
from tiles.chemistry.cones import steps_between
from tiles.records.derived import label_range

if TYPE_CHECKING:
    from diagnose.fixes.bench import Bench, Step
    from diagnose.rules import Advice

BISQUES = (hotter_bisque, denser_bisque, enough_bisque, softer_bisque)
BY_THE_BAG = "body_underfired"
"""Its advice is the clay's own cone, whatever bisque is tried first."""
_BY_CONES = re.compile(r"\bcones (?:hotter|cooler)\b")
"""What is so many cones off the bisque or glaze firing can be fired where no cone is worked out."""
OWN_RANGE = "as far as the clay's own range goes"


def with_its_cone(advice: "Sequence[Advice]", bench: "Bench") -> "list[Advice]":
    """The fixes, those on the bisque with the cone for this clay; none hotter than it stands.

    As the rules have them where neither the bisque nor the range of the clay is on record.
    """
    if not _is_worked_out(bench):
        return list(advice)
    made, told, kept = _made(bench), False, []
    for each in advice:
        if BISQUE_CONE not in each.changes:
            kept.append(each)
        elif made and not told:
            kept.append(replace(each, say=_said(made, bench)))
            told = True
        elif not made and _BY_CONES.search(each.say) and not _is_hottest(bench):
            kept.append(each)
    return kept


def that_can_be_fired(tests: "Sequence[Advice]", bench: "Bench") -> "list[Advice]":
    """The tests without a bisque that this clay does not stand, or has had."""
    if not _is_worked_out(bench) or not _is_hottest(bench):
        return list(tests)
    return [each for each in tests if not fires_it(each.say)]


def _is_worked_out(bench: "Bench") -> bool:
    if bench.cause == BY_THE_BAG or not _ways(bench):
        return False
    return bench.view.bisque_cone is not None or label_range(bench.record.body) is not None


def _is_hottest(bench: "Bench") -> bool:
    """Whether its bisque was as hot as its clay stands, as far as both are on record."""
    before, known = bench.view.bisque_cone, label_range(bench.record.body)
    return None not in (before, known) and steps_between(known[1], before) >= 0


def _ways(bench: "Bench") -> list:
    return [make for make in makers(bench) if make in BISQUES]


def _made(bench: "Bench") -> "Step | None":
    return next(filter(None, (make(bench) for make in _ways(bench))), None)


def _said(made: "Step", bench: "Bench") -> str:
    change = made.changes[0]
    if change.before is None:
        other = "cooler" if made.key == "hotter_bisque" else "hotter"
        return f"{made.title}: to cone {change.after}, if it was {other}."
    own = "" if label_range(bench.record.body) else f", {OWN_RANGE}"
    bisque = bench.record.bisque_firing
    was_set = bisque is not None and bisque.target_cone == change.after
    kiln = " It was set for that: put a witness cone beside the next." if was_set else ""
    return f"{made.title}: {change.said}{own}.{kiln}"

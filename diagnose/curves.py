"""How much likelier what is recorded makes a fault, as practitioners estimate it: curves.

The signs of a cause tell causes apart once a fault is there; a curve says what one measure does to
the fault itself, whatever its cause: the change of its log-odds against the same tile with the
ordinary value of that measure. ``diagnose/expected/<defect>.csv`` holds them and its README how
they came about. The weighing gives them to the causes that rest on the measure; the learner begins
from their sum.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from diagnose.vocabulary import holds_word, recipe_measures

if TYPE_CHECKING:
    from diagnose.measures.of_area import Measure

COAT, COAT_AS_ONE = ("coats", "thickness_mm", "fired_thickness_mm"), "coat"
"""Measures of one thing, the coat, and its name: one argument, not three to be added up."""
HEAT, HEAT_AS_ONE = (
    ("cones_from_label_middle", "cones_over_label", "set_over_label", "wrong_band",
     "cones_over_target", "cones_below_other_shelves", "cones_over_body"),
    "heat",
)  # fmt: skip
"""The same for how hot it was fired."""
RELIANCE = {"recipe": 0.65, "batch": 0.6, "bisque": 0.5, "clue": 0.55}
"""What a record's word is worth against the fact itself, by what it tells of (estimates): a recipe
is weighed and a bisque remembered less surely than a coat is counted. Others count in full."""
BATCH = ("specific_gravity", "sieve_mesh", "dry_portion", "revived")
_POINT = re.compile(r"([^:\s][^:]*?):([-+]?[0-9.]+)(?:\s+|$)")


@dataclass(frozen=True)
class Curve:
    """One line of the table.

    ``points`` : (value, log-odds), straight between numbers and flat beyond the ends; ``only`` :
    the words of other measures under which alone it holds.
    """

    measure: str
    only: tuple[tuple[str, tuple[str, ...]], ...]
    points: tuple[tuple[float | str, float], ...]

    def of_word(self, word: str) -> float:
        """Log-odds of a word; 0 where it is not among the points."""
        return sum(log_odds for value, log_odds in self.points if holds_word(word, (value,)))

    def of_number(self, number: float) -> float:
        """Log-odds of a number.

        Examples
        --------
        >>> curve = Curve("coats", (), ((3.0, 0.0), (5.0, 1.0)))
        >>> [curve.of_number(coats) for coats in (2, 4, 9)]
        [0.0, 0.5, 1.0]
        """
        (before, low), *rest = self.points
        if number <= before:
            return low
        for value, high in rest:
            if number <= value:
                return low + (high - low) * (number - before) / (value - before)
            before, low = value, high
        return low


@cache
def curves(defect: str) -> tuple[Curve, ...]:
    """The curves of a defect; none where nothing is expected of it."""
    import csv
    from importlib.resources import files

    file = files("diagnose").joinpath("expected", f"{defect.replace(' ', '_')}.csv")
    if not file.is_file():
        return ()
    lines = csv.DictReader(file.read_text(encoding="utf-8").splitlines())
    return tuple(
        Curve(line["measure"], _conditions(line["only"]), _points(line["log_odds"]))
        for line in lines
    )


def _conditions(text: str) -> tuple:
    parts = (part.partition("=") for part in text.split(";") if part)
    return tuple((measure, tuple(words.split("|"))) for measure, _, words in parts)


def _points(text: str) -> tuple[tuple[float | str, float], ...]:
    found = [(value, float(log_odds)) for value, log_odds in _POINT.findall(text)]
    try:
        return tuple((float(value), log_odds) for value, log_odds in found)
    except ValueError:
        return tuple(found)


@cache
def reliance(measure: str) -> float:
    """What the record's word on a measure is worth, from 0 to 1."""
    from tiles.records.clues import clues

    if measure in clues():
        return RELIANCE["clue"]
    if measure in BATCH:
        return RELIANCE["batch"]
    if measure.startswith("bisque_"):
        return RELIANCE["bisque"]
    if measure in recipe_measures() and not measure.endswith(("_per_k", "_pa_s")):
        return RELIANCE["recipe"]
    return 1.0


def one_fact(measure: str) -> str:
    """The name of the fact that a measure tells: the coat, the heat, or the measure itself."""
    if measure in COAT:
        return COAT_AS_ONE
    return HEAT_AS_ONE if measure in HEAT else measure


def told_by(defect: str, measures: "Mapping[str, Measure]") -> dict[str, float]:
    """What each recorded measure that has a curve does to the fault. [log-odds].

    Parameters
    ----------
    defect : str
        A word of the record list.
    measures : Mapping[str, Measure]
        What is recorded, by name.
    """
    told: dict[str, float] = {}
    for curve in curves(defect):
        measure = measures.get(curve.measure)
        if measure is not None and _holds(curve, measures):
            said = reliance(curve.measure) * measure.trust * _of(curve, measure.value)
            told[curve.measure] = told.get(curve.measure, 0.0) + said
    return told


def by_fact(told: "Mapping[str, float]") -> dict[str, float]:
    """The same by the name of each fact (``one_fact``).

    Of several measures of one fact the one counts that makes the fault likeliest.
    """
    facts: dict[str, float] = {}
    for name, said in told.items():
        facts[one_fact(name)] = max(said, facts.get(one_fact(name), said))
    return facts


def _holds(curve: Curve, measures: "Mapping[str, Measure]") -> bool:
    return all(
        name in measures and holds_word(measures[name].value, words) for name, words in curve.only
    )


def _of(curve: Curve, value: float | str) -> float:
    if isinstance(value, str):
        return curve.of_word(value)
    return curve.of_number(value) if isinstance(curve.points[0][0], float) else 0.0

"""How much likelier what is recorded makes a fault, as practitioners estimate it: curves.

The rules tell causes apart once a fault is there; a curve says what one measure does to the fault
itself, whatever its cause: the change of its log-odds against the same tile with the ordinary value
of that measure. ``diagnose/expected/<defect>.csv`` holds them and its README how they came about.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from diagnose.learning.table import COAT, COAT_AS_ONE
from diagnose.weighing import holds_word

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.blanks import Drawn

TOTAL, EACH = "expected", "curve"
"""Names of the columns: the sum of all curves, and ``curve:MEASURE`` for what each adds to it."""
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
    from diagnose.learning.blanks import recipe_measures
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


def columns(defect: str, drawn: "Drawn") -> "dict[str, np.ndarray]":
    """What is expected of each row: the sum, and what each measure adds. [log-odds], shape (n,).

    Parameters
    ----------
    defect : str
        A word of the record list.
    drawn : Drawn
        The rows with their blanks filled; the mean over the draws is taken.
    """
    found: dict[str, np.ndarray] = {}
    for curve, said in _each(defect, drawn):
        found[curve.measure] = found.get(curve.measure, 0.0) + reliance(curve.measure) * said
    if not found:
        return {}
    found = _coat_as_one(found, drawn)
    return {TOTAL: sum(found.values())} | {f"{EACH}:{name}": v for name, v in found.items()}


def _each(defect: str, drawn: "Drawn") -> "Iterator[tuple[Curve, np.ndarray]]":
    for curve in curves(defect):
        said = _said(curve, drawn)
        if said is not None:
            yield curve, said.mean(axis=0)


def _said(curve: Curve, drawn: "Drawn") -> "np.ndarray | None":
    """Log-odds on every draw; None where the measure is nowhere on record."""
    import numpy as np

    if curve.measure in drawn.numbers:
        values, log_odds = zip(*curve.points, strict=True)
        said = np.nan_to_num(np.interp(drawn.numbers[curve.measure], values, log_odds))
    elif curve.measure in drawn.words:
        said = drawn.worth(curve.measure, lambda word: _of_word(curve, word))
    else:
        return None
    for measure, words in curve.only:
        if measure not in drawn.words:
            return None
        said = said * drawn.holds(measure, words)
    return said


def _of_word(curve: Curve, word: str) -> float:
    return sum(log_odds for value, log_odds in curve.points if holds_word(word, (value,)))


def _coat_as_one(found: "dict[str, np.ndarray]", drawn: "Drawn") -> "dict[str, np.ndarray]":
    """The measures of the coat as one: the mean of those on record on the row, else of all."""
    import numpy as np

    here = [name for name in COAT if name in found]
    if not here:
        return found
    told = np.array([found.pop(name) for name in here])
    counts = np.array([drawn.recorded.get(n, np.zeros(drawn.n)) for n in here]) + 1e-6
    return found | {COAT_AS_ONE: (told * counts).sum(axis=0) / counts.sum(axis=0)}

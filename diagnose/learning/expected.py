"""The curves of common practice (``diagnose.curves``) as columns of the learner."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.curves import COAT, COAT_AS_ONE, Curve, curves, reliance

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.blanks import Drawn

TOTAL, EACH = "expected", "curve"
"""Names of the columns: the sum of all curves, and ``curve:MEASURE`` for what each adds to it."""


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
        said = drawn.worth(curve.measure, curve.of_word)
    else:
        return None
    for measure, words in curve.only:
        if measure not in drawn.words:
            return None
        said = said * drawn.holds(measure, words)
    return said


def _coat_as_one(found: "dict[str, np.ndarray]", drawn: "Drawn") -> "dict[str, np.ndarray]":
    """The measures of the coat as one: the mean of those on record on the row, else of all."""
    import numpy as np

    here = [name for name in COAT if name in found]
    if not here:
        return found
    told = np.array([found.pop(name) for name in here])
    counts = np.array([drawn.recorded.get(n, np.zeros(drawn.n)) for n in here]) + 1e-6
    return found | {COAT_AS_ONE: (told * counts).sum(axis=0) / counts.sum(axis=0)}

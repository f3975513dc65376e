"""What was learned, for a reader: lessons in words, held-back forecasts, and more tiles' worth."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.curves import COAT_AS_ONE
from diagnose.learning import beliefs, design, expected, pairs, validate
from diagnose.learning.explain import strongest_lessons
from diagnose.learning.model import LEARNED, learn_seen
from diagnose.learning.rows import looked_at
from diagnose.rules import load

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learner import Model

LEAST_MOVE = 0.2
"""Lessons that move the log-odds by less are not told (estimate)."""
FIRST_SIZE, ORDERS, MANY_TILES, SEED = 20, 3, 400, 5
TELLS = ("sign", expected.EACH)
"""Kinds of columns that stand for a measure and count for more or less than believed."""
BINS = 8
FEWEST_IN_BIN = 10


@dataclass(frozen=True)
class Lesson:
    """What own tiles moved away from common practice: in words, and by how much. [log-odds]."""

    said: str
    move: float


@dataclass(frozen=True)
class Reliability:
    """Held-back forecasts in groups of like chance: mean chance, share that came, areas."""

    forecast: list[float]
    came: list[float]
    areas: list[int]


@dataclass(frozen=True)
class CurvePoint:
    """Share of guessing's surprise (log-loss) that forecasts take away, learned from ``tiles``."""

    tiles: int
    yours: float
    rules: float


def lessons(model: "Model", defect: str, count: int = 3) -> list[Lesson]:
    """The strongest lessons of one defect, in words.

    Parameters
    ----------
    model : Model
        From `diagnose.learner`.
    defect : str
        One that was learned.
    """
    found: dict[str, Lesson] = {}
    for column, move in strongest_lessons(model.learned, defect):
        if abs(move) >= LEAST_MOVE:
            # Strongest first, and two signs on one measure can pull apart: the first stays.
            said = _said(column, move, defect, model.spelling)
            found.setdefault(_subject(column), Lesson(said, move))
    return list(found.values())[:count]


def _subject(column: str) -> str:
    kind, _, rest = column.partition(":")
    return f"measure:{rest.partition('|')[0]}" if kind in TELLS else column


def _said(column: str, move: float, defect: str, spelling: "Mapping[str, str]") -> str:
    kind, _, rest = column.partition(":")
    worth = "more" if move > 0 else "less"
    if kind in ("glaze", *design.SHARED):
        named = f"glazes of {rest}" if kind == design.BASE else spelling.get(rest, rest)
        return f"{named}: {worth} often than common practice expects"
    if kind == "pair":
        met, glaze, what = rest.split(pairs.BETWEEN)
        said = pairs.said(met, spelling.get(what, what))
        return f"{spelling.get(glaze, glaze)} {said}: {worth} often than it does otherwise"
    if kind == "cause":
        titles = {c.name: c.title for c in load(defect).causes}
        return f'"{titles.get(rest, rest)}" accounts for {worth} of it than usual'
    if beliefs.is_plain(column):
        # A measure of which nothing was believed can only come to count for more.
        mean, _ = beliefs.prior(column, defect)
        return (
            f"{beliefs.SAID[column]} counts for {'more' if move * mean >= 0 else 'less'} than usual"
        )
    measure, _, word = rest.partition("|")[0].partition("=")
    label = _label(measure)
    if kind == "word" and word:
        return f"{label} {word}: {worth} often"
    return f"{label} matters {worth} than usual" if kind in TELLS else f"{label} counts by itself"


def _label(measure: str) -> str:
    from diagnose.vocabulary import clue_said, label_of
    from tiles.records.clues import clues

    if measure in clues():
        return f'"{clue_said(measure, "yes")}"'
    if measure == COAT_AS_ONE:
        return "the coat"
    return label_of(measure)


def learned_defects(model: "Model") -> list[str]:
    """The defects of which more than the usual rate was learned."""
    return [defect for defect, state in model.states.items() if state == LEARNED]


def reliability(model: "Model", defects: Sequence[str]) -> Reliability:
    """How forecasts on glazes held back compare with what came, all defects together."""
    import numpy as np

    training = model.training
    told, came = [], []
    for train, test in validate.folds(validate.GLAZES, training):
        held = learn_seen(training, train, model.learned.widths, model.learned)
        for defect in defects:
            y = training.outcomes[defect]
            here = test & np.isfinite(y)
            told.append(held.chance(defect, training.seen)[here])
            came.append(y[here])
    return _in_bins(np.concatenate(told or [[]]), np.concatenate(came or [[]]))


def _in_bins(told: "np.ndarray", came: "np.ndarray") -> Reliability:
    """Groups of equally many forecasts, but for few forecasts fewer groups."""
    import numpy as np

    groups = max(1, min(BINS, told.size // FEWEST_IN_BIN))
    parts = [part for part in np.array_split(np.argsort(told, kind="stable"), groups) if part.size]
    return Reliability(
        [float(told[part].mean()) for part in parts],
        [float(came[part].mean()) for part in parts],
        [int(part.size) for part in parts],
    )


def learning_curve(
    model: "Model", defects: Sequence[str], split: str = validate.GLAZES
) -> list[CurvePoint]:
    """How much better forecasts get with more tiles.

    A fifth of the glazes, or of the tiles, is held back in turn; of the other tiles only so many
    are learned from, chosen at random (always the same). All sizes are judged on the same held-back
    tiles. With fewer than 37 inspected tiles, or where the glaze to hold back is the only one,
    there is no curve.

    Parameters
    ----------
    model : Model
        With the tiles it was learned from.
    defects : sequence of str
        Those that were learned.
    split : str
        ``"glazes"``: the worth for a new glaze; ``"tiles"``: for glazes that have tiles.
    """
    import numpy as np

    training = model.training
    of_tile = training.seen.table.groups["tile"]
    tiles = np.unique(of_tile[looked_at(training.outcomes)].astype(str))
    sizes, folds = _sizes(tiles.size), list(validate.folds(split, training))
    if not sizes or not defects or not folds:
        return []
    rng = np.random.default_rng(SEED)
    orders = [rng.permutation(tiles) for _ in range(ORDERS if tiles.size <= MANY_TILES else 1)]
    return [_point(model, defects, size, orders, folds, split) for size in sizes]


def _sizes(tiles: int) -> list[int]:
    """Doubling sizes, and the most that is left when a fold is held back."""
    most = round(tiles * (1 - 1 / validate.FOLDS))
    sizes, size = [], FIRST_SIZE
    while 1.5 * size <= most:
        sizes.append(size)
        size *= 2
    return [*sizes, most] if sizes else []


def _point(
    model: "Model", defects: Sequence[str], size: int, orders: list, folds: list, split: str
) -> CurvePoint:
    import numpy as np

    names = model.training.seen.table.groups["tile"].astype(str)
    surprise: dict[str, float] = {}
    for train, test in folds:
        chosen: Counter[bytes] = Counter()
        for order in orders:
            left = [name for name in order if train[names == name].any()][:size]
            chosen[(train & np.isin(names, left)).tobytes()] += 1
        # Where all that is left is learned from, every order chooses the same tiles.
        for use, times in chosen.items():
            told = _surprise(model, defects, np.frombuffer(use, bool), test, split)
            for name, loss in told.items():
                surprise[name] = surprise.get(name, 0.0) + times * loss
    surprise = validate.better_of_two(surprise)
    base = surprise.get(validate.BASE) or 1.0
    yours, rules = (
        1 - surprise.get(name, base) / base for name in (validate.MODEL, validate.RULES)
    )
    return CurvePoint(size, float(yours), float(rules))


def _surprise(model: "Model", defects: Sequence[str], use, test, split: str) -> dict[str, float]:
    """Log-loss summed over the held-back areas, by forecaster."""
    import numpy as np

    outcomes = {d: y for d, y in model.training.outcomes.items() if d in defects}
    asked = replace(model.training, outcomes=outcomes)
    part = learn_seen(asked, use, model.learned.widths)
    total: dict[str, float] = {}
    for defect in defects:
        y = outcomes[defect]
        here = test & np.isfinite(y)
        if not here.any() or not (use & np.isfinite(y)).any():
            continue
        told = validate.held_back_chances(part, defect, asked, use, here, split)
        for name, chances in told.items():
            loss = validate.log_loss(chances, y[here]) * here.sum()
            total[name] = total.get(name, 0.0) + float(loss)
    return total

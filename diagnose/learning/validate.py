"""How well the studio's own tiles were forecast when they were held back.

Three ways to hold back: every tile of a glaze together, which judges forecasts of a new glaze;
single tiles, which judges those of a glaze that has tiles already; and the newest three in ten.
Against three yardsticks: the base rate, the rate of each glaze drawn towards it, and the rules
alone with their usual rate adjusted to the studio. For whole glazes the base rate is the studio's
own or that of the trade, whichever guesses better: where one glaze has all the faults, the other
glazes say that there are none, and anything would beat that. So it is with the rules alone. Blanks
are filled from all tiles at once, which looks at no outcome. The day on which a held-back tile was
looked at is one of them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.learning import design, newton
from diagnose.learning.model import LEARNED, Learned, Training, learn_seen
from diagnose.learning.rows import looked_at
from diagnose.learning.seen import Seen
from diagnose.learning.usual import PREVALENCE
from tiles.errors import InvalidValue
from tiles.records.words import DEFECTS

if TYPE_CHECKING:
    import numpy as np

FOLDS, OLDEST = 5, 0.7
TILES_WORTH, GLAZE_WORTH = 2.0, 4.0
"""The usual rate counts as two tiles, the studio's rate as four tiles of a glaze (estimates)."""
FLOOR = 1e-4
BINS = 10
SEED = 5
LEAST_GAIN = 0.01
"""A smaller share of the surprise (log-loss) taken away counts as none ..."""
LEAST_ERRORS = 0.5
"""... and so does one of fewer of its own standard errors: luck gives it too often."""
GLAZES, TILES, FORWARD = "glazes", "tiles", "forward"
"""What is held back: a glaze's tiles together, single tiles, the newest tiles."""
MODEL, BASE, GLAZE_RATE, RULES = "model", "base rate", "glaze rate", "rules alone"
TRADE = " of the trade"
"""What the name of a yardstick ends in that takes the usual rate from elsewhere."""


@dataclass(frozen=True)
class Verdict:
    """Held-back forecasts of one defect.

    ``log_loss`` and ``brier`` by forecaster (``model``, ``base rate``, ``glaze rate``,
    ``rules alone``), means over ``areas`` inspected areas; ``calibration`` : mean distance between
    forecast and frequency of the model; ``learned`` : whether more than the usual rate was learned;
    ``standard_errors`` : by how many of its own standard errors the model's log-loss lies below
    that of guessing.
    """

    defect: str
    areas: int
    seen: int
    log_loss: dict[str, float]
    brier: dict[str, float]
    calibration: float
    learned: bool
    standard_errors: float

    @property
    def gain(self) -> float:
        """Share of the surprise of guessing that the forecasts take away; below 0 they add to it.

        Guessing gives every held-back tile one rate.
        """
        return 1 - self.log_loss[MODEL] / self.log_loss[BASE]

    @property
    def beats_base_rate(self) -> bool:
        """Whether the forecasts were clearly better than guessing."""
        is_clear = self.gain >= LEAST_GAIN and self.standard_errors >= LEAST_ERRORS
        return self.learned and is_clear

    @property
    def beats_rules(self) -> bool:
        """Whether own tiles made the forecasts better than common practice alone."""
        return self.learned and self.log_loss[MODEL] < self.log_loss[RULES]


def by_glaze(glazes: "np.ndarray", tiles: "np.ndarray") -> "Iterator[tuple]":
    """Training and test rows with every tile of a glaze on one side, folds of like size.

    None where all tiles have one glaze.
    """
    import numpy as np

    names, which, counts = np.unique(glazes.astype(str), return_inverse=True, return_counts=True)
    folds = min(FOLDS, names.size)
    load, fold_of = np.zeros(folds), np.zeros(names.size, int)
    for at in np.argsort(-counts, kind="stable"):
        fold_of[at] = load.argmin()
        load[fold_of[at]] += counts[at]
    for fold in range(folds if folds > 1 else 0):
        test = fold_of[which] == fold
        yield ~test & ~np.isin(tiles.astype(str), tiles[test].astype(str)), test


def by_tile(tiles: "np.ndarray") -> "Iterator[tuple]":
    """Training and test rows with all areas of a tile on one side, a fifth of the tiles each."""
    import numpy as np

    names, which = np.unique(tiles.astype(str), return_inverse=True)
    fold_of = np.random.default_rng(SEED).permutation(names.size) % FOLDS
    for fold in range(min(FOLDS, names.size) if names.size > 1 else 0):
        test = fold_of[which] == fold
        yield ~test, test


def forward(days: "np.ndarray", tiles: "np.ndarray", here: "np.ndarray") -> "Iterator[tuple]":
    """The oldest seven in ten tiles to learn from, the rest to forecast; needs a known day.

    The cut lies between two days: tiles of the day on which it falls are all forecast. Tiles that
    nobody looked at (rows not ``here``) count on neither side.
    """
    import numpy as np

    if np.isnan(days[here]).all():
        return
    names, first = np.unique(tiles[here].astype(str), return_index=True)
    day = np.nan_to_num(days[here][first], nan=-np.inf)
    cut = np.sort(day)[min(round(OLDEST * names.size), names.size - 1)]
    is_old = np.isin(tiles.astype(str), names[day < cut])
    if is_old[here].any():
        yield here & is_old, here & ~is_old


def folds(split: str, training: Training) -> "Iterator[tuple]":
    """Training and test rows of each fold of a split.

    Raises
    ------
    InvalidValue
        There is no such split.
    """
    table = training.seen.table
    groups = table.groups
    known = {
        GLAZES: lambda: by_glaze(groups["glaze"], groups["tile"]),
        TILES: lambda: by_tile(groups["tile"]),
        FORWARD: lambda: forward(table.days, groups["tile"], looked_at(training.outcomes)),
    }
    if split not in known:
        raise InvalidValue(f"there is no split {split!r}.", f"one of {', '.join(known)}.")
    return known[split]()


def validate(learned: Learned, training: Training, split: str) -> dict[str, Verdict]:
    """Judge a model on its own training rows by learning again without some of them.

    The widths are those of the whole model: chosen on all outcomes, which flatters the log-loss
    by about .002 at 30 to 60 tiles (simulated studios).

    Parameters
    ----------
    learned : Learned
        The model of all rows; the others begin from it.
    training : Training
        The rows it was learned from.
    split : str
        ``"glazes"`` (kept apart), ``"tiles"`` or ``"forward"`` (in time).

    Returns
    -------
    dict[str, Verdict]
        Only defects that were inspected for in some fold.
    """
    import numpy as np

    told: dict[str, list] = {defect: [] for defect in DEFECTS}
    for train, test in folds(split, training):
        model = learn_seen(training, train, learned.widths, learned)
        for defect in DEFECTS:
            y = training.outcomes[defect]
            here = test & np.isfinite(y)
            if here.any() and (train & np.isfinite(y)).any():
                chances = held_back_chances(model, defect, training, train, here, split)
                told[defect].append((y[here], chances))
    return {
        defect: _verdict(defect, parts, learned.defects[defect].state == LEARNED)
        for defect, parts in told.items()
        if parts
    }


def held_back_chances(
    model: Learned, defect: str, training: Training, train, here, split: str
) -> "dict[str, np.ndarray]":
    """Chances of the held-back rows ``here``, by forecaster; learned from ``train``.

    With whole glazes held back there are two of the base rate and of the rules alone, see
    `better_of_two`.
    """
    import numpy as np

    seen, y = training.seen, training.outcomes[defect]
    usual, before = PREVALENCE[defect], seen.before_a_look(model.defects[defect].layout)
    known, glaze = train & np.isfinite(y), seen.table.groups["glaze"]
    base = _rate(y[known], usual, TILES_WORTH)
    own = {name: _rate(y[known & (glaze == name)], base, GLAZE_WORTH) for name in set(glaze[here])}
    told = {
        MODEL: model.chance(defect, before)[here],
        BASE: np.full(here.sum(), base),
        GLAZE_RATE: np.array([own[name] for name in glaze[here]]),
        RULES: _by_rules(seen, defect, known, base, model.widths)[here],
    }
    if split == GLAZES:
        by_trade = _by_rules(seen, defect, known, usual, model.widths)[here]
        told |= {BASE + TRADE: np.full(here.sum(), usual), RULES + TRADE: by_trade}
    return told


def better_of_two(loss: dict[str, float]) -> dict[str, float]:
    """Of each yardstick that takes the studio's rate or that of the trade the better.

    Examples
    --------
    >>> better_of_two({"model": 0.3, "base rate": 0.5, "base rate of the trade": 0.4})
    {'model': 0.3, 'base rate': 0.4}
    """
    return {
        name: min(each, loss.get(name + TRADE, each))
        for name, each in loss.items()
        if not name.endswith(TRADE)
    }


def _rate(y: "np.ndarray", usual: float, worth: float) -> float:
    return float((y.sum() + worth * usual) / (y.size + worth))


def _by_rules(seen: Seen, defect: str, here, base: float, widths: design.Widths) -> "np.ndarray":
    """The rules alone, at a base rate over the rows ``here``."""
    import numpy as np

    believed = seen.practice(defect)
    z = np.zeros(here.size)
    for name in design.BELIEVED:
        if name in believed:
            z = z + widths.of(name, defect)[0] * believed[name]
    return newton.chance(newton.start_at(z[here], base) + z)


def _verdict(defect: str, parts: list, is_learned: bool) -> Verdict:
    import numpy as np

    y = np.concatenate([came for came, _ in parts])
    told = {name: np.concatenate([p[name] for _, p in parts]) for name in parts[0][1]}
    guesses = [told[name] for name in (BASE, BASE + TRADE) if name in told]
    return Verdict(
        defect,
        int(y.size),
        int(y.sum()),
        better_of_two({name: log_loss(p, y) for name, p in told.items()}),
        better_of_two({name: float(((p - y) ** 2).mean()) for name, p in told.items()}),
        calibration_error(told[MODEL], y),
        is_learned,
        _standard_errors(surprise(told[MODEL], y), *(surprise(p, y) for p in guesses)),
    )


def _standard_errors(ours: "np.ndarray", *theirs: "np.ndarray") -> float:
    """How far the mean surprise lies below that of the best guesser, in its standard errors."""
    less = min(theirs, key=lambda each: each.mean()) - ours
    error = less.std() / less.size**0.5
    return float(less.mean() / error) if error else 0.0


def surprise(p: "np.ndarray", y: "np.ndarray") -> "np.ndarray":
    """The log-loss of each forecast. shape as ``p``."""
    import numpy as np

    p = np.clip(p, FLOOR, 1 - FLOOR)
    return -(y * np.log(p) + (1 - y) * np.log(1 - p))


def log_loss(p: "np.ndarray", y: "np.ndarray") -> float:
    """Mean log-loss of forecasts against what came."""
    return float(surprise(p, y).mean())


def calibration_error(p: "np.ndarray", y: "np.ndarray") -> float:
    """Mean distance between forecast and frequency, over bins of equally many forecasts."""
    import numpy as np

    parts = np.array_split(np.argsort(p, kind="stable"), BINS)
    off = [abs(p[part].mean() - y[part].mean()) * part.size for part in parts if part.size]
    return float(sum(off) / p.size)

"""What was learned of every defect, and the forecasts that follow from it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING

from diagnose.learning import blanks, design, newton, pairs, severity
from diagnose.learning.rows import looked_at
from diagnose.learning.seen import Seen
from diagnose.learning.threads import on_one_thread
from diagnose.learning.usual import PREVALENCE
from diagnose.learning.weights import area_weights, tile_weight
from tiles.records.words import DEFECTS

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.rows import Row
    from diagnose.learning.table import Table

FEWEST_TILES, FEWEST_SEEN = 20, 3
"""Below so many inspected tiles, or tiles with the defect, only the usual rate is adjusted."""
LEARNED, FEW_TILES, FEW_SEEN, NEVER_INSPECTED = (
    "learned",
    "too few tiles inspected",
    "seen too rarely",
    "never inspected",
)
MET = ("glaze", "body")
"""What may be named and on no tile: of it nothing can have been learned."""
TURNS = 2
RAREST = 1e-3
NINETY_PERCENT = 1.6449
"""Standard deviations on either side of the middle that hold 90 % of a normal distribution."""


@dataclass
class DefectModel:
    """One defect: the columns of its model, their coefficients, and what they were learned from.

    ``state`` is LEARNED, or says why only the usual rate was adjusted; ``inspected`` and ``seen``
    count tiles; ``widths`` are what was believed, the differences
    between groups as the tiles tell them; ``usual`` is the mean chance over the training areas.
    """

    defect: str
    state: str
    inspected: int
    seen: int
    layout: design.Layout
    fitted: newton.Fitted
    widths: design.Widths
    usual: float
    paired: pairs.Effects | None = None

    def coefficients(self) -> dict[str, float]:
        """Learned coefficient of each column, in log-odds per unit of the column."""
        return dict(zip(self.layout.columns, self.fitted.b[1:].tolist(), strict=True))


@dataclass
class Learned:
    """The models of all defects and what they share.

    ``glazes`` are the glazes of the areas looked at, in the order of the glaze effects; ``met``
    holds for each measure what was met on these: the least and greatest number, or the words;
    ``bodies`` are the clay bodies of these areas.
    """

    blanks: blanks.Blanks
    glazes: list[str]
    defects: dict[str, DefectModel]
    met: dict[str, list]
    widths: design.Widths = field(default_factory=design.Widths)
    bodies: list[str] = field(default_factory=list)
    known_pairs: pairs.Known = field(default_factory=pairs.Known)

    def has_met(self, kind: str, name: str) -> bool:
        """Whether an inspected area had a glaze or body, by its name in the table."""
        return name in (self.glazes if kind == "glaze" else self.bodies)

    def see(self, rows: "Sequence[Row]") -> Seen:
        """Read rows for a forecast."""
        return Seen(rows, self.blanks)

    @on_one_thread
    def log_odds(self, defect: str, seen: Seen) -> "tuple[np.ndarray, np.ndarray]":
        """Mean and variance of the log-odds of each row. shape (n,) each."""
        model = self.defects[defect]
        x = seen.matrix(defect, model.layout)
        glazes = self.glazes if model.fitted.u.size else []
        group = group_of(glazes, seen.table.groups["glaze"])
        mean = x @ model.fitted.b + model.fitted.effect(group)
        if model.paired is not None:
            place, opened = seen.pairs_among(self.known_pairs)
            mean = model.paired.averaged(mean + model.paired.added(place), opened)
        return mean, newton.variance(model.fitted, x, group, model.widths.glaze_sd)

    def chance(self, defect: str, seen: Seen) -> "np.ndarray":
        """Chance of the defect on each row, averaged over what is not known. shape (n,)."""
        return self.told(defect, seen)[0]

    def told(self, defect: str, seen: Seen) -> "tuple[np.ndarray, np.ndarray, np.ndarray]":
        """The chance on each row, and both ends of its 90 % range. shape (n,) each."""
        usual = min(max(self.defects[defect].usual, RAREST), 1 - RAREST)
        mean, spread = self.log_odds(defect, seen)
        chance = newton.chance(newton.averaged(mean, spread, usual))
        spread = spread + self._spread_of_pairs(defect, seen)
        reach = NINETY_PERCENT * spread**0.5
        return chance, newton.chance(mean - reach), newton.chance(mean + reach)

    def _spread_of_pairs(self, defect: str, seen: Seen) -> "np.ndarray | float":
        """Variance of what the glazes of the rows do in their company.

        It widens the range only. The chance is not drawn to the usual one by it: how much glazes
        differ was read from tiles in all kinds of company.
        """
        model = self.defects[defect]
        if model.paired is None:
            return 0.0
        place, _ = seen.pairs_among(self.known_pairs)
        return model.paired.variance(place, model.widths.pair_sd)


def group_of(glazes: list[str], names: "np.ndarray") -> "np.ndarray":
    """Place of each row's glaze in the list; -1 for one that was not met, or not recorded."""
    import numpy as np

    place = {name: at for at, name in enumerate(glazes)}
    return np.array([place.get(name, -1) for name in names], int)


@dataclass(frozen=True)
class Training:
    """Rows that were read, and what came of them.

    ``outcomes`` : for each defect 1 seen, 0 not seen, NaN nobody looked; only of these defects
    anything is learned. ``worse`` : for each, where it was seen, 1 worse than slight, 0 slight;
    else, and where nobody said, NaN. shape (n,) each.
    """

    seen: Seen
    outcomes: "dict[str, np.ndarray]"
    worse: "dict[str, np.ndarray]"


def learn_seen(
    training: Training,
    use: "np.ndarray | None" = None,
    widths: design.Widths = design.DEFAULT,
    near: "Learned | None" = None,
) -> Learned:
    """Learn from some of the rows that were read.

    Parameters
    ----------
    training : Training
        The rows.
    use : ndarray of bool, optional
        Rows to learn from; all without it.
    near : Learned, optional
        A model of nearly the same rows, to begin from.
    """
    import numpy as np

    seen, outcomes = training.seen, training.outcomes
    use = np.ones(seen.table.n, bool) if use is None else use
    here = looked_at(outcomes)
    glazes = near.glazes if near else sorted(set(seen.table.groups["glaze"][here]) - {""})
    group = group_of(glazes, seen.table.groups["glaze"])
    tiles = np.unique(seen.table.groups["tile"].astype(str), return_inverse=True)[1]
    known = near.known_pairs if near else seen.known_pairs(here)
    shared = _Shared(tiles, group, len(glazes), seen.pairs_among(known)[0], len(known.names))
    models = {}
    for defect in (each for each in DEFECTS if each in outcomes):
        start = near.defects[defect] if near else None
        models[defect] = _learn_one(defect, training, use, shared, widths, start)
    bodies = sorted(set(seen.table.groups["body"][here]) - {""})
    return Learned(seen.blanks, glazes, models, _met(seen.table, here), widths, bodies, known)


@dataclass(frozen=True)
class _Shared:
    """What rows share: the number of each row's tile and glaze, and the places of its pairs."""

    tiles: "np.ndarray"
    glaze: "np.ndarray"
    glazes: int
    place: "np.ndarray"
    pairs: int


def _learn_one(defect, training: Training, use, shared: _Shared, widths, start) -> DefectModel:
    import numpy as np

    seen, y, worse = training.seen, training.outcomes[defect], training.worse[defect]
    here, tiles, place = use & np.isfinite(y), shared.tiles, shared.place
    inspected, positive, sound = (
        np.unique(tiles[rows]).size for rows in (here, here & (y == 1), here & (y == 0))
    )
    state = _state(inspected, min(positive, sound))
    group, count = shared.glaze, shared.glazes
    if state != LEARNED:
        widths, count = widths.fixed(), 0
    is_near = start is not None and start.state == state
    layout = start.layout if is_near else _layout(defect, seen, state, widths)
    x = seen.matrix(defect, layout)
    weight = area_weights(tiles, here, widths.area_share)
    if state == LEARNED:
        weight = weight * tile_weight(inspected)
    else:
        worse = np.full(y.size, np.nan)
    group = group if count else np.full(y.size, -1)
    told = severity.answers(*(each[here] for each in (x, y, worse, weight, group)))
    fit = partial(_fit, defect, layout, told, told.seen if here.any() else x, count)
    if is_near:
        widths, fitted = start.widths, fit(start.widths, (start.fitted.b, start.fitted.u))
    else:
        widths, fitted = _intercept_width(fit, _group_widths(fit, widths) if count else widths)
    z, paired = x @ fitted.b + fitted.effect(group), None
    if state == LEARNED:
        # Never from the model that is near: a fold would keep what its held-back tiles had shown.
        begin = np.zeros(shared.pairs)
        if not is_near:
            widths, fitted = _clue_widths(fit, widths, layout, fitted)
        fit = partial(fit, widths)
        fitted, paired = _with_pairs(fit, fitted, x, y, here, weight, group, place, widths, begin)
        z = x @ fitted.b + fitted.effect(group) + paired.added(place)
    chances = newton.chance(z)[here]
    usual = float(chances.mean()) if here.any() else PREVALENCE[defect]
    return DefectModel(defect, state, inspected, positive, layout, fitted, widths, usual, paired)


def _with_pairs(fit, fitted, x, y, here, weight, group, place, widths, begin):
    """The effects of pairs and all the others by turns, each beside the others as they are."""
    for _ in range(TURNS):
        z = x @ fitted.b + fitted.effect(group)
        paired = pairs.fit(z[here], y[here], weight[here], place[:, here], widths.pair_sd, begin)
        begin = paired.u
        fitted = fit((fitted.b, fitted.u), paired.added(place)[here])
    return fitted, paired


def _layout(defect: str, seen: Seen, state: str, widths: design.Widths) -> design.Layout:
    """The columns in use: where little was learned those alone that hold what is believed."""
    used = frozenset(
        name
        for name in seen.columns(defect)
        if widths.uses(name, defect)
        and (state == LEARNED or name in design.BELIEVED)
        and name not in seen.lone_bases
    )
    return seen.layout(defect, used)


def _fit(defect, layout, told, usual, count, widths, begin=None, offset=0.0):
    """``usual`` : the rows over which common practice has the usual prevalence."""
    mean, sd = design.priors(layout, widths, defect)
    mean[0] = newton.start_at(usual @ mean, PREVALENCE[defect])
    return told.fit(mean, sd, count, widths.glaze_sd, begin, offset)


def _group_widths(fit: "Callable", widths: design.Widths) -> design.Widths:
    """How much glazes and bodies differ, as far as the tiles themselves tell."""
    import numpy as np

    points, begin = np.array(design.GROUP_WIDTHS), None
    told = []
    for glaze_sd, body_sd, believed in design.GROUP_WIDTHS:
        fitted = fit(widths.between_groups(glaze_sd, body_sd), begin)
        begin = (fitted.b, fitted.u)
        told.append(fitted.log_evidence + believed)
    share = np.exp(np.array(told) - max(told))
    glaze_sd, body_sd = np.exp(share @ np.log(points[:, :2]) / share.sum())
    return widths.between_groups(float(glaze_sd), float(body_sd))


def _clue_widths(
    fit: "Callable", widths: design.Widths, layout: design.Layout, fitted: newton.Fitted
) -> "tuple[design.Widths, newton.Fitted]":
    """How far each clue may move, as its own effect calls for."""
    clues = [(at, name) for at, name in enumerate(layout.columns, 1) if name.startswith("clue:")]
    for _ in range(design.CLUE_PASSES if clues else 0):
        sizes = {name: float(fitted.b[at] ** 2 + fitted.cov[at, at]) for at, name in clues}
        widths = widths.after(sizes)
        fitted = fit(widths, (fitted.b, fitted.u))
    return widths, fitted


def _intercept_width(
    fit: "Callable", widths: design.Widths
) -> "tuple[design.Widths, newton.Fitted]":
    """Wide where the studio's own rate is too far from the usual one to be chance."""
    far = replace(widths, intercept_sd=design.FAR_INTERCEPT_SD)
    near_fit = fit(widths)
    far_fit = fit(far, (near_fit.b, near_fit.u))
    gain = far_fit.log_evidence + design.FAR_BELIEVED - near_fit.log_evidence
    return (far, far_fit) if gain > 0 else (widths, near_fit)


def _state(inspected: int, fewer: int) -> str:
    """``fewer`` : tiles with, or with an area without the defect, whichever are fewer."""
    if not inspected:
        return NEVER_INSPECTED
    if inspected < FEWEST_TILES:
        return FEW_TILES
    return FEW_SEEN if fewer < FEWEST_SEEN else LEARNED


def _met(seen: "Table", here: "np.ndarray") -> dict[str, list]:
    """Least and greatest of each number, and the words of each measure, on the rows ``here``."""
    import numpy as np

    met: dict[str, list] = {}
    for name, values in seen.numbers.items():
        known = values[here & ~np.isnan(values)]
        met[name] = [float(known.min()), float(known.max())] if known.size else []
    for name, values in seen.words.items():
        met[name] = sorted({value for value in values[here] if value is not None})
    return met

"""How good forecasts are: log-loss, Brier, calibration, and the share of the gap they close."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from tests.bench.baselines import BaseRate, labels
from tests.bench.simulate import Simulated
from tests.bench.splits import SPLITS
from tiles.exchange.flat_columns import defect_column

FLOOR = 1e-4
ASKED_OF_A_FAULT = (
    "new_batch_only", "fails_on_every_body", "sound_on_other_body", "used_to_be_sound",
    "other_glazes_fail_too", "most_of_load_affected", "one_shelf_only", "pinged_on_opening",
    "grey_core",
)  # fmt: skip
"""Clues of other groups that are asked only once a fault has been seen."""

FEWEST_POSITIVES = 3
"""A defect seen less often in a studio is not scored there, for no forecaster."""


def log_loss(p: np.ndarray, y: np.ndarray) -> float:
    """Mean log-loss; ``y`` is what came, or the true chance of it for the expected loss.

    Examples
    --------
    >>> round(log_loss(np.array([0.5, 0.5]), np.array([0.0, 1.0])), 3)
    0.693
    """
    p = np.clip(p, FLOOR, 1 - FLOOR)
    return float(-(y * np.log(p) + (1 - y) * np.log(1 - p)).mean())


def brier(p: np.ndarray, y: np.ndarray) -> float:
    """Mean squared difference between forecast and outcome."""
    return float(((p - y) ** 2).mean())


def calibration_error(p: np.ndarray, y: np.ndarray, bins: int = 10) -> float:
    """Mean distance between forecast and frequency, over bins of equally many forecasts.

    Examples
    --------
    >>> calibration_error(np.array([0.0, 0.0, 1.0, 1.0]), np.array([0, 0, 1, 1]), bins=2)
    0.0
    """
    parts = np.array_split(np.argsort(p, kind="stable"), bins)
    off = [abs(p[part].mean() - y[part].mean()) * part.size for part in parts if part.size]
    return float(sum(off) / p.size)


@dataclass
class Held:
    """Forecasts on held-back cells of one studio: what came, the true chance, each forecast."""

    came: np.ndarray
    true: np.ndarray
    forecast: dict[str, np.ndarray] = field(default_factory=dict)


def hold_back(studio: Simulated, makers: dict[str, Callable], split: str, **how) -> Held | None:
    """Fit on one side of a split, forecast the other, for every fold.

    Parameters
    ----------
    studio : Simulated
        One studio.
    makers : dict
        Name to a callable without arguments that gives an object with ``fit(frame)`` and
        ``predict_proba(frame)``; ``base rate`` is added.
    split : str
        A key of ``SPLITS``.

    Returns
    -------
    Held or None
        All scored cells (an area and a defect), pooled; None when the studio has none.
    """
    names = [defect_column(defect) for defect in studio.defects]
    y = np.column_stack([labels(studio.frame, name) for name in names])
    q = np.column_stack([studio.truth[f"noted:{name}"] for name in names])
    scored = np.nansum(y, axis=0) >= FEWEST_POSITIVES
    came, true, told = [], [], {name: [] for name in makers}
    for train, test in SPLITS[split](studio.frame, **how):
        use = np.isfinite(y[test]) & scored
        came.append(y[test][use])
        true.append(q[test][use])
        for name, make in makers.items():
            sides = studio.frame.iloc[train], studio.frame.iloc[test]
            told[name].append(forecast(make(), *sides, studio.defects)[use])
    if not sum(part.size for part in came):
        return None
    joined = {name: np.concatenate(parts) for name, parts in told.items()}
    return Held(np.concatenate(came), np.concatenate(true), joined)


def forecast(
    forecaster, train: pd.DataFrame, test: pd.DataFrame, defects: tuple[str, ...]
) -> np.ndarray:
    """Chances of all simulated defects, one column each, in the order of ``defects``.

    A forecaster may name its columns by the defect or by its flat column. It gets to see no
    outcome of the rows it forecasts, nor how a fault looked.
    """
    fitted = forecaster.fit(train.reset_index(drop=True))
    told = fitted.predict_proba(hide_outcomes(test).reset_index(drop=True))
    told = told.rename(columns={d: defect_column(d) for d in defects})
    return told[[defect_column(d) for d in defects]].to_numpy(float)


def hide_outcomes(frame: pd.DataFrame) -> pd.DataFrame:
    """The frame as it is before the firing is unloaded: no results, no looks of a fault."""
    from tiles.records.clues import clues

    after = [c for c in frame if c.startswith("defect_")] + ["inspected_on", "inspection_note"]
    after += [f"clue_{name}" for name in ASKED_OF_A_FAULT]
    after += [f"clue_{name}" for name, clue in clues().items() if clue.group in ("look", "use")]
    hidden = frame.copy()
    hidden[[c for c in after if c in frame]] = np.nan
    return hidden


def compare(
    studios: Iterable[Simulated], makers: dict[str, Callable], split: str, **how
) -> pd.DataFrame:
    """One line a forecaster, over many studios.

    Returns
    -------
    pandas.DataFrame
        ``log_loss``, ``brier`` on what came, mean over studios; ``calibration`` over all cells;
        ``gap`` and ``gap_median``: share of the way from base rate to oracle closed, in expected
        log-loss (the true chance in place of the outcome, which takes the luck of the draw out);
        ``gap_came``: the same on what came, from the means over studios; ``excess``: mean
        expected log-loss above the base rate; ``worse``: share of studios above it by more than
        0.005.
    """
    makers = {"base rate": BaseRate} | makers
    held = [each for each in (hold_back(s, makers, split, **how) for s in studios) if each]
    for each in held:
        each.forecast["oracle"] = each.true
    lines = {name: _line(held, name) for name in held[0].forecast}
    return pd.DataFrame(lines).T


def _line(held: list[Held], name: str) -> dict[str, float]:
    def over(loss: Callable) -> np.ndarray:
        return np.array([loss(each) for each in held])

    def losses(which: str, against: str) -> np.ndarray:
        return over(lambda h: log_loss(h.forecast[which], getattr(h, against)))

    base, best, here = (losses(n, "true") for n in ("base rate", "oracle", name))
    came = {n: losses(n, "came").mean() for n in ("base rate", "oracle", name)}
    gap = (base - here) / (base - best)
    return {
        "log_loss": came[name],
        "brier": over(lambda h: brier(h.forecast[name], h.came)).mean(),
        "calibration": calibration_error(
            np.concatenate([h.forecast[name] for h in held]), np.concatenate([h.came for h in held])
        ),
        "gap": gap.mean(),
        "gap_median": float(np.median(gap)),
        "gap_came": (came["base rate"] - came[name]) / (came["base rate"] - came["oracle"]),
        "excess": (here - base).mean(),
        "worse": float((here > base + 0.005).mean()),
        "studios": len(held),
    }

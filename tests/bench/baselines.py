"""What a forecaster must beat: the base rate, a shrunken rate of each glaze, plain logistic."""

import numpy as np
import pandas as pd

from tiles.chemistry.cones import step
from tiles.exchange.flat_columns import NONE, columns

USUAL, TILES_WORTH = 0.1, 2.0
"""A base rate starts from 10 %, which counts as much as two tiles."""

GLAZE_WORTH = 4.0
"""The studio's base rate counts as four tiles of a glaze."""


def labels(frame: pd.DataFrame, column: str) -> np.ndarray:
    """1 where a flat column's defect was seen, 0 where it was not, NaN where nobody looked."""
    told = frame[column]
    return np.where(told.isna(), np.nan, (told != NONE).astype(float))


def defects_in(frame: pd.DataFrame) -> list[str]:
    """The flat columns of defects."""
    return [name for name in frame if name.startswith("defect_")]


class BaseRate:
    """The share of inspected areas with the defect, drawn a little towards what is usual."""

    def fit(self, frame: pd.DataFrame) -> "BaseRate":
        """Count each defect."""
        self.rates_ = {}
        for defect in defects_in(frame):
            y = labels(frame, defect)
            n, k = np.isfinite(y).sum(), np.nansum(y)
            self.rates_[defect] = (k + USUAL * TILES_WORTH) / (n + TILES_WORTH)
        return self

    def predict_proba(self, frame: pd.DataFrame) -> pd.DataFrame:
        """The same chance for every row."""
        told = {d: np.full(len(frame), p) for d, p in self.rates_.items()}
        return pd.DataFrame(told, index=frame.index)


class GlazeRate(BaseRate):
    """The rate of each glaze, drawn towards the base rate; the base rate for a new glaze."""

    def fit(self, frame: pd.DataFrame) -> "GlazeRate":
        """Count each defect on each glaze."""
        super().fit(frame)
        self.by_glaze_ = {}
        for defect in defects_in(frame):
            seen = pd.Series(labels(frame, defect), index=frame.index).groupby(frame["glaze"])
            kept = GLAZE_WORTH * self.rates_[defect]
            self.by_glaze_[defect] = (seen.sum() + kept) / (seen.count() + GLAZE_WORTH)
        return self

    def predict_proba(self, frame: pd.DataFrame) -> pd.DataFrame:
        """The chance of each row's glaze."""
        told = {
            d: frame["glaze"].map(rates).fillna(self.rates_[d])
            for d, rates in self.by_glaze_.items()
        }
        return pd.DataFrame(told, index=frame.index)


_NUMBERS = [c.name for c in columns() if c.is_number and c.name != "area"]
_CONES = [c.name for c in columns() if c.unit == "cone"]
_WORDS = [
    "body", "kiln", "method", "glaze_finish", "glaze_kind", "under_glaze_role", "stood", "surface",
    "shelf", "batch_is_revived", "applied_on",
]  # fmt: skip
_CLUES = [c.name for c in columns() if c.part == "clue"]


class PlainLogistic(BaseRate):
    """Scikit-learn's logistic regression as it comes: typical values for blanks, one-hot words."""

    def fit(self, frame: pd.DataFrame) -> "PlainLogistic":
        """One model a defect; the base rate where only one class was seen."""
        from sklearn.linear_model import LogisticRegression
        from sklearn.preprocessing import StandardScaler

        super().fit(frame)
        x = self._read(frame)
        self.columns_ = x.columns[x.nunique(dropna=False) > 1]
        self.typical_ = x[self.columns_].median().fillna(0.0)
        self.scaler_ = StandardScaler().fit(x[self.columns_].fillna(self.typical_).to_numpy())
        self.models_ = {}
        ready = self._ready(frame)
        for defect in defects_in(frame):
            y = labels(frame, defect)
            here = np.isfinite(y)
            if len(set(y[here])) == 2:
                self.models_[defect] = LogisticRegression(max_iter=500).fit(ready[here], y[here])
        return self

    @staticmethod
    def _read(frame: pd.DataFrame) -> pd.DataFrame:
        told = frame[[n for n in _NUMBERS if n in frame]].astype(float)
        cones = {
            n: frame[n].map(step, na_action="ignore").astype(float) for n in _CONES if n in frame
        }
        words = pd.get_dummies(frame[[n for n in _WORDS if n in frame]]).astype(float)
        clues = {
            n: frame[n].map({"yes": 1.0, "no": 0.0}).astype(float) for n in _CLUES if n in frame
        }
        return pd.concat([told, pd.DataFrame(cones), words, pd.DataFrame(clues)], axis=1)

    def _ready(self, frame: pd.DataFrame) -> np.ndarray:
        x = self._read(frame).reindex(columns=self.columns_)
        return self.scaler_.transform(x.fillna(self.typical_).to_numpy())

    def predict_proba(self, frame: pd.DataFrame) -> pd.DataFrame:
        """One chance a defect for each row."""
        told = super().predict_proba(frame)
        ready = self._ready(frame)
        for defect, model in self.models_.items():
            told[defect] = model.predict_proba(ready)[:, 1]
        return told

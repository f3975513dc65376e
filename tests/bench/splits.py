"""The two honest ways to hold tiles back: whole glazes, and the future."""

from collections.abc import Iterator

import numpy as np
import pandas as pd

Split = tuple[np.ndarray, np.ndarray]
OLDEST = 0.7


def by_glaze(frame: pd.DataFrame, folds: int = 5) -> Iterator[Split]:
    """Training and test rows with every row of a glaze on one side.

    The other areas of a tile that is tested are left out of training as well: they share its
    clay, firing and hands. A studio with one glaze on record has nothing to keep apart.
    """
    from sklearn.model_selection import GroupKFold

    glaze = frame["glaze"].fillna("").to_numpy()
    count = min(folds, len(set(glaze)))
    if count < 2:
        return
    for train, test in GroupKFold(count).split(frame, groups=glaze):
        tested = frame["mark"].iloc[test]
        yield train[~frame["mark"].iloc[train].isin(tested).to_numpy()], test


def forward(frame: pd.DataFrame) -> Iterator[Split]:
    """The oldest 70 % of tiles, by day of firing, for training; the rest for testing."""
    day = (
        frame.groupby("mark", sort=False)["fired_on"].first().fillna("").sort_values(kind="stable")
    )
    old = set(day.index[: round(OLDEST * len(day))])
    is_old = frame["mark"].isin(old).to_numpy()
    yield np.flatnonzero(is_old), np.flatnonzero(~is_old)


SPLITS = {"glazes kept apart": by_glaze, "forward in time": forward}

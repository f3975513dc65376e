"""One simulated studio as a flat frame, and the truth behind it."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from tests.bench import seeing, studio, tiles, writing
from tests.bench.deciding import columns_for
from tests.bench.hazards import MECHANISMS
from tiles.exchange.flat_columns import columns, defect_column

DEFECTS = tuple(MECHANISMS)
NOT_INSPECTED = 0.03


@dataclass(frozen=True)
class Simulated:
    """``frame`` is what the studio has on record, ``truth`` what was so; row for row.

    ``frame`` has every flat column, blanks as NaN. ``truth`` has for each defect, under the name
    of its flat column: ``chance:`` that it came about, ``noted:`` the chance that the record shows
    it (what a perfect forecaster of the record would say), ``real:`` whether it came about,
    ``cause:`` its main cause, ``share:`` that cause's share of the hazard, ``deciding:`` the
    columns that could tell, ``decided:`` whether one of them is filled in. ``defects`` are those
    that were simulated.
    """

    frame: pd.DataFrame
    truth: pd.DataFrame
    defects: tuple[str, ...] = DEFECTS


def simulate(n_tiles: int, seed: int) -> Simulated:
    """A studio of ``n_tiles`` tiles; the same seed gives the same studio.

    Parameters
    ----------
    n_tiles : int
        Tiles, not rows: one tile in five has two or three areas.
    seed : int
        Which studio.
    """
    made = studio.make(n_tiles, seed)
    area = tiles.make(made, n_tiles)
    hazards = {defect: cause(made, area) for defect, cause in MECHANISMS.items()}
    total = {defect: sum(each.values()) for defect, each in hazards.items()}
    chance = {defect: 1 - np.exp(-each) for defect, each in total.items()}
    real = seeing.happen(made.rng, chance)
    noted = seeing.note(made, area, real)
    causes = {defect: seeing.main_cause(each) for defect, each in hazards.items()}
    frame = writing.write(made, area)
    _write_look(made, area, frame, total, noted)
    lead = {defect: each[0] for defect, each in causes.items()}
    for clue, answers in seeing.look_clues(made, noted, lead).items():
        frame[f"clue_{clue}"] = answers
    frame = frame.reindex(columns=[each.name for each in columns()])
    frame = frame.astype({c.name: float for c in columns() if c.is_number})
    frame = frame.where(frame.notna(), np.nan)
    likely = seeing.chance_noted(made, area, chance)
    return Simulated(frame, _truth(frame, chance, likely, real, causes))


def _write_look(made, area, frame, total, noted) -> None:
    tile = area["tile"]
    unseen = (made.rng.random(tile.max() + 1) < NOT_INSPECTED)[tile]
    day = writing.day_text(area["day"] + area["look_days"])
    frame["inspected_on"] = np.where(unseen, None, day)
    for defect in DEFECTS:
        told = seeing.severity(made, total[defect], noted[defect])
        frame[defect_column(defect)] = np.where(unseen, None, told)


def _truth(frame, chance, likely, real, causes) -> pd.DataFrame:
    truth = {}
    for defect in DEFECTS:
        name = defect_column(defect)
        cause, share = causes[defect]
        truth[f"chance:{name}"] = chance[defect]
        truth[f"noted:{name}"] = likely[defect]
        truth[f"real:{name}"] = real[defect]
        truth[f"cause:{name}"] = cause
        truth[f"share:{name}"] = share
        truth[f"deciding:{name}"] = [";".join(columns_for(each)) for each in cause]
        truth[f"decided:{name}"] = _decided(frame, cause)
    return pd.DataFrame(truth, index=frame.index)


def _decided(frame: pd.DataFrame, cause: np.ndarray) -> np.ndarray:
    known = np.zeros(len(frame), bool)
    filled = frame.notna()
    for each in np.unique(cause):
        able = [name for name in columns_for(each) if name in frame]
        if able:
            here = cause == each
            known[here] = filled.loc[here, able].any(axis=1)
    return known

"""Learning from the studio's own tiles: chances before the firing, with a range and reasons.

Common practice (the rule base) is what the model believes before it has seen a tile; each tile
moves it as far as its evidence goes. ``diagnose/learning/design.py`` says what is believed.

From a flat frame: `fit`, then `Model.predict_proba` and its fellows. From tile records, without
pandas: `fit_records` or `recall`, then `Model.forecast`, `Model.drivers`, `Model.cause_bonus`.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.learning import explain, rows, validate
from diagnose.learning.model import LEARNED, Learned, Training, learn_seen
from diagnose.learning.rows import Observed, Row
from diagnose.learning.seen import Seen
from diagnose.learning.validate import Verdict
from tiles.exchange.flat_columns import defect_column
from tiles.records.words import DEFECTS

if TYPE_CHECKING:
    import pandas as pd

    from tiles.exchange.flat_shared import Shared
    from tiles.records.forms import TileRecord


@dataclass(frozen=True)
class Forecast:
    """One defect of one area before the firing.

    ``chance`` with its 90 % range ``low`` to ``high``; ``usual`` : the same studio's chance for
    all of its tiles together. ``state`` is ``learned``, or says why only the usual rate was
    adjusted: then no percentage should be shown.
    """

    defect: str
    chance: float
    low: float
    high: float
    usual: float
    state: str

    @property
    def is_special(self) -> bool:
        """Whether the tile differs enough from the studio's usual rate to be worth saying."""
        return not 0.67 <= self.chance / max(self.usual, 1e-9) <= 1.5


def fit(frame: "pd.DataFrame") -> "Model":
    """Learn every defect from the tiles of a flat frame.

    Parameters
    ----------
    frame : pandas.DataFrame
        One row for each area of a tile, with any of the flat columns
        (`tiles.exchange.flat_columns.columns`); unknown values blank. Rows of one ``mark`` are
        one tile and are not counted as independent; of one ``area``, looked at on other days,
        they are one area, and alike in every column they count once. The severity columns
        ``defect_...`` hold the outcomes: blank where nobody looked.

    Returns
    -------
    Model
        Also where there is little or nothing to learn from: ``model.states`` says so.
        ``model.passed_over`` counts what could not be read, the same value of a column once.
    """
    return _learn(rows.join_looks(rows.from_frame(frame), frame))


def fit_records(records: "Iterable[TileRecord]") -> "Model":
    """Learn from tile records; as `fit`."""
    return _learn(rows.from_records(records))


def _learn(observed: Observed) -> "Model":
    training = Training(Seen(observed.rows), observed.outcomes, observed.worse)
    return Model(learn_seen(training), observed.passed_over, training, shared=observed.shared)


def recall(records: "list[TileRecord]", file: Path) -> "Model":
    """The model kept in a file, if it was learned from these records and these rules; else learn.

    A model that had to be learned is validated and kept. Needs neither pandas nor scikit-learn.
    """
    from diagnose.learning import keep

    mark = keep.fingerprint(records)
    kept = keep.load(file, mark)
    if kept is not None:
        return Model(kept[0], kept_verdicts=kept[1])
    model = fit_records(records)
    keep.save(file, model.learned, mark, model.all_verdicts)
    return model


@dataclass
class Model:
    """Forecasts for new tiles.

    ``learned`` holds the coefficients; ``shared`` what the training rows told of their glazes,
    bodies and firings, which rows to be forecast may leave blank.
    """

    learned: Learned
    passed_over: dict[str, int] = field(default_factory=dict)
    training: Training | None = None
    kept_verdicts: dict[str, dict[str, Verdict]] | None = None
    shared: "Shared | None" = None

    @property
    def states(self) -> dict[str, str]:
        """For each defect: ``learned``, or why only the usual rate was adjusted."""
        return {defect: each.state for defect, each in self.learned.defects.items()}

    @cached_property
    def verdicts(self) -> dict[str, Verdict]:
        """How each defect was forecast on glazes held back, and whether that beats guessing."""
        return self._judged(validate.GLAZES)

    @cached_property
    def tile_verdicts(self) -> dict[str, Verdict]:
        """The same on single tiles held back: most were of glazes that had other tiles."""
        return self._judged(validate.TILES)

    @property
    def all_verdicts(self) -> dict[str, dict[str, Verdict]]:
        """Both, by what was held back: what is kept with a model."""
        return {validate.GLAZES: self.verdicts, validate.TILES: self.tile_verdicts}

    @cached_property
    def spelling(self) -> dict[str, str]:
        """Names of glazes, batches, bodies, kilns as on record, by the form they are compared in.

        Empty for a kept model, which no longer has its tiles.
        """
        found = {}
        for row in self.training.seen.rows if self.training else ():
            firing = row.record.firing
            layers = [layer for area in row.record.areas for layer in area.layers]
            names = [layer.glaze.name for layer in layers]
            batches = [layer.batch.name for layer in layers if layer.batch]
            for name in (*names, *batches, row.record.body.name, firing.kiln if firing else None):
                found[(name or "").casefold()] = name
        return found

    def _judged(self, split: str) -> dict[str, Verdict]:
        return self.validate(split) if self.kept_verdicts is None else self.kept_verdicts[split]

    def validate(self, split: str = validate.GLAZES) -> dict[str, Verdict]:
        """Judge the model on its own training tiles.

        Parameters
        ----------
        split : str
            What is held back: ``glazes`` whole, single ``tiles``, or the newest (``forward``).

        Returns
        -------
        dict[str, Verdict]
            By defect; empty for a kept model, which no longer has its tiles.
        """
        if self.training is None:
            return {}
        return validate.validate(self.learned, self.training, split)

    def predict_proba(self, frame: "pd.DataFrame") -> "pd.DataFrame":
        """The chance of each defect on each row.

        Returns
        -------
        pandas.DataFrame
            One column for each defect, named as its flat column (``defect_crazing``); index as
            given. Outcomes in ``frame`` are not looked at; its day of the look and fired coat
            are: blank ``inspected_on`` and ``fired_thickness_mm`` for a forecast made beforehand.
        """
        import pandas as pd

        seen = self._see(frame)
        chances = {defect_column(d): self.learned.chance(d, seen) for d in DEFECTS}
        return pd.DataFrame(chances, index=frame.index)

    def predict_range(self, frame: "pd.DataFrame") -> "pd.DataFrame":
        """The 90 % range of each chance.

        Returns
        -------
        pandas.DataFrame
            Columns of two levels: the flat column of the defect, then ``low`` and ``high``.
        """
        import pandas as pd

        seen = self._see(frame)
        ends = {}
        for defect in DEFECTS:
            _, low, high = self.learned.told(defect, seen)
            ends[defect_column(defect), "low"], ends[defect_column(defect), "high"] = low, high
        return pd.DataFrame(ends, index=frame.index)

    def unlike(self, frame: "pd.DataFrame") -> "pd.Series":
        """Which rows are unlike everything seen in training.

        Their glaze or body is named and was on no tile, or a value lies far outside all met.
        """
        import pandas as pd

        table = self._see(frame).table
        found = [
            bool(far) or explain.is_unmet(self.learned, table, at)
            for at, far in enumerate(explain.unlike(self.learned, table))
        ]
        return pd.Series(found, index=frame.index, dtype=bool)

    def contributions(self, frame: "pd.DataFrame", defect: str) -> "pd.DataFrame":
        """What drives the forecast of one defect on each row.

        Returns
        -------
        pandas.DataFrame
            ``row`` (the label in ``frame``), ``fact``, ``effect`` in log-odds: the forecast less
            the forecast with that fact left open; above 0 it makes the defect likelier.
        """
        import pandas as pd

        lines = [
            (label, each.fact, each.effect)
            for label, row in zip(frame.index, self._read(frame), strict=True)
            for each in explain.LeftOpen(self.learned, row).drivers(defect)
        ]
        return pd.DataFrame(lines, columns=["row", "fact", "effect"])

    def forecast(self, record: "TileRecord", area: int | None = None) -> list[Forecast]:
        """Chances of every defect for one area of a tile, the likeliest first.

        Parameters
        ----------
        record : TileRecord
            The tile, planned or fired; its inspections and its fired coat are not looked at.
        area : int, optional
            Which area; the first without it.
        """
        return self.forecast_seen(self.learned.see([_row(record, area)]))

    def forecast_seen(self, seen: Seen) -> list[Forecast]:
        """As `forecast`, of a row that was read already."""
        found = []
        for defect in DEFECTS:
            model = self.learned.defects[defect]
            told = (float(each[0]) for each in self.learned.told(defect, seen))
            found.append(Forecast(defect, *told, model.usual, model.state))
        return sorted(found, key=lambda each: -each.chance)

    def drivers(
        self, record: "TileRecord", defect: str, area: int | None = None
    ) -> list[explain.Driver]:
        """What drives the forecast of one defect, the strongest fact first."""
        return explain.LeftOpen(self.learned, _row(record, area)).drivers(defect)

    def unlike_in(self, record: "TileRecord", area: int | None = None) -> list[str]:
        """Names of the measures in which a tile lies far outside everything seen."""
        return explain.unlike(self.learned, self.learned.see([_row(record, area)]).table)[0]

    def cause_bonus(
        self, record: "TileRecord", defect: str, area: int | None = None
    ) -> dict[str, float]:
        """What own tiles add to the log-odds of each cause: a ``bonus`` for `weighing.weigh`.

        Empty where nothing was learned of the defect.
        """
        if self.learned.defects[defect].state != LEARNED:
            return {}
        seen = self.learned.see([_row(record, area)])
        return explain.cause_bonus(self.learned, seen, 0, defect)

    def _see(self, frame: "pd.DataFrame") -> Seen:
        return self.learned.see(self._read(frame))

    def _read(self, frame: "pd.DataFrame") -> list[Row]:
        return rows.from_frame(frame, self.shared).rows


def _row(record: "TileRecord", area: int | None) -> Row:
    number = record.areas[0].number if area is None and record.areas else area
    return Row(record.model_copy(update={"inspections": []}), number)

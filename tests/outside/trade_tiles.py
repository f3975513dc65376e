"""Tiles for clues of the trade: from facts as text to the odds of a cause and of a fault.

A fact is named as a column of the flat form, or as a clue; any other name is a figure worked out
from a recipe, which is set by itself, all else alike.
"""

import math
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from diagnose import learner
from diagnose.case import weigh_case
from diagnose.curves import by_fact, told_by
from diagnose.learning.model import Seen
from diagnose.learning.rows import Row
from diagnose.learning.table import may_forecast
from diagnose.measures.of_area import Measure
from diagnose.rules import load
from diagnose.weighing import weigh
from tiles.exchange import flat_build
from tiles.exchange.flat_cells import read_cell
from tiles.exchange.flat_columns import by_name
from tiles.records.forms import InspectionRecord, TileRecord

Facts = dict[str, str | float]
_FILE = Path(__file__).parent / "data" / "trade_tiles.toml"
_ORDINARY = tomllib.loads(_FILE.read_text(encoding="utf-8"))


def known(context: str) -> Facts:
    """What is known of a failed tile whatever its clue: "low fire jar", "mid range recipe" ..."""
    firing, _, kind = context.rpartition(" ")
    return _ORDINARY["known"][firing] | {"glaze_kind": kind}


def usual(context: str) -> Facts:
    """What is usual of such a tile before the firing."""
    parts = ("any", context.rpartition(" ")[0], context)
    return known(context) | {k: v for part in parts for k, v in _ORDINARY["usual"][part].items()}


@dataclass(frozen=True)
class Tile:
    """A tile with some facts; one whose value is blank is not known."""

    facts: Facts

    @cached_property
    def record(self) -> TileRecord:
        """The record of all that has a column."""
        columns = {name: _column(name) for name in self._given}
        cells = {c.name: read_cell(c, self.facts[name]) for name, c in columns.items() if c}
        return flat_build.Builder(is_strict=False).tile([flat_build.Row(cells, 1)])

    @cached_property
    def figures(self) -> Facts:
        """The figures of the recipe that are set."""
        return {
            name: _number_or_word(self.facts[name]) for name in self._given if _column(name) is None
        }

    @property
    def _given(self) -> list[str]:
        return [name for name, value in self.facts.items() if value != ""]

    def causes(self, defect: str) -> dict[str, float]:
        """The share of each cause of a defect."""
        case = weigh_case(self.record, defect)
        rows = weigh(load(defect), case.facts | self._measures, case.setting)
        return {row.name: row.share for row in rows}

    def curves(self, defect: str) -> dict[str, float]:
        """What each fact does to the fault in general, as far as a curve tells. [log-odds]."""
        known = weigh_case(self.record, defect).facts | self._measures
        return by_fact(told_by(defect, known))

    @property
    def _measures(self) -> dict[str, Measure]:
        return {name: Measure(name, value, "", name) for name, value in self.figures.items()}


def _column(name: str):
    return by_name().get(name) or by_name().get(f"clue_{name}")


def _number_or_word(value: str | float) -> str | float:
    try:
        return float(value)
    except ValueError:
        return value


def log_odds(share: float) -> float:
    """Of a share or chance, the ends of the scale left out."""
    share = min(max(share, 1e-6), 1 - 1e-6)
    return math.log(share / (1 - share))


def forecasts(tiles: Sequence[Tile], defects: Sequence[str]) -> list[float]:
    """The chance of one defect on each tile as common practice has it. [log-odds]."""
    learned = practice().learned
    seen = learned.see([Row(tile.record, 1) for tile in tiles])
    for at, tile in enumerate(tiles):
        for name, value in tile.figures.items():
            if may_forecast(name):
                _put(seen, name, at, value)
    chances = {defect: learned.chance(defect, seen) for defect in set(defects)}
    return [log_odds(float(chances[defect][at])) for at, defect in enumerate(defects)]


def _put(seen: Seen, name: str, at: int, value: str | float) -> None:
    import numpy as np

    is_word = isinstance(value, str)
    columns = seen.table.words if is_word else seen.table.numbers
    if name not in columns:
        columns[name] = np.full(
            seen.table.n, None if is_word else np.nan, dtype=object if is_word else float
        )
    columns[name][at] = value


@cache
def practice() -> learner.Model:
    """A model that has seen 25 sound, ordinary tiles: too few faults to learn one."""
    contexts = [name for name in _ORDINARY["usual"] if name.endswith(("jar", "recipe"))]
    records = []
    for number, context in enumerate(contexts * 5):
        differs = number // len(contexts)
        facts = usual(context) | {
            "mark": f"sound {number}",
            "hold_min": (5, 10, 10, 15, 10)[differs],
            "stood": ("flat", "upright", "sloped", "flat", "upright")[differs],
        }
        if context == "low fire jar":
            colour = ("white", "red", "buff", "white", "red")[differs]
            facts |= {"coats": (2, 3, 3, 3, 4)[differs], "body_colour": colour}
        record = Tile(facts).record
        record.inspections = [InspectionRecord(inspected_on="2026-01-02")]
        records.append(record)
    return learner.fit_records(records)

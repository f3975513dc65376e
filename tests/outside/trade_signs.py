"""Clues that pages of the trade give for a fault, and which way each moves causes and forecast.

``data/trade_signs.csv`` holds one clue a line:

- ``fact`` at the value from which the clue counts in full, ``against`` at one that speaks against
  the cause, ``also`` what else is known of the tile: ``name=value``, several parted by `` | ``
  (names: `trade_tiles`). ``cause`` is ours; several count together.
- ``status``: ``read`` where the clue, or the value from which it begins to count, was read on the
  page named in ``source`` (on 2026-11-25); else it is from memory, common practice or an estimate.
  The other values are estimates in any case.
- ``differs``: the checks that the line fails on purpose, ``reason`` why.
"""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from diagnose.learning.table import may_forecast
from tests.outside.trade_tiles import Facts, Tile, forecasts, known, log_odds, usual

FILE = Path(__file__).parent / "data" / "trade_signs.csv"
STATUSES = ("read", "memory", "common practice", "estimate")
CHECKS = ("for", "against", "forecast", "curve")
OF_NO_FORECAST = "other"
"""A defect that nothing is forecast of."""


@dataclass(frozen=True, eq=False)
class Line:
    """One clue, as the file has it."""

    defect: str
    causes: tuple[str, ...]
    context: str
    also: Facts
    fact: Facts
    against: Facts
    status: str
    source: str
    differs: tuple[str, ...]
    reason: str

    def __str__(self) -> str:
        said = ", ".join(f"{name} {value}" for name, value in self.fact.items())
        return f"{self.defect}: {' or '.join(self.causes) or 'no cause'}: {said}"

    @property
    def is_known_before(self) -> bool:
        """Whether the fact can be known before the firing."""
        return self.defect != OF_NO_FORECAST and all(may_forecast(name) for name in self.fact)

    @property
    def other(self) -> Facts:
        """What the fact is held against: another value of the same, or nothing known."""
        return self.against if self.against.keys() == self.fact.keys() else {}

    def failed_with(self, more: Facts) -> Tile:
        """A failed tile of which little else is known."""
        return Tile(known(self.context) | self.also | self._nothing | more)

    def usual_with(self, more: Facts) -> Tile:
        """An ordinary tile that is yet to be fired."""
        return Tile(usual(self.context) | self.also | self._nothing | more)

    @property
    def _nothing(self) -> Facts:
        return dict.fromkeys(self.fact | self.against, "")

    def share_with(self, more: Facts) -> float:
        """The share of the causes. [log-odds]."""
        shares = self.failed_with(more).causes(self.defect)
        return log_odds(sum(shares[cause] for cause in self.causes))

    def curves_with(self, more: Facts) -> dict[str, float]:
        """What the curves make of the tile, by fact. [log-odds]."""
        return self.failed_with(more).curves(self.defect)


@cache
def lines() -> tuple[Line, ...]:
    """Every line of the file."""
    with FILE.open(encoding="utf-8", newline="") as file:
        return tuple(_line(cells) for cells in csv.DictReader(file))


def _line(cells: dict[str, str]) -> Line:
    parts = {name: _facts(cells.pop(name)) for name in ("also", "fact", "against")}
    causes = tuple(name for name in cells.pop("cause").split(" or ") if name)
    return Line(**cells | parts | {"causes": causes, "differs": tuple(cells["differs"].split())})


def _facts(text: str) -> Facts:
    """Names and values; a name without a value takes that fact away."""
    return dict(part.strip().split("=", 1) for part in text.split(" | ") if part.strip())


@cache
def forecast() -> dict[Line, float]:
    """What each fact known before the firing adds to the forecast. [log-odds]."""
    asked = [line for line in lines() if line.is_known_before]
    tiles = [line.usual_with(more) for line in asked for more in (line.fact, line.other)]
    told = forecasts(tiles, [line.defect for line in asked for _ in range(2)])
    return {line: told[2 * at] - told[2 * at + 1] for at, line in enumerate(asked)}

"""Rows as a model sees them: read, with their blanks filled, and as columns."""

from collections.abc import Sequence
from copy import copy
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from diagnose.learning import beliefs, blanks, design, expected, pairs, signs, table
from diagnose.rules import load

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.rows import Row


class Seen:
    """Some rows, read and with their blanks filled; the evidence of each defect is worked once."""

    def __init__(self, rows: "Sequence[Row]", filled_by: blanks.Blanks | None = None):
        self.rows = rows
        self.table = table.read(rows)
        self.blanks = filled_by or blanks.fit(self.table)
        self._evidence: dict[str, signs.Evidence] = {}
        self._practice: dict[str, dict[str, np.ndarray]] = {}
        self._among = None, None
        self._matrices: dict[str, tuple[design.Layout, np.ndarray]] = {}
        self._layouts: dict[tuple[str, frozenset[str]], design.Layout] = {}

    @cached_property
    def drawn(self) -> blanks.Drawn:
        """The rows with their blanks filled."""
        return self.blanks.draw(self.table)

    @cached_property
    def common(self) -> "dict[str, np.ndarray]":
        """Columns that do not depend on the defect."""
        return design.common_columns(self.table, self.drawn)

    @cached_property
    def lone_bases(self) -> set[str]:
        """Columns of the bases of one glaze alone: they tell nothing that the glaze does not."""
        glazes: dict[str, set[str]] = {}
        groups = self.table.groups
        for base, glaze in zip(groups[design.BASE], groups["glaze"], strict=True):
            glazes.setdefault(f"{design.BASE}:{base}", set()).add(glaze)
        return {name for name, of_it in glazes.items() if len(of_it) < 2}

    @cached_property
    def _pairs(self) -> "np.ndarray":
        """The glaze of each row with what it meets, by name."""
        return pairs.names(self.table)

    def known_pairs(self, here: "np.ndarray") -> pairs.Known:
        """The pairs met on some of the rows."""
        return pairs.known(self._pairs[:, here])

    def pairs_among(self, known: pairs.Known) -> "tuple[np.ndarray, pairs.Opened]":
        """Places of the rows' pairs, and what they leave open; all defects and folds share them."""
        before, found = self._among
        if before is not known:
            found = known.places(self._pairs), known.opened(self._pairs)
            self._among = known, found
        return found

    def evidence(self, defect: str) -> signs.Evidence:
        """What the rules make of the rows."""
        if defect not in self._evidence:
            self._evidence[defect] = signs.evaluate(load(defect), self.drawn)
        return self._evidence[defect]

    def practice(self, defect: str) -> "dict[str, np.ndarray]":
        """Columns of what common practice says: the rule base and what is expected."""
        if defect not in self._practice:
            said = design.evidence_columns(self.evidence(defect))
            self._practice[defect] = said | expected.columns(defect, self.drawn)
        return self._practice[defect]

    def columns(self, defect: str) -> "dict[str, np.ndarray]":
        """Every column of the defect's model, unscaled."""
        return self.practice(defect) | self.common

    def layout(self, defect: str, used: frozenset[str]) -> design.Layout:
        """The columns in use; all that is learned from some of the rows shares it."""
        if (defect, used) not in self._layouts:
            raw = {name: each for name, each in self.columns(defect).items() if name in used}
            self._layouts[defect, used] = design.lay_out(raw)
        return self._layouts[defect, used]

    def before_a_look(self, layout: design.Layout) -> "Seen":
        """The rows as they are known before anybody looks, for a model of this layout.

        The day of a tile's own look would tell: a fault that comes late is written down on the day
        it is seen, and the sound tiles are seldom looked at again.
        """
        return self._undated if beliefs.DAYS in layout.columns else self

    @cached_property
    def _undated(self) -> "Seen":
        import numpy as np

        nobody = np.full(self.table.n, np.nan)
        days = self.blanks.filled(table.DAYS, nobody, self.table)
        found = copy(self)
        found.table = replace(self.table, numbers=self.table.numbers | {table.DAYS: nobody})
        found.drawn = replace(self.drawn, numbers=self.drawn.numbers | {table.DAYS: days})
        found.common = self.common | beliefs.columns(found.drawn)
        found._matrices, found._layouts = {}, {}
        return found

    def matrix(self, defect: str, layout: design.Layout) -> "np.ndarray":
        """The columns of a layout side by side; folds of one model share it."""
        known, x = self._matrices.get(defect, (None, None))
        if known is not layout:
            x = design.matrix(layout, self.columns(defect), self.table.n)
            self._matrices[defect] = layout, x
        return x

"""What rows share: facts of one glaze, body, batch, firing or tile that only some rows repeat.

A spreadsheet often gives a glaze's label or a firing's hold on the first of its rows and leaves
the rest blank. A blank agrees with everything, so a fact that the rows agree on is taken for all
of them; where they disagree nothing is filled in.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from tiles.exchange.flat_build import Row
from tiles.exchange.flat_columns import MAIN, NO_LINES, PLACES, columns, fields_of, header_of
from tiles.records.words import name_key

RECIPE = "recipe"
_TILE, _OF_TILE = "tile", ("body", "firing", "bisque_firing")
_EVERYWHERE = (MAIN, *PLACES)
_Key = tuple[str, ...]
_Thing = tuple[_Key, Sequence[tuple[str, str]]]


@dataclass
class Shared:
    """Facts by what they are facts of, such as ``("glaze", "pond green")``.

    Parameters
    ----------
    with_recipes : bool
        Also take the one recipe given for a glaze for its rows without one. An import leaves that
        to ``flat_recipes``, which asks what else is on record.
    """

    with_recipes: bool = False
    told: dict[_Key, dict[str, Any]] = field(default_factory=dict)
    disputed: dict[_Key, set[str]] = field(default_factory=dict)

    def gather(self, rows: Iterable[Row]) -> None:
        """Note the facts of some rows, beside those that are known already."""
        for row in rows:
            for key, headers in self._things(row):
                told = self.told.setdefault(key, {})
                for header, name in headers:
                    value = row.cells.get(header)
                    if value not in (None, NO_LINES) and told.setdefault(name, value) != value:
                        self.disputed.setdefault(key, set()).add(name)
            self._note_recipes(row)

    def fill(self, rows: Iterable[Row]) -> None:
        """Fill in the blanks of some rows, in place."""
        for row in rows:
            for key, headers in self._things(row):
                told, disputed = self.told.get(key, {}), self.disputed.get(key, ())
                for header, name in headers:
                    if name in told and name not in disputed:
                        row.cells.setdefault(header, told[name])

    def _note_recipes(self, row: Row) -> None:
        """A glaze with a recipe on any row is one, unless a row says what else it is."""
        for place in _EVERYWHERE:
            name = _name(row, "glaze", place)
            if name and header_of(RECIPE, "lines", place) in row.cells:
                self.told.setdefault(("glaze", name), {}).setdefault("kind", "recipe")

    def _things(self, row: Row) -> Iterator[_Thing]:
        """What the row names, with the header and field of each of its facts.

        The tile comes first: what it tells may name the body and the firing.
        """
        mark = row.cells.get("mark")
        if mark is not None:
            yield (_TILE, name_key(mark)), _facts_of_tile()
        for part in _OF_TILE:
            name = _name(row, part, MAIN)
            if name:
                yield (part, name), _facts(part, MAIN)
        for place in _EVERYWHERE:
            glaze, batch = _name(row, "glaze", place), _name(row, "batch", place)
            if glaze:
                yield ("glaze", glaze), _facts("glaze", place)
            if glaze and batch:
                yield ("batch", glaze, batch), _facts("batch", place)
            if glaze and self.with_recipes:
                yield (RECIPE, glaze), _facts(RECIPE, place)


def _name(row: Row, part: str, place: str) -> str | None:
    name = row.cells.get(header_of(part, "name", place))
    return name_key(name) if name is not None else None


@cache
def _facts(part: str, place: str) -> tuple[tuple[str, str], ...]:
    """Header and field of every column about a thing, but for its name."""
    return tuple(each for each in fields_of(part, place) if each[1] != "name")


@cache
def _facts_of_tile() -> tuple[tuple[str, str], ...]:
    """What is the same on every row of a tile; the header serves as the field."""
    return tuple(
        (each.name, each.name)
        for each in columns()
        if each.of_tile and each.part in (_TILE, *_OF_TILE) and each.name != "mark"
    )

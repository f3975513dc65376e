"""The letters that the fixes of a tile go by, for all its defects: A, B, C without a gap.

The trial glazes of a tile bear the letter of their recipe in their names. A letter that stands for
a recipe on record is never given to another one: on the shelf a name means one glaze.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain, count, product
from string import ascii_uppercase
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import Fix, Trial
from tiles.records.words import name_key

if TYPE_CHECKING:
    from tiles.records.forms import RecipeRecord, TileRecord

    Lines = Sequence[tuple]


class Letters:
    """One letter for each different step and for each recipe; A to Z, then AA, AB and so on.

    Parameters
    ----------
    mark : str
        Of the tile.
    named : mapping
        The recipes on record by the names of their glazes.
    """

    def __init__(self, mark: str, named: "Mapping[str, Iterable[RecipeRecord]]") -> None:
        self._steps: dict[str, tuple[str, ...] | None] = {}
        self._named: dict[str, list[Lines]] = {}
        for name, recipes in named.items():
            known = self._named.setdefault(name_key(name), [])
            known += [lines_of(each.model_dump()["lines"]) for each in recipes]
        ours = re.compile(rf" {re.escape(name_key(mark))} ([a-z]+) [\d/]+$")
        found = (ours.search(name) for name in self._named)
        self._on_record = sorted({each[1].upper() for each in found if each}, key=_in_order)

    def give(self, fix: Fix, with_letter: Callable[[str], Fix]) -> Fix:
        """The fix under the letter that its step has already, else under the next one.

        A recipe on record keeps its letter.
        """
        if not fix.is_recipe:
            done = _step(fix)
            same = (letter for letter, known in self._steps.items() if known and known == done)
            return with_letter(next(chain(same, self._free(but=self._on_record))))
        made = map(with_letter, (each for each in self._on_record if each not in self._steps))
        known = next(filter(self._is_on_record, made), None)
        return known or with_letter(next(self._free(but=self._on_record)))

    def take(self, fix: Fix) -> None:
        """Nothing else gets the letter of this fix."""
        self._steps[fix.name] = _step(fix)

    def _free(self, but: Iterable[str]) -> Iterator[str]:
        return (each for each in _letters() if each not in self._steps and each not in but)

    def _is_on_record(self, fix: Fix) -> bool:
        """Whether its trial glazes are on record, and none of their names with other recipes."""
        found = [
            lines_of(each.recipe["lines"]) in self._named[name]
            for each in fix.trials
            if (name := name_key(_glaze(each))) in self._named
        ]
        return bool(found) and all(found)


def named_in(records: "Iterable[TileRecord]") -> "dict[str, list[RecipeRecord]]":
    """The recipes on some tiles, by the names of their glazes."""
    found: dict[str, list[RecipeRecord]] = {}
    layers = (layer for each in records for area in each.areas for layer in area.layers)
    for layer in layers:
        if layer.recipe:
            found.setdefault(layer.glaze.name, []).append(layer.recipe)
    return found


def lines_of(lines: "Sequence[dict]") -> "Lines":
    """What a recipe is known by, whatever its glaze is called."""
    return [(each["material"], each["parts"], bool(each.get("is_addition"))) for each in lines]


def _glaze(trial: Trial) -> str:
    """The name of its trial glaze."""
    layers = trial.tile["areas"][0]["layers"]
    return next(each["glaze"]["name"] for each in layers if each.get("recipe") is trial.recipe)


def _step(fix: Fix) -> tuple[str, ...] | None:
    """What a step does; each recipe is its own, as the aims of two defects differ."""
    return None if fix.is_recipe else fix.done


def _letters() -> Iterator[str]:
    names = (name for length in count(1) for name in product(ascii_uppercase, repeat=length))
    return map("".join, names)


def _in_order(letter: str) -> tuple[int, str]:
    return len(letter), letter

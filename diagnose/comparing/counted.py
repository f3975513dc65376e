"""The facts by which areas and tiles can be set apart, and counted."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from diagnose.comparing.exact_test import two_groups
from diagnose.comparing.fact_words import ANOTHER, from_and_to, in_full, word_said
from diagnose.comparing.factors import FACTORS, value_of, with_dust_told
from diagnose.measures.of_area import measures
from diagnose.own_tiles.layer import COATS_ABOVE, PAIR, of_own_layer, pair_of
from diagnose.view import View
from diagnose.vocabulary import answer_said, is_test, is_yes_or_no
from tiles.chemistry.cones import step
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tiles.records.forms import AreaRecord, TileRecord

_NOT_COMPARED = ("role", "glaze_kind", "supplied_as", "finish", "glaze_colour", "had_its_heat")
"""The same for every tile of one glaze; or told by the cones over target and label already."""
DAY = "fired_on"
"""The day of the firing, counted as a number. Where none is on record no other day takes its place:
what failed is often looked at first when it has failed."""
NONE_ON_RECORD = "none on record"
"""Of a bisque firing: those of which one is on record are set beside all others."""
COLOUR_BENEATH = ("colour_beneath", "colour_coats_beneath")
"""Both tell what lies under the glaze, as its name does."""
_WHOLE = ("coats", "colour_coats_beneath", COATS_ABOVE)
"""Counted, not measured: one coat lies no nearer to none than to two."""


@dataclass(frozen=True)
class Counted:
    """One area (or one tile by its first area), and whether it failed.

    With ``glaze`` its coat, batch and what lies beneath are those of that glaze; else of the
    uppermost one.
    """

    record: "TileRecord"
    area: "AreaRecord"
    failed: bool
    glaze: str | None = None

    @cached_property
    def values(self) -> "dict[str, float | str]":
        """The plain measures of the area, and the names of what was used."""
        values = _values(self.record, self.area)
        if self.glaze:
            return of_own_layer(values, self.record, self.area, self.glaze)
        pair = pair_of(self.area.layers)
        return values | ({PAIR: pair} if pair else {})


def failed_and_all(areas: Iterable[Counted]) -> tuple[int, int]:
    """Failed and all tiles; a tile counts once, as failed where any of these areas of it did."""
    areas = list(areas)
    failed = {each.record.mark for each in areas if each.failed}
    return len(failed), len({each.record.mark for each in areas})


@dataclass(frozen=True, eq=False)
class Sides:
    """Areas on either side of a cut, and how often chance alone parts them so."""

    here: Sequence[Counted]
    there: Sequence[Counted]

    @cached_property
    def tiles(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """Failed and all tiles here and there; one with areas on both counts on both."""
        return failed_and_all(self.here), failed_and_all(self.there)

    @cached_property
    def p_value(self) -> float:
        """The chance by tiles."""
        return two_groups([self.tiles])

    @cached_property
    def p_of_areas(self) -> float:
        """The same were areas of one tile counted apart; asked only of cuts that are equal."""
        failed = ([each.failed for each in side] for side in (self.here, self.there))
        return two_groups([[(sum(each), len(each)) for each in failed]])


Cut = TypeVar("Cut")


def most_uneven(
    cuts: Sequence[Cut],
    sides: Callable[[Cut], Sides],
    then: Callable[[Cut], tuple] = lambda _cut: (),
) -> Cut:
    """The cut that parts the tiles best; of equal ones what parts their areas best, then ``then``.

    Tiles with several areas make many cuts equal: areas that failed lie on one side of the right
    one.
    """
    least = min(sides(each).p_value for each in cuts)
    equal = [each for each in cuts if sides(each).p_value == least]
    return min(equal, key=lambda each: (sides(each).p_of_areas, *then(each)))


@dataclass(frozen=True)
class Fact:
    """A yes-or-no fact: how it is said, how its opposite is said, and whom it holds for.

    ``holds`` gives None where it was not recorded, ``has`` says the same of a value. Where
    ``is_number`` it holds for the greater numbers; ``number_said`` then is ``said`` in full.
    """

    said: str
    otherwise: str
    holds: Callable[[Counted], bool | None]
    has: Callable[[float | str], bool]
    is_number: bool = False
    number_said: str = ""

    def parts(self, areas: Iterable[Counted]) -> tuple[list[Counted], list[Counted]]:
        """Those that it holds for, and the others; where it is not recorded on neither side."""
        told = [(self.holds(each), each) for each in areas]
        here, there = ([each for is_so, each in told if is_so is side] for side in (True, False))
        return here, there

    @property
    def in_full(self) -> str:
        """How it is said where its opposite is not said beside it: "with 3 coats or more"."""
        return self.number_said or self.said

    @property
    def otherwise_in_full(self) -> str:
        """The same of its opposite: "with another glaze than pond"."""
        label = self.otherwise.removeprefix(ANOTHER)
        if label == self.otherwise:
            return self.otherwise
        return f"{self.otherwise} than {self.said.removeprefix(f'with {label} ')}"

    @property
    def otherwise_after(self) -> str:
        """How its opposite is said after it in full: "with 0.8 mm or less"."""
        label = self.in_full.removesuffix(self.said.removeprefix("with "))
        is_named = bool(label) and self.otherwise.startswith(label)
        return f"with {self.otherwise.removeprefix(label)}" if is_named else self.otherwise


def facts_of(
    units: list[Counted],
    is_wanted: Callable[[str], bool],
    beside: "Mapping[str, float | str] | None" = None,
) -> dict[str, list[Fact]]:
    """Every way the recorded facts cut the units in two, by the name of the fact.

    ``beside`` are the values of a tile that is held against them: each cut puts it on one side.
    Without one it is told of which glaze coats are, where an area has several layers; with one that
    they are added up, where an area has several glazes.
    """
    values = [each.values for each in units]
    found: dict[str, list[Fact]] = {}
    for name in sorted({name for each in values for name in each if is_wanted(name)}):
        known = [each[name] for each in values if name in each]
        by_unit = {id(unit): each.get(name) for unit, each in zip(units, values, strict=True)}
        found[name] = _cuts(name, known, by_unit, (beside or {}).get(name))
    if beside is None and "coats" in found and any(len(each.area.layers) > 1 for each in units):
        found["coats"] = [_coats_of(_whose_coats(units), fact) for fact in found["coats"]]
    elif "coats" in found and is_in_all(units):
        found["coats"] = [
            replace(
                fact, number_said=f"{fact.number_said} in all", otherwise=f"{fact.otherwise} in all"
            )
            for fact in found["coats"]
        ]
    return found


def is_in_all(units: Iterable[Counted]) -> bool:
    """Whether their coats are those of several layers together, on any of them."""
    views = [View(each.record, each.area) for each in units if not each.glaze]
    return any(len(view.coated or view.layers) > 1 for view in views)


def _whose_coats(units: list[Counted]) -> str:
    """The glaze that the coats are of; "glaze" where they are of several, or added up."""
    views = (View(each.record, each.area) for each in units)
    names = {
        each.glaze or (view.glaze_name if len(view.coated) == 1 else "glaze") or "glaze"
        for each, view in zip(units, views, strict=True)
    }
    return names.pop() if len(names) == 1 else "glaze"


def _coats_of(glaze: str, fact: Fact) -> Fact:
    said, otherwise = (
        re.sub("coats?", lambda found: f"{found[0]} of {glaze}", each, count=1)
        for each in (fact.number_said, fact.otherwise)
    )
    return replace(fact, number_said=said, otherwise=otherwise)


def _values(record: "TileRecord", area: "AreaRecord") -> dict[str, float | str]:
    facts = measures(record, area.number)
    found = with_dust_told({name: fact.value for name, fact in facts.items()
                            if name not in _NOT_COMPARED and not is_test(name)})  # fmt: skip
    firing, bisque, view = record.firing, record.bisque_firing, View(record, area)
    if firing and firing.fired_on:
        found[DAY] = firing.fired_on.toordinal()
    if view.cone_reached:
        found["cone_reached"] = step(view.cone_reached)
    named = {
        "body": view.body_name,
        "glaze": view.glaze_name,
        "kiln": view.kiln,
        "firing": firing.name if firing else None,
        "bisque firing": bisque.name if bisque else NONE_ON_RECORD,
        "shelf": record.shelf,
        "batch": view.batch,
        "under": value_of(FACTORS["under"], record, area),
    }
    return found | {name: value for name, value in named.items() if value}


def _cuts(name: str, known: list, by_unit: dict, own: float | str | None) -> list[Fact]:
    if all(isinstance(value, str) for value in known):
        # A shelf is the same whatever its capitals; of its spellings one is told.
        spelt = {name_key(word): word for word in sorted({*known} - {NONE_ON_RECORD})}
        words = sorted(spelt.values(), reverse=is_yes_or_no(name))
        return [_word(name, word, words, by_unit) for word in words]
    numbers = sorted({value for value in known if not isinstance(value, str)})
    pairs = zip(numbers, numbers[1:], strict=False)
    return [_number(name, *pair, by_unit) for each in pairs for pair in _parting(name, *each, own)]


def _parting(name: str, low: float, high: float, own: float | str | None) -> Iterator[tuple]:
    """Two numbers to cut between: one between them takes the place of the nearer one.

    Of whole coats it stands on neither side, and there is no cut.
    """
    if own is None or isinstance(own, str) or not low < own < high:
        yield low, high
    elif name not in _WHOLE:
        yield (low, own) if high - own <= own - low else (own, high)


def _word(name: str, word: str, words: list[str], by_unit: dict) -> Fact:
    def has(value: float | str) -> bool:
        return same_name(value, word)

    holds = _of_units(has, by_unit)
    if is_yes_or_no(name):
        answers = (word, "no" if word == "yes" else "yes")
        return Fact(*(f"where {answer_said(name, each)}" for each in answers), holds, has)
    said, otherwise = word_said(name, word)
    others = [word_said(name, each)[0] for each in words if each != word]
    is_named = len(others) == 1 and name != "bisque firing"
    return Fact(said, others[0] if is_named else otherwise, holds, has)


def _number(name: str, low: float, high: float, by_unit: dict) -> Fact:
    def has(value: float | str) -> bool:
        return value >= high

    holds = _of_units(has, by_unit)
    if name == DAY:
        until, since = (date.fromordinal(each).isoformat() for each in (low, high))
        return Fact(f"fired from {since} on", f"fired until {until}", holds, has, is_number=True)
    said, otherwise = from_and_to(name, low, high)
    full = f"with {in_full(name, said, high)}"
    return Fact(f"with {said}", f"with {otherwise}", holds, has, is_number=True, number_said=full)


def _of_units(has: Callable, by_unit: dict) -> Callable[[Counted], bool | None]:
    """The same of an area, by its value; None where it has none."""

    def holds(unit: Counted) -> bool | None:
        value = by_unit[id(unit)]
        return None if value is None else has(value)

    return holds

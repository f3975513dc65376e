"""The facts by which areas and tiles can be set apart, and counted."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from diagnose.comparing.exact_test import two_groups
from diagnose.comparing.factors import BARE_CLAY, FACTORS, value_of
from diagnose.measures.of_area import measures
from diagnose.own_tiles.layer import ABOVE, COATS_ABOVE, PAIR, TOGETHER, of_own_layer, pair_of
from diagnose.view import NOTHING, View
from diagnose.vocabulary import answer_said, is_test, is_yes_or_no, label_of, unit_of
from tiles.chemistry.cones import cone_at, step
from tiles.chemistry.melt import word as melt_word
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tiles.records.forms import AreaRecord, TileRecord

_NOT_COMPARED = ("role", "glaze_kind", "supplied_as", "finish", "glaze_colour", "had_its_heat")
"""The same for every tile of one glaze; or told by the cones over target and label already."""
_SHORT = {
    "thickness_mm": "a dry coat of",
    "fired_thickness_mm": "a fired coat of",
    "rate_c_per_h": "a rise near the top of",
    "bisque_rate_c_per_h": "a rise of the bisque near its top of",
    "peak_c": "a peak of",
    "opened_c": "the kiln opened at",
    "hold_min": "a hold of",
    "absorption_pct": "a body that takes up",
    "specific_gravity": "a specific gravity of",
}
_WORDS = {
    "body_kind": ("on {}", "on another kind of body"),
    "body_colour": ("on a {} body", "on a body of another colour"),
    "firing_band": ("fired at {}", "fired elsewhere on the cone scale"),
    "form": ("with {} tiles", "with another form"),
    "dry_portion": ("mixed from {}", "mixed from another part"),
    "atmosphere": ("fired in {}", "fired in another atmosphere"),
    "stood": ("fired {}", "fired standing in another way"),
    "applied_on": ("put on {}", "put on something else"),
    "beneath": ("over a {} layer", "over a layer in another state"),
    "colour_applied_on": ("over a colour put on {}", "over a colour put on something else"),
    "slip_applied_on": ("over a slip put on {}", "over a slip put on something else"),
    "surface": ("on a {} surface", "on another surface"),
    "method": ("put on by {}", "put on in another way"),
    "colour_beneath": ("over {}", "over other colours or none"),
}
"""How a word of a measure is said, and any other."""
_CONES = {
    "bisque_minus_glaze_cones": ("a bisque", "the glaze firing", "as hot as the glaze firing", 1),
    "cones_over_target": ("a firing", "its target", "at its target", 1),
    "cones_over_label": ("a firing", "the label", "within the label", 1),
    "cones_from_label_middle": ("a firing", "the label's middle", "in the label's middle", 1),
    "cones_over_body": ("a firing", "the clay's range", "within the clay's range", 1),
    "set_over_label": ("a kiln set", "the label", "within the label", 1),
    "set_over_body": ("a kiln set", "the clay's range", "within the clay's range", 1),
    "cones_below_other_shelves": ("a place", "the other shelves", "as hot as other shelves", -1),
}
"""Measures in cones: what, against what, how none is said, and 1 where more cones are hotter."""
GAPS = tuple(_CONES)
"""Worked out of two cones: where one of these parts tiles as well, that is the plainer fact."""

_COMPANY = {
    ABOVE: ("with nothing over it", "with a layer over it", "under {}",
            "under another layer or none"),
    TOGETHER: ("with no other layer", "with another layer over or under it",
               "together with {}, over or under it", "with another layer or none"),
    PAIR: ("with one layer alone", "with several layers", "with {} on one area, in either order",
           "with other layers"),
}  # fmt: skip
"""How one layer alone is said and any with others; then such a layer, and any other."""
DAY = "fired_on"
"""The day of the firing, counted as a number. Where none is on record no other day takes its place:
what failed is often looked at first when it has failed."""
NONE_ON_RECORD = "none on record"
"""Of a bisque firing: those of which one is on record are set beside all others."""
COLOUR_BENEATH = ("colour_beneath", "colour_coats_beneath")
"""Both tell what lies under the glaze, as its name does."""
ANOTHER = "with another "
"""How the opposite of a name begins."""
_MELTS = {"melt_thinnest_log10_pa_s": "thinnest", "melt_stiffest_log10_pa_s": "stiffest"}
"""Ends of the range of a melt: the word a potter has for it goes before the number."""
_SAID_WHOLE = (
    "bisque_cones_below_04", "colour_coats_beneath", COATS_ABOVE, "cone_reached", *_MELTS,
)  # fmt: skip
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
    Without one it is told of which glaze coats are, where an area has several layers.
    """
    values = [each.values for each in units]
    found: dict[str, list[Fact]] = {}
    for name in sorted({name for each in values for name in each if is_wanted(name)}):
        known = [each[name] for each in values if name in each]
        by_unit = {id(unit): each.get(name) for unit, each in zip(units, values, strict=True)}
        found[name] = _cuts(name, known, by_unit, (beside or {}).get(name))
    if beside is None and "coats" in found and any(len(each.area.layers) > 1 for each in units):
        found["coats"] = [_coats_of(_whose_coats(units), fact) for fact in found["coats"]]
    return found


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
    found = {
        name: fact.value
        for name, fact in facts.items()
        if name not in _NOT_COMPARED and not is_test(name)
    }
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
    said, otherwise = _said(name, word)
    others = [_said(name, each)[0] for each in words if each != word]
    is_named = len(others) == 1 and name != "bisque firing"
    return Fact(said, others[0] if is_named else otherwise, holds, has)


def _said(name: str, word: str) -> tuple[str, str]:
    """A word of a fact, and any other."""
    if name == "under":
        return _over(word)
    if name in _COMPANY:
        alone, others, said, otherwise = _COMPANY[name]
        return (alone, others) if word == NOTHING else (said.format(word), otherwise)
    if name in _WORDS:
        said, otherwise = _WORDS[name]
        return said.format(word), otherwise
    label = label_of(name)
    return f"with {label} {word}", f"{ANOTHER}{label}"


def _over(below: str) -> tuple[str, str]:
    """What lies under the glaze, and anything else."""
    if below == BARE_CLAY:
        return f"on {below}", "over another layer"
    return f"over {below}", f"over another layer or {BARE_CLAY}"


def _number(name: str, low: float, high: float, by_unit: dict) -> Fact:
    def has(value: float | str) -> bool:
        return value >= high

    holds = _of_units(has, by_unit)
    if name == DAY:
        until, since = (date.fromordinal(each).isoformat() for each in (low, high))
        return Fact(f"fired from {since} on", f"fired until {until}", holds, has, is_number=True)
    said, otherwise = _from_and_to(name, low, high)
    full = f"with {_in_full(name, said, high)}"
    return Fact(f"with {said}", f"with {otherwise}", holds, has, is_number=True, number_said=full)


def _of_units(has: Callable, by_unit: dict) -> Callable[[Counted], bool | None]:
    """The same of an area, by its value; None where it has none."""

    def holds(unit: Counted) -> bool | None:
        value = by_unit[id(unit)]
        return None if value is None else has(value)

    return holds


def _from_and_to(name: str, low: float, high: float) -> tuple[str, str]:
    """A number and all above it, and the next lower one and all below it."""
    if name == "bisque_cones_below_04":
        cooler, hotter = (cone_at(step("04") - below) for below in (high, low))
        return f"a bisque at cone {cooler} or cooler", f"a bisque at cone {hotter} or hotter"
    if name == "cone_reached":
        reached = "a firing that reached cone"
        return f"{reached} {cone_at(high)} or hotter", f"{reached} {cone_at(low)} or cooler"
    if name in _CONES:
        is_hotter = _CONES[name][3] > 0
        return _cones(name, high, is_hotter), _cones(name, low, not is_hotter)
    if name in _MELTS:
        return f"{_melt(name, high)} or stiffer", f"{_melt(name, low)} or more fluid"
    if name == "coats":
        return f"{high:g} or more", f"{_amount(low, 'coats')} or fewer"
    if name == "colour_coats_beneath":
        more = "colour" if high == 1 else f"{_amount(high, 'coats')} or more of colour"
        fewer = f"{_amount(low, 'coats')} or fewer of colour" if low else "no colour"
        return f"{more} under the glaze", f"{fewer} under the glaze"
    if name == COATS_ABOVE:
        more, fewer = _amount(high, "coats"), _amount(low, "coats")
        return f"{more} or more over it", f"{fewer} or fewer over it" if low else "no coat over it"
    unit = unit_of(name)
    return f"{_amount(high, unit)} or more", f"{_number_of(name)} {_amount(low, unit)} or less"


def _in_full(name: str, said: str, high: float) -> str:
    """The upper side of a number by itself, with what it is a number of."""
    if name == "coats":
        return f"{_amount(high, 'coats')} or more"
    is_whole = name in _CONES or name in _SAID_WHOLE
    return said if is_whole else f"{_number_of(name)} {said}"


def _melt(name: str, value: float) -> str:
    """A melt as a potter calls it: "a melt that at its thinnest is runny (1.9 log10 Pa.s)"."""
    number = _amount(value, unit_of(name))
    return f"a melt that at its {_MELTS[name]} is {melt_word(value)} ({number})"


def _amount(value: float, unit: str) -> str:
    """A number with its unit: "1 coat", "0.7 mm"."""
    return f"{value:g} {unit.removesuffix('s') if value == 1 else unit}".strip()


def _cones(name: str, value: float, is_hotter: bool) -> str:
    """A number of cones and all beyond it, hotter or cooler."""
    what, than, none, sign = _CONES[name]
    hot = sign * value
    if hot == 0:
        return f"{what} {none} or {'hotter' if is_hotter else 'cooler'}"
    many = f"{abs(hot):g} cone{'' if abs(hot) == 1 else 's'}"
    # Beyond 2 cones hotter lies hotter still; on the other side lie all that are less hot.
    many = f"{many} or more" if (hot > 0) is is_hotter else f"at most {many}"
    return f"{what} {many} {'hotter' if hot > 0 else 'cooler'} than {than}"


def _number_of(name: str) -> str:
    return _SHORT.get(name) or f"{label_of(name)} at"

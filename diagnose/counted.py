"""The facts by which areas and tiles of one glaze can be set apart, and counted."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.measures import measures
from diagnose.vocabulary import clue_said, measure_words
from tiles.records.clues import clues

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord

_NOT_COMPARED = ("role", "glaze_kind", "supplied_as", "finish", "glaze_colour")
"""The same for every tile of one glaze."""
_OF_TILE = ("body", "kiln", "firing", "bisque firing", "shelf", "cone reached", "form", "stood")
_OF_TILE_STARTS = (
    "body_", "bisque_", "cones_", "hold_", "rate_", "opened_", "absorption", "cone_", "atmosphere",
    "wrong_band",
)  # fmt: skip


_SHORT = {
    "stood": "position in the kiln",
    "thickness_mm": "a dry coat of",
    "fired_thickness_mm": "a fired coat of",
    "rate_c_per_h": "a rise near the top of",
    "opened_c": "the kiln opened at",
    "hold_min": "a hold of",
    "absorption_pct": "a body that takes up",
    "specific_gravity": "a specific gravity of",
    "method": "method",
    "surface": "surface",
    "applied_on": "ware beneath:",
    "colour_beneath": "colour beneath:",
}
_CONES = {
    "bisque_cones_below_04": ("a bisque", "cone 04", "at cone 04", -1),
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


@dataclass(frozen=True)
class Counted:
    """One area (or one tile by its first area), and whether it failed."""

    record: "TileRecord"
    area: "AreaRecord"
    failed: bool


@dataclass(frozen=True)
class Fact:
    """A yes-or-no fact: how it is said, how its opposite is said, and whom it holds for.

    ``holds`` gives None where it was not recorded; where ``is_number`` it holds for the greater
    numbers.
    """

    said: str
    otherwise: str
    holds: Callable[[Counted], bool | None]
    is_number: bool = False


def is_of_tile(name: str) -> bool:
    """Whether all areas of a tile share the fact."""
    if name in clues():
        return clues()[name].about == "tile"
    return name in _OF_TILE or name.startswith(_OF_TILE_STARTS)


def facts_of(units: list[Counted], is_wanted: Callable[[str], bool]) -> dict[str, list[Fact]]:
    """Every way the recorded facts cut the units in two, by the name of the fact."""
    values = [_values(each) for each in units]
    found: dict[str, list[Fact]] = {}
    for name in sorted({name for each in values for name in each if is_wanted(name)}):
        known = [each[name] for each in values if name in each]
        by_unit = {id(unit): each.get(name) for unit, each in zip(units, values, strict=True)}
        found[name] = _cuts(name, known, by_unit)
    return found


def _values(unit: Counted) -> dict[str, float | str]:
    """The plain measures of an area, and the names of what was used."""
    facts = measures(unit.record, unit.area.number)
    found = {
        name: fact.value
        for name, fact in facts.items()
        if name not in _NOT_COMPARED and not measure_is_test(name)
    }
    top = unit.area.layers[-1]
    firing, bisque = unit.record.firing, unit.record.bisque_firing
    named = {
        "body": unit.record.body.name,
        "kiln": firing.kiln if firing else None,
        "firing": firing.name if firing else None,
        "bisque firing": bisque.name if bisque else None,
        "shelf": unit.record.shelf,
        "batch": top.batch.name if top.batch else None,
    }
    return found | {name: value for name, value in named.items() if value}


def measure_is_test(name: str) -> bool:
    """Whether only a comparison of areas tells it."""
    return name in measure_words() and measure_words()[name].is_test


def _cuts(name: str, known: list, by_unit: dict) -> list[Fact]:
    if all(isinstance(value, str) for value in known):
        return [_word(name, word, by_unit) for word in sorted(set(known))]
    numbers = sorted({value for value in known if not isinstance(value, str)})
    return [
        _number(name, low, high, by_unit) for low, high in zip(numbers, numbers[1:], strict=False)
    ]


def _word(name: str, word: str, by_unit: dict) -> Fact:
    def holds(unit: Counted) -> bool | None:
        value = by_unit[id(unit)]
        return None if value is None else value == word

    if name in clues():
        other = "no" if word == "yes" else "yes"
        return Fact(f"where {clue_said(name, word)}", f"where {clue_said(name, other)}", holds)
    label = _label(name)
    return Fact(f"with {label} {word}", f"with another {label}", holds)


def _number(name: str, low: float, high: float, by_unit: dict) -> Fact:
    def holds(unit: Counted) -> bool | None:
        value = by_unit[id(unit)]
        return None if value is None else value >= high

    if name in _CONES:
        is_hotter = _CONES[name][3] > 0
        return Fact(_cones(name, high, is_hotter), _cones(name, low, not is_hotter), holds, True)
    if name == "coats":
        fewer = "coat or fewer" if low == 1 else "coats or fewer"
        return Fact(f"with {high:g} or more", f"with {low:g} {fewer}", holds, True)
    unit = measure_words()[name].unit if name in measure_words() else ""
    label = _label(name)
    return Fact(
        f"with {high:g} {unit} or more".replace("  ", " "),
        f"with {label} {low:g} {unit} or less".replace("  ", " "),
        holds,
        is_number=True,
    )


def _cones(name: str, value: float, is_hotter: bool) -> str:
    """A number of cones and all beyond it, hotter or cooler."""
    what, than, none, sign = _CONES[name]
    hot = sign * value
    if hot == 0:
        return f"with {what} {none} or {'hotter' if is_hotter else 'cooler'}"
    many = f"{abs(hot):g} cone{'' if abs(hot) == 1 else 's'}"
    # Beyond 2 cones hotter lies hotter still; on the other side lie all that are less hot.
    many = f"{many} or more" if (hot > 0) is is_hotter else f"at most {many}"
    return f"with {what} {many} {'hotter' if hot > 0 else 'cooler'} than {than}"


def _label(name: str) -> str:
    if name in _SHORT:
        return _SHORT[name]
    return measure_words()[name].label if name in measure_words() else name.replace("_", " ")

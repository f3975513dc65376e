"""Which fields can be asked for, in what words, and which answers are tried beforehand."""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.fields import FIELDS
from diagnose.notes.amounts import read_amount
from tiles.chemistry.cones import cone_at, read_cone, step
from tiles.errors import InvalidValue
from tiles.records import words
from tiles.records.clues import clues
from tiles.records.derived import label_range
from tiles.records.number_text import with_point

if TYPE_CHECKING:
    from diagnose.case import Case

FIELDS_OF = {
    "thickness_mm": ("thickness_mm", "fired_thickness_mm"),
    "fired_thickness_mm": ("fired_thickness_mm", "thickness_mm"),
    "coats": ("coats",),
    "method": ("method",),
    "applied_on": ("applied_on",),
    "beneath": ("beneath",),
    "colour_applied_on": ("colour_applied_on",),
    "slip_applied_on": ("colour_applied_on",),
    "surface": ("surface",),
    "stood": ("stood",),
    "finish": ("finish",),
    "atmosphere": ("atmosphere",),
    "hold_min": ("hold_min",),
    "rate_c_per_h": ("rate_c_per_h",),
    "opened_c": ("opened_c",),
    "absorption_pct": ("absorption_pct",),
    "body_colour": ("body_colour",),
    "specific_gravity": ("specific_gravity",),
    "revived": ("revived",),
    "dry_portion": ("dry_portion",),
    "cone_reached": ("cone_reached",),
    "cones_over_target": ("cone_reached",),
    "cones_over_label": ("cone_reached",),
    "wrong_band": ("cone_reached",),
    "cones_over_body": ("cone_reached", "bisque_cone"),
    "bisque_cones_below_04": ("bisque_cone",),
    "bisque_minus_glaze_cones": ("bisque_cone",),
}
"""The record fields that give a measure, where a person can be asked for them."""

_TEXTS = {
    "thickness_mm": "How thick was the dry coat before firing, in mm?",
    "fired_thickness_mm": "How thick is the fired glaze at a broken or ground edge, in mm?",
    "coats": "How many coats of the top glaze were put on?",
    "method": "How was the glaze put on: brush, dip, pour, spray, sponge or trail?",
    "applied_on": "What was the glaze put on: greenware (raw clay), bisque or fired glaze?",
    "colour_applied_on": "Was the colour under the glaze put on greenware (raw clay) or bisque?",
    "beneath": "Was the layer beneath damp or dry when the next went on?",
    "surface": "Is the clay surface there smooth or textured?",
    "stood": "Did the tile stand upright, sloped or flat in the kiln?",
    "shelf": "On which shelf or place in the kiln did it stand:",
    "finish": "What finish does the label give: clear, gloss, satin, matt, textured or crackle?",
    "atmosphere": "What was the kiln's atmosphere: oxidation (electric), neutral or reduction?",
    "hold_min": "How many minutes was the kiln held at the top?",
    "rate_c_per_h": "How fast did the kiln rise over the last 100 °C, in °C an hour?",
    "opened_c": "How hot was the kiln when it was opened, in °C (or write 480 F)?",
    "absorption_pct": "How much water does the fired body take up, in % (supplier's sheet)?",
    "body_colour": "What colour is the bare fired clay: white, buff, red or dark?",
    "specific_gravity": "What does 100 mL of the stirred glaze weigh, in g, divided by 100?",
    "revived": "Had the jar dried out, and was it wetted again (yes or no)?",
    "dry_portion": "Was the glaze mixed from the whole bag or part of bag?",
    "cone_reached": "Which cone did the witness cone beside the tile show (05 is not 5)?",
    "bisque_cone": "To which cone was the bisque fired?",
}
_WORDS = {
    "method": words.METHODS,
    "applied_on": words.APPLIED_ON,
    "colour_applied_on": ("greenware", "bisque"),
    "beneath": words.BENEATH,
    "surface": words.SURFACES,
    "stood": words.STOOD,
    "finish": words.FINISHES,
    "atmosphere": words.ATMOSPHERES,
    "dry_portion": words.DRY_PORTIONS,
    "body_colour": ("white", "buff", "red", "dark"),
}
_CONES = ("cone_reached", "bisque_cone")
_AMOUNTS = {
    "thickness_mm": "length",
    "fired_thickness_mm": "length",
    "coats": "count",
    "hold_min": "time",
    "rate_c_per_h": "rate",
    "opened_c": "temperature",
}
_COMMA = re.compile(r"\d+,\d+")
_BISQUE_CONES = ("010", "06", "04", "02")
_STEPS_OFF_TARGET = (-3, -1, 0, 1, 3)


def text(name: str) -> str:
    """The question for a clue or a field, answerable by someone holding the tile."""
    return clues()[name].question if name in clues() else _TEXTS[name]


def answers(case: "Case", name: str) -> list[tuple[object, str]]:
    """The answers to try, each with how it is said: for a number, values the signs turn on."""
    if name in clues():
        return [("yes", "yes"), ("no", "no")]
    if name == "revived":
        return [(True, "yes"), (False, "no")]
    if name in _WORDS:
        return [(word, word) for word in _WORDS[name]]
    if name in _CONES:
        return [(cone, f"cone {cone}") for cone in _cones(case, name)]
    return [(value, f"{value:g}") for value in _turning_points(case, name)]


def is_ordered(name: str) -> bool:
    """Whether its answers lie on a scale: a number, or a cone."""
    return name not in _WORDS and name not in clues() and name not in ("revived", "shelf")


def is_number(name: str) -> bool:
    """Whether it is answered by a number."""
    return is_ordered(name) and name not in _CONES


def _cones(case: "Case", name: str) -> list[str]:
    if name == "bisque_cone":
        return list(_BISQUE_CONES)
    label = case.view.label or label_range(case.record.body)
    centre = case.view.target or (label[1] if label else "05")
    return [cone_at(step(centre) + off) for off in _STEPS_OFF_TARGET]


def _turning_points(case: "Case", name: str) -> list[float]:
    """Where signs count in full, for and against, and half way between."""
    ends = set()
    for row in case.rows:
        for sign in row.missing:
            if sign.measure == name:
                ends |= {sign.counts_fully, sign.against_fully} - {None}
    low_to_high = sorted(end for end in ends if end > 0 or name == "hold_min")
    if len(low_to_high) > 1:
        low_to_high.insert(1, (low_to_high[0] + low_to_high[-1]) / 2)
    elif low_to_high:
        low_to_high.insert(0, low_to_high[0] / 2)
    whole = name == "coats"
    return sorted({max(1, round(value)) if whole else value for value in low_to_high})


def read_answer(name: str, typed: str, choices: Sequence[str] = ()) -> object:
    """What a person typed, as the value of the clue or field; ``choices`` are shelves on record.

    Raises
    ------
    InvalidValue, UnknownCone
        It is no answer to this question.
    """
    if name in clues():
        return words.read_word(typed, words.ANSWERS, "answer")
    if name == "revived":
        return words.read_word(typed, words.ANSWERS, "answer") == "yes"
    if name in _WORDS:
        return words.read_word(typed, _WORDS[name], "answer")
    if name == "shelf":
        known = {words.name_key(each): each for each in choices}
        key = words.name_key(typed)
        return known.get(key) or words.read_word(typed, tuple(choices), "shelf")
    if name in _CONES:
        return read_cone(typed)
    return _number(name, typed)


def _number(name: str, typed: str) -> float | int:
    unit = {"length": " mm", "rate": " per hour"}.get(_AMOUNTS.get(name, ""), "")
    tidy = _COMMA.sub(lambda found: with_point(found[0]), typed.casefold().strip())
    tidy = tidy if any(letter.isalpha() for letter in tidy.replace("/", "")) else tidy + unit
    amount = read_amount(tidy, _AMOUNTS[name]) if name in _AMOUNTS else _plain(tidy)
    if amount is None or _COMMA.search(tidy):
        raise InvalidValue(
            f"{typed!r} is no answer to this.",
            "a number in the unit asked for, or Enter when you do not know.",
            field=name,
            value=typed,
        )
    value = getattr(amount, "value", amount)
    _refuse_impossible(name, value)
    return value


def _refuse_impossible(name: str, value: float) -> None:
    """What the record would not take is no answer: 145 for a specific gravity of 1.45."""
    from tiles.records import forms

    form, rest = {
        "layer": (forms.LayerRecord, {"glaze": "any"}),
        "firing": (forms.FiringRecord, {"name": "any"}),
        "batch": (forms.BatchRecord, {"name": "any"}),
        "body": (forms.BodyRecord, {"name": "any"}),
    }[FIELDS[name].place]
    forms.read(form, {**rest, FIELDS[name].name: value})


def _plain(typed: str) -> float | None:
    try:
        return float(typed.replace("%", ""))
    except ValueError:
        return None

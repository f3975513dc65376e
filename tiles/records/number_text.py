"""Numbers as people write them: with a decimal comma, with their unit, or in two ways at once."""

import re
from typing import Any

from tiles.errors import InvalidValue

_WITH_COMMA = re.compile(r"([-+]?)([0-9]+),([0-9]+)")
_THOUSANDS = re.compile(r"([-+]?[1-9][0-9]{0,2})[.,]([0-9]{3})")
_BEFORE_UNIT = re.compile(r"\s*(?P<number>[-+]?\d+(?:[.,]\d+)?)\s*(?P<unit>\D*?)\s*")
UNITS = {
    "mm": r"mm\.?|millimet(?:er|re)s?",
    "coats": r"coats?|x|×|times",
    "%": r"%|percent|per cent",
    "min": r"min(?:ute)?s?\.?",
    "g/mL": r"g/ml|g/cm[3³]|kg/l|sg",
    "mesh": r"mesh",
    "g": r"g|gr\.?|gram(?:me)?s?",
    "mL": r"ml|cc|cm[3³]|millilit(?:er|re)s?",
    "L": r"l|lit(?:er|re)s?",
    "F": r"(?:[°º]|deg\.?|degrees?)?\s*(?:F|Fahrenheit)",
    "F/h": r"(?:[°º]|deg\.?|degrees?)?\s*(?:F|Fahrenheit)(?:\s*(?:/|per)\s*(?:h|hr|hour))?",
}
"""What may stand behind a number of each unit; without case."""
_DEGREES = (
    r"(?P<number>\d+(?:\.\d+)?)\s*(?:[°º]|deg\.?|degrees?)?\s*"
    r"(?:(?P<fahrenheit>F|Fahrenheit)|C|Celsius)"
)
_OPENING = re.compile(r"\s*[\d.,]+\s*(?:mm|[µμu]m?|micro\w+|microns?)\.?\s*", re.IGNORECASE)
HEAT = {
    "C": re.compile(_DEGREES, re.IGNORECASE),
    "C/h": re.compile(rf"{_DEGREES}(?:\s*(?:/|per)\s*(?:h|hr|hour))?", re.IGNORECASE),
}
"""A temperature, or a rate, that says of itself whether it is in Fahrenheit."""


def with_point(text: str) -> str:
    """A decimal comma as a point; a comma that may stand for thousands is left as it is.

    Examples
    --------
    >>> with_point("12,5"), with_point("0,125"), with_point("1,200"), with_point("1,2,3")
    ('12.5', '0.125', '1,200', '1,2,3')
    """
    match = _WITH_COMMA.fullmatch(text.strip())
    is_either = _THOUSANDS.fullmatch(text.strip())
    return f"{match[1]}{match[2]}.{match[3]}" if match and not is_either else text


def without_unit(text: str, unit: str) -> str:
    """The number of a measure in this unit, with a point; what is in no such unit as it stands.

    A temperature in Fahrenheit is given in C where that is the unit.

    Examples
    --------
    >>> without_unit("12,5 %", "%"), without_unit("100 °C/h", "C/h"), without_unit("1828 F", "C")
    ('12.5', '100', '998')
    >>> without_unit("3 cm", "mm")
    '3 cm'
    """
    told = _BEFORE_UNIT.fullmatch(text)
    if not told:
        return text
    number = with_point(told["number"])
    if unit in HEAT and told["unit"]:
        celsius = in_celsius(f"{number} {told['unit']}", unit)
        return celsius if isinstance(celsius, str) else f"{celsius:.10g}"
    is_own = not told["unit"] or re.fullmatch(UNITS.get(unit, ""), told["unit"], re.IGNORECASE)
    return number if is_own else text


def in_celsius(value: str, unit: str) -> str | float:
    """A temperature (``C``) or rate (``C/h``) by itself; what names no such unit as it stands.

    Whole degrees become whole ones: 1828 F is the 998 C of another row.
    """
    told = HEAT[unit].fullmatch(value.strip()) if unit in HEAT else None
    if not told:
        return value
    number = told["number"]
    if not told["fahrenheit"]:
        return number
    celsius = (float(number) - (32 if unit == "C" else 0)) * 5 / 9
    return round(celsius, 1) if "." in number else float(round(celsius))


def two_readings(text: str) -> str:
    """What to type for a number whose mark may part thousands; nothing for any other.

    Examples
    --------
    >>> two_readings("1,200"), two_readings("12.125"), two_readings("0.125")
    ('1200 or 1.2, whichever is meant', '12125 or 12.125, whichever is meant', '')
    """
    match = _THOUSANDS.fullmatch(text.strip())
    if not match:
        return ""
    whole, rest = match.groups()
    decimal = f"{whole}.{rest}".rstrip("0").rstrip(".")
    return f"{whole}{rest} or {decimal}, whichever is meant"


def no_opening(value: Any) -> Any:
    """The mesh of a sieve as it is given.

    Raises
    ------
    InvalidValue
        It is how wide the openings are, in mm or micrometres.
    """
    if isinstance(value, str) and _OPENING.fullmatch(value):
        raise InvalidValue(
            f"{value.strip()!r} is how wide a sieve's openings are, not its mesh.",
            "the mesh, a whole number (80 mesh is about 0.18 mm), and the width in note.",
            field="sieve_mesh",
            value=value,
        )
    return value

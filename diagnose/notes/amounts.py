"""Small amounts as people write them in a note: "250 F", "half an hour", "1/16 inch", "three"."""

import re
from dataclasses import dataclass

_COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
_DOT = "\N{MIDDLE DOT}"
_ALONE_BEFORE = rf"(?<![.{_DOT}\d])(?<!\d[-–/])(?<!\d - )(?<!\d to )"
_ALONE_AFTER = rf"(?![.{_DOT}]?\d)(?! ?(?:-|–|to) ?\.?\d)"
"""A range, such as 0.5-0.8 mm or 3 to 4 coats, is not one amount: neither end is read."""
NUMBER = (
    r"(?:about |around |approx\.? |~ ?)?(?:half an hour|an hour|(?:\d+ )?\d+/\d+|"
    rf"{_ALONE_BEFORE}(?:\d+(?:[.{_DOT}]\d+)?|\.\d+){_ALONE_AFTER}|{'|'.join(_COUNTS)})"
    r"(?: ?(?:degrees?|°))?"
    r"(?: ?(?:c|f|celsius|fahrenheit|minutes?|mins?|hours?|hrs?|h|mm|cm|inch(?:es)?|in|secs?|"
    r"seconds?|days?|weeks?|am|pm)\b)?"
    r"(?: ?(?:/|per |an? )(?:hour|hr|h)\b)?"
)
"""What counts as an amount in a text, its unit included."""
_PER_HOUR = re.compile(r"(/|per|\d ?[cf]? ?an?) ?(hour|hr|h)\b")
_COLDEST_OPENING_C = 40.0
_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}


@dataclass(frozen=True)
class Amount:
    """A number in the unit of its field, and how a bare number was taken."""

    value: float
    remark: str = ""


def read_amount(text: str, kind: str) -> Amount | None:
    """The amount in the unit its field has, or None when it cannot be one.

    Parameters
    ----------
    text : str
        As written, unit included.
    kind : str
        ``"temperature"`` [°C], ``"time"`` [min], ``"length"`` [mm], ``"rate"`` [°C/h] or
        ``"count"``.

    Examples
    --------
    >>> read_amount("480 f", "temperature").value, read_amount("half an hour", "time").value
    (249.0, 30.0)
    """
    number, unit = _number(text), _unit(text)
    if number is None or (kind == "rate") != bool(_PER_HOUR.search(text)):
        return None
    return {
        "temperature": _temperature,
        "time": _time,
        "length": _length,
        "rate": _rate,
        "count": _count,
    }[kind](number, unit)


def _number(text: str) -> float | None:
    if text.endswith("an hour") and not re.search(r"\d", text):
        return 0.5 if "half" in text else 1.0
    for at, word in enumerate(_COUNTS, start=1):
        if re.search(rf"\b{word}\b", text):
            return float(at)
    match = re.search(r"(?:(\d+) )?(\d+)/(\d+)|\d+(?:\.\d+)?|\.\d+", text)
    if match is None or (match[3] and not int(match[3])):
        return None
    if match[3]:
        return int(match[1] or 0) + int(match[2]) / int(match[3])
    return float(match[0])


def _unit(text: str) -> str:
    words = re.findall(r"[a-z]+", text)
    units = {"f": "f", "fahrenheit": "f", "c": "c", "celsius": "c", "mm": "mm", "cm": "cm"}
    for word in words:
        if word in units:
            return units[word]
        if word.startswith(("min", "sec", "day", "week")) or word in ("am", "pm"):
            return word[:3]
        if word in ("h", "hr", "hrs", "hour", "hours"):
            return "h"
        if word in ("in", "inch", "inches"):
            return "in"
    return ""


def _temperature(number: float, unit: str) -> Amount | None:
    celsius = round((number - 32) / 1.8, 0) if unit == "f" else number
    if unit not in ("", "c", "f") or celsius < _COLDEST_OPENING_C:
        return None
    return Amount(celsius, "" if unit else " (taken as °C)")


def _rate(number: float, unit: str) -> Amount | None:
    per_hour = round(number / 1.8, 0) if unit == "f" else number
    return Amount(per_hour, "" if unit in ("c", "f") else " (taken as °C)")


def _time(number: float, unit: str) -> Amount | None:
    if unit not in ("", "min", "h"):
        return None
    return Amount(number * 60 if unit == "h" else number, "" if unit else " (taken as minutes)")


def _length(number: float, unit: str) -> Amount | None:
    if unit not in _MM or not number:
        return None
    return Amount(round(number * _MM[unit], 2))


def _count(number: float, unit: str) -> Amount | None:
    return None if unit or number != int(number) else Amount(int(number))

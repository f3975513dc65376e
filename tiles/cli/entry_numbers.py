"""Numbers typed for the areas of a tile: coats, and thicknesses with a point or a comma."""

import re

from tiles.errors import InvalidValue

_MM = re.compile(r"\s*mm\b\.?", re.IGNORECASE)
_MAY_BE_MM = re.compile(r"[1-9]|10")
"""A whole number that a coat may have: none is 0 or 25 mm thick."""


def numbers(text: str | None, what: str, kind: type) -> list:
    """``1,2,3`` as numbers, one for each area; a blank between commas is not recorded.

    Raises
    ------
    InvalidValue
        Something between the commas is not a number.
    """
    if text is None:
        return []
    found = [_number(part.strip(), text, what, kind) for part in text.split(",")]
    if "," in text and all(each is None for each in found):
        raise InvalidValue(f"{said(what)} {text!r} holds no number.", "a number, or leave it out.")
    return found


def thicknesses(text: str | None, what: str, count: int) -> list:
    """``0.4`` for all areas, or one for each of so many, parted by commas or semicolons.

    ``0,4`` is a list only where it can be. Text may say the unit, as in ``0.4 mm``.

    Raises
    ------
    InvalidValue
        Something between the commas is not a number, or a comma may be of either kind.
    """
    typed, text = text, text and _MM.sub("", text)
    if any(part.strip() and not _MM.sub("", part).strip() for part in (typed or "").split(",")):
        raise InvalidValue(f"{said(what)} {typed!r} holds no number.", "a number, or leave it out.")
    if ";" in (text or ""):
        return numbers(text.replace(",", ".").replace(";", ","), what, float)
    parts = (text or "").strip().split(",")
    if len(parts) == 2 and all(map(str.isdecimal, parts)):
        may_be_list = all(map(_MAY_BE_MM.fullmatch, parts))
        if may_be_list and count == 2:
            raise InvalidValue(
                f"{said(what)} {typed!r} may be one number for both areas, or one for each.",
                f"{'.'.join(parts)} for both, or {parts[0]}.0,{parts[1]}.0 for one each.",
                field=what,
                value=typed,
            )
        if count == 1 or not may_be_list:
            text = ".".join(parts)  # a decimal comma
    return numbers(text, what, float)


def said(name: str) -> str:
    """A field as it is spoken of: thickness."""
    return name.removesuffix("_mm").replace("_", " ")


def _number(part: str, text: str, what: str, kind: type):
    try:
        if "_" in part:  # Python's own way to write thousands, nobody else's
            raise ValueError(part)
        return kind(part) if part else None
    except ValueError as error:
        from tiles.records.coats import inches_in_mm

        if kind is float and (in_mm := inches_in_mm(part)):
            told = f"{said(what)} {part!r} is in inches."
            raise InvalidValue(told, f"it in mm: {in_mm}.", field=what, value=text) from error
        example = "1,2,3" if kind is int else "0.4,0.8,1.2"
        raise InvalidValue(
            f"{said(what)} {text!r} is not a {'whole ' if kind is int else ''}number.",
            f"one number, or one for each area: {example}.",
            field=what,
            value=text,
        ) from error

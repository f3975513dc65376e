"""Numbers as they are typed, and ``NAME=NUMBER`` for recipe lines and analyses."""

import re

from tiles.errors import InvalidValue

_WITH_COMMA = re.compile(r"([-+]?)([0-9]+),([0-9]+)")


def read_pair(text: str, what: str, example: str) -> tuple[str, float]:
    """``whiting=14`` as the name and the number.

    Parameters
    ----------
    text : str
        What was typed.
    what, example : str
        What it is called and how it should look, for the error.

    Raises
    ------
    InvalidValue
        No name, or no number after the sign.
    """
    from tiles.records.words import tidy_name

    name, sign, amount = text.rpartition("=")
    name = tidy_name(name)
    if not sign or not name:
        raise InvalidValue(
            f"{what} {text!r} is not a name and a number.", f"{example}.", field=what, value=text
        )
    return name, read_number(amount, f"{what} {name!r}", example)


def read_number(text: str, what: str, example: str) -> float:
    """A number as it is typed.

    Raises
    ------
    InvalidValue
        It is absent, or not a number.
    """
    try:
        if "_" in text:  # Python's own way to write thousands, nobody else's
            raise ValueError(text)
        return float(with_point(text))
    except ValueError as error:
        told = f"{text.strip()!r} is not a number" if text.strip() else "the number is missing"
        hint = thousands_or_decimals(text) or f"{example}."
        raise InvalidValue(f"{what}: {told}.", hint, value=text) from error


def with_point(text: str) -> str:
    """A decimal comma as a point; a comma that may stand for thousands is left as it is.

    Examples
    --------
    >>> with_point("12,5"), with_point("0,125"), with_point("1,200"), with_point("1,2,3")
    ('12.5', '0.125', '1,200', '1,2,3')
    """
    match = _WITH_COMMA.fullmatch(text.strip())
    return f"{match[1]}{match[2]}.{match[3]}" if match and not _is_either(match) else text


def thousands_or_decimals(text: str) -> str:
    """What to type for a number whose comma may be either; nothing for any other.

    Examples
    --------
    >>> thousands_or_decimals("1,200")
    '1200 without the comma, or 1.200 with a point: whichever is meant.'
    """
    match = _WITH_COMMA.fullmatch(text.strip())
    if not (match and _is_either(match)):
        return ""
    sign, whole, rest = match.groups()
    point = f"{sign}{whole}.{rest}"
    return f"{sign}{whole}{rest} without the comma, or {point} with a point: whichever is meant."


def _is_either(match: re.Match) -> bool:
    return len(match[3]) == 3 and not match[2].startswith("0")

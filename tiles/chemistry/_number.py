"""What counts as a number, and the one line that says that something is not."""

import math
from textwrap import shorten
from typing import Any

from tiles.errors import InvalidValue


def as_number(value: Any) -> float:
    """A finite number as float, numpy's included; nan for text, true or false, or anything else."""
    if type(value) is float:
        # Nearly every value, and recipes are computed by the thousand.
        return value if math.isfinite(value) else math.nan
    if getattr(value, "ndim", None) == 0:
        value = value.item()
    if isinstance(value, bool | str | bytes) or getattr(value, "ndim", 0):
        return math.nan
    try:
        number = float(value)
    except (TypeError, ValueError, OverflowError):
        return math.nan
    return number if math.isfinite(number) else math.nan


def brief(value: Any) -> str:
    """A value as one short piece of text for an error."""
    plain = value.item() if getattr(value, "ndim", None) == 0 else value
    return shorten(repr(plain), 60, placeholder=" ...")


def read_number(value: Any, what: str, hint: str, field: str) -> float:
    """The value as a float, or InvalidValue with ``what`` and ``hint`` when it is no number.

    Examples
    --------
    >>> read_number(float("nan"), "SG", "1.45.", "sg")
    Traceback (most recent call last):
        ...
    tiles.errors.InvalidValue: SG is not a number: nan. Try: 1.45.
    """
    number = as_number(value)
    if number != number:
        told = f"{what} is not a number: {brief(value)}."
        raise InvalidValue(told, hint, field=field, value=value)
    return number


def read_positive(value: Any, field: str, hint: str = "a number above 0.") -> float:
    """The value as a float above 0."""
    number = read_number(value, field, hint, field)
    if number <= 0:
        told = f"{field} {number:zg} cannot be right."
        raise InvalidValue(told, hint, field=field, value=value)
    return number

"""A day as it is typed otherwise than 2026-11-05, where only one day can be meant."""

import re
from datetime import date

_MONTHS = (
    "January February March April May June July August September October November December"
).split()
_DOTTED = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})", re.ASCII)
_NAMED = re.compile(r"(\d{1,2})\.?\s?([a-z]{3,9})\.?,?\s?(\d{4})", re.IGNORECASE | re.ASCII)
_NAMED_FIRST = re.compile(r"([a-z]{3,9})\.?\s?(\d{1,2}),?\s(\d{4})", re.IGNORECASE | re.ASCII)


def told_day(text: str) -> date | None:
    """The day of a text with dots, day first, or with the name of its month; else None.

    With strokes it may be the month that stands first: such a text is none.

    Examples
    --------
    >>> told_day("05.11.2026"), told_day("5 Nov 2026")
    (datetime.date(2026, 11, 5), datetime.date(2026, 11, 5))
    >>> told_day("5/11/2026"), told_day("31.02.2026"), told_day("2026-11-05")
    (None, None, None)
    """
    text = text.strip()
    if match := _DOTTED.fullmatch(text):
        day, month, year = match.groups()
    elif match := _NAMED.fullmatch(text):
        day, month, year = match[1], _month(match[2]), match[3]
    elif match := _NAMED_FIRST.fullmatch(text):
        day, month, year = match[2], _month(match[1]), match[3]
    else:
        return None
    try:
        return date(int(year), int(month), int(day))
    except ValueError:
        return None


def _month(name: str) -> int:
    """Which month a name or its first letters mean; 0 for none."""
    meant = (
        at for at, each in enumerate(_MONTHS, 1) if each.casefold().startswith(name.casefold())
    )
    return next(meant, 0)


def spoken_day(day: date) -> str:
    """A day as no order of its numbers can mistake it.

    Examples
    --------
    >>> spoken_day(date(2026, 11, 5))
    '5 November 2026'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"

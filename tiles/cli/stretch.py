"""``--since``, ``--until``, ``--note``: tiles of a time, or with words in a note, and in words."""

import re
from collections.abc import Iterable
from datetime import date, timedelta
from typing import Annotated

import typer

from tiles.cli import common
from tiles.errors import InvalidValue

_WHEN = re.compile(r"(\d{4})(?:-(\d\d))?(?:-(\d\d))?")

Since = Annotated[
    str | None, typer.Option(help="Fired on this day or later: 2025-09-01, 2025-09 or 2025.")
]
Until = Annotated[
    str | None, typer.Option(help="Fired on this day or before, a month and a year to their end.")
]

Note = Annotated[
    str | None, typer.Option(help="With these words in a note on it or a look at it, or its mark.")
]


def read(since: str | None, until: str | None) -> dict[str, date | None]:
    """Both ends of a stretch of time, as a search names them.

    Raises
    ------
    InvalidValue
        No day, month or year; or the end lies before the start.
    """
    start = None if since is None else _ends(since, "--since")[0]
    end = None if until is None else _ends(until, "--until")[1]
    if start and end and end < start:
        raise InvalidValue(
            f"--since {since} lies after --until {until}.", f"--since {until} --until {since}."
        )
    return {"since": start, "until": end}


def _ends(text: str, option: str) -> tuple[date, date]:
    """The first and the last day of a day, a month or a year."""
    told = _WHEN.fullmatch(common.iso_day(text) or text.strip())
    year, month, day = (each and int(each) for each in told.groups()) if told else (0, None, None)
    try:
        first = date(year, month or 1, day or 1)
        if day:
            return first, first
        of_next = date(year + (month in (None, 12)), (month or 12) % 12 + 1, 1)
        return first, of_next - timedelta(days=1)
    except ValueError as error:
        raise InvalidValue(
            f"{option} {text!r} is not possible: a stretch of time begins or ends with a day, a "
            "month or a year that there is.",
            "2026-03-01, 2026-03 or 2026.",
        ) from error


def said(since: date | None, until: date | None, note: str | None = None) -> str:
    """These tiles as a sentence goes on: "noted '7C', fired from 2025-01-01 on"; else ""."""
    time = f"fired from {since} on" if since else ""
    if until:
        time = f"fired from {since} to {until}" if since else f"fired until {until}"
    return ", ".join(part for part in (f"noted {note!r}" if note else "", time) if part)


def heading(search, fired_on: Iterable, undated: int = 0) -> str:
    """What tells of the time or the words above their tiles; "" where none was asked for.

    Parameters
    ----------
    search : Search
        What was asked for: ``since`` and ``until``, both included, and ``note``.
    fired_on : iterable of date or None
        Of each tile shown, the day of its firing.
    undated : int
        Tiles left out because no day of them is on record.
    """
    told = said(search.since, search.until, search.note)
    if not told:
        return ""
    parts = [f"{told[0].upper()}{told[1:]}."]
    is_of_time = search.since or search.until
    if is_of_time and (other := sum(day is None for day in fired_on)):
        parts.append(
            f"{other} without a day of firing by the first look, else by when "
            f"{'it was' if other == 1 else 'they were'} glazed or made."
        )
    if undated:
        parts.append(f"{undated} more without any day {'is' if undated == 1 else 'are'} left out.")
    return " ".join(parts)

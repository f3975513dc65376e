"""Marks as they are typed and told: in runs, and the one that comes next."""

import re

from tiles.errors import InvalidValue, shell_line

MOST_IN_A_RUN = 1000


def next_mark(mark: str | None) -> str | None:
    """The mark after this one: M-41 gives M-42; None where it does not end in a number."""
    match = re.fullmatch(r"(.*?)(\d+)", mark, re.DOTALL) if mark else None
    if not match:
        return None
    return f"{match[1]}{int(match[2]) + 1:0{len(match[2])}d}"


def load_hint(marks: list[str]) -> str:
    """What to type once these planned tiles are glazed."""
    return f"When glazed: tiles load FIRING {shell_line(runs(marks))}"


def runs(marks: list[str]) -> list[str]:
    """Marks in short, as `expand` takes them: "M-41..M-43" where they count on."""
    found: list[list[str]] = []
    for mark in marks:
        if found and next_mark(found[-1][-1]) == mark:
            found[-1].append(mark)
        else:
            found.append([mark])
    return ["..".join(dict.fromkeys((run[0], run[-1]))) for run in found]


def expand(marks: list[str]) -> list[str]:
    """``M-41..M-43`` as the three marks it stands for.

    Raises
    ------
    InvalidValue
        The two ends do not belong to one series, or run backwards.
    """
    found: list[str] = []
    for text in marks:
        first, dots, last = text.partition("..")
        found += _series(text, first, last) if dots else [text]
    return list(dict.fromkeys(found))


def _series(text: str, first: str, last: str) -> list[str]:
    start, end = (
        re.fullmatch(r"(.*?)(\d{1,18})", each.strip(), re.DOTALL) for each in (first, last)
    )
    if not (start and end) or start[1] != end[1] or int(start[2]) > int(end[2]):
        raise InvalidValue(
            f"{text!r} is not a run of marks.",
            'M-41..M-52; in quotes where a mark has a blank: "T 06..T 12".',
            value=text,
        )
    if int(end[2]) - int(start[2]) >= MOST_IN_A_RUN:
        raise InvalidValue(
            f"{text!r} would be more than {MOST_IN_A_RUN} marks.", "a shorter run.", value=text
        )
    width = len(start[2]) if start[2].startswith("0") else 0
    return [f"{start[1]}{number:0{width}d}" for number in range(int(start[2]), int(end[2]) + 1)]

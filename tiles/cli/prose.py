"""Sentences wrapped to the screen."""

import re
import shutil
import textwrap
from collections.abc import Callable, Iterable
from typing import TypeVar

MOST_WIDTH, LEAST_WIDTH = 96, 8
"""Columns: longer lines are hard to read; and what any text gets, however wide its label."""
LEAST_LINES, KEPT_FREE = 24, 2
"""The lines of a plain terminal; those for the command typed and the prompt that follows."""

_Detail = TypeVar("_Detail")
_COMMAND = re.compile(r"'tiles [^']*'|(?<=: )tiles .*|^ +tiles .*")
_STUCK = "\0"
"""Stands for a blank at which a line must not be broken."""


def width(most: int = MOST_WIDTH) -> int:
    """The width of the screen, no wider than is good to read."""
    return min(shutil.get_terminal_size().columns, most)


def most_lines() -> int:
    """The lines that an answer of one screen may take."""
    return max(LEAST_LINES, shutil.get_terminal_size().lines) - KEPT_FREE


def fitting(
    told: Callable[[_Detail], list[str]], levels: Iterable[_Detail], more: int = 0
) -> list[str]:
    """An answer with as much detail as fits one screen.

    Parameters
    ----------
    told : callable
        The lines of the answer at a level of detail.
    levels : iterable
        Ever less detail; where not even the last fits, its lines are given.
    more : int
        So many lines beyond a screen fit as well.
    """
    lines: list[str] = []
    for detail in levels:
        lines = told(detail)
        if len(lines) <= most_lines() + more:
            break
    return lines


def wrap(text: str, indent: str = "", most: int = MOST_WIDTH) -> list[str]:
    """One paragraph as lines, all but the first indented; a mark or a date is never broken."""
    room = max(width(most), len(indent) + LEAST_WIDTH)
    return textwrap.wrap(text, room, subsequent_indent=indent, break_on_hyphens=False)


def between_words(text: str, indent: str = "") -> list[str]:
    """One line for a terminal as lines of whole words; a command to paste stays on one."""
    joined = _COMMAND.sub(lambda found: found[0].replace(" ", _STUCK), text)
    lines = textwrap.wrap(
        joined,
        max(shutil.get_terminal_size().columns, len(indent) + LEAST_WIDTH),
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(_STUCK, " ") for line in lines] or [""]


def say(text: str, indent: str = "") -> None:
    """Print one line for a terminal, as `between_words` parts it."""
    print("\n".join(between_words(text, indent)))


def beside(label: str, text: str, most: int = MOST_WIDTH) -> list[str]:
    """A text beside its label, going on beneath itself."""
    return wrap(label + text, " " * len(label), most)


def counted(number: int, thing: str) -> str:
    """A number of things.

    Examples
    --------
    >>> counted(1, "glaze"), counted(0, "tile")
    ('1 glaze', '0 tiles')
    """
    return f"{number} {thing}{'' if number == 1 else 's'}"


def percent(share: float) -> str:
    """The share of a cause; never 100 %, because shares rest on estimates.

    Examples
    --------
    >>> percent(0.714), percent(0.997)
    ('71%', '99%')
    """
    return f"{min(share, 0.99):.0%}"

"""Sentences wrapped to the screen."""

import shutil
import textwrap

MOST_WIDTH = 96


def width() -> int:
    """The width of the screen, no wider than is good to read."""
    return min(shutil.get_terminal_size().columns, MOST_WIDTH)


def wrap(text: str, indent: str = "") -> list[str]:
    """One paragraph as lines, all but the first indented; a mark or a date is never broken."""
    return textwrap.wrap(text, width(), subsequent_indent=indent, break_on_hyphens=False)


def beside(label: str, text: str) -> list[str]:
    """A text beside its label, going on beneath itself."""
    return wrap(label + text, " " * len(label))


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

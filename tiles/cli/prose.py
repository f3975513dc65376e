"""Sentences wrapped to the screen."""

import shutil
import textwrap

MOST_WIDTH = 96


def width() -> int:
    """The width of the screen, no wider than is good to read."""
    return min(shutil.get_terminal_size().columns, MOST_WIDTH)


def wrap(text: str, indent: str = "") -> list[str]:
    """One paragraph as lines, all but the first indented."""
    return textwrap.wrap(text, width(), subsequent_indent=indent)


def counted(number: int, thing: str) -> str:
    """A number of things.

    Examples
    --------
    >>> counted(1, "glaze"), counted(0, "tile")
    ('1 glaze', '0 tiles')
    """
    return f"{number} {thing}{'' if number == 1 else 's'}"

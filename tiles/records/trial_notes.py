"""The note of a planned trial: which tile it was made for, and the one thing changed."""

import re

from tiles.records.words import DEFECTS

CONTROL = "as it was"
_PLANNED = re.compile(r"Trial for .+? \([a-z ]+\): .*?(\.(\s+|$)|$)", re.DOTALL)


def head(mark: str) -> str:
    """How the note of every trial for a tile begins.

    Examples
    --------
    >>> head("M-41")
    'Trial for M-41 ('
    """
    return f"Trial for {mark} ("


def start(mark: str, defect: str) -> str:
    """How the note of every trial for one fault of a tile begins.

    Examples
    --------
    >>> start("M-41", "crawling")
    'Trial for M-41 (crawling): '
    """
    return f"{head(mark)}{defect}): "


def is_for(note: str | None, mark: str) -> bool:
    """Whether a note is that of a trial for some fault of a tile.

    Examples
    --------
    >>> is_for("Trial for M-41 (crawling): as it was.", "M-41")
    True
    >>> is_for("Trial for M-41 (b) (crawling): as it was.", "M-41")
    False
    """
    return bool(note) and note.startswith(tuple(start(mark, defect) for defect in DEFECTS))


def own_words(note: str) -> str:
    """A note without the change that was planned in it: that is no observation.

    Examples
    --------
    >>> own_words("Trial for M-41 (crawling): dry coat 1.6 -> 0.8 mm. Dusty.")
    'Dusty.'
    >>> own_words("Dusty. Trial for fun.")
    'Dusty. Trial for fun.'
    """
    is_planned = _PLANNED.match(note)
    return note[is_planned.end() :] if is_planned else note


def write(mark: str, defect: str, change: str) -> str:
    """The note of one trial.

    Examples
    --------
    >>> write("M-41", "crawling", "coats 3 -> 2")
    'Trial for M-41 (crawling): coats 3 -> 2.'
    """
    return f"{start(mark, defect)}{change}."


def is_of(note: str | None, mark: str, defect: str, change: str) -> bool:
    """Whether a note is that of a trial with this change alone; a coat less is a thinner coat.

    Examples
    --------
    >>> note = write("M-41", "crawling", "coats 3 -> 2") + " Dipped."
    >>> is_of(note, "M-41", "crawling", "coats 3 -> 2")
    True
    >>> is_of(note, "M-41", "crawling", "coats 3 -> 4")
    False
    >>> is_of(write("M-41", "crawling", "coats 3 -> 2; x: yes"), "M-41", "crawling", "coats 3 -> 2")
    False
    """
    told = start(mark, defect) + change
    return bool(note) and note.startswith((f"{told}.", f"{told}; dry coat "))

"""The note of a planned trial: which tile it was made for, and the one thing changed."""

CONTROL = "as it was"


def head(mark: str) -> str:
    """How the note of every trial for a tile begins.

    Examples
    --------
    >>> head("M-41")
    'Trial for M-41 ('
    """
    return f"Trial for {mark} ("


def write(mark: str, defect: str, change: str) -> str:
    """The note of one trial.

    Examples
    --------
    >>> write("M-41", "crawling", "coats 3 -> 2")
    'Trial for M-41 (crawling): coats 3 -> 2.'
    """
    return f"{head(mark)}{defect}): {change}."


def is_of(note: str | None, mark: str, defect: str, change: str) -> bool:
    """Whether a note is that of a trial with this change, first of others or alone.

    Examples
    --------
    >>> note = write("M-41", "crawling", "coats 3 -> 2") + " Dipped."
    >>> is_of(note, "M-41", "crawling", "coats 3 -> 2")
    True
    >>> is_of(note, "M-41", "crawling", "coats 3 -> 4")
    False
    """
    start = write(mark, defect, change).removesuffix(".")
    return bool(note) and note.startswith((f"{start}.", f"{start};"))

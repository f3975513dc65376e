"""What a person types in words where ``tiles unload`` reads single keys."""

from tiles.cli import entry
from tiles.cli.ask import UNREADABLE
from tiles.errors import InvalidValue

NOT_KEYS = ("no", "none", "nope", "nothing", "nice", "not", "next", "nil", "quit")
"""Words that begin like a key which ends the question for a tile."""


def read(text: str, areas: int = 1) -> list[dict]:
    """The faults that words name on a tile of so many areas; an empty list for clean.

    Raises
    ------
    InvalidValue
        They are neither, may mean two things, name an area that is not there, or hold a letter that
        the keyboard sent in another code.

    Examples
    --------
    >>> read("clean"), read("crawled")
    ([], [{'defect': 'crawling'}])
    """
    from tiles.exchange.flat_columns import NONE
    from tiles.exchange.flat_faults import read_faults
    from tiles.records import forms

    if UNREADABLE in text:
        hint = "a terminal that is set to UTF-8, or the word without it."
        raise InvalidValue(f"a letter of {text!r} cannot be read.", hint)
    try:
        if set(read_faults(text).values()) == {NONE}:
            return []
    except InvalidValue as error:
        refused = error
    else:
        refused = None
    try:  # each with its area, which a sheet has in another column
        seen = [forms.read(forms.DefectSeen, each) for each in entry.read_defects(text)]
    except InvalidValue as error:  # of areas a sheet's refusal knows nothing
        raise refused if refused and error.field != "area" else error from None
    if strange := [each.area for each in seen if (each.area or 1) > areas]:
        raise InvalidValue(f"{text!r}: there is no area {strange[0]}.", "an area of the tile.")
    return [each.model_dump(exclude_none=True) for each in seen]


def read_severity(text: str) -> str | None:
    """How bad it is, where that is typed in words after the key of a fault."""
    from tiles.records.words import SEVERITIES, find_word

    return find_word(text, SEVERITIES)

"""What a person types in words where ``tiles unload`` reads single keys."""

from tiles.cli import entry
from tiles.errors import TilesError

NOT_KEYS = ("no", "none", "nope", "nothing", "nice", "not", "next", "nil", "quit")
"""Words that begin like a key which ends the question for a tile."""


def read(text: str) -> list[dict] | None:
    """The faults that words name, an empty list for clean; None where they are neither.

    Examples
    --------
    >>> read("clean"), read("crawled"), read("lovely place")
    ([], [{'defect': 'crawling', 'severity': None, 'area': None}], None)
    """
    from tiles.records import forms
    from tiles.records.fault_words import says_nothing_seen

    if says_nothing_seen(text):
        return []
    try:
        read = [forms.read(forms.DefectSeen, each) for each in entry.read_defects(text)]
    except TilesError:
        return None
    return [each.model_dump(include={"defect", "severity", "area"}) for each in read]


def read_severity(text: str) -> str | None:
    """How bad it is, where that is typed in words after the key of a fault."""
    from tiles.records.words import SEVERITIES, find_word

    return find_word(text, SEVERITIES)

"""The words that name a hazard, found in a text in any of the languages that labels are read in.

In data/hazard_words.csv a word stands without accents and is a whole word or several of them.
``blei*`` is all that begins so, ``*sulfat`` all that ends so and ``*chromat*`` all that holds it:
German, Dutch, the Nordic languages and Finnish write a compound as one word. ``!bleistift*`` is no
such word. ``=mønje`` counts only as it is written: without its accent it is another word, as is
``!=kromě``.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

from tiles.chemistry._tables import read_table

_LETTERS = str.maketrans(
    {"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "đ": "d", "Đ": "D", "æ": "ae", "Æ": "Ae",
     "œ": "oe", "Œ": "Oe", "ß": "ss", "\N{RIGHT SINGLE QUOTATION MARK}": "'",
     "\N{HYPHEN}": "-", "\N{NON-BREAKING HYPHEN}": "-",
     **dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True))}
)  # fmt: skip
_BETWEEN = re.compile(r"[\s\-_']+")
"""What may stand between the words of one name."""
_SHORTEST_STEM = 3


def plain(text: str) -> str:
    """A text without accents, small figures as figures, one hyphen; letter case stays.

    Examples
    --------
    >>> plain("Ołów, Weiß, óxido, PbO₂")
    'Olow, Weiss, oxido, PbO2'
    """
    if text.isascii():
        return text
    apart = unicodedata.normalize("NFD", text.translate(_LETTERS))
    return "".join(each for each in apart if not unicodedata.combining(each))


class Named(NamedTuple):
    """A hazard that a text names, and where in the text as `plain` has it."""

    hazard: str
    span: tuple[int, int]


class _Word(NamedTuple):
    written: str
    plain: str
    start: int
    end: int


def _words(text: str) -> list[_Word]:
    found, at = [], 0
    for piece in re.split(r"(\w+)", unicodedata.normalize("NFC", text)):
        bare = plain(piece)
        if bare.strip() and re.fullmatch(r"\w+", bare):
            found.append(_Word(piece.casefold(), bare.casefold(), at, at + len(bare)))
        at += len(bare)
    return found


@dataclass
class Vocabulary:
    """The words of each hazard, by how they are found."""

    whole: dict[str, set[str]] = field(default_factory=dict)
    written: dict[str, set[str]] = field(default_factory=dict)
    starts: dict[str, set[str]] = field(default_factory=dict)
    ends: dict[str, set[str]] = field(default_factory=dict)
    inside: dict[str, set[str]] = field(default_factory=dict)
    other: dict[str, set[str]] = field(default_factory=dict)
    other_starts: dict[str, set[str]] = field(default_factory=dict)
    other_written: dict[str, set[str]] = field(default_factory=dict)
    longest: int = 1
    """The most words in one name."""

    def add(self, hazard: str, entry: str) -> None:
        """Take in one entry of the table."""
        word = entry.strip("!=*")
        if entry.startswith("="):
            where = self.written
        elif entry.startswith("!="):
            where = self.other_written
        elif entry.startswith("!"):
            where = self.other_starts if entry.endswith("*") else self.other
        elif entry.startswith("*"):
            where = self.inside if entry.endswith("*") else self.ends
        else:
            where = self.starts if entry.endswith("*") else self.whole
        where.setdefault(word, set()).add(hazard)
        self.longest = max(self.longest, word.count(" ") + 1)

    def named(self, text: str) -> Iterator[Named]:
        """Every hazard that a text names, also one that it says is not there."""
        words, bare = _words(text), plain(unicodedata.normalize("NFC", text))
        for at, first in enumerate(words):
            for hazard in self._of_word(first):
                yield Named(hazard, (first.start, first.end))
            name, end = first.plain, first.end
            for each in words[at + 1 : at + self.longest]:
                if not _BETWEEN.fullmatch(bare, end, each.start):
                    break
                name, end = f"{name} {each.plain}", each.end
                for hazard in self.whole.get(name, ()):
                    yield Named(hazard, (first.start, end))

    def _of_word(self, word: _Word) -> set[str]:
        found = self.whole.get(word.plain, set()) | self.written.get(word.written, set())
        cuts = range(_SHORTEST_STEM, len(word.plain) + 1)
        starts = [word.plain[:cut] for cut in cuts]
        told = set().union(*(self.starts.get(each, ()) for each in starts))
        told |= set().union(*(self.ends.get(word.plain[-cut:], ()) for cut in cuts))
        for part, hazards in self.inside.items():
            told |= hazards if part in word.plain else set()
        if told:  # of few words alone
            told -= self.other.get(word.plain, set()) | self.other_written.get(word.written, set())
            told -= set().union(*(self.other_starts.get(each, ()) for each in starts))
        return found | told


@cache
def in_text() -> Vocabulary:
    """What names a hazard wherever it stands."""
    return _read("words")


@cache
def in_name() -> Vocabulary:
    """What names one as the name of a raw material, too: nobody reads sand in "a sand colour"."""
    return _read("words", "name_words")


@cache
def english() -> dict[str, str]:
    """The hazard of each single English word, the gravest where it is of several."""
    found: dict[str, str] = {}
    for row in read_table("hazard_words"):
        if row["languages"] == "en":
            for word in _listed(row, ("words", "name_words")):
                found.setdefault(word, row["hazard"])
    return found


def _read(*columns: str) -> Vocabulary:
    vocabulary = Vocabulary()
    for row in read_table("hazard_words"):
        for entry in _listed(row, columns):
            vocabulary.add(row["hazard"], entry)
    return vocabulary


def _listed(row: dict[str, str], columns: Iterable[str]) -> list[str]:
    entries = ";".join(row[column] for column in columns).split(";")
    return [each.strip() for each in entries if each.strip()]

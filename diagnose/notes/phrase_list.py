"""The known phrases of ``phrases.toml``, each made into something to search with."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property

from diagnose.notes.amounts import NUMBER
from diagnose.notes.clauses import says_not


@dataclass(frozen=True)
class Pattern:
    """One phrase of the list: the fact it tells, and for a number the kind of amount.

    ``implies`` says what is so where the phrase does not tell the fact itself.
    """

    name: str
    value: object
    phrase: str
    amount: str = ""
    opposite: object = None
    remark: str = ""
    implies: str = ""

    @cached_property
    def regex(self) -> re.Pattern:
        """What to search with; made only for phrases that a text may hold."""
        return _compiled(self.phrase)

    @property
    def names_the_fault(self) -> bool:
        """Whether it says what is wrong, which stands wherever its word does."""
        return self.name.startswith("told_")

    @property
    def has_not(self) -> bool:
        """Whether the phrase has a "not" of its own."""
        return says_not(self.phrase.replace("|", " "))

    def may_be_in(self, words: frozenset[str]) -> bool:
        """Whether the text has one of the choices for every word of the phrase."""
        return all(
            any(_is_there(choice, words) for choice in part.split("|"))
            for part in self.phrase.split()
            if part not in ("...", "#")
        )


@cache
def _table() -> dict:
    import tomllib
    from importlib.resources import files

    file = files("diagnose.notes").joinpath("phrases.toml")
    return tomllib.loads(file.read_text(encoding="utf-8"))


@cache
def patterns() -> tuple[Pattern, ...]:
    """Every phrase of the list."""
    return (*_of_clues(), *_implied(), *_of_words(), *_of_numbers(), *_of_measures())


def _listed(kind: str) -> Iterator[tuple[str, str, str]]:
    """Of the tables of one kind each phrase, with the fact and what it is listed under."""
    for name, entry in _table()[kind].items():
        for under, phrases in entry.items():
            for phrase in phrases:
                yield name, under, phrase


def _of_clues() -> Iterator[Pattern]:
    turned = {"yes": "no", "no": "yes"}
    for name, answer, phrase in _listed("clue"):
        yield Pattern(name, answer, phrase, opposite=turned[answer])


def _implied() -> Iterator[Pattern]:
    for name, said, phrase in _listed("implied"):
        yield Pattern(name, "yes", phrase, implies=said)


def _of_words() -> Iterator[Pattern]:
    answers = {"yes": True, "no": False}
    for name, value, phrase in _listed("word"):
        taken = float(value) if value.isdigit() else answers.get(value, value)
        yield Pattern(name, taken, phrase)


def _of_numbers() -> Iterator[Pattern]:
    for name, entry in _table()["number"].items():
        for phrase in entry["say"]:
            yield Pattern(name, None, phrase, amount=entry["amount"])


def _of_measures() -> Iterator[Pattern]:
    for name, entry in _table()["measure"].items():
        for phrase in entry["say"]:
            yield Pattern(name, entry["value"], phrase, remark=entry.get("remark", ""))


@cache
def vetoes() -> dict[str, list[tuple[str, Pattern]]]:
    """Phrases that stop a fact from being read, by the fact, each with its scope."""
    found: dict[str, list[tuple[str, Pattern]]] = {}
    for name, scope, phrase in _listed("unless"):
        found.setdefault(name, []).append((scope, Pattern(name, None, phrase)))
    return found


@cache
def subjects() -> dict[str, tuple[re.Pattern, re.Pattern]]:
    """For an amount: words for what it is of, and for what it is not of."""
    return {
        name: (re.compile(entry["of"]), re.compile(entry["not_of"]))
        for name, entry in _table()["number"].items()
        if "of" in entry
    }


def _is_there(choice: str, words: frozenset[str]) -> bool:
    first = choice.replace("_", " ").split()[0]
    if first.endswith("*"):
        return any(word.startswith(first[:-1]) for word in words)
    return first in words


def _compiled(phrase: str) -> re.Pattern:
    """``a|b_c`` one of them, ``wip*`` any ending, ``...`` up to four words, ``#`` an amount."""
    parts = [_part(word) for word in phrase.split()]
    text = "".join(part + ("" if part.endswith("}") else " ") for part in parts)
    return re.compile(rf"(?<![\w-]){text.removesuffix(' ')}(?![\w'])")


def _part(word: str) -> str:
    if word == "...":
        return r"(?:[\w'-]+ ){0,4}"
    if word == "#":
        return f"(?P<amount>{NUMBER})"
    choices = [re.escape(each.replace("_", " ")) for each in word.split("|")]
    return f"(?:{'|'.join(choices)})".replace(r"\*", r"[\w'-]*")

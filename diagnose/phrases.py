"""Known phrases: how ``phrases.toml`` is read, and how a text is searched for them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache, cached_property

from diagnose.amounts import NUMBER, read_amount
from tiles.records.clues import clues


@dataclass(frozen=True)
class Pattern:
    """One phrase of the list: the fact it tells, and for a number the kind of amount."""

    name: str
    value: object
    phrase: str
    amount: str = ""
    opposite: object = None

    @cached_property
    def regex(self) -> re.Pattern:
        """What to search with; made only for phrases that a text may hold."""
        return _compiled(self.phrase)

    @property
    def says_not(self) -> bool:
        """Whether the phrase has a "not" of its own."""
        return bool(_NOT.search(self.phrase.replace("|", " ")))

    def may_be_in(self, words: frozenset[str]) -> bool:
        """Whether the text has one of the choices for every word of the phrase."""
        return all(
            any(_is_there(choice, words) for choice in part.split("|"))
            for part in self.phrase.split()
            if part not in ("...", "#")
        )


@dataclass(frozen=True)
class Found:
    """A phrase found in a text, as written there; ``remark`` says how a bare number was taken."""

    text: str
    name: str
    value: object
    remark: str = ""


# A guess, a plan or a wish: what follows it in the clause is not a fact.
_UNSURE = re.compile(
    r"\b(maybe|perhaps|possibly|probably|might|may|not sure|unsure|don't know|do not know|wonder|"
    r"if|whether|should|must|next time|will|would|could be|could have|try|plan|suspect|unless|"
    r"instead of)\b"
)
_NOT = re.compile(
    r"\b(not|no|never|without|none|hardly|nor|neither|isn't|wasn't|weren't|didn't|hasn't|hadn't|"
    r"haven't|doesn't|don't|cannot|can't|free of|free from|forgot to|failed to)\b"
)
_NOT_A_NEGATION = re.compile(r"\b(not only|no longer than|no doubt|not long after)\b")
_NEGATED_WITHIN_WORDS = 4
_BREAK = re.compile(r"[.!;:?\n]+|,|\b(?:but|then|although|though|however|because|so)\b")
# "no dust, grease or lumps": the negation holds for every item of the list.
_NO_LIST = re.compile(
    r"\b(no|without|free of|free from) (\w+(?: \w+)?(?:, \w+)*,? (?:and|or|nor) \w+)"
)


def find(text: str, source: str = "tile") -> Iterator[Found]:
    """The known phrases of a text, in its own words.

    Parameters
    ----------
    text : str
        A note.
    source : str
        Where it stands: in the remark of a bisque firing only phrases about the bisque are read.

    Yields
    ------
    Found
        Each fact once per clause.
    """
    tidy = _tidied(text)
    words = frozenset(re.findall(r"[\w']+", tidy))
    likely = [each for each in patterns() if each.may_be_in(words)]
    if source == "bisque":
        likely = [each for each in likely if _is_about_bisque(each.name)]
    for clause in _clauses(tidy):
        matches: dict[str, list[tuple[Pattern, re.Match]]] = {}
        for pattern in likely:
            match = pattern.regex.search(clause)
            if match and not _UNSURE.search(clause[: match.start()]):
                matches.setdefault(pattern.name, []).append((pattern, match))
        longest = [_longest(each) for each in matches.values()]
        for pattern, match in longest:
            if pattern.amount or not any(_lies_inside(match, other) for _, other in longest):
                for found in _fact(pattern, match, clause):
                    yield replace(found, text=_as_written(found.text, text))


def _as_written(phrase: str, text: str) -> str:
    """The phrase with the capitals and signs of the note, where it stands there word for word."""
    words = re.findall(r"[\w']+", phrase)
    match = re.search(r"\b" + r"[^\w']+".join(map(re.escape, words)), text, re.IGNORECASE)
    return match[0] if match else phrase


def _longest(matches: list[tuple[Pattern, re.Match]]) -> tuple[Pattern, re.Match]:
    """In one clause the longest phrase about a fact knows best: "dust free" before "dust"."""
    return max(matches, key=lambda pair: pair[1].end() - pair[1].start())


def _tidied(text: str) -> str:
    """Lower case, plain quotes, single spaces; a list after "no" has its "no" written out."""
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text.casefold().replace("’", "'"))
    plain = " ".join(plain.replace("\n", " . ").split())
    return _NO_LIST.sub(_each_negated, plain)


def _each_negated(match: re.Match) -> str:
    items = re.split(r",? (?:and|or|nor) |, ", match[2])
    return ", ".join(f"{match[1]} {item}" for item in items)


def _clauses(text: str) -> Iterator[str]:
    """Parts of a text between breaks; a question is left out."""
    for sentence in re.findall(r"[^.!?;]+(?:\.\d+[^.!?;]*)*[.!?;]*", text):
        if not sentence.rstrip().endswith("?"):
            yield from (part.strip() for part in _BREAK.split(_points_kept(sentence)) if part)


def _points_kept(sentence: str) -> str:
    """A decimal point is no end of a clause."""
    return re.sub(r"(\d)\.(\d)", "\\1\N{MIDDLE DOT}\\2", sentence)


def _lies_inside(match: re.Match, other: re.Match) -> bool:
    """Whether a longer phrase holds this one: "cracked when dry" is not said of "coat cracked"."""
    covers = other.start() <= match.start() and match.end() <= other.end()
    return covers and other.span() != match.span()


def _fact(pattern: Pattern, match: re.Match, clause: str) -> Iterator[Found]:
    text = clause[match.start() : match.end()].replace("\N{MIDDLE DOT}", ".")
    near = clause[: match.start()].rpartition(" and ")[2]
    before = " ".join(near.split()[-_NEGATED_WITHIN_WORDS:])
    window = f"{before} {text}".strip()
    # A phrase with a "not" of its own is turned round only by one before it.
    searched = before if pattern.says_not else window
    if _NOT.search(_NOT_A_NEGATION.sub("", searched)):
        if pattern.opposite is not None:
            yield Found(_from_the_not(window), pattern.name, pattern.opposite)
    elif pattern.amount:
        amount = read_amount(match["amount"].replace("\N{MIDDLE DOT}", "."), pattern.amount)
        if amount is not None:
            yield Found(text, pattern.name, amount.value, amount.remark)
    else:
        yield Found(text, pattern.name, pattern.value)


def _from_the_not(window: str) -> str:
    first = _NOT.search(window)
    return window[first.start() :] if first else window


def _is_about_bisque(name: str) -> bool:
    if name in clues():
        return clues()[name].group == "bisque"
    return name.startswith("bisque_")


@cache
def patterns() -> tuple[Pattern, ...]:
    """Every phrase of the list."""
    import tomllib
    from importlib.resources import files

    table = tomllib.loads(files("diagnose").joinpath("phrases.toml").read_text(encoding="utf-8"))
    turned = {"yes": "no", "no": "yes"}
    found = [
        Pattern(name, answer, phrase, opposite=turned[answer])
        for name, entry in table["clue"].items()
        for answer, phrases in entry.items()
        for phrase in phrases
    ]
    found += [
        Pattern(name, {"yes": True, "no": False}.get(value, value), phrase)
        for name, entry in table["word"].items()
        for value, phrases in entry.items()
        for phrase in phrases
    ]
    found += [
        Pattern(name, None, phrase, amount=entry["amount"])
        for name, entry in table["number"].items()
        for phrase in entry["say"]
    ]
    return tuple(found)


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

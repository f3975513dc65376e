"""How a text is searched for the known phrases of ``phrases.toml``."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from diagnose.notes import clauses
from diagnose.notes.amounts import read_amount
from diagnose.notes.clauses import POINT, Clause
from diagnose.notes.phrase_list import Pattern, patterns, subjects, vetoes
from tiles.records.clues import clues


@dataclass(frozen=True)
class Found:
    """A phrase found in a text, as written there; ``remark`` says how a bare number was taken.

    ``implies`` says what is so where that makes the fact no more than likely.
    """

    text: str
    name: str
    value: object
    remark: str = ""
    implies: str = ""


# Facts that hold this piece against others: "fine on the other, not on this" tells them.
_COMPARES = frozenset(
    "sound_on_other_body other_glazes_fail_too fails_on_every_body most_of_load_affected "
    "body_changed used_to_be_sound new_batch_only".split()
)


_NAMES_NO_FAULT = ("firing", "batch", "shared")
"""Where a word that names a fault need not be about the one in mind."""


@lru_cache(maxsize=1024)
def find(text: str, source: str = "tile") -> tuple[Found, ...]:
    """The known phrases of a text, in its own words; each fault of a tile asks for the same text.

    Parameters
    ----------
    text : str
        A note.
    source : str
        Where it stands: in the remark of a bisque firing only phrases about the bisque are read,
        and what is wrong only where it can be said of no other fault.

    Returns
    -------
    tuple[Found, ...]
        Each fact once per clause.
    """
    return tuple(_found(text, source))


def _found(text: str, source: str) -> Iterator[Found]:
    tidy = clauses.tidied(text)
    words = frozenset(re.findall(r"[\w']+", tidy))
    likely = [each for each in patterns() if each.may_be_in(words)]
    if source == "bisque":
        likely = [each for each in likely if _is_about_bisque(each.name)]
    if source in _NAMES_NO_FAULT:
        likely = [each for each in likely if not each.names_the_fault]
    for clause in clauses.clauses(tidy):
        for pattern, match in _best(likely, clause):
            for found in _fact(pattern, match, clause):
                if not _is_ruled_out(found, match, clause):
                    yield replace(found, text=_as_written(found.text, text))


def _best(likely: list[Pattern], clause: Clause) -> Iterator[tuple[Pattern, re.Match]]:
    """The longest phrase about each fact, unless it lies inside a phrase about another.

    What names the fault may: "stuck to the shelf" says as well that it is stuck.
    """
    matches: dict[str, list[tuple[Pattern, re.Match]]] = {}
    for pattern in likely:
        match = pattern.regex.search(clause.text)
        if match:
            matches.setdefault(pattern.name, []).append((pattern, match))
    longest = [_longest(each) for each in matches.values()]
    for pattern, match in longest:
        is_free = pattern.amount or pattern.names_the_fault
        is_whole = is_free or not any(_lies_inside(match, other) for _, other in longest)
        if is_whole and not clauses.is_doubted(clause, match, pattern.name in _COMPARES):
            yield pattern, match


def _is_ruled_out(found: Found, match: re.Match, clause: Clause) -> bool:
    """Whether words beside the phrase say that it is about something else."""
    for scope, pattern in vetoes().get(found.name, ()):
        text = clause.sentence if scope == "sentence" else clause.text
        if scope in ("sentence", "any", found.value) and pattern.regex.search(text):
            return True
    return not _is_of(subjects().get(found.name), match, clause)


def _is_of(names: "tuple[re.Pattern, re.Pattern] | None", match: re.Match, clause: Clause) -> bool:
    """Whether the amount belongs to the right thing: what is named last before it, else after."""
    if names is None:
        return True
    begin, end = match.span("amount") if "amount" in match.groupdict() else match.span()
    before = clause.text[:begin].split()[::-1]
    for word in [*before, *clause.text[end:].split()]:
        if names[0].fullmatch(word):
            return True
        if names[1].fullmatch(word):
            return False
    return True


def _as_written(phrase: str, text: str) -> str:
    """The phrase with the capitals and signs of the note, where it stands there word for word."""
    words = re.findall(r"[\w']+", phrase)
    match = re.search(r"\b" + r"[^\w']+".join(map(re.escape, words)), text, re.IGNORECASE)
    return match[0] if match else phrase


def _longest(matches: list[tuple[Pattern, re.Match]]) -> tuple[Pattern, re.Match]:
    """In one clause the longest phrase about a fact knows best: "dust free" before "dust"."""
    return max(matches, key=lambda pair: pair[1].end() - pair[1].start())


def _lies_inside(match: re.Match, other: re.Match) -> bool:
    """Whether a longer phrase holds this one: "cracked when dry" is not said of "coat cracked"."""
    covers = other.start() <= match.start() and match.end() <= other.end()
    return covers and other.span() != match.span()


def _fact(pattern: Pattern, match: re.Match, clause: Clause) -> Iterator[Found]:
    text = match[0].replace(POINT, ".")
    before = clauses.words_before(clause, match)
    window = f"{before} {text}".strip()
    # A phrase with a "not" of its own is turned round only by one before it.
    if clauses.says_not(before if pattern.has_not else window):
        if pattern.opposite is not None:
            yield Found(clauses.from_the_not(window), pattern.name, pattern.opposite)
    elif pattern.amount:
        amount = read_amount(match["amount"].replace(POINT, "."), pattern.amount)
        if amount is not None:
            yield Found(text, pattern.name, amount.value, amount.remark)
    else:
        yield Found(text, pattern.name, pattern.value, pattern.remark, pattern.implies)


def _is_about_bisque(name: str) -> bool:
    if name in clues():
        return clues()[name].group == "bisque"
    return name.startswith("bisque_")

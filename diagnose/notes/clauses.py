"""A note cut into clauses, and what in them makes a phrase no fact: doubt, a plan, a "not"."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

POINT = "\N{MIDDLE DOT}"
"""Stands for a decimal point while a text is cut up, so that no clause ends there."""


@dataclass(frozen=True)
class Clause:
    """A part of a note between breaks, with the sentence it stands in.

    ``after`` is what follows it there; a next sentence that only doubts ("I doubt it") is part of
    it.
    """

    text: str
    after: str
    sentence: str


# A guess, a plan, a wish, a habit or a near thing: what follows it in the clause is not a fact.
_UNSURE = re.compile(
    r"\b(maybe|perhaps|possibly|probably|might|may|not sure|unsure|don't know|do not know|wonder|"
    r"if|whether|should|must|next time|will|would|could be|could have|try|plan|suspect|unless|"
    r"instead of|rather than|doubt|no idea|don't remember|can't remember|do not remember|"
    r"(?:didn't|did not|never) (?:check|look|notice|see|test)\w*|looked for|as if|as though|"
    r"almost|nearly|less|usually|normally|sometimes|last time|for fear of|to avoid|to prevent)\b"
)
# What is said of another piece holds for this one only where the two are compared.
_OTHER_WARE = re.compile(
    r"\b(?:the|an|my|her|his) ?other (?:one|tile|pot|piece|bowl|cup|mug|vase|plate)\b|"
    r"\banother (?:one|tile|pot|piece|bowl|cup|mug|vase|plate)\b|"
    r"\b(?!(?:it|that|today)'s)\w+'s (?:tile|pot|piece|bowl|cup|mug|vase|plate)s?\b"
)
_DOUBTED = re.compile(
    r"(?<!no )(?<!without )(?<!beyond )\bdoubt(?:s|ed|ful)?\b|"
    r"\b(?:not sure|unsure|unlikely|i think not|can't be sure|cannot be sure|only a guess|"
    r"just a guess|i guess|i suppose|or not|not true|ruled out|no idea|not really)\b"
)
_OTHER_AFTER = re.compile(
    r"\bnot (?:on )?(?:this|that|mine|here)\b|"
    r"\b(?:on|with|for|in) (?:the other|another) (?:one|tile|pot|piece|bowl|cup|mug|vase|plate)\b"
)
_ONLY_DOUBT = re.compile(r"(?:but )?(?:i |we |though i )?(?:doubt|not sure|unlikely|not really)\b")
_NOT = re.compile(
    r"\b(not|no|never|without|none|hardly|barely|nor|neither|nobody|isn't|wasn't|weren't|didn't|"
    r"hasn't|hadn't|haven't|doesn't|don't|cannot|can't|couldn't|free of|free from|forgot to|"
    r"failed to)\b"
)
_NOT_A_NEGATION = re.compile(r"\b(not only|no longer than|no doubt|not long after|not least)\b")
_NEGATED_WITHIN_WORDS = 4
_BREAK = re.compile(r"[.!;:?\n()]+|,|\b(?:but|then|although|though|however|because|so)\b")
# "no dust, grease or lumps": the negation holds for every item of the list.
_NO_LIST = re.compile(
    r"\b(no|without|free of|free from) (\w+(?: \w+)?(?:, \w+)*,? (?:and|or|nor) \w+)"
)
_DECIMAL_COMMA = re.compile(
    r"(?<![\d,])(\d+),(\d{1,2})(?= ?(?:mm|cm|in|inch|inches|h|hours?|mins?|minutes?)\b)"
)


def tidied(text: str) -> str:
    """Lower case, plain quotes, single spaces; a list after "no" has its "no" written out."""
    plain = text.casefold().replace("’", "'").replace("no one", "nobody")
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", plain)
    plain = " ".join(plain.replace("\n", " . ").split())
    plain = re.sub(r"(?<![\w.])\.(?=\d)", "0.", plain)
    return _NO_LIST.sub(_each_negated, _DECIMAL_COMMA.sub(r"\1.\2", plain))


def _each_negated(match: re.Match) -> str:
    items = re.split(r",? (?:and|or|nor) |, ", match[2])
    return ", ".join(f"{match[1]} {item}" for item in items)


def clauses(tidy: str) -> Iterator[Clause]:
    """Parts of a tidied text between breaks; a question is left out."""
    pointed = re.sub(r"(\d)\.(\d)", rf"\1{POINT}\2", tidy)
    sentences = [each.strip() for each in re.findall(r"[^.!?;]+[.!?;]*", pointed)]
    for sentence, following in zip(sentences, [*sentences, ""][1:], strict=True):
        if sentence.endswith(("?", "?)")):
            continue
        doubt = f" {following}" if _ONLY_DOUBT.match(following) else ""
        begin = 0
        for stop in [*_BREAK.finditer(sentence), None]:
            part = sentence[begin : stop.start() if stop else None].strip()
            begin = stop.end() if stop else len(sentence)
            if part:
                yield Clause(part, sentence[begin:] + doubt, sentence)


def is_doubted(clause: Clause, match: re.Match, compares: bool) -> bool:
    """Whether a phrase is a guess, a plan, doubted afterwards, or said of another piece.

    ``compares`` is for facts that hold this piece against others: "not on this" is no doubt there.
    """
    before = clause.text[: match.start()]
    after = f"{clause.text[match.end() :]} . {clause.after}"
    if _UNSURE.search(before) or _DOUBTED.search(after):
        return True
    return not compares and bool(_OTHER_WARE.search(before) or _OTHER_AFTER.search(after))


def says_not(phrase: str) -> bool:
    """Whether the words hold a "not" of some kind."""
    return bool(_NOT.search(_NOT_A_NEGATION.sub("", phrase)))


def words_before(clause: Clause, match: re.Match) -> str:
    """The few words before a phrase that a "not" would have to stand in."""
    near = clause.text[: match.start()].rpartition(" and ")[2]
    return " ".join(near.split()[-_NEGATED_WITHIN_WORDS:])


def from_the_not(window: str) -> str:
    """The words from their "not" on."""
    first = _NOT.search(window)
    return window[first.start() :] if first else window

"""One cell with all that was seen, as a home-made sheet has it, in place of a column for each."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tiles.errors import InvalidValue, nearest
from tiles.exchange.flat_columns import NONE, SEEN, defect_column
from tiles.records.words import DEFECTS, SEVERITIES, find_word, fold, is_denied

FAULTS = "faults"
"""The heading; among the values of a row, the words that stood beside its faults."""
SAYS = (
    "all that was seen there, in place of the defect columns: severe crawling; pinholes (rim and "
    "foot); other words are kept as a note on the fault; none or clean where there was nothing to "
    "see; blank where nobody looked"
)
_NOTHING = (NONE, "clean", "ok", "fine", "good", "no faults")
_UNTOLD = ("-", "no", "n", "n/a", "na", "nil", "?", "x")
"""Nothing to see for one person, not looked for another."""
_BETWEEN = re.compile(r"\s*(?:[;,+&/]|\band\b)\s*(?![^()]*\))", re.IGNORECASE)
"""What parts two faults, but for what stands in brackets."""
_WORD = re.compile(r"[^\W\d_]+(?:[-'’][^\W\d_]+)*")
_MOST_WORDS = max(len(each.split()) for each in DEFECTS)
_LEVEL = "|".join(SEVERITIES)
_ALONE = re.compile(rf"[\s:(]*\b(?:{_LEVEL})(?:ly)?\b[\s:)]*", re.IGNORECASE)
_LEFT_OVER = re.compile(rf"\b(?:{_LEVEL})\b", re.IGNORECASE)
_BEFORE = (rf"\b({_LEVEL})(?:ly)?[\s:]*$", rf"\(\s*({_LEVEL})\s*\)")
_AFTER = (rf"^[\s:(]*\b({_LEVEL})\b", rf"\(\s*({_LEVEL})\s*\)", rf"^\s+({_LEVEL})ly\s*$")
"""Where the severity of a fault stands: right beside it, or alone in brackets."""
_NOT_SEEN = re.compile(
    r"\?|\b(?:hardly|barely|scarcely|almost|nearly|maybe|perhaps|"
    r"possib(?:le|ly)|probab(?:le|ly)|might|could|would|if|unless|whether|likely|unlikely|"
    r"seems?|seemed|apparently|suspect(?:ed)?|doubt\w*|unsure|guess|think|risk|danger|"
    r"avoid\w*|prevent\w*|check(?:ed)?|test(?:ed)?|expect(?:ed)?|looked for|clean|ok|good)\b",
    re.IGNORECASE,
)
_NOT_SEEN_BEFORE = re.compile(r"\b(?:may|like|less|fewer|sort of|kind of)\b", re.IGNORECASE)
_NOT_SEEN_AFTER = re.compile(r"\bfine\b", re.IGNORECASE)
"""Words that leave a fault open: some only on one side of it ("fine crazing")."""
_HOW = (
    "a an the some few many several lots of bit little tiny small big large huge fine coarse deep "
    "light lightly heavy heavily bad badly mild strong strongly obvious clear clearly slightly "
    "very quite rather isolated occasional local one two three single double more most much all "
    "first second again still also same other left right upper lower inner outer inside outside "
    "edge edges rim rims foot lip base bottom top side sides corner corners centre center middle "
    "back front wall handle thick thin wide narrow long short dark white black brown"
).split()
_WHERE = (
    "at near on in along around round about over above under underneath below beneath by where "
    "wherever only just mostly mainly partly towards toward between across throughout through "
    "everywhere from with within here there off up down to as like after during since seen visible"
).split()
"""What may stand before a fault, and also begin what follows it, without brackets: words that
tell how it was or where. Any other word could mean that it was not there."""
_AHEAD = frozenset((*_HOW, *SEVERITIES, *(f"{each}ly" for each in SEVERITIES)))
_BEHIND = _AHEAD.union(_WHERE)


@dataclass(frozen=True)
class _Fault:
    """One fault as a part of a cell names it."""

    defect: str
    level: str
    words: str


def read_faults(text: str) -> dict:
    """Every defect column, as one cell with the faults in words fills them.

    Parameters
    ----------
    text : str
        Faults with ``;``, a comma, ``+``, ``/`` or "and" between them, each with its severity
        where it is known and any words about it; or "none".

    Returns
    -------
    dict
        A value for each column of a defect: ``none`` for those that are not named. Under
        `FAULTS`, where there are any, pairs of a defect and the words beside it.

    Raises
    ------
    InvalidValue
        A part names no fault or several, one is named twice, or it may not have been seen.

    Examples
    --------
    >>> found = read_faults("severe crawling near the foot, pinholed")
    >>> found["defect_crawling"], found["defect_pinholes"], found["defect_crazing"], found["faults"]
    ('severe', 'seen', 'none', (('crawling', 'near the foot'),))
    """
    found: dict = dict.fromkeys(map(defect_column, DEFECTS), NONE)
    if fold(text).strip(" .") in _NOTHING:
        return found
    if fold(text) in (*_UNTOLD, ""):
        hint = "none where there was nothing to see, blank where nobody looked."
        raise InvalidValue(f"{text!r} may mean two things.", hint, value=text)
    faults = [_fault(part, text) for part in faults_apart(text)]
    for each in faults:
        column = defect_column(each.defect)
        if found[column] != NONE:
            hint = "each once, all about it in brackets: crawling (rim and foot)."
            raise InvalidValue(f"{text!r} names a fault twice.", hint, value=text)
        found[column] = each.level
    if words := tuple((each.defect, each.words) for each in faults if each.words):
        found[FAULTS] = words
    return found


def faults_apart(text: str) -> list[str]:
    """The parts of a text that names several faults.

    Examples
    --------
    >>> faults_apart("severe crawling and pinholes; crazing (rim, foot)")
    ['severe crawling', 'pinholes', 'crazing (rim, foot)']
    """
    return [part for part in _BETWEEN.split(text.strip(" .;,")) if part]


def _fault(part: str, text: str) -> _Fault:
    """The fault of one part of a cell, with its severity and the words beside it."""
    if _ALONE.fullmatch(part):
        hint = "each fault with its own, such as severe crawling; pinholes."
        raise InvalidValue(f"{part!r} stands there without a fault.", hint, value=text)
    if fold(part) in _NOTHING:
        hint = "the faults alone, or that word alone."
        raise InvalidValue(f"{part!r} stands beside a fault.", hint, value=text)
    named = _named(part)
    if not named:
        raise _no_fault(part, text)
    if len({defect for defect, _at in named}) > 1:
        both = " and ".join(dict.fromkeys(defect for defect, _at in named))
        raise InvalidValue(f"{part!r} names {both} in one.", "a ; between them.", value=text)
    defect, at = named[0]
    before, after = part[: at.start], part[at.stop :]
    if is_denied(part) or _is_open(part, before, after):
        hint = "leave it out (none where nothing was seen)"
        hint = hint if is_denied(before) else f"{defect} alone if it was, else {hint}"
        raise InvalidValue(
            f"{part!r} does not say that {defect} was seen.",
            f"{hint}; words such as these go into inspection_note.",
            value=text,
        )
    level, words = _level_and_words(part, before, after, text)
    if words and (odd := _odd_word(before, after)):
        raise InvalidValue(
            f"{odd!r} beside {defect} may mean that it was not seen.",
            f"words about a fault in brackets, {defect} ({words if defect not in words else odd}), "
            "or leave it out (none where nothing was seen).",
            value=text,
        )
    return _Fault(defect, level, words)


def _odd_word(before: str, after: str) -> str | None:
    """A word outside brackets that tells neither how the fault was nor where."""
    ahead = (word[0].casefold() for word in _WORD.finditer(before))
    if odd := next((word for word in ahead if word not in _AHEAD), None):
        return odd
    first = re.search(r"\w+", after) if not re.match(r"\s*[(:]", after) else None
    if first and first[0].casefold() not in _BEHIND:
        return first[0]
    return None


def _is_open(part: str, before: str, after: str) -> bool:
    return bool(
        _NOT_SEEN.search(part) or _NOT_SEEN_BEFORE.search(before) or _NOT_SEEN_AFTER.search(after)
    )


def fault_alone(text: str) -> tuple[str, str | None] | None:
    """A fault and its severity where a text names these and nothing else; else None.

    Examples
    --------
    >>> fault_alone("severe crawling"), fault_alone("pinholed slightly"), fault_alone("no crawling")
    (('crawling', 'severe'), ('pinholes', 'slight'), None)
    """
    named = _named(text)
    if len(named) != 1:
        return None
    defect, at = named[0]
    try:
        level, words = _level_and_words(text, text[: at.start], text[at.stop :], text)
    except InvalidValue:
        return None
    return None if words else (defect, None if level == SEEN else level)


def _level_and_words(part: str, before: str, after: str, text: str) -> tuple[str, str]:
    """The severity, and what is left on either side; with words on both sides all of the part."""
    level = SEEN
    if found := _first(_BEFORE, before):
        level, before = found[1], before[: found.start()] + before[found.end() :]
    elif found := _first(_AFTER, after):
        level, after = found[1], after[: found.start()] + after[found.end() :]
    if _LEFT_OVER.search(before) or _LEFT_OVER.search(after):
        hint = "one severity, right before the fault: severe crawling (at the foot)."
        raise InvalidValue(f"{part!r} leaves the severity open.", hint, value=text)
    words = [bare for bare in map(_bare, (before, after)) if bare]
    return level.casefold(), part.strip() if len(words) > 1 else "".join(words)


def _first(patterns: tuple[str, ...], text: str) -> re.Match | None:
    found = (re.search(each, text, re.IGNORECASE) for each in patterns)
    return next(filter(None, found), None)


def _bare(words: str) -> str:
    """Words without the signs around them; brackets go only where they hold all of it."""
    bare = words.strip(" :,.-–")
    bare = bare[1:-1].strip() if bare.startswith("(") and bare.find(")") == len(bare) - 1 else bare
    return bare if "(" in bare else bare.strip(" )")


def _named(part: str) -> list[tuple[str, slice]]:
    """The faults that a part names and where; "other" beside one of them is just a word."""
    found = list(_each_named(part))
    told = [each for each in found if each[0] != "other"]
    return told or [each for each in found if each[1].start == 0]


def _each_named(part: str) -> Iterator[tuple[str, slice]]:
    words, at = list(_WORD.finditer(part)), 0
    while at < len(words):
        for last in range(min(at + _MOST_WORDS, len(words)) - 1, at - 1, -1):
            span = slice(words[at].start(), words[last].end())
            if defect := find_word(part[span], DEFECTS):
                yield defect, span
                at = last
                break
        at += 1


def _no_fault(part: str, text: str) -> InvalidValue:
    words = [part, *(word[0] for word in _WORD.finditer(part) if len(word[0]) > 4)]
    words = [] if is_denied(part) else words
    close = next(filter(None, (nearest(word, DEFECTS) for word in words)), None)
    return InvalidValue(
        f"{part!r} is no fault.",
        f"{f'{close!r}, ' if close else ''}a fault that 'tiles words' lists, or none where there "
        "was nothing to see; words about a fault in brackets, such as crawling (rim and foot).",
        value=text,
    )

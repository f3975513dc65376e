"""One cell with all that was seen, as a home-made sheet has it, in place of a column for each."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce

from tiles.errors import InvalidValue
from tiles.exchange.flat_columns import NONE, SEEN, defect_column
from tiles.records import fault_words
from tiles.records.words import DEFECTS, OTHER_FAULT, SEVERITIES, find_word, fold, is_denied

FAULTS = "faults"
"""The heading; among the values of a row, the words that stood beside its faults."""
SAYS = (
    "all that was seen there, in place of the defect columns: severe crawling; pinholes (rim and "
    "foot); a bit is slight, badly severe; words in brackets are kept as a note on the fault; "
    "none or clean where there was nothing to see; blank where nobody looked"
)
_UNTOLD = ("-", "no", "n", "n/a", "na", "nil", "?", "x")
"""Nothing to see for one person, not looked for another."""
_BETWEEN = re.compile(r"\s*(?:[;,+&/]|\band\b)\s*(?![^()]*\))", re.IGNORECASE)
"""What parts two faults, but for what stands in brackets."""
_WORD = re.compile(r"[^\W\d_]+(?:[-'’][^\W\d_]+)*")
_MOST_WORDS = max(len(each.split()) for each in DEFECTS)
_LEVEL = "|".join(SEVERITIES)
_ALONE = re.compile(rf"[\s:(]*\b(?:{_LEVEL})(?:ly)?\b[\s:)]*", re.IGNORECASE)
_ONE_LEVEL = "one severity, right before the fault: severe crawling (at the foot)."
_LEFT_OVER = re.compile(rf"\b(?:{_LEVEL})\b", re.IGNORECASE)
_HOW_BAD = {
    "slight": r"(?:just )?a (?:tiny |little |wee )?(?:bit|little|touch)(?: of)?|mild(?:ly)?",
    "severe": r"(?:very |really )?bad(?:ly)?|terribl[ey]|awful(?:ly)?|horribl[ey]",
}
"""How people say it; other words for it are kept as words about the fault."""
_PLACED = r"(?=[\s!.)]*$|\s*\(|\s+(?:at|on|in|near|round|around|along|all over)\b)"
"""After them nothing follows, or a place: "a bit off centre" tells where, not how bad."""
_BEFORE = (rf"\b({_LEVEL})(?:ly)?[\s:]*$", rf"\(\s*({_LEVEL})\s*\)")
_AFTER = (rf"^[\s:(]*\b({_LEVEL})\b", rf"\(\s*({_LEVEL})\s*\)", rf"^\s+({_LEVEL})ly\s*$",
          rf"(?<=\))\s*:\s*({_LEVEL})\s*$")  # fmt: skip
"""Where the severity of a fault stands: right beside it, alone in brackets, or behind a colon."""
_NOT_SEEN = re.compile(
    r"\?|\b(?:hardly|barely|scarcely|almost|nearly|maybe|perhaps|"
    r"possib(?:le|ly)|probab(?:le|ly)|might|could|would|if|unless|whether|likely|unlikely|"
    r"seems?|seemed|apparently|suspect(?:ed)?|doubt\w*|unsure|guess|think|risk|danger|"
    r"avoid\w*|prevent\w*|check(?:ed)?|test(?:ed)?|expect(?:ed)?|looked for|clean|ok|good|"
    r"nope|nah|thought|turned out|mistak\w+|mistook|misread|imagin\w+|supposed\w*|allegedly|"
    r"in error|crossed out|struck out|withdrawn|retracted|disregard|ignore)\b",
    re.IGNORECASE,
)
_TEST_PIECE = re.compile(
    r"\b(?:test|check) (?:strip|tile|piece|area|bar|ring|patch|band|square|spot|side|half|pot|"
    r"bowl|cup|mug|plate|glaze|batch|firing|kiln)s?\b",
    re.IGNORECASE,
)
"""What was tested is a place where a fault may be, as a side is; the bare word leaves it open."""
_WAS = re.compile(
    r"\s*(?:(?:it|that|this|these|those|they) )?(?:was|were|is|are) "
    r"(?:(?:only|just|really|actually|probably) )*([^\W\d_]+)",
    re.IGNORECASE,
)
"""In brackets: what the fault was; "dust" is something else, "bad" or "at the rim" is not."""
_NOT_SEEN_BEFORE = re.compile(r"\b(?:may|like|less|fewer|sort of|kind of)\b", re.IGNORECASE)
_NOT_SEEN_AFTER = re.compile(r"\bfine\b", re.IGNORECASE)
"""Words that leave a fault open: some only on one side of it ("fine crazing")."""
_NOTHING_ALONE = re.compile(
    r"(?!all over)(?:(?:all|now|since|then|later|it|was|is|came) )*"
    r"(?:0+(?:[.,]0+)?\s*(?:%|x|mm|(?:/|of)\s*\d+)?|x?0+|[nfox]|clear|smooth|sound|perfect|removed|sealed|pass(?:ed)?|off|over|done|went|na|n/a|wrong|wrongly|error|slip|typo|negative)",
    re.IGNORECASE,
)
"""What says that there was nothing to see where it is all that stands beside the fault."""
_IN_BRACKETS = re.compile(r"\([^()]*\)")
_OTHER_IN_WORDS = re.compile(
    rf"(?:(?P<level>{_LEVEL})\s+)?{OTHER_FAULT}\s*(?::\s*(?P<behind>{_LEVEL})\s*)?"
    rf"\((?P<words>[^()]+)\)(?:\s*:\s*(?P<after>{_LEVEL}))?",
    re.IGNORECASE,
)
_SIGN_AHEAD = re.compile(r"[^\w\s:]|_")
_SIGN_BEHIND = re.compile(r"[^\w\s:.\u2026!\u2013-]|_|[\u2013-](?!\s*[^\W\d_])")
"""Signs that may mean anything, also "not": behind a fault a dash is none before words."""
_HOW = (
    "a an the some few many several lots of bit little tiny small big large huge fine coarse deep "
    "light lightly heavy heavily bad badly mild strong strongly obvious clearly slightly "
    "very quite rather isolated occasional local one two three single double more most much all "
    "first second again still also same other left right upper lower inner outer inside outside "
    "edge edges rim rims foot lip base bottom top side sides corner corners centre center middle "
    "back front wall handle thick thin wide narrow long short dark white black brown"
).split()
_WHERE = (
    "at near on in along around round about over above under underneath below beneath by where "
    "wherever towards toward between across through from with within off up down to as like after "
    "during since"
).split()
_THERE = (
    "only just mostly mainly partly throughout everywhere here there seen visible later afterwards"
).split()
"""What may stand before a fault, and also follow it, without brackets: words that tell how it was
or where, each of them. Any other word could mean that it was not there."""
_AHEAD = frozenset((*_HOW, *SEVERITIES, *(f"{each}ly" for each in SEVERITIES)))
_BEHIND = _AHEAD.union(_WHERE, _THERE)


_LATER = re.compile(
    r"\b(?:later(?! than)|after[- ]?wards?|since|eventually|in use|"
    r"(?:day|week|month|year)s? (?:after|on)|"
    r"after (?:[\w-]+ ){0,2}(?:day|week|month|year|wash|use)\w*|next (?:day|week|month|year))\b",
    re.IGNORECASE,
)


def is_later(words: str) -> bool:
    """Whether the words beside a fault say that it came after the firing.

    Examples
    --------
    >>> is_later("later"), is_later("after two weeks"), is_later("at the rim")
    (True, True, False)
    """
    return bool(_LATER.search(words))


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
    if fault_words.says_nothing_seen(text):
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
    if fault_words.says_nothing_seen(part):
        hint = "the faults alone, or that word alone."
        raise InvalidValue(f"{part!r} stands beside a fault.", hint, value=text)
    if told := _other_told(part, text):
        return told
    named = _named(part)
    if not named:
        raise _no_fault(part, text)
    if len({defect for defect, _at in named}) > 1:
        both = " and ".join(dict.fromkeys(defect for defect, _at in named))
        raise InvalidValue(f"{part!r} names {both} in one.", "a ; between them.", value=text)
    defect, at = named[0]
    before, after = part[: at.start], part[at.stop :]
    ahead, behind = (_TEST_PIECE.sub("side", each) for each in (before, after))
    is_gainsaid = is_denied(_without_meaning(part, defect))
    if is_gainsaid or _is_open(ahead, behind) or _is_nothing(before, after):
        hint = "leave it out (none where nothing was seen)"
        hint = hint if is_denied(before) else f"{defect} alone if it was, else {hint}"
        raise InvalidValue(
            f"{part!r} does not say that {defect} was seen.",
            f"{hint}; words such as these go into inspection_note.",
            value=text,
        )
    level, words = _level_and_words(part, before, after, text)
    if odd := _odd(ahead, behind, is_told=defect == "other"):
        told = (words if defect not in words else odd).strip("()[]{}") or odd
        raise InvalidValue(
            f"{odd!r} beside {defect} may mean that it was not seen.",
            f"words about a fault in brackets, {defect} ({told}), or leave it out (none where "
            "nothing was seen).",
            value=text,
        )
    return _Fault(defect, level, words)


def _without_meaning(part: str, defect: str) -> str:
    """A part without the brackets whose words mean that very fault by their "not"."""
    inside = _IN_BRACKETS.findall(part)
    meant = [each for each in inside if fault_words.listed_fault(each[1:-1]) == defect]
    return reduce(lambda text, each: text.replace(each, ""), meant, part)


def _is_open(before: str, after: str) -> bool:
    beside = f"{before} {after}"
    said = (_WAS.match(each[1:-1]) for each in _IN_BRACKETS.findall(beside))
    return bool(
        _NOT_SEEN.search(beside)
        or _NOT_SEEN_BEFORE.search(before)
        or _NOT_SEEN_AFTER.search(after)
        or any(was and was[1].casefold() not in _BEHIND for was in said)
    )


def _is_nothing(before: str, after: str) -> bool:
    """Whether all that stands on one side, or in one pair of brackets, says "not seen"."""
    ahead, behind = (_IN_BRACKETS.sub(" ", each) for each in (before, after))
    inside = [each[1:-1] for each in _IN_BRACKETS.findall(f"{before} {after}")]
    beside = [ahead.strip(" :."), *(each.strip(" :.\u2026!") for each in (behind, *inside))]
    return any(
        _NOTHING_ALONE.fullmatch(each) or not re.search(r"[^\W_]", each)
        for each in filter(None, beside)
    )


def _odd(before: str, after: str, is_told: bool) -> str | None:
    """A word or sign outside brackets that tells neither how the fault was nor where.

    What follows "other" and a colon tells what that fault was, in any words.
    """
    before, after = (_IN_BRACKETS.sub(" ", each) for each in (before, after))
    if is_told and re.match(r"\s*:", after):
        after = ""
    sign = _SIGN_AHEAD.search(before) or _SIGN_BEHIND.search(after)
    ahead, behind = (re.findall(r"[^\W_]+", each) for each in (before, after))
    odd = [word for word in ahead if word.casefold() not in _AHEAD]
    odd += [word for word in behind if word.casefold() not in _BEHIND]
    if behind[-1:] and behind[-1].casefold() in _WHERE and behind[-2:-1] != ["all"]:
        odd.append(behind[-1])  # "over" is a place only with what it is over
    return odd[0] if odd else sign and sign[0]


def fault_told(text: str) -> tuple[str, str | None, str | None] | None:
    """One fault as a text tells it, its severity and the words beside it; else None.

    Other with a person's own words in brackets is read with words of whatever kind: "other (no
    longer matt)". Not where they name a fault of the list, nor where they say no more than that
    nothing was there.

    Examples
    --------
    >>> fault_told("severe crawling"), fault_told("pinholed a bit (rim)"), fault_told("no crawling")
    (('crawling', 'severe', None), ('pinholes', 'slight', 'rim'), None)
    """
    try:
        fault = _fault(text, text)
    except InvalidValue:
        return None
    return fault.defect, None if fault.level == SEEN else fault.level, fault.words or None


def _other_told(part: str, text: str) -> _Fault | None:
    found = _OTHER_IN_WORDS.fullmatch(part)
    if not found or names_fault(found["words"]) or fault_words.says_only_not(found["words"]):
        return None
    levels = [each for each in found.group("level", "behind", "after") if each] or [SEEN]
    if len(levels) > 1:
        raise InvalidValue(f"{part!r} leaves the severity open.", _ONE_LEVEL, value=text)
    return _Fault(OTHER_FAULT, levels[0].casefold(), found["words"].strip())


def read_as(text: str) -> str:
    """What is to be told of how a good cell was read: praise, and severities in one's own words.

    Examples
    --------
    >>> read_as("crawled badly!!; slight crazing"), read_as("nice!"), read_as("none")
    ('severe crawling', 'none', '')
    """
    if fault_words.says_nothing_seen(text):
        return NONE if fault_words.is_praise(text) else ""
    told = ((part, _fault(part, text)) for part in faults_apart(text))
    return " and ".join(
        f"{each.level} {each.defect}"
        for part, each in told
        if each.level != SEEN and not re.search(each.level, part, re.IGNORECASE)
    )


def _level_and_words(part: str, before: str, after: str, text: str) -> tuple[str, str]:
    """The severity, and what is left on either side; with words on both sides all of the part."""
    level = SEEN
    before, after = _with_level(before, after)
    if found := _first(_BEFORE, before):
        level, before = found[1], before[: found.start()] + before[found.end() :]
    elif found := _first(_AFTER, after):
        level, after = found[1], after[: found.start()] + after[found.end() :]
    if _LEFT_OVER.search(before) or _LEFT_OVER.search(after):
        raise InvalidValue(f"{part!r} leaves the severity open.", _ONE_LEVEL, value=text)
    words = [bare for bare in map(_bare, (before, after)) if re.search(r"\w", bare)]
    return level.casefold(), part.strip() if len(words) > 1 else "".join(words)


def _with_level(before: str, after: str) -> tuple[str, str]:
    """Both sides of a fault, with the severity in place of what people say for it."""
    for level, said in _HOW_BAD.items():
        before, at_front = re.subn(rf"\b(?:{said})\s*$", f"{level} ", before, flags=re.IGNORECASE)
        pattern = rf"^([\s:(]*)\b(?:{said})\b{_PLACED}"
        after, behind = re.subn(pattern, rf"\1{level}", after, flags=re.IGNORECASE)
        if at_front or behind:
            break
    return before, after


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


def names_fault(text: str) -> bool:
    """Whether a word of the list of faults, or another form of one, stands in a text.

    Examples
    --------
    >>> names_fault("hardly crawled at all"), names_fault("greenish sheen")
    (True, False)
    """
    return bool(_named(text))


def _no_fault(part: str, text: str) -> InvalidValue:
    nothing = "none where there was nothing to see"
    if meant := fault_words.usual_meaning(part):
        is_told = OTHER_FAULT in meant or " note " in meant
        own = "" if is_told else f"; if not, {OTHER_FAULT} ({part})"
        return InvalidValue(f"{part!r} is no fault.", f"{meant}{own}; else {nothing}.", value=text)
    if fault_words.praises(part):
        return InvalidValue(f"{part!r} is no fault.", f"{nothing}, else the fault.", value=text)
    close = None if is_denied(part) else fault_words.near_fault(part)
    return InvalidValue(
        f"{part!r} is no fault.",
        f"{f'{close}, ' if close else ''}a fault that 'tiles words' lists, or none where there "
        "was nothing to see; words about a fault in brackets, such as crawling (rim and foot).",
        value=text,
    )

"""The controlled words a record may use, and how what a person types is read as one of them.

One place for each list: forms, commands and the rule base all take their choices from here.
Words are the trade's; "common practice, no source".
"""

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from tiles.errors import InvalidValue, nearest

BODY_KINDS = ("earthenware", "stoneware", "porcelain", "other")
GLAZE_KINDS = ("jar", "recipe")
COLOUR_ROLES = ("underglaze", "slip", "wash", "stain")
"""What lies under or on a glaze and need not melt to a glass."""
GLAZE_ROLES = ("glaze", *COLOUR_ROLES)
PLAIN_GLAZE = {"kind": "jar", "role": "glaze"}
"""What a glaze is put on record as where nothing else is said of it; with a recipe it is one."""
FINISHES = ("clear", "gloss", "satin", "matt", "textured", "crackle")
SUPPLIED_AS = ("liquid", "dry")
DRY_PORTIONS = ("whole bag", "part of bag")
FIRING_KINDS = ("bisque", "glaze")
ATMOSPHERES = ("oxidation", "neutral", "reduction")
TILE_FORMS = ("flat", "angle", "curved", "vessel", "other")
STOOD = ("upright", "sloped", "flat")
SURFACES = ("smooth", "textured")
METHODS = ("brush", "dip", "pour", "spray", "sponge", "trail", "other")
APPLIED_ON = ("greenware", "bisque", "fired glaze")
BENEATH = ("damp", "dry")
SEVERITIES = ("slight", "moderate", "severe")
ANSWERS = ("yes", "no")
DEFECTS = (
    "crazing",
    "shivering",
    "crawling",
    "pinholes",
    "blisters",
    "running",
    "underfired",
    "bloating",
    "dunting",
    "unwanted matt",
    "specks",
    "colour shift",
    "cloudiness",
    "metal marking",
    "other",
)
OTHER_FAULT = "other"
"""A fault without a word of its own; what it is, its note says."""
OF_FIT = ("crazing", "shivering")
"""Those of a glaze that shrinks otherwise than its clay."""
TRIAL_GLAZE = "trial for "
"""How the remark of a trial recipe begins, which `tiles fix` has put on record."""

# Other forms of the same word that people write; never a guess at a different word.
_SAME_WORD = {
    "brushed": "brush",
    "brushing": "brush",
    "dipped": "dip",
    "poured": "pour",
    "sprayed": "spray",
    "sponged": "sponge",
    "trailed": "trail",
    "craze": "crazing",
    "crazed": "crazing",
    "crawl": "crawling",
    "crawled": "crawling",
    "shiver": "shivering",
    "shivered": "shivering",
    "peeling": "shivering",
    "pinhole": "pinholes",
    "pin hole": "pinholes",
    "pin holes": "pinholes",
    "pinholing": "pinholes",
    "pinholed": "pinholes",
    "blister": "blisters",
    "blistering": "blisters",
    "blistered": "blisters",
    "run": "running",
    "ran": "running",
    "runny": "running",
    "dry surface": "underfired",
    "underfired dry": "underfired",
    "bloat": "bloating",
    "bloated": "bloating",
    "dunt": "dunting",
    "dunted": "dunting",
    "speck": "specks",
    "specking": "specks",
    "color shift": "colour shift",
    "cloudy": "cloudiness",
    "cutlery marking": "metal marking",
    "leather hard": "greenware",
    "y": "yes",
    "n": "no",
    "mat": "matt",
    "matte": "matt",
    "glossy": "gloss",
}
_ROLES_MEANT = {
    "engobe": "'slip' (an engobe is one here)",
    **dict.fromkeys(("overlay", "overglaze", "majolica"),
                    "'stain' (colour brushed over an unfired glaze), or 'glaze'"),
}  # fmt: skip
"""What a potter's word for a role may stand for: said in a hint, never read as that word (common
practice, no source)."""


_TO_THE_EYE = str.maketrans("\u2010\u2011", "--", "\u00ad\u200b\ufeff")
"""Hyphens that look like the one of the keyboard, and what nobody sees at all."""


_APOSTROPHES = str.maketrans(dict.fromkeys("\u2018\u2019\u02bc\u2032\uff07\u00b4`", "'"))
"""Signs that are put where the keyboard has an apostrophe."""


def tidy_name(text: str) -> str:
    """A name or mark in the one way it is kept: single spaces, letters with their accents in one.

    Some keyboards and spreadsheets write "é" as an e and an accent after it: to the eye one name.
    What is copied from a page may hold a hyphen that does not break, or a break that nobody sees.

    Examples
    --------
    >>> tidy_name("  pond   gre\u0301en ") == "pond gr\u00e9en", tidy_name("M\u201141\u200b")
    (True, 'M-41')
    """
    return " ".join(unicodedata.normalize("NFC", text).translate(_TO_THE_EYE).split())


@lru_cache(maxsize=1 << 14)
def name_key(text: str) -> str:
    """What a name or mark is compared by: to a person capitals, and ß for SS, make no other one.

    Nor does the apostrophe that a word processor puts in the place of the one on the keyboard.

    Examples
    --------
    >>> name_key("Großer  Ofen") == name_key("GROSSER OFEN"), name_key("Ärmel")
    (True, 'ärmel')
    >>> name_key("vert d\u2019eau") == name_key("Vert d'eau")
    True
    """
    return tidy_name(text).translate(_APOSTROPHES).casefold()


def same_name(one: str | None, other: str | None) -> bool:
    """Whether two names are the same to a person, as `name_key` has it.

    Examples
    --------
    >>> same_name("Top", "top"), same_name("top", None), same_name(None, None)
    (True, False, True)
    """
    return one == other or bool(one and other and name_key(one) == name_key(other))


def same_value(one: Any, other: Any) -> bool:
    """Whether two values of a field say the same; of text as `same_name` has it."""
    are_text = isinstance(one, str) and isinstance(other, str)
    return same_name(one, other) if are_text else one == other


SAID_UNKNOWN = ("unknown", "not known", "don't know", "dont know", "no idea")
"""They may be a name all the same, of one clay that is called so."""
_NO_NAMES = ("n/a", "na", "n.a.", *SAID_UNKNOWN)
_NAME_HINTS = {
    "mark": "the mark on its back, or where none can be read one that you write there now.",
    "body": "a name for it, such as unknown clay 1, the same only for tiles that are of one clay.",
    "glaze": "a name for it, such as unknown glaze 1, the same only for tiles with one glaze; "
    "blank for bare clay.",
    "shelf": "a name with a letter or a digit, or no shelf where it is not known.",
}


def is_no_name(text: str) -> bool:
    """Whether what stands for a name says that none is known: "?", "unknown", and nothing at all.

    Examples
    --------
    >>> is_no_name("?"), is_no_name("N/A"), is_no_name("6?")
    (True, True, False)
    >>> is_no_name("Unknown"), is_no_name("unknown clay 1")
    (True, False)
    """
    return name_key(text) in _NO_NAMES or not re.search(r"[^\W_]", text)


def refuse_no_name(text: str, what: str, *, confirmed: bool = False) -> None:
    """Refuse "?" and the like as a mark or name: all that is not known would become one thing.

    ``confirmed``: a person has said that a word such as "unknown" is its name.

    Raises
    ------
    InvalidValue
        It is none, as `is_no_name` has it.
    """
    is_word = name_key(text) in SAID_UNKNOWN
    if is_no_name(text) and not (confirmed and is_word):
        hint = _NAME_HINTS.get(what, "a name with a letter or a digit.")
        if is_word and what in ("body", "glaze"):
            hint = f"{hint.rstrip('.')}; or --yes if it is the name of one."
        raise InvalidValue(f"{text!r} is no {what}.", hint, field=what, value=text)


def refuse_dash(text: str, what: str = "name") -> None:
    """Refuse a new mark or name that begins as an option does: no command could name it plainly.

    Raises
    ------
    InvalidValue
        With the same without the dash.
    """
    if text.startswith("-"):
        rest = text.lstrip("- ")
        raise InvalidValue(
            f"{what} {text!r} begins with a dash, and a command would take it for an option.",
            f"{rest!r}, or another {what}." if rest else f"another {what}.",
            field=what,
            value=text,
        )


def fold(text: str) -> str:
    """Lower case, single spaces, with ``_`` and ``-`` read as a space."""
    return re.sub(r"[\s_\-()]+", " ", text).strip().casefold()


def areas_to_name(what: str, numbers: Iterable[int]) -> str:
    """What to type of something on an area that the tile does not have.

    Examples
    --------
    >>> areas_to_name("crawling", [1, 2, 3])
    'area 1, 2 or 3 (such as crawling@1), or no area for the whole tile.'
    """
    *others, last = map(str, sorted(numbers))
    known = f"{', '.join(others)} or {last}" if others else last
    first = others[0] if others else last
    return f"area {known} (such as {what}@{first}), or no area for the whole tile."


_DENIES = re.compile(
    r"\b(?:no|not|non|never|without|none|nothing|nowhere|nor|neither|zero|nil|free|gone|cured|"
    r"fixed|healed|stopped|absen(?:t|ce)|lack\w*|disappear\w*|vanish\w*|cannot|\w+n['’]t|"
    r"(?:do|does|did|is|are|was|were|has|have|had|ca|could|would|wo)nt|false|cleared|averted|"
    r"resolved|undetect\w*|zilch|ruled out|(?:went|go|goes) away)\b",
    re.IGNORECASE,
)


def is_denied(text: str) -> bool:
    """Whether words say that something is not there: then what they name is not to be proposed.

    Examples
    --------
    >>> is_denied("no crawling"), is_denied("craze-free"), is_denied("severe crawling")
    (True, True, False)
    """
    return bool(_DENIES.search(text))


def find_word(text: str, choices: tuple[str, ...]) -> str | None:
    """The one of ``choices`` that ``text`` names, as `read_word` reads it; None where it does not.

    Examples
    --------
    >>> find_word("pinholed", DEFECTS), find_word("lovely", DEFECTS)
    ('pinholes', None)
    """
    plain = _plain(text, choices)
    return plain if plain in choices else None


def _plain(text: str, choices: tuple[str, ...]) -> str:
    """A word as the lists have it, another word for it made that one."""
    folded = fold(text) if isinstance(text, str) else ""
    return folded if folded in choices else _SAME_WORD.get(folded, folded)


def read_word(text: str, choices: tuple[str, ...], what: str) -> str:
    """The one of ``choices`` that ``text`` names.

    Parameters
    ----------
    text : str
        What was typed; case, hyphens and underscores do not matter.
    choices : tuple of str
        The allowed words.
    what : str
        What the word stands for, for the error line: "severity", "defect", ...

    Raises
    ------
    InvalidValue
        Names the value, the nearest word and all choices.

    Examples
    --------
    >>> read_word("Colour-Shift", DEFECTS, "defect")
    'colour shift'
    """
    plain = _plain(text, choices)
    if plain in choices:
        return plain
    hint = _meant_fault(text) if choices is DEFECTS else _meant(plain, choices)
    raise InvalidValue(
        f"{text!r} is not a known {what}.",
        f"{hint} {', '.join(choices)}.",
        field=what,
        value=text,
    )


def read_fault(text: Any) -> Any:
    """As `read_word`, of a fault seen on a tile; words that name none of the list can be kept.

    Raises
    ------
    InvalidValue
        As `read_word`, with how to keep what was typed.
    """
    try:
        return None if text is None else read_word(text, DEFECTS, "defect")
    except InvalidValue as error:
        from tiles.records.fault_words import listed_fault

        words = fold(text).split() if isinstance(text, str) else []
        kept = f"other ({text})"
        if OTHER_FAULT in words:  # the words were to be kept, and may not be
            if meant := _fault_within(words):
                error.hint = f"{meant!r} if that was seen, else what it was in other words."
        elif len(words) > 1 and kept not in error.hint and not listed_fault(text):
            error.hint = f"{error.hint.removesuffix('.')}. '{kept}' keeps these words."
        raise


def _fault_within(words: list[str]) -> str | None:
    """The fault of the list that one of the words names."""
    named = (find_word(each, DEFECTS) for each in words)
    return next((each for each in named if each not in (None, OTHER_FAULT)), None)


_TIMES = {"twice": 2, "double": 2, "2x": 2, "x2": 2, "two times": 2, "three times": 3, "3x": 3}


def _times(plain: str) -> str:
    """How a method and how often is told: "dipped twice" is two fields."""
    often = next((many for said, many in _TIMES.items() if f" {said} " in f" {plain} "), None)
    parts = (_plain(word, METHODS) for word in plain.split())
    way = next((each for each in parts if each in METHODS), None)
    return f"{way!r}, and how often in coats: {often}; it is one of" if often and way else ""


_ABSENT = "leave out what is not there; else one of"


def _meant(plain: str, choices: tuple[str, ...]) -> str:
    """The word of a list that is most like what was typed, ahead of that list."""
    if meant := _ROLES_MEANT.get(plain.removesuffix("s")) if choices is GLAZE_ROLES else None:
        return f"{meant}, or one of"
    if choices is METHODS and (told := _times(plain)):
        return told
    words = () if is_denied(plain) else (plain, *(each for each in plain.split() if len(each) > 4))
    close = next(filter(None, (nearest(each, choices) for each in words)), None)
    return f"{close!r}, or one of" if close else _ABSENT if is_denied(plain) else "one of"


def _meant_fault(text: str) -> str:
    """What a person means who names no fault of the list, ahead of that list."""
    from tiles.records import fault_words

    if not isinstance(text, str):
        return "one of"
    if meant := fault_words.usual_meaning(text):
        return f"{meant}; all are"
    if is_denied(text):
        return _ABSENT
    if fault_words.says_nothing_seen(text) or fault_words.praises(text):
        return "clean (--clean) where there was nothing to see, else one of"
    close = fault_words.near_fault(text)
    return f"{close!r}, or one of" if close else "one of"

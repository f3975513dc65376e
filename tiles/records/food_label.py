"""What a label says about food, and the cones it says that of: the label's claim, never ours."""

import re
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from tiles.chemistry._denied import COMPOUND
from tiles.chemistry.cones import CONES, read_cone, step, steps_outside
from tiles.chemistry.hazards import plain, without_denied, without_named
from tiles.errors import UnknownCone
from tiles.records.food_words import FOOD, NOT, PLAIN_WORDS, SAFE_IN_ENGLISH, SAFE_WORDS, UNSAFE

_NAME = r"[0o]?\d{1,2}(?:½|\.5| 1/2)?"
_DELTAS = "\N{GREEK CAPITAL LETTER DELTA}\N{INCREMENT}\N{WHITE UP-POINTING TRIANGLE}"
"""A cone, as potters draw it."""
_OTHER_NUMBER = "".join(
    rf"(?<!{word}[\s:])"
    for word in r"\bno \bno\. \bnr \bnr\. number # batch lot jar code phone tel tel\.".split()
)
"""A jar's number or a telephone's begins with a zero, too."""
# "cone 06-04", "^05", "cones 5 to 6"; a number alone is a cone where it begins with a zero, unless
# it is part of a date or of a longer number.
_BARE = rf"(?<![\w.#])(?<!\d[-–/]){_OTHER_NUMBER}(?=0\d(?!\s[1-9]\d\d))"
_RANGE = (
    rf"(?:\bcones?\b|[\^{_DELTAS}]|\bc(?=[0o]?\d)|{_BARE})\s*(?P<one>{_NAME})"
    r"(?:\s*(?:-|–|—|/|\.{2,3}|…|\bto\b|\bthrough\b|\bor\b|\band\b)"
    rf"\s*(?:\bcones?\b|[\^{_DELTAS}]|c)?\s*(?P<other>{_NAME}))?(?![\w%]|[-–./]\d)"
)
_LEAST = r"at least|at or above|min(?:imum|\.)?|not? (?:cooler|lower|less) than|not (?:below|under)"
_MOST = (
    r"up to(?: and incl(?:uding|\.)?)?|at most|at or below|max(?:imum|\.)?"
    r"|not? (?:hotter|higher|more) than|not (?:above|over)"
)
_UP = (
    r"\+(?!\s*[/-])|(?:,\s*)?(?:or|and|&) (?:hotter|higher|above|over|up|upwards?|more)\b"
    r"|min(?:imum)?\b|upwards?\b|plus\b(?!\s+or\b)|at least\b(?!\s+\d)"
)
_DOWN = (
    r"(?:,\s*)?(?:or|and|&) (?:cooler|lower|below|under|less|down)\b|max(?:imum)?\b"
    r"|at most\b(?!\s+\d)"
)
_CONES = re.compile(
    rf"(?:\b(?:(?P<least>{_LEAST})|(?P<most>{_MOST})|(?P<start>from))\s*)?"
    rf"{_RANGE}(?:\s*(?:(?P<up>{_UP})|(?P<down>{_DOWN})))?",
    re.IGNORECASE,
)
_HERE = "\N{REPLACEMENT CHARACTER}"
_UNCLEAR = re.compile(
    r"\b(?:not|never|cannot|unless|except|unsafe|decorative|bisqued?|biscuit|"
    r"hotter|cooler|higher|lower|above|at least|at most|"
    rf"(?<!\d )min(?:imum)?|max(?:imum)?)\b|n't\b|\b(?:over|under|below|beyond|until)\s*{_HERE}",
    re.IGNORECASE,
)
"""Words around the cones that may turn what they say: such a label is quoted and not judged."""
_LISTED = re.compile(r"\s*,?\s*(?:(?:or|and|&)\s*)?(?:at\s*)?", re.IGNORECASE)
"""What stands between the cones of a list."""
_SAFE = re.compile(SAFE_WORDS, re.IGNORECASE)
_ASIDE = re.compile(
    rf"\b(?:do )?(?:not?|never|cannot|don't)\b[^,.;!{_HERE}]*"
    r"\b(?:microwave|dishwasher|oven|freezer|child|raw|swallow|inhal|ingest)\w*"
    rf"(?![^.;!]*(?:\b(?:n?or|and)\b|[&/])[^.;!,]*(?:{SAFE_IN_ENGLISH}))",
    re.IGNORECASE,
)
"""What it forbids beside the firing; not in "not oven or food safe", which forbids both."""
_POISON = (
    rf"(?:(?:lead|cadmium|barium|manganese){COMPOUND}?|(?:toxic |heavy )?metals?|tox\w+|poisons?)"
)
_POISONS = rf"{_POISON}(?:\s*(?:,|/|&|\b(?:and|n?or)\b)\s*(?:(?:or|no) )?{_POISON})*"
_POISON_FREE = re.compile(
    rf"\b(?:non?|not)[\s-]*toxic\b(?!\s*(?:n?or|and|/|&)\s*(?:{SAFE_IN_ENGLISH}))"
    rf"|\b{_POISONS}[\s-]*free\b"
    r"|\b(?:(?:contains?|has|with) no|without|free (?:of|from)|does not contain|no)"
    rf" (?:(?:added|any) )?{_POISONS}\b",
    re.IGNORECASE,
)
"""What is said of poisons, which neither denies that ware is safe nor promises it."""
_COVER = (
    r"under(?:neath)?|beneath|cover\w*|topped|top\s?coat\w*|over\s?glaz\w+|sealed|sealer|over it"
    r"|clear[\s-]?(?:glazed|coat\w*)|(?:with|after|beside|plus|needs|requires)(?: \w+){0,3} clear"
    r"|(?:if|when|once|after|and) (?:clear )?glazed|glazed over"
)
_COVERED = re.compile(rf"\b(?:{_COVER})\b(?!\s*[\d{_HERE}])", re.IGNORECASE)
"""What promises it of a glaze with another one over it: "safe under a food safe clear"."""
_FIRED = re.compile(
    rf"(?:\b(?:when|if|once|after|and)\s+)?(?:\bfir(?:ed|ing)\s+)?"
    rf"(?:\b(?:to|at|for|between|from|in|on)\s+)*{_HERE}(?:\s*[,/&-]*\s*(?:or|and|to)?\s*{_HERE})*",
    re.IGNORECASE,
)
_PLAIN = frozenset(
    "a all also an and any are as by certified clay colour color completely dinnerware dishwasher "
    "dishwashers fired fit food for fully functional gloss glossy glaze glazes is it its jar kiln "
    "label made maker matt matte microwave microwaves of on or our oven pottery product safe satin "
    "says surface surfaces tableware tested that the these this to use ware".split()
    + PLAIN_WORDS.split()
)
"""Words that make no promise hang on anything where they stand beside it."""
_HOW_TO_USE = frozenset(
    "apply applied brush brushed brushing brushes coat coats each hands layer layers mix one or "
    "rinse shake spray stir three time times two wash water well".split()
)
"""What another sentence may say as well without a doubt."""
_DOUBT_SIGN = re.compile(r"[?*†‡✗✘×¿☠⚠☢☣⛔🚫❌]")
"""A question, a note somewhere else, or a sign that warns: no promise stands beside a skull."""
_UNSAFE = re.compile(UNSAFE, re.IGNORECASE)
_WARNED = re.compile(rf"{NOT}|{UNSAFE}", re.IGNORECASE)
_NOT_FOR_FOOD = re.compile(
    rf"(?:{NOT})[^.,;:!]*(?:{FOOD})|(?:{FOOD})[^.,;:!]*(?:{NOT})", re.IGNORECASE
)
_DENIED_JUST_BEFORE = re.compile(
    rf"(?:{NOT})[^\w,.;:!]+(?:(?!and\b|but\b|und\b|et\b)\w+[^\w,.;:!]+){{0,4}}$", re.IGNORECASE
)
"""In the same clause: "not a food safe glaze"."""


def cones_named(label: str) -> tuple[str, str] | None:
    """The cooler and the hotter end of the cones that a label speaks of.

    None where it speaks of none, or not plainly: "not at cone 06", "fired above cone 05",
    "food safe at cone 6; bisque 04". What other sentences say, or the same one after a comma,
    does not count: "cone 05, not for children".

    Examples
    --------
    >>> cones_named("food safe when fired to cone 05"), cones_named("dinnerware safe, 06-04")
    (('05', '05'), ('06', '04'))
    >>> cones_named("food safe at cone 05 or hotter")
    ('05', '14')
    >>> cones_named("food safe")
    """
    text = _tidy(label)
    if _is_unclear(text):
        return None
    spoken = [(match, ends) for match in _CONES.finditer(text) if (ends := _ends(match))]
    if any(match["start"] and len(ends) == 1 for match, ends in spoken):
        return None
    if not _is_one_statement(text, spoken):
        return None
    found = [end for _, ends in spoken for end in ends]
    return (min(found, key=step), max(found, key=step)) if found else None


def _tidy(label: str) -> str:
    return " ".join(plain(label).split())


def _ends(match: re.Match) -> list[str]:
    """The cones of one mention and, where it is open to one side, the last one there."""
    try:
        ends = [read_cone(name) for name in (match["one"], match["other"]) if name]
    except UnknownCone:
        return []
    if match["least"] or match["up"]:
        ends.append(CONES[-1])
    elif match["most"] or match["down"]:
        ends.append(CONES[0])
    return ends


def _is_one_statement(text: str, spoken: list[tuple[re.Match, list[str]]]) -> bool:
    """Whether cones are named once, or as a list: "06, 05 or 04".

    Of "food safe at cone 6; bisque 04" nobody can tell what it says of the cones between.
    """
    if all(ends == spoken[0][1] for _, ends in spoken):
        return True
    mentions = [match for match, _ in spoken]
    gaps = [text[one.end() : other.start()] for one, other in pairwise(mentions)]
    is_open = any(match[side] for match in mentions for side in ("least", "most", "up", "down"))
    return not is_open and all(_LISTED.fullmatch(gap) for gap in gaps)


def _is_unclear(text: str) -> bool:
    """Whether a word stands where it may turn what the label says of its cones."""
    for sentence in re.split(r"[.;!](?=\s|$)", _ASIDE.sub("", _CONES.sub(_HERE, text))):
        before, here, after = sentence.rpartition(_HERE)
        if here and _UNCLEAR.search(f"{before}{here}{after.partition(',')[0]}"):
            return True
    return False


@dataclass(frozen=True)
class FoodLabel:
    """What a label says about food, and the cones that the jar is for: it says it of those."""

    text: str
    fired_to: tuple[str, str] | None = None

    @property
    def says_safe(self) -> bool:
        """Whether it promises in plain words that the glaze is safe for food; in doubt, no.

        A promise that hangs on more than the cone is none: "with a clear glaze over it".
        """
        return self.is_promise and not _is_doubtful(_on_firing(self.text))

    @property
    def is_warning(self) -> bool:
        """Whether it claims nothing and warns: "not for food", "decorative use"."""
        return not self.is_promise and bool(_WARNED.search(_on_firing(self.text)))

    @property
    def is_understood(self) -> bool:
        """Whether it is read whole as a promise or a warning, or says nothing to be read.

        One that is not may say anything, also that the glaze holds a poison.
        """
        text = _on_firing(self.text)
        if self.is_promise:
            return self.says_safe or self.asks_for_cover
        if self.is_warning:
            return bool(_UNSAFE.search(text) or _NOT_FOR_FOOD.search(text))
        return not _is_doubtful(without_named(text))

    @property
    def asks_for_cover(self) -> bool:
        """Whether it promises it of the glaze with another one over it."""
        return self.is_promise and bool(_COVERED.search(_CONES.sub(_HERE, _on_firing(self.text))))

    def is_met(self, cone: str | None) -> bool | None:
        """Whether a tile was fired as the label asks; True where it asks nothing, or only warns.

        A cone that nobody read meets no condition. None where the label speaks of cones, but not
        plainly, promises something on another condition, or is not understood: a person must read
        it.
        """
        speaks_of_cones = bool(_CONES.search(_tidy(self.text)))
        if self.is_warning and self.is_understood and not speaks_of_cones:
            return True
        named = cones_named(self.text)
        asked = [each for each in (named, self.fired_to) if each]
        if asked and (cone is None or any(steps_outside(cone, *ends) for ends in asked)):
            return False
        is_plain = self.says_safe if self.is_promise else self.is_understood
        return True if is_plain and not (named is None and speaks_of_cones) else None

    @property
    def is_promise(self) -> bool:
        """Whether it says anywhere that it is safe for food, plainly or on a condition."""
        text = _on_firing(self.text)
        found = _SAFE.finditer(text)
        return any(not _DENIED_JUST_BEFORE.search(text[: each.start()]) for each in found)


@cache
def _on_firing(label: str) -> str:
    """A text without what it forbids beside the firing and what it says of poisons."""
    return without_denied(_POISON_FREE.sub(" ", _ASIDE.sub("", _tidy(label))))


def _is_doubtful(text: str) -> bool:
    """Whether a word stands there that may make a promise hang on something.

    That is any word not known to be harmless: nobody can list all the ways to put a condition.
    """
    text = _CONES.sub(_HERE, text)
    for sentence in re.split(r"[.;!](?=\s|$)", _FIRED.sub(" ", text)):
        rest, promises = _SAFE.subn(" ", sentence)
        harmless = _PLAIN if promises else _PLAIN | _HOW_TO_USE
        if not harmless.issuperset(re.findall(r"[^\W\d_]+", rest.lower())):
            return True
    return bool(_DOUBT_SIGN.search(text))

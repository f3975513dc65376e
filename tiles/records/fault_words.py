"""What people most often say of a tile, where the list of faults has another word for it.

Common practice, no source. It is only proposed: which of two faults it was, the eye must tell.
"""

import re

from tiles.errors import nearest
from tiles.records.gone import EXPLODED
from tiles.records.words import DEFECTS, is_denied

_DULL = "underfired if the glaze did not melt, unwanted matt if it did and came out dull"
_LIFTED = "shivering if sharp slivers came off the fired ware, crawling if the coat lifted before"
_CRACKED = "crazing if the glaze alone is cracked, dunting if the clay is"
_BROKEN = (
    "dunting if it cracked in the firing; else that is no fault of its glaze: tell what else was "
    "seen, if anything, and note it ('tiles change MARK --note broken')"
)
_LOST = (
    "leave blank what was seen of a tile that nobody sees, and note it ('tiles change MARK --note "
    "lost') or take it off the record ('tiles remove MARK')"
)
_GOOD = (
    "use (?:this|again)|keep(?:er)?|favou?rite|nice|lovely|pretty|beautiful|gorgeous|great|super|"
    "perfect|wonderful|stunning|amazing|happy|love|shin(?:y|ing)|glossy|"
    "like (?:it|this)|boring|work(?:s|ed)|success"
)
_UNMELTED = re.compile(
    r"\b(?:did ?n['’]?t|has ?n['’]?t|not|never|un|half|part(?:ly)?|barely)[- ]?"
    r"(?:\w+ )?melt(?:ed)?\b",
    re.IGNORECASE,
)
_NO_COAT = "crawling if the bare edges are thick and rolled back, else other ({})"
_LACKING = (
    (r"(?:no|lost|losing|without|isn['’]?t|is ?n['’]?t|not|never|no longer)\W+(?:\w+ )?"
     "(?:shin(?:e|y)|gloss(?:y)?)", _DULL),
    (r"(?:not|never|isn['’]?t|is ?n['’]?t|wasn['’]?t) (?:(?:quite|very|really|fully|completely|"
     r"perfectly|entirely|that|so|as|all) )*(?:clear|transparent|see[- ]through)"
     r"(?! (?:if|whether|what|how|why|which|where|who|to|from|cut)\b)", "cloudiness"),
    (r"colou?rs? (?:(?:is|are|was|has|have|all|quite|nearly) )*(?:gone|lost|missing|vanished|"
     r"disappeared)|lost (?:\w+ )?colou?r|colou?r(?:ed)? (?:went|gone) away", "colour shift"),
    (r"(?:nothing|glaze (?:has|had|did|was|would)?(?: ?n['’]?t| not)) "
     r"(?:stick|stuck|take|took|hold|held)|glaze (?:is |was )?(?:missing|gone)|missing glaze",
     _NO_COAT),
)  # fmt: skip
"""What says by its own "not" or "gone" that something is wrong."""
_USUAL = (
    (EXPLODED, "other ({})"),
    (r"stilt ?(?:marks?|points?|scars?)|sharp (?:points?|stubs?|spikes?)|sharp (?:\w+ )?under\w+",
     "other ({})"),
    (r"paint\w* (?:badly|poorly)|(?:badly|poorly|messily) paint\w+|smear\w*|smudg\w+|dragged|bled",
     "other ({})"),
    (r"metall?ic|sheen|iridescen\w+", "other ({})"),
    ("dull|flat looking", _DULL),
    ("rough|gritty|sandy|sandpaper|chalky?|powdery|dry",
     "underfired if the glaze did not melt, else other ({})"),
    (r"patchy|patches|streak(?:y|s|ed|ing)?|uneven|brush ?(?:marks?|strokes?)|blotchy|thin spots?",
     "other ({})"),
    (r"crack(?:s|ed|ing)?|crackled?|hair ?lines?", _CRACKED),
    (r"broken?|broke in|split|snapped|shattered|smashed", _BROKEN),
    (r"^(?:(?:it|the|tile|is|was|got|has|been) )*(?:lost|missing|gone)[ .!?]*$", _LOST),
    (r"milky|milk white|haz[ey]|foggy|white veil", "cloudiness"),
    (r"bubbl(?:es?|y|ed|ing)|craters?", "blisters, or pinholes if they are small holes"),
    (r"pit(?:s|ted|ting)?|holes?", "pinholes"),
    (r"drip(?:s|ped|ping)?|dribbl\w+|too runny", "running"),
    (r"stuck|fused|glued", "running if its own glaze ran down and held it, else other ({})"),
    (r"bald|bare (?:clay|patch\w*|spots?)|pulled (?:back|away)|beaded", "crawling"),
    (r"flak(?:y|es|ed|ing)|peel(?:s|ed|ing)?", _LIFTED),
    ("chipp(?:ed|ing)", f"{_LIFTED}; else, by a knock, that is no fault of its glaze: note it "
     "('tiles change MARK --note chipped')"),
    (r"spot(?:s|ty|ted)|dots?|(?:white|black|dark|little|tiny|small) bits", "specks"),
    (r"wrong colou?r|faded|washed out|discolou?red|burnt? out|"
     r"(?:too|very|rather|so) (?:pale|light|dark)|pale|(?:paler|darker) than|"
     r"colou?rs? (?:\w+ )?(?:too |very |rather )?(?:pale|light|dark|weak|faint|different|off)",
     "colour shift"),
    ("(?:turned|went|gone) (?:brown|gr[ae]y|muddy)", "colour shift"),
    (r"too matte?|matte?", "unwanted matt, where it was not meant to be matt"),
)  # fmt: skip
_MEANT, _MEANT_BY_ITS_NOT = (
    tuple((re.compile(rf"(?<!\w)(?:{said})(?!\w)", re.IGNORECASE), told) for said, told in table)
    for table in (_USUAL, _LACKING)
)
_ONLY_NOT = re.compile(
    r"(?:(?:not|no|none|never|nothing|nowhere|without|gone|nil|zero|maybe|perhaps|unsure|sure|any|"
    r"seen|see|found|visible|there|present|it|is|was|were|are|that|this|at|all|really|now|longer|"
    r"a|the|so|to|be|else|fault|faults|one|[nx]|na|wrong|error|mistake|typo|slip|in|by)\b\W*)*",
    re.IGNORECASE,
)
"""Words that, where nothing stands beside them, say that a fault was not there or leave it open."""
_WORD = re.compile(r"[^\W\d_]+(?:[-'’][^\W\d_]+)*")
_SIGNS = " ?!.,;:-'"
_ALIKE, _MAYBE = 0.8, 0.6
"""How like a fault a word must be; less where it begins as that does: boring is no bloating."""
_VOWELS = str.maketrans("", "", "aeiouy ")
_PRAISE = re.compile(rf"\b(?:{_GOOD})\b", re.IGNORECASE)

NOTHING_SEEN = ("none", "clean", "ok", "fine", "good", "no faults")
PRAISE = ("nice", "lovely", "great", "beautiful", "perfect", "very nice", "very good", "all good")
"""A word that praises, and names no fault: read as nothing to see, and told so."""


def says_nothing_seen(text: str) -> bool:
    """Whether a text says, all of it, that there was no fault to see.

    Examples
    --------
    >>> says_nothing_seen("Nice!!"), says_nothing_seen("ok."), says_nothing_seen("nice crazing")
    (True, True, False)
    """
    return _bare(text) in NOTHING_SEEN or is_praise(text)


def says_only_not(text: str) -> bool:
    """Whether all that a text says is that something was not there, or perhaps not.

    Examples
    --------
    >>> says_only_not("not seen"), says_only_not("?"), says_only_not("no longer matt")
    (True, True, False)
    """
    return says_nothing_seen(text) or bool(_ONLY_NOT.fullmatch(text.lstrip(_SIGNS)))


def is_praise(text: str) -> bool:
    """Whether a text is a word of praise alone."""
    return _bare(text) in PRAISE


def _bare(text: str) -> str:
    return " ".join(text.casefold().strip(" .!").split())


def usual_meaning(text: str) -> str:
    """Which fault or faults the words of a person most often mean; "" where nobody could tell.

    Examples
    --------
    >>> usual_meaning("didnt melt?"), usual_meaning("a bit streaky")
    ('underfired', 'other (a bit streaky)')
    >>> usual_meaning("colour gone"), usual_meaning("greenish")
    ('colour shift', '')
    """
    if _UNMELTED.search(text):
        return "underfired"
    for pattern, told in (*_MEANT_BY_ITS_NOT, *(() if is_denied(text) else _MEANT)):
        if pattern.search(text):
            return told.format(text.strip(" .,;?!()"))
    return ""


def listed_fault(text: str) -> str | None:
    """The one fault of the list that words most often mean; None where none or several may be.

    Examples
    --------
    >>> listed_fault("milky"), listed_fault("not quite clear"), listed_fault("cracked")
    ('cloudiness', 'cloudiness', None)
    """
    meant = usual_meaning(text)
    return meant if meant in DEFECTS else None


def praises(text: str) -> bool:
    """Whether there is praise, or the like, somewhere in a text.

    Examples
    --------
    >>> praises("nice but boring"), praises("use this one"), praises("greenish")
    (True, True, False)
    """
    return bool(_PRAISE.search(text))


def near_fault(text: str) -> str | None:
    """The fault of which a text is a slip of the pen; never one that only looks a little like it.

    Examples
    --------
    >>> near_fault("crawlin at edge"), near_fault("nice but boring")
    ('crawling', None)
    """
    tries = (text, *(each for each in _WORD.findall(text) if len(each) > 4))
    return next(filter(None, map(_near, tries)), None)


def _near(word: str) -> str | None:
    close = nearest(word, DEFECTS, _MAYBE)
    starts = [each.casefold().translate(_VOWELS)[:2] for each in (word, close or "")]
    return close if starts[0] == starts[1] else nearest(word, DEFECTS, _ALIKE)

"""A tile that nobody can look at: its note says that it is broken or lost.

That is no fault of its glaze, and nothing is known of how it came out: it stays without a look.
Of one that was logged with such words for a fault, nothing else was seen: it is sound in no way.
"""

import re

from tiles.records.derived import own_words
from tiles.records.forms import AreaRecord, InspectionRecord, TileRecord
from tiles.records.words import OTHER_FAULT, is_denied

BROKEN, LOST = "broken", "lost"
_UNSEEN = ", not looked at"
_ABOUT_IT = "(?:(?:it|the|tile|is|was|got|has|been) )*"
_SAID = {
    BROKEN: re.compile(rf"{_ABOUT_IT}broken?(?:{_UNSEEN})?", re.IGNORECASE),
    LOST: re.compile(rf"{_ABOUT_IT}(?:lost|missing|gone|not there)(?:{_UNSEEN})?", re.IGNORECASE),
}
EXPLODED = r"explod\w+|blew (?:up|apart)|blown (?:up|apart)|burst(?! bubbles?)"
_NO_PART = (
    r"(?! (?:\w+ )?(?:corners?|edges?|rims?|tips?|foot|feet|handles?|stilts?|off|bubbles?|"
    r"blisters?)\b)"
)
_IN_PIECES = re.compile(
    rf"\b(?:{EXPLODED}|(?:broken?|smashed|shattered|snapped){_NO_PART}|(?:in|to) (?:pieces|bits)|"
    r"(?<!glaze )(?<!bits )(?<!flakes )dropped)\b",
    re.IGNORECASE,
)
_PARTS = re.compile(r"\s*[.;!\n]\s*")


def gone(text: str | None) -> str | None:
    """`BROKEN` or `LOST`, where a sentence says that and nothing else.

    Examples
    --------
    >>> gone("thick coat; broken"), gone("It was lost."), gone("broken blisters")
    ('broken', 'lost', None)
    """
    for part in _PARTS.split(text or ""):
        for what, said in _SAID.items():
            if said.fullmatch(part):
                return what
    return None


def is_gone(record: TileRecord) -> bool:
    """Whether nobody looked at it, and nobody can."""
    return not record.inspections and gone(record.note) is not None


def is_in_pieces(record: TileRecord, area: AreaRecord) -> bool:
    """Whether nothing was ever seen of an area but that it is in pieces, or lost.

    It shows no fault of those that have a word, and is sound in none of them.
    """
    looks = record.inspections
    return bool(looks) and not any(_tells(look, area) for look in looks)


def telling_looks(record: TileRecord) -> list[InspectionRecord]:
    """The looks in which any area was seen in one piece, or a fault on it."""
    return [
        look for look in record.inspections
        if not record.areas or any(_tells(look, area) for area in record.areas)
    ]  # fmt: skip


def _tells(look: InspectionRecord, area: AreaRecord) -> bool:
    seen = [each for each in look.defects if each.area in (None, area.number)]
    return not seen or any(
        each.defect != OTHER_FAULT or not _says_so(own_words(each) or look.note) for each in seen
    )


def _says_so(words: str | None) -> bool:
    is_told = _IN_PIECES.search(words or "") and not is_denied(words)
    return bool(is_told or gone(words))


def with_gone(note: str | None, what: str) -> str:
    """A note that says so, too."""
    return "; ".join(filter(None, (note, f"{what}{_UNSEEN}")))

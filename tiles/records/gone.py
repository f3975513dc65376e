"""A tile that nobody can look at: its note says that it is broken or lost.

That is no fault of its glaze, and nothing is known of how it came out: it stays without a look.
"""

import re

from tiles.records.forms import TileRecord

BROKEN, LOST = "broken", "lost"
_UNSEEN = ", not looked at"
_ABOUT_IT = "(?:(?:it|the|tile|is|was|got|has|been) )*"
_SAID = {
    BROKEN: re.compile(rf"{_ABOUT_IT}broken?(?:{_UNSEEN})?", re.IGNORECASE),
    LOST: re.compile(rf"{_ABOUT_IT}(?:lost|missing|gone|not there)(?:{_UNSEEN})?", re.IGNORECASE),
}
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


def with_gone(note: str | None, what: str) -> str:
    """A note that says so, too."""
    return "; ".join(filter(None, (note, f"{what}{_UNSEEN}")))

"""One cell with all that was seen, as a home-made sheet has it, in place of a column for each."""

import re

from tiles.errors import InvalidValue, nearest
from tiles.exchange.flat_columns import NONE, SEEN, defect_column
from tiles.records.words import DEFECTS, SEVERITIES, find_word, fold

FAULTS = "faults"
"""The heading."""
SAYS = (
    "all that was seen there, in place of the defect columns: severe crawling; pinholes; none or "
    "clean where there was nothing to see; blank where nobody looked"
)
_NOTHING = (NONE, "clean", "ok", "fine", "good", "no faults")
_UNTOLD = ("-", "no", "n", "n/a", "na", "nil", "?", "x")
"""Nothing to see for one person, not looked for another."""
_BETWEEN = re.compile(r"\s*(?:[;,+&/]|\band\b)\s*", re.IGNORECASE)
_SEVERITY = re.compile(rf"\b({'|'.join(SEVERITIES)})\b:?", re.IGNORECASE)


def read_faults(text: str) -> dict[str, str]:
    """Every defect column, as one cell with the faults in words fills them.

    Parameters
    ----------
    text : str
        Faults with ``;``, a comma, ``+``, ``/`` or "and" between them, each with its severity
        where it is known; or "none".

    Returns
    -------
    dict
        A value for each column of a defect: ``none`` for those that are not named.

    Raises
    ------
    InvalidValue
        A word is no fault, or a fault is named twice.

    Examples
    --------
    >>> found = read_faults("severe crawling, pinholed")
    >>> found["defect_crawling"], found["defect_pinholes"], found["defect_crazing"]
    ('severe', 'seen', 'none')
    """
    found = dict.fromkeys(map(defect_column, DEFECTS), NONE)
    if fold(text).strip(" .") in _NOTHING:
        return found
    if fold(text) in (*_UNTOLD, ""):
        hint = "none where there was nothing to see, blank where nobody looked."
        raise InvalidValue(f"{text!r} may mean two things.", hint, value=text)
    for part in filter(None, _BETWEEN.split(text.strip(" .;,"))):
        told = _SEVERITY.search(part)
        word = " ".join(_SEVERITY.sub(" ", part, count=1).strip(" :()").split())
        if told and not word:
            hint = "each fault with its own, such as severe crawling; pinholes."
            raise InvalidValue(f"{part!r} stands there without a fault.", hint, value=text)
        if fold(word) in _NOTHING:
            hint = "the faults alone, or that word alone."
            raise InvalidValue(f"{word!r} stands beside a fault.", hint, value=text)
        column = defect_column(_fault(word))
        if found[column] != NONE:
            raise InvalidValue(f"{text!r} names a fault twice.", "each once.", value=text)
        found[column] = told[1].casefold() if told else SEEN
    return found


def _fault(word: str) -> str:
    found = find_word(word, DEFECTS)
    if found is None:
        close = nearest(word, DEFECTS)
        hint = f"{close!r}, " if close else ""
        raise InvalidValue(
            f"{word!r} is no fault.",
            f"{hint}a fault that 'tiles words' lists, or none where there was nothing to see.",
            value=word,
        )
    return found

"""Witness cones as they are written: ``05``, ``05@top``, ``top=05``, one or several of them."""

import re

from tiles.chemistry.cones import read_cone
from tiles.errors import InvalidValue, UnknownCone
from tiles.records.words import is_no_name, tidy_name

WAYS = "05, 05@top or top=05, and a semicolon before the next: top=05; bottom=06"
_BEFORE_CONE = re.compile(
    r"(?<![\s,;])(?<!cone)(?:\s/\s|[\s,;]+)(?=(?:\^|cone\s*|c)?[0o]?\d{1,2}(?:\s*½|\.5|\s1/2)?@)",
    re.IGNORECASE,
)
"""Before a cone, however it is written, with a shelf: that may have blanks and an @ in its name."""
_AFTER_CONE = re.compile(r"(=[^=,]*?)(?:,|\s/\s)")
_BEFORE_AT = re.compile(r"(\S+)\s*@")


def read_witness_cones(text: str) -> list[tuple[str | None, str]]:
    """Shelf (None for the whole load) and cone of each reading.

    A comma parts two of them where a shelf and its cone follow; else it is part of a name.

    Raises
    ------
    InvalidValue
        A shelf would hold another reading, or has no name.
    UnknownCone
        What should be a cone is none.

    Examples
    --------
    >>> read_witness_cones("low left=05, top=04")
    [('low left', '05'), ('top', '04')]
    >>> read_witness_cones("05@low left 04@top"), read_witness_cones("05")
    ([('low left', '05'), ('top', '04')], [(None, '05')])
    """
    parts = [part.strip() for part in _parts(text) if part.strip()]
    return [_read(part) for part in parts or [text]]


def _parts(text: str) -> list[str]:
    found = []
    for whole in text.split(";"):
        if "=" not in whole:
            found += _BEFORE_CONE.split(whole.strip())
            continue
        first, *others = _AFTER_CONE.sub(r"\1;", whole).split(";")
        if bare := [each for each in others if "=" not in each]:
            raise _refused(whole, f"{bare[0].strip()!r} is no shelf with its cone")
        found += [first, *others]
    return found


def _read(part: str) -> tuple[str | None, str]:
    if "=" in part:
        shelf, sign, cone = part.rpartition("=")
        beside = shelf.split(",")[:-1]
    else:
        cone, sign, shelf = part.partition("@")
        beside = shelf.split(",")[1:]
    if sign and is_no_name(shelf):
        raise InvalidValue(f"witness cone {part!r} names no shelf.", f"{WAYS}.", value=part)
    if "=" in shelf or any(map(_is_cone, [*beside, *_BEFORE_AT.findall(shelf)])):
        raise _refused(part, f"{tidy_name(shelf)!r} is no name of a shelf")
    return tidy_name(shelf) or None, read_cone(cone)


def _is_cone(text: str) -> bool:
    try:
        return bool(read_cone(text))
    except UnknownCone:
        return False


def _refused(text: str, why: str) -> InvalidValue:
    return InvalidValue(f"witness cone {text.strip()!r}: {why}.", f"{WAYS}.", value=text)

"""Marks just added that are very like another: a slip of the pen, most often."""

import re
from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.records import models
from tiles.records.mark_looks import LETTERS_FOR_DIGITS, digit_key, look_key
from tiles.records.words import name_key


def marks_as_stored(session: Session) -> dict[str, int]:
    """The place of each mark in the order in which the tiles came on record."""
    marks = session.scalars(select(models.Tile.mark).order_by(models.Tile.tile_id))
    return {mark: at for at, mark in enumerate(marks)}


def marks_that_look_alike(session: Session, marks: Iterable[str]) -> list[tuple[str, str]]:
    """Each mark with one on record that looks like it on the back of a tile: "T 06" and "T-06"."""
    known = sorted(session.scalars(select(models.Tile.mark)))
    by_look: dict[str, list[str]] = {}
    for mark in known:
        by_look.setdefault(look_key(mark), []).append(mark)
    pairs = {}
    for mark in marks:
        for other in by_look.get(look_key(mark), []):
            if name_key(other) != name_key(mark):
                pairs.setdefault(frozenset((mark, other)), (mark, other))
    return list(pairs.values())


def marks_but_for_a_zero(session: Session, marks: Iterable[str]) -> list[tuple[str, str, str]]:
    """Each mark whose number is written otherwise than its neighbours': "K-0131" beside "K-130".

    With the neighbour, and the mark as it would be written.
    """
    by_number = _by_number(session)
    found = []
    for mark in marks:
        if not (parted := _parted(mark)):
            continue
        _start, digits = parted
        others = _near(by_number, *parted)
        others = [each for each in others if name_key(each) != name_key(mark)]
        if others and not any(_is_one_series(digits, _parted(each)[1]) for each in others):
            found.append((mark, others[0], _written_like(mark, digits, _parted(others[0])[1])))
    return found


def marks_with_a_letter(session: Session, marks: Iterable[str]) -> list[tuple[str, str, str]]:
    """Each mark with an O, l or I in a number that others go on from: "T-1O0" beside "T-99".

    With the neighbour, and the mark as it would be written. At its end an l or I counts only where
    that very number is on record, and none does where another letter stands there on record: A, B
    to I may be parts of one thing.
    """
    by_number = _by_number(session)
    found = []
    for mark in marks:
        match = _WITH_LETTER.search(mark)
        digits = match[0].translate(LETTERS_FOR_DIGITS) if match else ""
        if not match or digits == match[0]:
            continue
        start = mark[: match.start()]
        others = _near(by_number, start.casefold(), digits)
        if mark[-1] in "lI":
            others = by_number.get((start.casefold(), int(digits)), [])
        if others and (mark[-1].isdigit() or not _ends_in_letters(session, mark)):
            found.append((mark, others[0], start + digits))
    return found


SLIPS = {
    "a 0 too many or too few": marks_but_for_a_zero,
    "a letter for a digit": marks_with_a_letter,
}
"""What may be wrong with a mark, and what finds it."""


def marks_of_one_tile(session: Session, marks: Iterable[str]) -> list[tuple[str, str]]:
    """Each mark with one on record that is the same but for a letter that may be a digit.

    Whichever came first: "T-01" beside "T-O1".
    """
    by_digits: dict[str, list[str]] = {}
    for known in sorted(session.scalars(select(models.Tile.mark))):
        by_digits.setdefault(digit_key(known), []).append(known)
    return [
        (mark, other)
        for mark in marks
        for other in by_digits.get(digit_key(mark), [])
        if look_key(other) != look_key(mark)
        and not any(
            each[-1].isalpha() and _ends_in_letters(session, each) for each in (mark, other)
        )
    ]


_WITH_LETTER = re.compile(r"(?:(?<![^\W_])|(?=\d))(?=\D*\d)[\doOlI]{2,18}$", re.ASCII)


def _ends_in_letters(session: Session, mark: str) -> bool:
    """Whether others on record are the same but for another letter at the end."""
    own, stem = mark[-1].casefold(), mark[:-1].casefold()
    ends = (
        known[-1] for known in map(str.casefold, session.scalars(select(models.Tile.mark)))
        if len(known) == len(mark) and known.startswith(stem)
    )  # fmt: skip
    return any(end.isalpha() and end != own for end in ends)


def _by_number(session: Session) -> dict[tuple, list[str]]:
    """The marks on record by what stands before their number, and the number."""
    found: dict[tuple, list[str]] = {}
    for known in sorted(session.scalars(select(models.Tile.mark))):
        if parted := _parted(known):
            found.setdefault((parted[0], int(parted[1])), []).append(known)
    return found


def _near(by_number: dict[tuple, list[str]], start: str, digits: str) -> list[str]:
    near = [int(digits) + step for step in (-1, 0, 1)]
    return [each for number in near for each in by_number.get((start, number), [])]


def _parted(mark: str) -> tuple[str, str] | None:
    """What stands before the number of a mark, and its digits."""
    match = re.fullmatch(r"(.*?)(\d{1,18})", mark.casefold(), re.DOTALL)
    return match and (match[1], match[2])


def _is_one_series(digits: str, other: str) -> bool:
    """Two numbers of one width, or both without a zero before them."""
    return len(digits) == len(other) or not (digits.startswith("0") or other.startswith("0"))


def _written_like(mark: str, digits: str, other: str) -> str:
    width = len(other) if other.startswith("0") else 1
    return f"{mark[: -len(digits)]}{int(digits):0{width}d}"

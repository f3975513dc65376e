"""Marks as they are typed and told: in runs, and the one that comes next."""

import re
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from tiles.errors import AlreadyOnRecord, InvalidValue, Questioned, UnknownName, shell_line

MOST_IN_A_RUN = 1000
IN_USE = 40
"""A series with none of so many tiles written down last is in use no more (estimate)."""
TRIALS = "trial "
"""How the marks of trials begin where all others name pieces."""
OF_TILES = ("test", "tests", "tile", "tiles", "trial", "trials", "sample", "samples")

Done = TypeVar("Done")


def next_mark(mark: str | None) -> str | None:
    """The mark after this one: M-41 gives M-42; None where it does not end in a number."""
    match = re.fullmatch(r"(.*?)(\d+)", mark, re.DOTALL) if mark else None
    if not match:
        return None
    return f"{match[1]}{int(match[2]) + 1:0{len(match[2])}d}"


def newest(session, like: str | None = None, *, of_tiles: bool = False) -> str | None:
    """The mark written down last of those that end in a number, or of those in one's series.

    With ``of_tiles`` none that says what a piece is: a test tile is not the next customer's mug.
    """
    from sqlalchemy import select

    from tiles.records import models

    marks = session.scalars(select(models.Tile.mark).order_by(models.Tile.tile_id.desc()))
    numbered = filter(_can_go_on, marks)
    if of_tiles:
        numbered = (mark for mark in numbered if not _names_a_piece(_stem(mark)))
    return next((mark for mark in numbered if like is None or _stem(mark) == _stem(like)), None)


def newest_for_trials(session, like: str) -> str | None:
    """The last mark of the tile's own series, or where that is in use no more, of the one most so.

    Not of one that pieces are named by: "mug 13" would pass for another customer's mug. Where
    there is no other, the trials begin a series of their own.

    ``like`` is the mark of a tile, empty for trials of several.
    """
    from sqlalchemy import select

    from tiles.records import models

    last = select(models.Tile.mark).order_by(models.Tile.tile_id.desc()).limit(IN_USE)
    series = Counter(_stem(mark) for mark in session.scalars(last) if _can_go_on(mark))
    own = _stem(like) if _can_go_on(like) else None
    if not series or own in series and not _names_a_piece(own):
        return newest(session, like)
    of_tiles = Counter({stem: many for stem, many in series.items() if not _names_a_piece(stem)})
    if not of_tiles:
        return f"{TRIALS}0"
    stem = of_tiles.most_common(1)[0][0]  # of two as much in use the newer
    return newest(session, f"{stem}1")


def _can_go_on(mark: str) -> bool:
    """Whether a mark ends in a number and those after it may be new marks: none with a dash is."""
    return not mark.startswith("-") and next_mark(mark) is not None


def _names_a_piece(stem: str) -> bool:
    """Whether the marks of a series say what a piece is: "mug 12", and not "T 12" or "test 12"."""
    word = re.fullmatch(r"([^\W\d_]{3,})\s+", stem)
    return bool(word) and word[1] not in OF_TILES


def _stem(mark: str) -> str:
    """What the marks of one series have before the number, whatever the capitals."""
    return re.sub(r"\d+$", "", mark).casefold()


def free(session, count: int, first: str | None, like: str | None = None) -> list[str]:
    """So many marks that no tile has, counting up from the first or from the last test tile's.

    With ``like``, the mark of a tile that trials are for, as `newest_for_trials` has it.

    Raises
    ------
    InvalidValue
        The first does not end in a number.
    """
    from sqlalchemy import select

    from tiles.records import models
    from tiles.records.words import name_key

    of_series = next_mark(newest_for_trials(session, like)) if like is not None else None
    mark = first or of_series or next_mark(newest(session, of_tiles=True)) or "T-1"
    if next_mark(mark) is None:
        raise InvalidValue(f"{mark!r} does not end in a number.", "--first-mark T-1.")
    taken = {name_key(each) for each in session.scalars(select(models.Tile.mark))}
    found: list[str] = []
    while len(found) < count:
        if name_key(mark) not in taken:
            found.append(mark)
        mark = next_mark(mark)
    return found


@contextmanager
def just_handed_out() -> Iterator[None]:
    """Marks that nobody typed may be taken by another person before their tiles are stored."""
    try:
        yield
    except AlreadyOnRecord as error:
        if error.field == "mark":
            error.message = f"{error.value!r} was just taken by another tile."
            error.hint = "the same command again: it takes the next free marks."
        raise


def load_hint(marks: list[str]) -> str:
    """What to type once these planned tiles are glazed."""
    return f"When glazed: tiles load FIRING {shell_line(runs(marks))}"


def runs(marks: list[str]) -> list[str]:
    """Marks in short, as `expand` takes them: "M-41..M-43" where they count on."""
    found: list[list[str]] = []
    for mark in marks:
        if found and next_mark(found[-1][-1]) == mark:
            found[-1].append(mark)
        else:
            found.append([mark])
    return ["..".join(dict.fromkeys((run[0], run[-1]))) for run in found]


def expand(marks: list[str]) -> list[str]:
    """``M-41..M-43`` as the three marks it stands for.

    Raises
    ------
    InvalidValue
        The two ends do not belong to one series, or run backwards.
    """
    found: list[str] = []
    for text in marks:
        first, dots, last = text.partition("..")
        found += _series(text, first, last) if dots else [text]
    return list(dict.fromkeys(found))


def _series(text: str, first: str, last: str) -> list[str]:
    start, end = (
        re.fullmatch(r"(.*?)(\d{1,18})", each.strip(), re.DOTALL) for each in (first, last)
    )
    if not (start and end) or start[1] != end[1] or int(start[2]) > int(end[2]):
        raise InvalidValue(
            f"{text!r} is not a run of marks.",
            'M-41..M-52; in quotes where a mark has a blank: "T 06..T 12".',
            value=text,
        )
    if int(end[2]) - int(start[2]) >= MOST_IN_A_RUN:
        raise InvalidValue(
            f"{text!r} would be more than {MOST_IN_A_RUN} marks.", "a shorter run.", value=text
        )
    width = len(start[2]) if start[2].startswith("0") else 0
    return [f"{start[1]}{number:0{width}d}" for number in range(int(start[2]), int(end[2]) + 1)]


def each_of(marks: list[str], do: Callable[[str], Done | None]) -> list[Done]:
    """What is done to each tile; of several, each question once with the marks it is about."""
    from tiles.records.spoken import some

    found: list[Done | None] = []
    asked: dict[str, list[str]] = {}
    for mark in marks:
        try:
            found.append(do(mark))
        except Questioned as error:
            question = error
            asked.setdefault(error.message.partition(": ")[2], []).append(mark)
        except (InvalidValue, UnknownName) as error:
            if len(marks) > 1 and not re.search(rf"(?<!\w){re.escape(mark)}(?!\w)", error.message):
                error.message = f"{mark}: {error.message}"
            raise
    if asked:
        if len(found) < len(marks) - 1:
            question.message = " ".join(f"{some(of)}: {said}" for said, of in asked.items())
        raise question
    return [each for each in found if each]

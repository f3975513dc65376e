"""Which tile a mark names, whatever its capitals; and what is told where it names none, or two."""

import re
from collections.abc import Collection, Iterable, Iterator

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, UnknownName, nearest, shell_line, shell_word
from tiles.records import models, reading, spoken
from tiles.records.mark_looks import could_be, slip_key
from tiles.records.words import name_key, tidy_name

_AT_ONCE = 100
"""Marks in one query; SQLite takes no expression of a thousand parts."""
_MOST_WORDS = 4
"""Words of a mark that may have been typed without quotes."""
_LETTERS = re.compile(r"[A-Za-z\x80-\U0010ffff]+")


def get_tile(session: Session, mark: str) -> models.Tile:
    """The tile with this mark, with everything on it.

    Raises
    ------
    UnknownName
        Names the nearest mark.
    """
    known = has_mark(session, mark)
    if known is None:
        hint = _marks_to_try(mark, list(session.scalars(select(models.Tile.mark))))
        raise UnknownName(f"no tile is marked {mark!r}.", hint, field="mark", value=mark)
    by_mark = reading.whole_tiles().where(models.Tile.mark == known)
    return session.scalars(by_mark).unique().one()


def _marks_to_try(mark: str, known: list[str]) -> str:
    """The same mark with other zeros, blanks or letters for digits before any other like it."""
    by_key = {name_key(each): each for each in known}
    listed = [by_key.get(name_key(part)) for part in re.split("[,;]", mark)]
    if len(listed) > 1 and all(listed):
        return f"one mark alone, or several with blanks between: {shell_line(listed)}."
    if "?" in mark and (fit := sorted(each for each in known if could_be(each, mark))):
        return f"{spoken.some(fit)}, which it may be ('?' for a sign that cannot be read)."
    slips = [each for each in sorted(known) if slip_key(each) == slip_key(mark)]
    close = slips[0] if slips else nearest(mark, known)
    return f"{close}, or 'tiles find' to list marks." if close else "'tiles find' for the marks."


def get_tiles(session: Session, marks: list[str]) -> list[models.Tile]:
    """The tiles with these marks, each as :func:`get_tile` gives it, in as few queries as one.

    Raises
    ------
    UnknownName
        One is not on record.
    InvalidValue
        Two that follow each other are also one mark with a blank: mug and 12, and "mug 12".
    """
    _refuse_two_for_one(session, marks)
    found = {name_key(row.mark): row for row in _rows(session, marks)}
    return [found.get(name_key(mark)) or get_tile(session, mark) for mark in marks]


class Stored:
    """The tiles of these marks that are on record, read many at once.

    ``records`` has each as it stands at first, by the `name_key` of its mark.
    """

    def __init__(self, session: Session, marks: list[str]):
        self.session = session
        found = {name_key(row.mark): reading.tile_record(row) for row in _rows(session, marks)}
        self.records = {key: found[key] for key in map(name_key, marks) if key in found}
        self._at = {key: at for at, key in enumerate(self.records)}
        self._rows: dict[str, models.Tile] = {}

    def row(self, mark: str) -> models.Tile | None:
        """The row of one of them, with those that follow it; None where it is none of them."""
        key = name_key(mark)
        if key not in self.records:
            return None
        if key not in self._rows:
            some = list(self.records.values())[self._at[key] :][:_AT_ONCE]
            rows = _rows(self.session, [each.mark for each in some])
            self._rows = {name_key(row.mark): row for row in rows}
        row = self._rows.get(key)
        # A record that is refused takes all rows out of the session.
        return row if row is not None and row in self.session else get_tile(self.session, mark)


def _rows(session: Session, marks: list[str]) -> Iterator[models.Tile]:
    """The rows of those that are on record.

    Each that is written just so is found by the index; only for the others all marks are read.
    """
    for some in _in_parts(marks):
        found = _written_so(session, map(tidy_name, some))
        keys = {name_key(row.mark) for row in found}
        if rest := [mark for mark in some if name_key(mark) not in keys]:
            found += _written_so(session, _on_record(session, rest).values())
        yield from found


def _written_so(session: Session, marks: Iterable[str]) -> list[models.Tile]:
    chosen = list(marks)
    if not chosen:
        return []
    by_mark = reading.whole_tiles().where(models.Tile.mark.in_(chosen))
    return list(session.scalars(by_mark).unique())


def put_together(session: Session, marks: list[str]) -> list[str]:
    """The marks, with words typed apart that only together are one on record: mug and 12."""
    alone: dict[str, str] = {}
    for some in _in_parts(marks):
        alone |= _on_record(session, some)
    found, rest = [], list(marks)
    while rest:
        is_apart = all(name_key(each) in alone for each in rest[:2])
        counts = () if is_apart else range(min(_MOST_WORDS, len(rest)), 1, -1)
        many = next((each for each in counts if has_mark(session, " ".join(rest[:each]))), 1)
        found.append(" ".join(rest[:many]))
        rest = rest[many:]
    return found


def _in_parts(marks: list[str]) -> Iterator[list[str]]:
    return (marks[start : start + _AT_ONCE] for start in range(0, len(marks), _AT_ONCE))


def _refuse_two_for_one(session: Session, marks: list[str]) -> None:
    """Where each of the two is on record and what they spell together as well, nobody can tell."""
    pairs = zip(marks, marks[1:], strict=False)
    words = {f"{one} {two}": (one, two) for one, two in pairs if not one[-1:].isdecimal()}
    as_one: dict[str, str] = {}
    for some in _in_parts(list(words)):
        as_one |= _on_record(session, some)
    for mark, (one, two) in words.items():
        known = as_one.get(name_key(mark))
        if known and has_mark(session, one) and has_mark(session, two):
            raise InvalidValue(
                f"{known!r} is on record, and so are {one!r} and {two!r}.",
                f"{shell_word(known)} in quotes for that tile alone, or the two in the order "
                f"{shell_line([two, one])}.",
                field="mark",
                value=mark,
            )


def has_mark(session: Session, mark: str) -> str | None:
    """The mark as it is on record, whatever its capitals; None when it is free."""
    return _on_record(session, [mark]).get(name_key(mark))


def _on_record(session: Session, marks: Collection[str]) -> dict[str, str]:
    """Those of some marks that are on record, as they are written there, by their keys."""
    chosen = select(models.Tile.mark).where(or_(*(may_be(models.Tile.mark, m) for m in marks)))
    wanted = {name_key(mark) for mark in marks}
    known = {name_key(each): each for each in session.scalars(chosen)}
    return {key: known[key] for key in wanted & known.keys()}


def may_be(column, mark: str):
    """Whether a column may hold a mark: its digits and signs are those, with any letters between.

    Letters are compared by `name_key` alone: of Ü a server may know no small one, and SQLite never
    does. To have it read every mark would make each further tile of an import slower. A mark that
    was kept before names were tidied as they are now is found as it stands.
    """
    signs = [re.sub(r"([\\%_])", r"\\\1", each) for each in {tidy_name(mark), mark}]
    return or_(*(column.like(_LETTERS.sub("%", each), escape="\\") for each in signs))

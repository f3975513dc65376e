"""Files of the user's: read, or written beside what is there, never over it."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from itertools import chain, count
from pathlib import Path

from tiles.errors import AlreadyOnRecord, InvalidValue
from tiles.settings import data_folder, sqlite_file


def refuse_existing(file: Path) -> None:
    """Never write over a file of the user's."""
    if file.exists():
        raise AlreadyOnRecord(f"{file} is already there.", "another name.", value=str(file))


@contextmanager
def written(file: Path, hint: str = "another path.") -> Iterator[Path]:
    """Where to write what a file is to hold: it stands under its own name only once it is whole.

    Raises
    ------
    InvalidValue
        Says in one line why the file cannot be written; nothing of it stays.
    """
    part = file.with_name(f".{file.stem}.part-{os.getpid()}{file.suffix}")
    try:
        try:
            yield part
            part.replace(file)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        said = error.strerror or "the disk may be full"
        raise InvalidValue(f"{file} cannot be written: {said}.", hint) from error


@contextmanager
def readable(file: Path, hint: str) -> Iterator[None]:
    """Says in one line why a file cannot be read as text."""
    try:
        yield
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise InvalidValue(f"{file} cannot be read ({reason}).", hint) from error


@contextmanager
def refused_beside(file: Path) -> Iterator[tuple[Path, Path]]:
    """What was refused beside the file, with its day, never over an earlier one.

    Gives the name it will have, and where to write it meanwhile.

    Inside the transaction, so that nothing is stored of a file whose other tiles would be lost.
    """
    first = file.with_name(f"{file.stem}.refused-{date.today():%Y%m%d}{file.suffix}")
    with _beside(first, f"a copy of {file.name} where you may write; nothing was stored.") as both:
        yield both


@contextmanager
def removed_beside(url: str, what: str = "removed") -> Iterator[tuple[Path, Path]]:
    """What is removed, merged or changed, beside the database, never over an earlier one.

    As `refused_beside`; nothing is removed that could not be kept.
    """
    database = sqlite_file(url) or data_folder() / "tiles.db"
    first = database.with_name(f"{database.stem}-{what}-{date.today():%Y%m%d}.json")
    hint = f"room there, and the right to write; nothing was {what}."
    with _beside(first, hint) as both:
        yield both


@contextmanager
def _beside(first: Path, hint: str) -> Iterator[tuple[Path, Path]]:
    """The name, or the first of those numbered after it that is free, and where to write it."""
    others = (first.with_stem(f"{first.stem}-{number}") for number in count(2))
    try:
        first.parent.mkdir(parents=True, exist_ok=True)
        kept = next(place for place in chain([first], others) if not place.exists())
    except OSError as error:
        raise InvalidValue(f"{first} cannot be written: {error.strerror}.", hint) from error
    with written(kept, hint) as part:
        yield kept, part

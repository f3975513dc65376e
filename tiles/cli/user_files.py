"""Files that a command writes for the user: beside what is there, never over it."""

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
def written(file: Path, hint: str = "another path.") -> Iterator[None]:
    """Says in one line why a file cannot be written."""
    try:
        yield
    except OSError as error:
        raise InvalidValue(f"{file} cannot be written: {error.strerror}.", hint) from error


@contextmanager
def refused_beside(file: Path) -> Iterator[Path]:
    """Where to write what was refused: beside the file, with its day, never over an earlier one.

    Inside the transaction, so that nothing is stored of a file whose other tiles would be lost.
    """
    first = file.with_name(f"{file.stem}.refused-{date.today():%Y%m%d}{file.suffix}")
    with written(first, f"a copy of {file.name} where you may write; nothing was stored."):
        yield _not_taken(first)


@contextmanager
def removed_beside(url: str) -> Iterator[Path]:
    """Where to write what is removed: beside the database, with its day, never over another one.

    Inside the transaction, so that nothing is removed that could not be kept.
    """
    database = sqlite_file(url) or data_folder() / "tiles.db"
    first = database.with_name(f"{database.stem}-removed-{date.today():%Y%m%d}.json")
    with written(first, "--json > removed.json to keep it elsewhere; nothing was removed."):
        first.parent.mkdir(parents=True, exist_ok=True)
        yield _not_taken(first)


def _not_taken(first: Path) -> Path:
    """The same, or the first of those numbered after it that is not there yet."""
    others = (first.with_stem(f"{first.stem}-{number}") for number in count(2))
    return next(place for place in chain([first], others) if not place.exists())

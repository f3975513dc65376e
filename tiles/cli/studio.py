"""The user's own materials and recipes, for commands that also work before there is a database."""

from collections.abc import Iterator
from contextlib import contextmanager

from tiles.cli import common


@contextmanager
def looking(db: str | None, *, aloud: bool = True) -> Iterator:
    """A session on the chosen database, or None (``aloud``: said so) when there is none yet."""
    from tiles.settings import database_url, sqlite_file

    file = sqlite_file(database_url(db))
    if file and not file.exists():
        if aloud:
            common.talk(f"Note: there is no database at {file} yet, so shipped materials only.")
        yield None
        return
    with common.reading(db) as session:
        yield session


def own_materials(db: str | None, *, aloud: bool = True) -> tuple:
    """The user's own materials that have an analysis."""
    from tiles.records.analyses import own_materials as on_record

    with looking(db, aloud=aloud) as session:
        return on_record(session) if session is not None else ()

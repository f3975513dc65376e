"""Bringing an older database up to date. Loaded only when the stored revision differs."""

import shutil
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection

from tiles.errors import DatabaseProblem
from tiles.settings import spoken_url, sqlite_file


def config(connection: Connection):
    """The migration tool's settings for one open database."""
    from alembic.config import Config

    settings = Config()
    settings.set_main_option("script_location", str(Path(__file__).parent))
    settings.attributes["connection"] = connection
    return settings


def upgrade(connection: Connection, url: str, stored: str | None) -> None:
    """Apply the missing steps, after a copy of a SQLite file has been put beside it.

    All in the transaction that is open on ``connection``: the caller commits it.

    Raises
    ------
    DatabaseProblem
        The stored revision is unknown here: the database is newer than this program.
    """
    from alembic import command
    from alembic.script import ScriptDirectory

    settings = config(connection)
    known = {step.revision for step in ScriptDirectory.from_config(settings).walk_revisions()}
    if stored is not None and stored not in known:
        raise DatabaseProblem(
            f"the database {spoken_url(url)} was written by a newer version (revision {stored}).",
            "pip install --upgrade tiles.",
        )
    file = sqlite_file(url)
    if file and file.exists():
        stamp = datetime.now().strftime("%Y%m%d-%H%M%S")
        _copy(file, file.with_name(f"{file.stem}-before-{stored or 'start'}-{stamp}.db"))
    command.upgrade(settings, "head")


def _copy(file: Path, to: Path) -> None:
    """Through SQLite, so that the copy is whole: what is stored can lie in a file beside it."""
    with closing(sqlite3.connect(file)) as kept, closing(sqlite3.connect(to)) as copy:
        kept.backup(copy)
    shutil.copymode(file, to)

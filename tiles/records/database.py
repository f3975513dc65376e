"""Opening the database: create, check, migrate; one transaction at a time."""

import re
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path
from time import monotonic, sleep

from sqlalchemy import URL, Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.exc import DBAPIError, IntegrityError, SQLAlchemyError
from sqlalchemy.orm import Session
from sqlalchemy.pool import NullPool

from tiles.errors import DatabaseProblem, NoRecordsYet
from tiles.records import models
from tiles.records.revision import REVISION
from tiles.settings import spoken_url, sqlite_file

BUSY_TIMEOUT_S = 60
"""So long one command waits for another that is writing, such as an import of many tiles."""
TELL_AFTER_S = 1
"""After so long the person is told what is waited for (estimate)."""
_ASK_AGAIN_S = 0.03


@dataclass(frozen=True)
class Database:
    """An open database."""

    url: str
    engine: Engine

    @contextmanager
    def transaction(self, *, looking: bool = False) -> Iterator[Session]:
        """All or nothing: commits at the end, rolls back on any error.

        Who may write is alone: another one waits. With ``looking`` nothing can be written, nobody
        has to wait, and all is seen as it was at one moment.
        """
        engine = _for_looking(self.engine) if looking else self.engine
        try:
            with Session(engine, expire_on_commit=False) as session, session.begin():
                yield session
        except DBAPIError as error:
            raise _explain(self.url, error) from error


def open_database(
    url: str, *, create: bool = False, waiting: Callable[[], None] | None = None
) -> Database:
    """Open the database behind ``url``, bringing an older one up to date.

    Parameters
    ----------
    url : str
        From :func:`tiles.settings.database_url`.
    create : bool
        Make it, and its tables, if it is not there. Commands that only read leave this off, so
        that a mistyped path or name is told and not answered from a new empty one.
    waiting : callable, optional
        Called once where another command writes for longer than a moment.

    Raises
    ------
    DatabaseProblem
        Missing (`NoRecordsYet`), not ours, newer than this program, locked, or no server.
    """
    file = sqlite_file(url)
    if file and not file.exists():
        if not create:
            raise _no_records(f"there is no database at {file} yet.")
        _make_folder(file.parent)
    engine = _engine(url, BUSY_TIMEOUT_S, waiting)
    try:
        _bring_up_to_date(engine, url, create=create)
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise _explain(url, error) from error
    return Database(url, engine)


def _no_records(said: str) -> NoRecordsYet:
    hint = "'tiles log' to start one, 'tiles demo' to see a sample, or check --db."
    return NoRecordsYet(said, hint)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DatabaseProblem(
            f"the folder {folder} cannot be made: {error.strerror}.",
            "a place you may write to, with --db.",
        ) from error


@lru_cache(maxsize=4)
def _engine(url: str, wait_s: float, waiting: Callable[[], None] | None) -> Engine:
    """One for all transactions of a command: it keeps the statements that it has put into words.

    Else a walk would spend more time on wording its questions to the database than on anything.
    """
    _refuse_unsuitable(url)
    file = sqlite_file(url)
    # A path as it is: read as a URL, "a%20b.db" would be the file "a b.db".
    place = URL.create("sqlite", database=str(file)) if file else url
    try:
        # No pool: a connection is closed with its transaction, so none is left open on a server
        # or a file, however a command ends.
        how = {"timeout": wait_s} if file else {"client_encoding": "utf8"}
        engine = create_engine(place, poolclass=NullPool, connect_args=how)
    except ImportError as error:
        raise DatabaseProblem(
            f"{spoken_url(url)!r} needs the PostgreSQL driver.", "pip install 'tiles[postgresql]'."
        ) from error
    except SQLAlchemyError as error:
        raise DatabaseProblem(
            f"{spoken_url(url)!r} cannot be used as a database.", _URL_HINT
        ) from error
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _set_up_sqlite)
    else:
        # Before the toolkit's own look at the server, which such a database makes fail.
        event.listen(engine, "connect", _refuse_few_letters, insert=True)
    event.listen(engine, "begin", partial(_begin, url=url, waiting=waiting))
    return engine


_URL_HINT = "a file path, sqlite:///FILE or postgresql://USER@HOST/NAME, with --db."


def _refuse_unsuitable(url: str) -> None:
    if url.split(":")[0] not in ("sqlite", "postgresql+psycopg"):
        raise DatabaseProblem(f"{spoken_url(url)!r} is no SQLite or PostgreSQL URL.", _URL_HINT)
    if url.startswith("sqlite:") and sqlite_file(url) is None:
        raise DatabaseProblem(f"{url!r} names no file, so it would keep nothing.", _URL_HINT)


def _set_up_sqlite(connection, _record) -> None:
    # The driver must not begin transactions itself, or a refused record of an import could not
    # be rolled back alone.
    connection.isolation_level = None
    connection.execute("PRAGMA foreign_keys = ON")


def _refuse_few_letters(connection, _record) -> None:
    """A server's database keeps text in the encoding it was made with, a file always in UTF-8."""
    said = connection.info.parameter_status("server_encoding")
    if said not in (None, "UTF8"):
        raise DatabaseProblem(
            f"the database {connection.info.dbname} keeps text as {said}, not with every letter.",
            "another one, made with CREATE DATABASE NAME TEMPLATE template0 ENCODING 'UTF8'.",
        )


def _for_looking(engine: Engine) -> Engine:
    return engine.execution_options(is_looking=True)


def _begin(connection: Connection, *, url: str, waiting: Callable[[], None] | None) -> None:
    """Take the write lock at the start, so that two people at once wait and neither is refused."""
    dialect = connection.dialect.name
    if connection.get_execution_options().get("is_looking", False):
        for statement in _TO_LOOK[dialect]:
            connection.exec_driver_sql(statement)
        return
    took, started, is_told = _TOOK[dialect], monotonic(), waiting is None
    while not took(connection):
        waited = monotonic() - started
        if waited > BUSY_TIMEOUT_S:
            said = f"the database is locked: somebody else is writing, for {waited:.0f} s now"
            raise _explain(url, TimeoutError(said))
        if not is_told and waited > TELL_AFTER_S:
            waiting()
            is_told = True
        sleep(_ASK_AGAIN_S)


_TO_LOOK = {
    "sqlite": ["PRAGMA query_only = ON", "BEGIN"],
    "postgresql": ["SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY"],
}


def _took_file(connection: Connection) -> bool:
    """Whether nobody else writes to the file: then this command does."""
    file = connection.connection.driver_connection
    file.execute("PRAGMA busy_timeout = 0")
    try:
        file.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY:
            return False
        connection.exec_driver_sql("BEGIN IMMEDIATE")  # fails once more, and is told as all else is
    file.execute(f"PRAGMA busy_timeout = {BUSY_TIMEOUT_S * 1000:.0f}")
    return True


def _took_server(connection: Connection) -> bool:
    """The same of a server: it would let two look for a name before both add it."""
    # The lock is a number of ours.
    if not connection.exec_driver_sql("SELECT pg_try_advisory_xact_lock(84537001)").scalar():
        return False
    connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{BUSY_TIMEOUT_S}s'")
    return True


_TOOK = {"sqlite": _took_file, "postgresql": _took_server}


def _bring_up_to_date(engine: Engine, url: str, *, create: bool) -> None:
    with _for_looking(engine).connect() as connection:
        stored = _stored_revision(connection, url)
    if stored == REVISION:
        return
    if stored == _NOTHING and not create:
        raise _no_records(f"the database {spoken_url(url)} is empty: it holds no record yet.")
    with engine.begin() as connection:
        # Looked at again: another command may just have done it.
        stored = _stored_revision(connection, url)
        if stored == _NOTHING:
            _create(connection)
        elif stored != REVISION:
            from tiles.records.migrations import upgrade

            upgrade(connection, url, stored)


_NOTHING = "nothing there yet"


def _stored_revision(connection: Connection, url: str) -> str | None:
    """Which step the tables are at; ``_NOTHING`` where there are no tables."""
    present = set(inspect(connection).get_table_names())
    if not present:
        return _NOTHING
    if "alembic_version" not in present or "tile" not in present:
        raise DatabaseProblem(
            f"{spoken_url(url)} holds other tables ({', '.join(sorted(present)[:3])} ...), "
            "not tile records.",
            "another path or database name with --db.",
        )
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _create(connection: Connection) -> None:
    models.ClayBody.metadata.create_all(connection)
    connection.execute(
        text(
            "CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL, "
            "CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num))"
        )
    )
    connection.execute(
        text("INSERT INTO alembic_version VALUES (:revision)"), {"revision": REVISION}
    )


def _first(error: BaseException) -> BaseException:
    """What went wrong first: a full SQLite file forgets the savepoint that is then gone back to."""
    while isinstance(error.__context__, DBAPIError):
        error = error.__context__
    return error


def _explain(url: str, error: Exception) -> DatabaseProblem:
    said = str(getattr(_first(error), "orig", None) or error).strip().splitlines()[0]
    if isinstance(error, IntegrityError):
        hint = "again; another program may have written at the same moment."
    else:
        place = "the disk that the file is on" if sqlite_file(url) else "that the server is running"
        usual = f"check --db or TILES_DB, and {place}."
        hint = next((hint for reason, hint in _HINTS if reason.search(said)), usual)
    return DatabaseProblem(f"the database {spoken_url(url)} cannot be used: {said}.", hint)


_HINTS = [
    (re.compile(reason), hint)
    for reason, hint in (
        ("full|No space", "some space on its disk, then again; nothing was stored."),
        ("locked|lock timeout", "close the other program that has it open, then again."),
        ("readonly|unable to open", "a place you may write to, with --db."),
        ("not a database", "another file with --db; this one was left as it is."),
        # What a server that runs well refuses.
        ("permission denied to|permission denied for (database|schema)|no schema has been selected",
         "a user in --db who may make tables there, or have the server's keeper grant that right."),
        ("permission denied|must be owner",
         "a user in --db who may read and write its tables, or have the server's keeper grant "
         "that right."),
        ("read-only transaction", "a server or a user in --db that may write."),
        ('database ".*" does not exist',
         "the right name in --db or TILES_DB; a new one is made on the server first, with "
         "'createdb NAME'."),
        ('role ".*" does not exist|not permitted to log in|authentication failed|no password',
         "the right user before the @ in --db or TILES_DB, with the password where one is needed; "
         "a new one is made on the server first."),
    )
]  # fmt: skip
"""What may be said of a database, and what to try then; the first that fits."""

"""What the tests share: databases on both back ends, the sample, and ways to run the command."""

import functools
import itertools
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import settings

# Never a timed test: how long one example takes says nothing on a busy machine.
settings.register_profile("tiles", deadline=None)
settings.load_profile("tiles")

# Tests run side by side: linear algebra that spreads over all cores as well makes each of them
# many times slower. Set before numpy is first imported, and passed on to processes.
for _threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_threads, "1")
# scikit-learn's checks of an estimator need it for one of them.
os.environ.setdefault("SCIPY_ARRAY_API", "1")
# Commands that tests start find compiled files, as on a user's machine: else each start compiles
# every module anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

ROOT = Path(__file__).parents[1]
BACK_ENDS = ("sqlite", "postgresql")
_numbers = itertools.count(1)


@dataclass(frozen=True)
class Ran:
    """How one command ended."""

    code: int
    out: str
    err: str


@pytest.fixture(scope="session", autouse=True)
def no_place_of_the_users(tmp_path_factory):
    """No test may read or write the data folder of whoever runs it."""
    nowhere = tmp_path_factory.mktemp("nowhere")
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("TILES_DB", str(nowhere / "tiles.db"))
        patched.setenv("XDG_DATA_HOME", str(nowhere))
        patched.delenv("TILES_PHOTOS", raising=False)
        patched.setenv("PYTHONPATH", str(ROOT), prepend=os.pathsep)
        yield


@pytest.fixture(scope="session", autouse=True)
def commands_built_once():
    """The framework builds the whole tree of commands anew for each run; here one will do."""
    import typer.main

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(typer.main, "get_command", functools.cache(typer.main.get_command))
        yield


@pytest.fixture(scope="session", autouse=True)
def statements_worded_once():
    """Each test has a file of its own; how to say a statement to SQLite is the same for all."""
    from tiles.records import database

    create_engine, first = database.create_engine, {}

    def created(place, **how):
        engine = create_engine(place, query_cache_size=1500, **how)
        if engine.dialect.name == "sqlite":
            worded = first.setdefault("sqlite", engine)
            engine.dialect = engine.pool._dialect = worded.dialect
            engine._compiled_cache = worded._compiled_cache
        return engine

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(database, "create_engine", created)
        yield


@pytest.fixture(scope="session")
def learned_once():
    """Tests of commands ask of the same tiles again and again: from these one model is learned."""
    from diagnose import learner
    from diagnose.learning import keep

    fit, known = learner.fit_records, {}

    def fitted(records):
        records = list(records)
        told = keep.fingerprint(records), *(each.mark for each in records)
        if told not in known:
            while len(known) >= 8:
                del known[next(iter(known))]
            known[told] = fit(records)
        return known[told]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(learner, "fit_records", fitted)
        yield


@pytest.fixture(scope="session")
def postgresql_server():
    """The URL of a real server, with {name} for the database: ours, or the one that is named."""
    if given := os.environ.get("TILES_TEST_DATABASE_URL"):
        from sqlalchemy import make_url

        url = make_url(given).set(database="NAME").render_as_string(hide_password=False)
        yield url.replace("/NAME", "/{name}")
        return
    if sys.platform == "win32":
        pytest.skip("no package brings its programs to Windows: TILES_TEST_DATABASE_URL names one")
    from tests.database.postgres_server import running_server

    with running_server() as url:
        yield url


def administer(server: str, statement: str) -> None:
    """Have a server make or drop a database."""
    import psycopg

    url = server.format(name="postgres").replace("postgresql+psycopg:", "postgresql:")
    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute(statement)


@pytest.fixture
def postgresql_url(postgresql_server):
    """An empty database on the server, gone afterwards."""
    name = f"tiles_test_{os.getpid()}_{next(_numbers)}"
    administer(postgresql_server, f"CREATE DATABASE {name}")
    yield postgresql_server.format(name=name)
    administer(postgresql_server, f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(params=BACK_ENDS)
def database_url(request, tmp_path):
    """Where an empty database can be, on each back end in turn."""
    if request.param == "sqlite":
        return str(tmp_path / "tiles.db")
    return request.getfixturevalue("postgresql_url")


@pytest.fixture(params=BACK_ENDS)
def database(request, tmp_path):
    """An empty database, open, on each back end in turn."""
    if request.param == "sqlite":
        yield from _opened(str(tmp_path / "tiles.db"))
        return
    shared = request.getfixturevalue("shared_postgresql_database")
    yield shared
    _empty(shared)


@pytest.fixture(scope="session")
def shared_postgresql_database(postgresql_server):
    """One database on the server; whoever uses it leaves it empty."""
    name = f"tiles_shared_{os.getpid()}"
    administer(postgresql_server, f"CREATE DATABASE {name}")
    yield from _opened(postgresql_server.format(name=name))
    administer(postgresql_server, f"DROP DATABASE {name} WITH (FORCE)")


def _empty(database) -> None:
    from sqlalchemy import text

    from tiles.records.database import REVISION
    from tiles.records.models import ClayBody

    tables = ", ".join(ClayBody.metadata.tables)
    with database.engine.begin() as connection:
        connection.execute(text(f"TRUNCATE {tables} RESTART IDENTITY CASCADE"))
        revised = text("UPDATE alembic_version SET version_num = :revision")
        connection.execute(revised, {"revision": REVISION})


@pytest.fixture
def sqlite_database(tmp_path):
    """An empty SQLite database, open."""
    yield from _opened(str(tmp_path / "tiles.db"))


def _opened(place: str):
    from tiles import settings
    from tiles.records.database import open_database

    opened = open_database(settings.database_url(place), create=True)
    yield opened
    opened.engine.dispose()


@pytest.fixture(scope="session")
def sample_template(tmp_path_factory):
    """The sample database, built once. Copy it; do not change it."""
    from sample_db.build import build
    from tiles import settings
    from tiles.records.database import open_database

    file = tmp_path_factory.mktemp("template") / "sample.db"
    opened = open_database(settings.database_url(str(file)), create=True)
    with opened.transaction() as session:
        build(session)
    opened.engine.dispose()
    return file


@pytest.fixture
def sample(sample_template, tmp_path, monkeypatch):
    """A sample database of the test's own, chosen by TILES_DB."""
    file = tmp_path / "sample.db"
    shutil.copyfile(sample_template, file)
    monkeypatch.setenv("TILES_DB", str(file))
    return file


@pytest.fixture
def fresh(tmp_path, monkeypatch):
    """The place of a database that is not there yet, chosen by TILES_DB."""
    file = tmp_path / "fresh.db"
    monkeypatch.setenv("TILES_DB", str(file))
    return file


@pytest.fixture
def tiles(capsys, monkeypatch):
    """Run one command in this process, through the same door as the ``tiles`` script."""
    from tiles.cli.main import run

    # --db sets the variable for the rest of a process; here that must end with the test.
    monkeypatch.setenv("TILES_DB", os.environ["TILES_DB"])

    def run_here(*arguments: object) -> Ran:
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            run([str(each) for each in arguments])
        told = capsys.readouterr()
        return Ran(ended.value.code, told.out, told.err)

    return run_here


@pytest.fixture
def tiles_process():
    """Run one command as a process of its own, without a keyboard."""

    def run_apart(*arguments: object, stdin: str | None = None) -> Ran:
        done = subprocess.run(
            [sys.executable, "-m", "tiles", *map(str, arguments)],
            capture_output=True,
            text=True,
            cwd=ROOT,
            check=False,
            **({"input": stdin} if stdin is not None else {"stdin": subprocess.DEVNULL}),
        )
        return Ran(done.returncode, done.stdout, done.stderr)

    return run_apart

"""Opening: what cannot be used as a database is told in one clear line and left as it was."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest

from tests.cli.records import all_rows, assert_one_line_error
from tests.conftest import ROOT, administer
from tiles import settings
from tiles.errors import DatabaseProblem
from tiles.records import database as database_module
from tiles.records import forms, store
from tiles.records.database import open_database

ADD_BODY = ("body", "add", "grey stoneware")


def refused(place, *, create=False):
    """The one line with which a place is refused as a database."""
    with pytest.raises(DatabaseProblem) as problem:
        open_database(settings.database_url(str(place)), create=create)
    assert "\n" not in str(problem.value)
    assert problem.value.hint
    return str(problem.value)


def test_reading_makes_no_database(tmp_path):
    assert "there is no database at" in refused(tmp_path / "mistyped.db")
    assert list(tmp_path.iterdir()) == []


def test_writing_makes_the_database_and_its_folder(tmp_path, tiles):
    place = tmp_path / "new" / "folder" / "tiles.db"
    assert tiles(*ADD_BODY, "--db", place).code == 0
    assert place.is_file()


def test_a_path_is_taken_as_it_is(tmp_path, tiles):
    for folder, command in (("log", ADD_BODY), ("import", ("import", _tile(tmp_path)))):
        place = tmp_path / folder / "50%20 off.db"
        assert tiles(*command, "--db", place).code == 0
        assert tiles("body", "list", "--db", place).code == 0
        assert list(place.parent.iterdir()) == [place]


def test_a_url_with_options_of_a_driver_makes_no_file(tmp_path):
    assert "cannot be the path" in refused(f"sqlite:///{tmp_path}/own.db?mode=ro", create=True)
    assert list(tmp_path.iterdir()) == []


def _tile(folder):
    file = folder / "tile.json"
    file.write_text('{"mark": "M-1", "body": "grey stoneware"}')
    return file


def test_a_database_is_made_only_once(database_url):
    url = settings.database_url(database_url)
    with open_database(url, create=True).transaction() as session:
        store.add_body(session, forms.BodyRecord(name="grey stoneware"))
    with open_database(url, create=True).transaction() as session:
        assert store.find(session, store.belongings.models.ClayBody, "grey stoneware")


@pytest.mark.parametrize("arguments", [ADD_BODY, ("find",), ("show", "M-1")], ids=" ".join)
def test_a_file_that_is_no_database_is_left_as_it_was(tmp_path, tiles, arguments):
    place = tmp_path / "letter.db"
    place.write_text("Dear reader, this is a letter.\n" * 50)
    before = place.read_bytes()
    ran = tiles(*arguments, "--db", place)
    assert_one_line_error(ran, str(place), "not a database", "left as it is")
    assert place.read_bytes() == before


def test_a_folder_is_no_database(tmp_path, tiles):
    assert_one_line_error(tiles(*ADD_BODY, "--db", tmp_path), str(tmp_path), "--db")


def test_a_database_with_other_tables_is_refused_and_left_as_it_was(tmp_path, tiles):
    place = tmp_path / "recipes.db"
    with closing(sqlite3.connect(place)) as connection:
        connection.execute("CREATE TABLE cake (name TEXT)")
        connection.execute("INSERT INTO cake VALUES ('plum')")
        connection.commit()
    before = place.read_bytes()
    ran = tiles(*ADD_BODY, "--db", place)
    assert_one_line_error(ran, "other tables (cake", "not tile records")
    assert place.read_bytes() == before


def test_other_tables_on_a_server_are_left_alone(postgresql_url, tiles):
    import psycopg

    with psycopg.connect(postgresql_url, autocommit=True) as connection:
        connection.execute("CREATE TABLE cake (name TEXT)")
    assert_one_line_error(tiles(*ADD_BODY, "--db", postgresql_url), "other tables (cake")
    with psycopg.connect(postgresql_url) as connection:
        tables = connection.execute(
            "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'"
        )
        assert tables.fetchall() == [("cake",)]


def test_an_empty_file_becomes_a_database(tmp_path, tiles):
    place = tmp_path / "empty.db"
    place.touch()
    assert tiles(*ADD_BODY, "--db", place).code == 0
    assert [row[1] for row in all_rows(place)["clay_body"]] == ["grey stoneware"]


UNPRIVILEGED = """
import os, sys
from tiles.cli.main import run

def finish(*arguments):
    try:
        run(list(arguments))
    except SystemExit as ended:
        return ended.code

# Everything is loaded before root is given up, since its own libraries may be closed to others.
finish("body", "add", "grey stoneware", "--db", sys.argv[1])
finish("find", "--db", sys.argv[1])
finish("show", "none", "--db", sys.argv[1])
if os.geteuid() == 0:
    os.setgid(65534), os.setuid(65534)
print("-- now --", file=sys.stderr)
sys.exit(finish(*sys.argv[2:]))
"""


def test_a_read_only_database_can_be_read_but_not_written(
    sample_template, unprivileged_folder, tmp_path
):
    place = unprivileged_folder / "sample.db"
    place.write_bytes(sample_template.read_bytes())
    place.chmod(0o444)
    unprivileged_folder.chmod(0o555)

    def run(*arguments):
        done = subprocess.run(
            [sys.executable, "-c", UNPRIVILEGED, str(tmp_path / "own.db"), *arguments],
            capture_output=True, text=True, cwd=ROOT, stdin=subprocess.DEVNULL, check=False,
        )  # fmt: skip
        return done.returncode, done.stderr.partition("-- now --\n")[2]

    before = place.read_bytes()
    code, said = run(*ADD_BODY, "--db", str(place))
    assert (code, said.count("\n")) == (1, 1)
    assert "readonly" in said
    assert "a place you may write to" in said
    assert run("find", "--limit", "1", "--db", str(place))[0] == 0
    assert place.read_bytes() == before


@pytest.fixture
def unprivileged_folder():
    """A folder every user can reach; pytest's own are closed to others."""
    import shutil
    import tempfile
    from pathlib import Path

    folder = Path(tempfile.mkdtemp(prefix="tiles-readonly-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_a_locked_database_is_told_and_not_changed(sample, tiles, monkeypatch):
    # As another program does that is in the middle of writing.
    monkeypatch.setattr(database_module, "BUSY_TIMEOUT_S", 0.05)
    before = all_rows(sample)
    with closing(sqlite3.connect(sample, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        ran = tiles(*ADD_BODY)
        other.execute("ROLLBACK")
    assert_one_line_error(ran, str(sample), "locked", "close the other program")
    assert all_rows(sample) == before


def test_no_server_is_one_line(tiles, tmp_path):
    ran = tiles("find", "--db", f"postgresql://nobody@/tiles?host={tmp_path}")
    assert_one_line_error(ran, "cannot be used", "server is running")


def test_no_such_database_on_the_server_is_one_line(tiles, postgresql_server):
    url = postgresql_server.format(name="no_such_database")
    told = '"no_such_database" does not exist', "createdb"
    assert_one_line_error(tiles("find", "--db", url), *told)


@pytest.mark.parametrize("url", ["nonsense://here", "mysql://somebody@here/tiles", "sqlite://"])
def test_an_unusable_url_is_one_line(tiles, url):
    assert_one_line_error(tiles("find", "--db", url), "--db")


@pytest.mark.parametrize(
    "url",
    [
        "postgresql://me:opensesame@/tiles?host={place}",
        "postgresql://me@/tiles?host={place}&password=opensesame",
        "postgresql://me@/tiles?password=open@opensesame&host={place}",
        "postgresql://me@/tiles?host={place}&pass%77ord=opensesame",
        "postgre:/me@/tiles?password=opensesame",
    ],
)
def test_a_password_in_a_url_is_never_printed(tiles, tmp_path, url):
    ran = tiles("find", "--db", url.format(place=tmp_path))
    assert_one_line_error(ran)
    assert "opensesame" not in ran.err


def test_reading_makes_no_tables_in_an_empty_database(tiles, tmp_path, postgresql_url):
    from sqlalchemy import create_engine, inspect

    empty = tmp_path / "empty.db"
    empty.touch()
    for place in (postgresql_url, str(empty)):
        for command in (("body", "list"), ("find",), ("show", "M-1"), ("remove", "M-1", "--yes")):
            assert_one_line_error(tiles(*command, "--db", place), "is empty", "log' to start one")
        assert tiles("material", "show", "whiting", "--db", place).code == 0
    assert empty.read_bytes() == b""
    engine = create_engine(settings.database_url(postgresql_url))
    assert inspect(engine).get_table_names() == []
    engine.dispose()
    assert tiles(*ADD_BODY, "--db", postgresql_url).code == 0
    assert "grey stoneware" in tiles("body", "list", "--db", postgresql_url).out


def test_what_a_server_that_runs_refuses_is_told_with_what_mends_it(tiles, postgresql_url):
    from sqlalchemy import create_engine, text

    assert tiles(*ADD_BODY, "--db", postgresql_url).code == 0
    role = f"looker_{os.getpid()}"
    as_role = f"{postgresql_url}{'&' if '?' in postgresql_url else '?'}options=-crole%3D{role}"
    engine = create_engine(settings.database_url(postgresql_url), isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(f"CREATE ROLE {role}"))
        try:
            ran = tiles("body", "list", "--db", as_role)
            assert_one_line_error(ran, "permission denied", "may read and write its tables")
            connection.execute(text(f"GRANT SELECT ON ALL TABLES IN SCHEMA public TO {role}"))
            assert "grey stoneware" in tiles("body", "list", "--db", as_role).out
            ran = tiles("body", "add", "porcelain", "--db", as_role)
            assert_one_line_error(ran, "permission denied", "may read and write its tables")
            connection.execute(text("DROP SCHEMA public CASCADE"))
            ran = tiles(*ADD_BODY, "--db", as_role)
            assert_one_line_error(ran, "no schema", "who may make tables there")
        finally:
            connection.execute(text(f"DROP OWNED BY {role}"))
            connection.execute(text(f"DROP ROLE {role}"))
    engine.dispose()
    nobody = engine.url.set(username=role).render_as_string(hide_password=False)
    assert_one_line_error(tiles("find", "--db", nobody), "the right user before the @")


def test_the_option_wins_over_the_variable(sample, tiles, tmp_path):
    assert tiles("find", "--limit", "1").code == 0
    assert tiles("find", "--db", tmp_path / "other.db").code == 1
    assert tiles("--db", tmp_path / "other.db", "find").code == 1


def test_the_default_is_a_file_in_the_users_data_folder(monkeypatch, tmp_path, tiles):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.delenv("TILES_DB")
    monkeypatch.setattr("sys.platform", sys.platform)
    assert tiles(*ADD_BODY).code == 0
    if sys.platform == "linux":
        assert (tmp_path / "tiles" / "tiles.db").is_file()
    assert settings.database_url().startswith("sqlite:///")
    assert os.environ.get("TILES_DB") is None


@pytest.mark.parametrize("encoding", ["SQL_ASCII", "LATIN1"])
def test_a_server_database_that_does_not_hold_every_letter_is_refused(
    postgresql_server, tiles, encoding
):
    name = f"tiles_few_{encoding.lower()}_{os.getpid()}"
    how = f"TEMPLATE template0 ENCODING '{encoding}' LOCALE 'C'"
    administer(postgresql_server, f"CREATE DATABASE {name} {how}")
    try:
        ran = tiles(*ADD_BODY, "--db", postgresql_server.format(name=name))
        assert_one_line_error(ran, f"keeps text as {encoding}", "ENCODING 'UTF8'")
    finally:
        administer(postgresql_server, f"DROP DATABASE {name} WITH (FORCE)")

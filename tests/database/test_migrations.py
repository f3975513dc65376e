"""The steps lead where the tables are, on both back ends, and nothing is lost on the way."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect, text

from tests.cli.records import all_rows
from tiles import settings
from tiles.errors import DatabaseProblem
from tiles.records import database as database_module
from tiles.records import forms, migrations, models, reading
from tiles.records.database import REVISION, open_database


def schema(engine):
    """Tables, columns, keys, constraints and indexes, each with its name."""
    found = inspect(engine)
    described = {}
    for table in sorted(found.get_table_names()):
        described[table] = {
            "columns": [
                (each["name"], str(each["type"]), each["nullable"], each["default"] is not None)
                for each in found.get_columns(table)
            ],
            "primary key": found.get_pk_constraint(table),
            "foreign keys": sorted(map(str, found.get_foreign_keys(table))),
            "unique": sorted(map(str, found.get_unique_constraints(table))),
            "indexes": sorted(map(str, found.get_indexes(table))),
        }
    return described


@pytest.fixture
def stepped(database_url):
    """An empty database brought up by the steps alone."""
    url = settings.database_url(database_url)
    engine = create_engine(url)
    with engine.begin() as connection:
        migrations.upgrade(connection, url, None)
    yield engine
    engine.dispose()


def test_the_revision_of_the_program_is_the_newest_step():
    script = ScriptDirectory.from_config(migrations.config(None))
    assert script.get_heads() == [REVISION]


def test_the_steps_give_the_tables_of_the_models(stepped):
    with stepped.connect() as connection:
        context = MigrationContext.configure(
            connection, opts={"compare_type": True, "compare_server_default": True}
        )
        assert compare_metadata(context, models.ClayBody.metadata) == []


def test_the_steps_give_exactly_what_a_new_database_gets(
    stepped, tmp_path, request, postgresql_server
):
    is_sqlite = stepped.dialect.name == "sqlite"
    place = str(tmp_path / "new.db") if is_sqlite else _another(request, postgresql_server)
    new = open_database(settings.database_url(place), create=True)
    made, came = schema(new.engine), schema(stepped)
    new.engine.dispose()
    assert len(made) == len(models.ClayBody.metadata.tables) + 1
    assert came == made


def _another(request, server):
    from tests.conftest import administer

    name = f"tiles_another_{os.getpid()}"
    administer(server, f"CREATE DATABASE {name}")
    request.addfinalizer(lambda: administer(server, f"DROP DATABASE {name} WITH (FORCE)"))
    return server.format(name=name)


def test_a_database_built_by_the_steps_is_opened_as_it_is(stepped, database_url):
    opened = open_database(settings.database_url(database_url))
    with opened.engine.connect() as connection:
        version = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    opened.engine.dispose()
    assert version == REVISION


def test_a_newer_database_is_refused_in_one_line_and_left_alone(database, tmp_path):
    with database.transaction() as session:
        session.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(DatabaseProblem) as refused:
        open_database(database.url)
    assert "written by a newer version (revision 9999)" in refused.value.message
    assert "upgrade" in refused.value.hint
    assert "\n" not in str(refused.value)
    if database.engine.dialect.name == "sqlite":
        assert [file.name for file in tmp_path.iterdir()] == ["tiles.db"]


NOTES = {
    "A-1": (
        "Trial for M-41 (b) (crawling): glaze a.b -> c. Put on by dip, as then. Same firing.",
        ("Put on by dip, as then. Same firing.", "M-41 (b)", "crawling", "glaze a.b -> c"),
    ),
    "A-2": (
        "Trial for M-41 (unwanted matt): as it was.",
        (None, "M-41", "unwanted matt", "as it was"),
    ),
    "A-3": (
        "Trial for M-41 (other): glaze No. 4 -> c. Same firing as the others of the set.",
        ("Same firing as the others of the set.", "M-41", "other", "glaze No. 4 -> c"),
    ),
    "A-4": (None, (None, None, None, None)),
}
OWN_WORDS = [
    "Trial for fun. Dusty.",
    "Trial for Anna (blue one): thin coat. Nice.",
    "Trial for b-2 (crawling): once more.",
    "Trial for fun (crawling): . Nice.",
    f"Trial for {'anybody ' * 20}(crawling): once more.",
]
"""Notes of B-0, B-1, B-2 ... that only begin like those of planned trials."""
NOTES |= {f"B-{number}": (own, (own, None, None, None)) for number, own in enumerate(OWN_WORDS)}


def test_trials_that_were_known_by_their_notes_get_their_fields(database_url):
    url = settings.database_url(database_url)
    engine = create_engine(url)
    with engine.begin() as connection:
        command.upgrade(migrations.config(connection), "0001")
        connection.execute(text("INSERT INTO clay_body (clay_body_id, name, is_retired) "
                                "VALUES (1, 'red', false)"))  # fmt: skip
        for mark, (note, _) in NOTES.items():
            row = {"mark": mark, "note": note}
            connection.execute(
                text("INSERT INTO tile (mark, clay_body_id, note) VALUES (:mark, 1, :note)"), row
            )
    engine.dispose()
    with open_database(url).transaction() as session:
        records = reading.find_records(session, list(NOTES))
    assert {
        each.mark: (each.note, each.trial_of, each.trial_defect, each.trial_change)
        for each in records
    } == {mark: after for mark, (_, after) in NOTES.items()}
    for record in records:
        forms.read(forms.TileRecord, record.model_dump())


def test_a_database_with_layers_of_a_batch_is_brought_up_to_date(database_url):
    """SQLite drops no table that rows of another one belong to."""
    url = settings.database_url(database_url)
    engine = create_engine(url)
    with engine.begin() as connection:
        command.upgrade(migrations.config(connection), "0004")
        for rows in (
            "clay_body (clay_body_id, name, is_retired) VALUES (1, 'red', false)",
            "glaze (glaze_id, name, kind, role, is_retired) "
            "VALUES (1, 'moss', 'jar', 'glaze', false)",
            "batch (batch_id, glaze_id, name) VALUES (1, 1, 'M1')",
            "tile (tile_id, mark, clay_body_id) VALUES (1, 'A-1', 1)",
            "area (area_id, tile_id, number) VALUES (1, 1, 1)",
            "layer (area_id, position, glaze_id, batch_id) VALUES (1, 1, 1, 1)",
        ):
            connection.execute(text(f"INSERT INTO {rows}"))
    engine.dispose()
    with open_database(url).transaction() as session:
        (tile,) = reading.find_records(session, ["A-1"])
    (layer,) = tile.areas[0].layers
    assert (layer.batch.name, layer.batch.is_retired) == ("M1", False)


STEP = '''
"""Note where a tile is kept."""
from alembic import op
import sqlalchemy as sa

revision = "9000"
down_revision = "{below}"
branch_labels = None
depends_on = None


def upgrade():
    with op.batch_alter_table("tile") as batch:
        batch.add_column(sa.Column("kept_in", sa.String()))
    {then}
'''


@pytest.fixture
def next_step(tmp_path, monkeypatch):
    """A program with one more step than this one has."""
    folder = tmp_path / "steps"
    folder.mkdir()
    real = migrations.config

    def with_one_more(connection):
        settings_ = real(connection)
        shipped = Path(migrations.__file__).parent / "versions"
        settings_.set_main_option("path_separator", "os")
        settings_.set_main_option("version_locations", f"{shipped}{os.pathsep}{folder}")
        return settings_

    def write(then="pass"):
        (folder / "9000_kept_in.py").write_text(STEP.format(below=REVISION, then=then))
        monkeypatch.setattr(migrations, "config", with_one_more)
        monkeypatch.setattr(database_module, "REVISION", "9000")

    return write


def test_an_older_database_is_brought_up_to_date_with_all_its_rows(sample, next_step):
    before = all_rows(sample)
    next_step()
    opened = open_database(settings.database_url(str(sample)))
    opened.engine.dispose()
    after = all_rows(sample)
    assert after.pop("alembic_version") == [("9000",)]
    assert [row[:-1] for row in after.pop("tile")] == before.pop("tile")
    before.pop("alembic_version")
    assert after == before


def test_a_copy_is_put_beside_the_file_before_it_is_changed(sample, next_step):
    before = all_rows(sample)
    sample.chmod(0o600)
    next_step()
    with closing(sqlite3.connect(sample)) as other:
        other.execute("PRAGMA journal_mode = WAL")  # what is stored then lies in a second file
        other.execute("UPDATE kiln SET remark = 'new elements'")
        other.commit()
        open_database(settings.database_url(str(sample))).engine.dispose()
    (copy,) = sample.parent.glob(f"sample-before-{REVISION}-*.db")
    after = all_rows(copy)
    assert {row[-1] for row in after.pop("kiln")} == {"new elements"}
    assert before.pop("kiln")
    assert after == before
    assert copy.stat().st_mode == sample.stat().st_mode


def test_where_no_copy_can_be_made_the_file_is_left_as_it_was(sample, next_step):
    place = sample.rename(sample.with_name(f"{'long' * 60}.db"))  # too long with more behind it
    before = place.read_bytes()
    next_step()
    with pytest.raises(DatabaseProblem, match="unable to open") as refused:
        open_database(settings.database_url(str(place)))
    assert "a place you may write to" in refused.value.hint
    assert place.read_bytes() == before


def test_a_step_that_fails_leaves_the_database_as_it_was(sample, next_step):
    before = all_rows(sample)
    next_step(then='op.execute("INSERT INTO no_such_table VALUES (1)")')
    with pytest.raises(DatabaseProblem, match="no such table"):
        open_database(settings.database_url(str(sample)))
    assert all_rows(sample) == before
    with closing(sqlite3.connect(sample)) as connection:
        columns = [row[1] for row in connection.execute("PRAGMA table_info(tile)")]
    assert "kept_in" not in columns


def test_a_step_on_a_server_fails_or_is_done_as_a_whole(postgresql_url, next_step):
    url = settings.database_url(postgresql_url)
    open_database(url, create=True).engine.dispose()
    next_step(then='op.execute("INSERT INTO no_such_table VALUES (1)")')
    with pytest.raises(DatabaseProblem, match="no_such_table"):
        open_database(url)
    next_step()
    opened = open_database(url)
    columns = [each["name"] for each in inspect(opened.engine).get_columns("tile")]
    opened.engine.dispose()
    assert columns.count("kept_in") == 1

"""Two people at once, on both back ends: one waits or is told plainly, and nothing is lost."""

import threading
from concurrent.futures import ThreadPoolExecutor, wait
from contextlib import suppress

import pytest
from alembic import command
from sqlalchemy import create_engine, text

from tiles import settings
from tiles.errors import AlreadyOnRecord, DatabaseProblem
from tiles.records import database as database_module
from tiles.records import forms, migrations, models, quick, reading, store
from tiles.records.database import REVISION, open_database


def at_once(*works):
    """Do each in a thread of its own: what each gave, or the error it ended with."""
    with ThreadPoolExecutor(len(works)) as pool:
        done = [pool.submit(work) for work in works]
    return [each.exception() or each.result() for each in done]


@pytest.fixture
def meet_after(monkeypatch):
    """Have two threads wait for each other once both have called a function, where they can."""

    def patch(module, name):
        real, barrier, here = getattr(module, name), threading.Barrier(2), threading.local()

        def call(*arguments, **named):
            result = real(*arguments, **named)
            if not getattr(here, "has_met", False):
                here.has_met = True
                with suppress(threading.BrokenBarrierError):
                    barrier.wait(timeout=2)  # the other may be kept out by a lock
            return result

        monkeypatch.setattr(module, name, call)

    return patch


def test_two_first_commands_at_once_both_find_a_database(database_url, meet_after):
    url = settings.database_url(database_url)
    meet_after(database_module, "_stored_revision")

    def add(name):
        with open_database(url, create=True).transaction() as session:
            return store.add_body(session, forms.BodyRecord(name=name)).name

    assert at_once(lambda: add("red"), lambda: add("white")) == ["red", "white"]
    with open_database(url).transaction() as session:
        assert {row.name for row in session.query(models.ClayBody)} == {"red", "white"}


def test_two_commands_at_once_bring_an_older_database_up_to_date_once(database_url, meet_after):
    url = settings.database_url(database_url)
    engine = create_engine(url)
    with engine.begin() as connection:
        command.upgrade(migrations.config(connection), "0001")
    engine.dispose()
    meet_after(database_module, "_stored_revision")

    def revision():
        with open_database(url).transaction() as session:
            return session.scalar(text("SELECT version_num FROM alembic_version"))

    assert at_once(revision, revision) == [REVISION, REVISION]


@pytest.fixture
def with_tile(database):
    """A database with the tile M-1."""
    layers = [{"glaze": "pond green", "coats": 2}]
    values = {"mark": "M-1", "body": "red", "areas": [{"number": 1, "layers": layers}]}
    with database.transaction() as session:
        store.add_body(session, forms.BodyRecord(name="red"))
        store.add_glaze(session, forms.GlazeRecord(name="pond green"))
        store.add_tile(session, forms.read(forms.TileRecord, values))
    return database


def look(database, defect):
    """Write down a look at M-1."""
    seen = {"inspected_on": "2026-03-02", "defects": [{"defect": defect}]}
    with database.transaction() as session:
        store.add_inspection(session, "M-1", forms.read(forms.InspectionRecord, seen))


def looks(session):
    """The defects of all looks at M-1, as they are stored now."""
    session.expire_all()
    record = reading.tile_record(store.get_tile(session, "M-1"))
    return [seen.defect for each in record.inspections for seen in each.defects]


def test_of_two_looks_at_one_tile_at_once_both_are_kept(with_tile, meet_after):
    meet_after(store.tile, "get_tile")
    two = [lambda: look(with_tile, "crazing"), lambda: look(with_tile, "crawling")]
    assert at_once(*two) == [None, None]
    with with_tile.transaction(looking=True) as session:
        assert sorted(looks(session)) == ["crawling", "crazing"]
        (area,) = reading.tile_record(store.get_tile(session, "M-1")).areas
        assert len(area.layers) == 1


@pytest.mark.parametrize("names", [("white", "white"), ("Buff", "buff")])
def test_a_name_added_twice_at_once_is_on_record_once(database, meet_after, names):
    meet_after(store.belongings, "look_up")

    def add(name):
        with database.transaction() as session:
            store.add_body(session, forms.BodyRecord(name=name))

    ended = at_once(*(lambda name=name: add(name) for name in names))
    assert sorted(type(each) for each in ended if each) == [AlreadyOnRecord]
    with database.transaction(looking=True) as session:
        assert session.query(models.ClayBody).count() == 1


def test_who_looks_sees_one_moment_whatever_is_written_meanwhile(with_tile):
    with ThreadPoolExecutor(1) as other:
        with with_tile.transaction(looking=True) as session:
            assert looks(session) == []
            written = other.submit(look, with_tile, "crazing")
            wait([written], timeout=1)  # a file waits with its last step until nobody looks
            assert looks(session) == []
        assert written.result() is None
    with with_tile.transaction(looking=True) as session:
        assert looks(session) == ["crazing"]


@pytest.mark.parametrize("database", ["sqlite"], indirect=True)
def test_the_quick_reader_sees_one_moment_too(with_tile, monkeypatch):
    real, begun = quick._rows, []
    with ThreadPoolExecutor(1) as other:

        def rows(connection, table, *how):
            if table == "layer" and not begun:
                begun.append(other.submit(look, with_tile, "crazing"))
                wait(begun, timeout=1)
            return real(connection, table, *how)

        monkeypatch.setattr(quick, "_rows", rows)
        record = quick.find_record(with_tile.url, "M-1")
    assert [len(area.layers) for area in record.areas] == [1]
    assert record.inspections == []
    assert quick.find_record(with_tile.url, "M-1").inspections != []


def test_who_looks_does_not_wait_for_who_writes(with_tile):
    with with_tile.transaction() as writing:
        store.rename(writing, models.ClayBody, "red", "brick")
        with open_database(with_tile.url).transaction(looking=True) as session:
            assert store.get_tile(session, "M-1").body.name == "red"


def test_who_looks_can_write_nothing(with_tile):
    with (
        pytest.raises(DatabaseProblem, match="read-?only"),
        with_tile.transaction(looking=True) as session,
    ):
        store.rename(session, models.ClayBody, "red", "brick")


def test_who_has_waited_long_for_another_to_write_is_told(with_tile, monkeypatch):
    monkeypatch.setattr(database_module, "BUSY_TIMEOUT_S", 0.05)
    with with_tile.transaction() as session:
        store.rename(session, models.ClayBody, "red", "brick")
        with pytest.raises(DatabaseProblem) as told:
            look(open_database(with_tile.url), "crazing")
    assert "close the other program" in told.value.hint
    assert "\n" not in str(told.value)


def test_who_waits_for_a_moment_only_is_told_nothing_and_then_what_for(with_tile, monkeypatch):
    told = []
    opened = open_database(with_tile.url, waiting=lambda: told.append("waiting"))
    look(opened, "crazing")
    monkeypatch.setattr(database_module, "TELL_AFTER_S", 0.1)
    with ThreadPoolExecutor(1) as other:
        with with_tile.transaction() as session:
            store.rename(session, models.ClayBody, "red", "brick")
            written = other.submit(look, opened, "crawling")
            wait([written], timeout=0.6)
            assert (told, written.done()) == (["waiting"], False)
        assert written.result() is None
    with with_tile.transaction(looking=True) as session:
        assert sorted(looks(session)) == ["crawling", "crazing"]

"""Two people at once, on both back ends: one waits or is told plainly, and nothing is lost."""

import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress

import pytest
from alembic import command
from sqlalchemy import create_engine, text

from tiles import settings
from tiles.records import database as database_module
from tiles.records import forms, migrations, models, store
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

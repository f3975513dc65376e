"""A database that cannot be used in the middle of a walk: what is not stored is told and kept."""

import sqlite3
from contextlib import closing
from datetime import date

import pytest

from tiles.cli import unload, unload_lost
from tiles.errors import DatabaseProblem
from tiles.records import database as database_module
from tiles.records import forms, reading, store
from tiles.settings import sqlite_file

DAY = date(2026, 11, 3)
PAUSE = None


@pytest.fixture
def load(sqlite_database):
    """Three tiles of a firing, as they are on record."""
    body, firing = {"name": "red clay"}, {"name": "F1"}
    layer = {"glaze": "moss", "coats": 2}
    with sqlite_database.transaction() as session:
        store.add_body(session, forms.BodyRecord(**body))
        store.add_glaze(session, forms.GlazeRecord(name="moss"))
        store.add_firing(session, forms.FiringRecord(**firing))
        for mark in ("L-1", "L-2", "L-3"):
            values = {"mark": mark, "body": body, "firing": firing}
            values["areas"] = [{"number": 1, "layers": [layer]}]
            store.add_tile(session, forms.read(forms.TileRecord, values))
    return str(sqlite_file(sqlite_database.url))


def records(database, *marks):
    with database.transaction(looking=True) as session:
        return [reading.tile_record(store.get_tile(session, mark)) for mark in marks]


def test_the_tile_that_is_not_stored_is_told_with_those_that_are(
    load, sqlite_database, keyboard, monkeypatch, capsys
):
    monkeypatch.setattr(database_module, "BUSY_TIMEOUT_S", 0.05)
    walked = records(sqlite_database, "L-1", "L-2", "L-3")
    with closing(sqlite3.connect(load, isolation_level=None)) as other:
        keyboard("\n", PAUSE, "c", PAUSE, "2", PAUSE, "\n", PAUSE, "y", PAUSE, "n")
        real, asked = unload._ask_tile, []

        def ask_tile(*said, **how):
            answer = real(*said, **how)
            asked.append(answer)
            if len(asked) == 2:  # while the second is looked at
                other.execute("BEGIN IMMEDIATE")
            return answer

        monkeypatch.setattr(unload, "_ask_tile", ask_tile)
        with pytest.raises(DatabaseProblem) as told:
            unload._walk(walked, DAY, None, load)
        other.execute("ROLLBACK")
    lost = "L-2 is NOT stored (moderate crazing)."
    assert capsys.readouterr().out.count(f"{lost} It is kept until you stop.") == 2
    assert f"{lost} Stored in this walk: L-1." in told.value.message
    first, second = records(sqlite_database, "L-1", "L-2")
    assert (len(first.inspections), second.inspections) == (1, [])


def test_what_was_keyed_is_stored_once_the_database_can_be_used_again(keyboard, load):
    keyboard("y")
    tries = []

    def put():
        tries.append(1)
        if len(tries) == 1:
            raise DatabaseProblem("the database cannot be used.", "that the server is running.")
        return True

    record = forms.read(forms.TileRecord, {"mark": "L-1", "body": "red clay"})
    assert unload_lost.once_it_can(put, record, [], []) is True


def test_where_nothing_was_keyed_nothing_is_said_to_be_lost(keyboard, capsys):
    keyboard("n")

    def look_up():
        raise DatabaseProblem("the database cannot be used.", "that the server is running.")

    record = forms.read(forms.TileRecord, {"mark": "L-1", "body": "red clay"})
    with pytest.raises(DatabaseProblem, match=r"used\. Stored in this walk: nothing\.") as told:
        unload_lost.once_it_can(look_up, record, None, {})
    assert "NOT" not in f"{told.value}{capsys.readouterr().out}"

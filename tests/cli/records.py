"""What the command tests compare: every row of a SQLite file, and records as JSON."""

import json
import sqlite3
from contextlib import closing

RECORD = {"mark": "N-1", "body": "red earthenware", "areas": [
    {"number": 1, "layers": [{"glaze": "pond green", "coats": 2}]}]}  # fmt: skip
"""A record of few words, as a JSON file has it."""


def all_rows(file):
    """Every row of every table, in a fixed order."""
    with closing(sqlite3.connect(file)) as connection:
        tables = [
            name
            for (name,) in connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"
            )
        ]
        return {name: connection.execute(f"SELECT * FROM {name}").fetchall() for name in tables}


def counts(file):
    """The number of rows of every table."""
    return {name: len(rows) for name, rows in all_rows(file).items()}


def palette_rows(tiles, *options) -> list[dict]:
    """The lines of a palette."""
    ran = tiles("palette", *options, "--json")
    assert (ran.code, ran.err) == (0, "")
    return json.loads(ran.out)


def shown(tiles, mark, *options):
    """The record that ``tiles show MARK --json`` prints."""
    ran = tiles("show", mark, "--json", *options)
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def row(tiles, subject, name):
    """What ``tiles SUBJECT show NAME --json`` prints."""
    return json.loads(tiles(subject, "show", name, "--json").out)


def assert_one_line_error(ran, *parts, code=1):
    """One line on standard error, nothing on standard output, the exit code, the words."""
    assert ran.code == code
    assert ran.out == ""
    assert ran.err.startswith("Error: ")
    assert ran.err.count("\n") == 1
    assert "Try: " in ran.err
    for part in parts:
        assert part in ran.err

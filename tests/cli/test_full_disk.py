"""A disk that is full, text that no database takes, and Ctrl-C at once: one line, nothing half."""

import errno
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from sqlalchemy import event

from tests.cli.records import RECORD, all_rows, assert_one_line_error
from tests.conftest import ROOT
from tiles.records import database

FULL = Path("/dev/full")
LONG = "full " * 1900


@pytest.mark.skipif(not FULL.exists(), reason="no device that is always full")
@pytest.mark.parametrize(
    "options", [["find"], ["find", "--json"], ["find", "--csv"], ["show", "M-41"]]
)
def test_what_cannot_be_printed_is_told_in_one_line(sample, options):
    with FULL.open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "tiles", *options],
            stdout=full, stderr=subprocess.PIPE, text=True, cwd=ROOT, check=False,
            stdin=subprocess.DEVNULL,
        )  # fmt: skip
    assert done.returncode == 1
    (line,) = done.stderr.splitlines()[-1:]
    assert line.startswith("Error: what was found cannot be printed: No space left on device. Try:")
    assert "Traceback" not in done.stderr and "ignored" not in done.stderr


@pytest.fixture
def full_disk(monkeypatch):
    """Each file of the user's takes some of what is written, and then no more."""

    def write_text(file, text, encoding):
        file.write_bytes(text[:100].encode(encoding))
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    class Cut:
        def writerow(self, _row):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_text", write_text)
    monkeypatch.setattr("tiles.exchange.flat_csv.csv.writer", lambda *_, **__: Cut())


@pytest.mark.parametrize("command", [("export", "e.json"), ("export", "e.csv"),
                                     ("import", "--template", "e.csv")])  # fmt: skip
def test_a_file_that_cannot_be_written_whole_is_not_there(
    sample, tiles, tmp_path, monkeypatch, full_disk, command
):
    folder = tmp_path / "out"
    folder.mkdir()
    monkeypatch.chdir(folder)
    ran = tiles(*command)
    assert_one_line_error(ran, "cannot be written: No space left on device", command[-1][1:])
    assert list(folder.iterdir()) == []


def test_a_picture_that_cannot_be_kept_whole_is_not_kept(sample, tiles, tmp_path, monkeypatch):
    from PIL import Image

    picture = tmp_path / "seen.png"
    Image.new("RGB", (9, 9)).save(picture)
    folder = tmp_path / "pictures"
    monkeypatch.setenv("TILES_PHOTOS", str(folder))

    def save(_picture, file, **_how):
        Path(file).write_bytes(b"cut")
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Image.Image, "save", save)
    assert_one_line_error(tiles("photo", "M-41", str(picture)), "No space left on device")
    assert not folder.exists()


@pytest.mark.parametrize(
    "command",
    [
        (
            "log",
            "--mark",
            "N-1",
            "--body",
            "red earthenware",
            "--glaze",
            "pond green",
            "--note",
            LONG,
        ),
        ("change", "M-41", "--note", LONG),
        (
            "plan",
            "--body",
            "red earthenware",
            "--glaze",
            "pond green",
            "--first-mark",
            "N-1",
            "--trial-of",
            "M-41",
            "--trial-defect",
            "crawling",
            "--trial-change",
            LONG,
            "--yes",
        ),
        ("import", "n-1.json"),
    ],
    ids=lambda command: command[0],
)
def test_a_database_on_a_full_disk_says_so_and_stays_as_it_was(
    sample, tiles, tmp_path, monkeypatch, command
):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "n-1.json").write_text(json.dumps(RECORD | {"note": LONG}))
    engine_of = database._engine

    def small(*how):
        engine = engine_of(*how)
        event.listen(engine, "connect", lambda connection, _: connection.execute(
            "PRAGMA max_page_count = 1"))  # fmt: skip
        return engine

    monkeypatch.setattr(database, "_engine", small)
    before = all_rows(sample)
    ran = tiles(*command)
    assert_one_line_error(ran, "database or disk is full", "some space on its disk")
    assert "server" not in ran.err and "savepoint" not in ran.err
    assert all_rows(sample) == before


@pytest.mark.parametrize("place", [{"note": "a\0b"}, {"shelf": "a\0b"}, {"body": "red\0"}])
def test_text_with_the_sign_nul_is_refused_where_it_stands(sample, tiles, write_json, place):
    before = all_rows(sample)
    ran = tiles("import", str(write_json(RECORD | place)))
    (field,) = place
    assert_one_line_error(ran, "it holds the sign NUL", "body" if field == "body" else field)
    assert all_rows(sample) == before


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("x\x07 rang", "it holds U+0007, a command to a screen"),
        ("\x1b[31mred", "it holds U+001B, a command to a screen"),
        ("der\u202e", "it holds U+202E, a command to a screen"),
        ("\ud83d x", "it holds half of a sign, which no text can"),
    ],
)
def test_text_that_commands_a_screen_or_is_half_a_sign_is_refused(
    sample, tiles, tmp_path, note, told
):
    before = all_rows(sample)
    file = tmp_path / "record.json"
    file.write_text(json.dumps(RECORD | {"note": note}))
    ran = tiles("import", str(file))
    assert_one_line_error(ran, told, "correct note or leave it out")
    assert ran.err.rstrip("\n").isprintable()
    assert all_rows(sample) == before


def test_lines_and_tabs_are_text(sample, tiles, write_json):
    assert tiles("import", str(write_json(RECORD | {"note": "one\r\n\ttwo"}))).code == 0


INTERRUPTED = """
import runpy, sys
class Stops:
    def find_spec(self, name, path=None, target=None):
        if name == {name!r}:
            raise KeyboardInterrupt
sys.meta_path.insert(0, Stops())
sys.argv = ["tiles", "find"]
runpy.run_module("tiles", run_name="__main__")
"""


@pytest.mark.parametrize("name", ["typer", "tiles.cli.app", "tiles.cli.find", "sqlite3"])
def test_ctrl_c_while_the_program_is_loading_is_told_in_one_line(sample, name):
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED.format(name=name)],
        capture_output=True, text=True, cwd=ROOT, check=False, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr.strip() == "Stopped. Nothing more was stored."

"""What a command loads. The module lists come from real processes, printed at their end."""

import subprocess
import sys

import pytest

from tests.conftest import ROOT

NEVER_FOR_HELP = {
    "sqlmodel",
    "sqlalchemy",
    "pydantic",
    "pandas",
    "numpy",
    "sklearn",
    "scipy",
    "matplotlib",
    "PIL",
    "alembic",
}
NEVER_FOR_RECORDS = NEVER_FOR_HELP - {"sqlmodel", "sqlalchemy", "pydantic"}

REPORT = """
import atexit, sys
atexit.register(lambda: print("LOADED", *sorted({name.split(".")[0] for name in sys.modules}),
                              file=sys.stderr))
sys.argv[0] = "tiles"
from tiles.cli.main import run
run()
"""


def loaded_by(*arguments):
    """The top-level modules in memory when the command ends."""
    done = subprocess.run(
        [sys.executable, "-c", REPORT, *arguments],
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        cwd=ROOT,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    *_, last = done.stderr.splitlines()
    mark, *names = last.split()
    assert mark == "LOADED"
    assert {"tiles", "typer"} <= set(names)
    return set(names)


@pytest.mark.parametrize("option", ["--help", "--version"])
def test_help_and_version_load_no_heavy_library(option):
    assert not loaded_by(option) & NEVER_FOR_HELP


@pytest.mark.parametrize(
    "arguments",
    [["find", "--help"], ["why", "--help"], ["body", "add", "--help"], ["words"], ["clues"]],
    ids=" ".join,
)
def test_the_help_of_a_command_and_the_word_lists_need_no_database_library(arguments):
    # The command-line framework itself loads pydantic to read a command's options.
    assert not loaded_by(*arguments) & (NEVER_FOR_HELP - {"pydantic"})


@pytest.mark.parametrize(
    "arguments",
    [
        ["find", "--clean", "--cone", "05", "--body", "red earthenware"],
        ["find", "--defect", "crawling", "--json"],
        ["why", "M-41"],
        ["why", "M-41", "--defect", "crawling", "--json"],
        ["show", "M-41", "--json"],
    ],
    ids=" ".join,
)
def test_finding_and_asking_why_load_no_table_learning_or_picture_library(sample, arguments):
    loaded = loaded_by(*arguments)
    assert {"sqlalchemy", "sqlite3"} & loaded  # a database was read
    assert not loaded & NEVER_FOR_RECORDS


def test_logging_a_tile_loads_no_table_learning_picture_or_migration_library(sample):
    loaded = loaded_by("log", "--mark", "N-1", "--body", "red earthenware", "--clean")
    assert not loaded & NEVER_FOR_RECORDS


def test_building_the_sample_loads_a_picture_library_but_no_learning(tmp_path):
    loaded = loaded_by("demo", str(tmp_path / "demo"))
    assert "PIL" in loaded  # the list does tell what is loaded
    assert not loaded & (NEVER_FOR_RECORDS - {"PIL"})

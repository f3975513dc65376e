"""Databases and files that several tests of the commands share."""

import json
import shutil

import pytest

from tests.cli.unloading import AREAS, PLAIN, tile
from tiles import settings
from tiles.records import forms, store
from tiles.records.database import open_database


@pytest.fixture(scope="session", autouse=True)
def _learned_once(learned_once):
    """Here every command shares what was learned."""


@pytest.fixture(scope="module")
def load_template(sample_template, tmp_path_factory):
    """Twelve tiles in one firing, the last of them with three areas; nothing looked at yet."""
    file = tmp_path_factory.mktemp("load") / "load.db"
    shutil.copyfile(sample_template, file)
    opened = open_database(settings.database_url(str(file)))
    with opened.transaction() as session:
        store.add_firing(session, forms.FiringRecord(name="F40", target_cone="05"))
        for mark in PLAIN:
            store.add_tile(session, tile(mark, "studio clear", [2]))
        store.add_tile(session, tile(AREAS, "pond green", [1, 2, 3]))
    opened.engine.dispose()
    return file


@pytest.fixture
def load(load_template, tmp_path, monkeypatch):
    file = tmp_path / "load.db"
    shutil.copyfile(load_template, file)
    monkeypatch.setenv("TILES_DB", str(file))
    return file


@pytest.fixture
def after_a_tile(sample, tiles):
    """A sample in which N-7 was written down last, its glaze a jar without a batch."""
    assert tiles("glaze", "rename", "pond green", "ditch green").code == 0
    assert tiles("glaze", "add", "pond green", "--cones", "06-04").code == 0
    ran = tiles(
        "log", "--mark", "N-7", "--body", "red earthenware", "--glaze", "white slip=2",
        "--glaze", "pond green", "--coats", "3", "--bisque-cone", "04", "--firing", "F12",
        "--shelf", "top", "--cone-reached", "05", "--clean",
    )  # fmt: skip
    assert ran.code == 0, ran.err
    return sample


@pytest.fixture
def write(tmp_path):
    """A CSV file of these lines."""

    def lines(*told: str):
        file = tmp_path / "in.csv"
        file.write_text("\n".join(told) + "\n", encoding="utf-8")
        return file

    return lines


@pytest.fixture
def write_json(tmp_path):
    """A JSON file of records."""

    def write_file(value, name="record.json"):
        file = tmp_path / name
        file.write_text(json.dumps(value, ensure_ascii=False), encoding="utf-8")
        return file

    return write_file


@pytest.fixture
def tile_of_two_areas(sample, tiles):
    """A tile with two areas, looked at once."""
    ran = tiles(
        "log", "--mark", "N-1", "--body", "red earthenware", "--glaze", "pond green",
        "--coats", "1,2", "--thickness-mm", "0.3,0.6", "--firing", "F12", "--cone-reached", "05",
        "--shelf", "top", "--clue", "bisque_wiped=no", "--note", "first words",
        "--defect", "crawling@2", "--inspected-on", "2026-01-05",
    )  # fmt: skip
    assert ran.code == 0, ran.err
    return sample


@pytest.fixture(scope="session")
def _made_before(tmp_path_factory):
    """Databases that tests have made, each by what tells it from the others."""
    return tmp_path_factory.mktemp("made"), {}


@pytest.fixture
def made_once(_made_before, fresh):
    """A new database, made by ``make`` the first time and after that a copy of that one."""
    folder, known = _made_before

    def once(what: str, make):
        if what in known:
            shutil.copyfile(known[what], fresh)
            return
        make()
        known[what] = folder / f"{len(known)}.db"
        shutil.copyfile(fresh, known[what])

    return once


@pytest.fixture
def imported(made_once, tiles, tmp_path):
    """A new database of the tiles in these lines of a CSV file."""

    def of(lines: list[str]):
        def make():
            sheet.write_text(text, encoding="utf-8")
            ran = tiles("import", sheet, "--yes")
            assert ran.code == 0, ran.err

        sheet, text = tmp_path / "term.csv", "\n".join(lines)
        made_once(text, make)

    return of

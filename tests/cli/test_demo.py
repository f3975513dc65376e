"""``tiles demo``: the three answers on screen, from a real process."""

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.cli.demo import _heading
from tiles.errors import shell_setting


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The demo built once by a real process: its folder and what it said."""
    import subprocess
    import sys

    from tests.conftest import ROOT

    folder = tmp_path_factory.mktemp("demo") / "here"
    done = subprocess.run(
        [sys.executable, "-m", "tiles", "demo", str(folder)],
        capture_output=True, text=True, cwd=ROOT, stdin=subprocess.DEVNULL, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return folder, done.stdout, done.stderr


def test_demo_shows_the_three_answers_and_what_to_try_next(demo):
    folder, said, _ = demo
    assert "invented" in said
    logged, found, why, following = (
        said.index(part)
        for part in (
            "DEMO-1 is on record: severe crawling",
            "--clean --cone 05",
            "tiles why M-",
            "Try next",
        )
    )
    assert logged < found < why < following
    answer = said[why:following]
    for part in ("CRAWLING", "%  The coat was too thick", "to be sure", "fix"):
        assert part in answer
    assert shell_setting("TILES_DB", str(folder / "sample.db")) in said


def test_on_windows_a_command_of_the_demo_is_one_line(monkeypatch, capsys):
    monkeypatch.setattr("tiles.cli.demo.IS_WINDOWS", True)
    _heading(1, "Written down", 'tiles log --coats 3 \\\n    --defect "crawling"')
    assert capsys.readouterr().out.splitlines()[1] == '> tiles log --coats 3 --defect "crawling"'


def test_demo_leaves_a_database_with_pictures_that_can_be_used(demo, tiles):
    folder, _, _ = demo
    db = folder / "sample.db"
    assert {file.name for file in folder.iterdir()} == {"sample.db", "sample-photos"}
    assert shown(tiles, "DEMO-1", "--db", db)["derived"]["clean"] is False
    photos = shown(tiles, "M-41", "--db", db)["photos"]
    assert photos
    assert all((folder / "sample-photos" / photo["file"]).is_file() for photo in photos)


def test_demo_does_not_write_over_a_database(demo, tiles):
    folder, _, _ = demo
    before = all_rows(folder / "sample.db")
    assert_one_line_error(tiles("demo", folder), "already there", "another folder")
    assert all_rows(folder / "sample.db") == before


def test_two_demos_are_the_same(demo, sample_template):
    """The builder is deterministic: only pictures and the tile logged on stage differ."""
    folder, _, _ = demo
    here, there = all_rows(folder / "sample.db"), all_rows(sample_template)
    assert there.pop("photo") == []
    assert here.pop("photo")
    for name, rows in there.items():
        assert here[name][: len(rows)] == rows, name
    assert len(here["tile"]) == len(there["tile"]) + 1

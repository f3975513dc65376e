"""A record of failures alone: its counts are told with a warning, and no chance is."""

import json

import pytest

ASKED = (
    ("learn",), ("forecast", "--body", "red", "--glaze", "snow", "--coats", "2"), ("palette",),
    ("palette", "--only-clean"), ("find",), ("why", "T-0"), ("why", "T-0", "--all"),
    ("why", "--glaze", "snow"), ("why", "--defect", "crawling"),
)  # fmt: skip
TOLD = "Of 24 tiles looked at none is clean: failures alone are on record"


@pytest.fixture
def failures(fresh, tiles, tmp_path):
    """A studio that wrote down only what failed."""
    lines = ["mark,body,glaze,coats,cone_reached,inspected_on,defect_crawling,defect_crazing"]
    for number in range(24):
        body, coats = ("red", "white")[number % 2], 1 + number % 3
        fault = "severe,none" if number % 2 == 0 else "none,severe"
        lines.append(f"T-{number},{body},snow,{coats},^05,2026-03-02,{fault}")
    (tmp_path / "failures.csv").write_text("\n".join(lines), encoding="utf-8")
    ran = tiles("import", tmp_path / "failures.csv", "--yes")
    assert ran.code == 0, ran.err


def test_every_count_says_once_that_failures_alone_are_on_record(failures, tiles):
    for command in ASKED:
        ran = tiles(*command)
        said = " ".join(f"{ran.out} {ran.err}".split())
        assert said.count(TOLD) == 1, command
        assert "as well: tiles log --clean" in said


def test_no_chance_is_told_from_failures_alone(failures, tiles):
    forecast = ("forecast", "--body", "red", "--glaze", "snow", "--coats", "2", "--cone", "05")
    (area,) = json.loads(tiles(*forecast, "--json").out)["areas"]
    assert {each["chance"] for each in area["forecasts"]} == {None}
    states = {each["defect"]: each["state"] for each in area["forecasts"]}
    assert states["crawling"] == states["crazing"] == "failures only"
    assert states["pinholes"] == "seen too rarely"
    learned = json.loads(tiles("learn", "--json").out)
    assert learned["failures_only"] is True
    assert {each["state"] for each in learned["defects"]} == {"failures only", "seen too rarely"}


def test_a_glaze_that_always_failed_beside_sound_ones_of_another_is_no_such_record(failures, tiles):
    for number in range(3):
        log = ("log", "--mark", f"C-{number}", "--body", "red", "--glaze", "ink", "--add-missing")
        assert tiles(*log, "--clean").code == 0
    for command in ASKED:
        ran = tiles(*command)
        assert "failures alone" not in f"{ran.out} {ran.err}", command
    assert json.loads(tiles("learn", "--json").out)["failures_only"] is False

"""``tiles rules``: the rule base as a person and as a program reads it."""

import json
import re

import pytest

from diagnose.rules import load
from tests.cli.records import assert_one_line_error
from tiles.records import words


def test_the_list_counts_the_causes_and_signs_of_every_defect(tiles):
    found = json.loads(tiles("rules", "--json").out)
    assert [row["defect"] for row in found] == list(words.DEFECTS)
    for row in found:
        assert row["causes"] == len(load(row["defect"]).causes)
    assert "crawling" in tiles("rules").out


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_every_cause_is_told_with_its_signs_and_how_firm_they_are(tiles, monkeypatch, defect):
    monkeypatch.setenv("COLUMNS", "80")
    told = tiles("rules", defect, "--all").out
    one_line = " ".join(told.split())
    assert max(map(len, told.splitlines())) <= 80
    for cause in load(defect).causes:
        assert f"[{cause.name}, beforehand" in one_line
        assert cause.mechanism in one_line
        for sign in cause.signs:
            assert f"[{sign.tag}" in one_line
            for number in (sign.counts_fully, sign.against_fully):
                assert number is None or f"{number:g}" in one_line


@pytest.mark.parametrize("columns", [50, 80])
@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_defect_alone_gives_every_cause_in_whole_words_and_its_shares(
    tiles, monkeypatch, defect, columns
):
    monkeypatch.setenv("COLUMNS", str(columns))
    lines = tiles("rules", defect).out.splitlines()
    assert max(map(len, lines)) <= columns
    causes = load(defect).causes
    one_line = " ".join(" ".join(lines).split()).casefold()
    assert all(cause.title.casefold() in one_line for cause in causes)
    shares = [cause.prior["low_fire"] + cause.prior["mid_range"] for cause in causes]
    found = [re.match(r" ?\d+ +([\d.]+) / ([\d.]+)  ", line) for line in lines]
    sums = [sum(map(float, each.groups())) for each in found if each]
    assert sums == sorted(shares, reverse=True)


def test_a_cause_is_found_by_the_number_the_summary_gives_it(tiles, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    second = tiles("rules", "crawling").out.splitlines()[2]
    told = tiles("rules", "crawling", "--cause", "2").out
    title = second.split("  ")[-1].strip()
    assert f"2. {title}" in " ".join(told.split())
    shape = json.loads(tiles("rules", "crawling", "--cause", "2", "--json").out)
    assert [cause["title"].casefold() for cause in shape["causes"]] == [title.casefold()]
    for advice in (shape["causes"][0]["confirm"], shape["causes"][0]["fixes"]):
        assert advice and all(isinstance(text, str) for text in advice)


def test_signs_are_told_in_words_a_teacher_uses(tiles):
    told = " ".join(tiles("rules", "crazing", "--all").out.split())
    assert "on one tile the thick area is worse than the thin one (more than 0.4" in told
    assert "bisque cooler than cone 04 by: more than 0.5, in full from 3 cones" in told
    assert "counts in full at the second" in told
    fluid = " ".join(tiles("rules", "running", "--all").out.split())
    assert "log10 Pa.s (3 is 1000 Pa.s" in fluid


def test_one_cause_alone_can_be_read(tiles):
    told = tiles("rules", "crawling", "--cause", "coat_too_thick").out
    assert "coat_too_thick" in told
    assert "wax_splash" not in told
    shape = json.loads(tiles("rules", "crawling", "--cause", "coat_too_thick", "--json").out)
    (cause,) = shape["causes"]
    assert cause["signs"]
    assert set(cause["prior"]) == {"low_fire", "mid_range"}


@pytest.mark.parametrize(
    "asked", ["The coat was too thick", "too thick", "coat too thick", "coat_too_thick", "1"]
)
def test_a_cause_is_found_by_its_title_or_words_of_it(tiles, asked):
    shape = json.loads(tiles("rules", "crawling", "--cause", asked, "--json").out)
    assert [cause["name"] for cause in shape["causes"]] == ["coat_too_thick"]


def test_priors_are_said_to_be_estimates_and_looks_that_are_no_fault_to_be_none(tiles):
    told = " ".join(tiles("rules", "crazing", "--all").out.split())
    assert "are estimates" in told
    assert "NOT A FAULT" in told
    assert "REALLY DUNTING" in told


@pytest.mark.parametrize(
    ("arguments", "part"),
    [
        (["rules", "crawlin"], "crawling"),
        (["rules", "crawling", "--cause", "gremlins"], "tiles rules crawling lists them"),
        (["rules", "unwanted matt", "--cause", "x"], 'tiles rules "unwanted matt" lists them'),
        (["rules", "crawling", "--cause", "bisque"], "causes of crawling name 'bisque'. Try: "),
    ],
)
def test_an_unknown_defect_or_cause_is_one_clear_line(tiles, arguments, part):
    assert_one_line_error(tiles(*arguments), part)


@pytest.mark.parametrize("option", [["--cause", "3"], ["--all"]])
def test_a_cause_of_no_defect_is_asked_about(tiles, option):
    assert_one_line_error(tiles("rules", *option), f"{option[0]} without a defect", "tiles rules")

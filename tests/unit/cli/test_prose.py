"""Lines that fit the screen: whole words, whole commands, keys in as many columns as there are."""

import pytest

from tiles.cli.ask import ask, key_list
from tiles.cli.prose import KEPT_FREE, between_words, fitting
from tiles.cli.unload import DEFECT_KEYS
from tiles.cli.unload_faults import SEVERITY_KEYS

QUESTION = "What do you see? clean, or defects (crawling:severe, pinholes) [crazing, shivering]:"
ERROR = "Error: no tile is marked 'K-9'. Try: K-8, or 'tiles find --body red' to list marks."
CHECK = "Check: a 0 too many or too few? 'K-02' beside 'K-1'. If so: tiles change K-02 --mark K-2"
SPOKEN = (QUESTION, ERROR, CHECK, "Planned.", "")


@pytest.fixture(params=[120, 80, 60, 40, 20])
def columns(request, monkeypatch):
    monkeypatch.setenv("COLUMNS", str(request.param))
    return request.param


@pytest.mark.parametrize("text", SPOKEN)
def test_a_line_goes_on_below_between_words_and_loses_none(columns, text):
    lines = between_words(text)
    assert " ".join(lines) == text
    assert all(len(line) <= columns or " " not in line or "tiles " in line for line in lines)


def test_a_question_of_several_lines_keeps_its_lines(monkeypatch, capsys):
    prompts = []
    monkeypatch.setattr("builtins.input", lambda prompt: prompts.append(prompt) or "no")
    assert ask("1. Was it worst where\n   thick? (yes/no)") == "no"
    assert capsys.readouterr().out == "1. Was it worst where\n"
    assert prompts == ["   thick? (yes/no): "]


def test_a_command_to_paste_is_never_broken(columns):
    assert any("'tiles find --body red'" in line for line in between_words(ERROR))
    assert between_words(CHECK)[-1].endswith("tiles change K-02 --mark K-2")
    assert between_words("  tiles import my file.csv") == ["  tiles import my file.csv"]


@pytest.mark.parametrize("keys", [DEFECT_KEYS, SEVERITY_KEYS, {"\n": "the whole tile", "1": "one"}])
def test_every_key_stands_whole_on_the_screen(columns, keys):
    told = key_list(keys, "  ")
    assert all(meaning in told for meaning in keys.values())
    longest = max(map(len, keys.values())) + len("Enter    ")
    assert all(len(line) <= max(columns, longest) for line in told.splitlines())


@pytest.mark.parametrize(
    ("room", "more", "shown"), [(30, 0, 30), (29, 0, 25), (29, 1, 30), (24, 0, 40), (24, 1, 25)]
)
def test_as_much_is_told_as_fits_a_screen_and_the_last_level_where_none_fits(
    monkeypatch, room, more, shown
):
    monkeypatch.setenv("LINES", str(room + KEPT_FREE))
    assert len(fitting(lambda many: ["told"] * many, [50, 30, 25, 40], more)) == shown

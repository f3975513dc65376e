"""What a question says to an answer that it cannot take."""

import sys
from types import SimpleNamespace

import pytest

from tiles.cli import ask


@pytest.mark.parametrize(
    ("offered", "choices", "typed", "told"),
    [
        ("nothing", ["nothing", "cone"], "-", "Try: Enter for 'nothing', ? for the choices;"),
        (None, ["red clay"], "", "Try: an answer, ? for the choices; Ctrl-C stops, and nothing"),
        (None, None, "?", "Try: an answer; Ctrl-C stops, and nothing is stored."),
    ],
)
def test_a_question_that_must_be_answered_says_what_to_type(
    monkeypatch, capsys, offered, choices, typed, told
):
    answers = iter([typed, "cone"])
    monkeypatch.setattr(ask, "_line", lambda prompt: next(answers))
    listed = (lambda: choices) if choices else None
    assert ask.ask("What", offered, choices=listed, required=True) == "cone"
    assert f"This one is needed. {told}" in capsys.readouterr().err


@pytest.fixture
def pressed_on_windows(monkeypatch):
    """Keys as the keyboard of Windows gives them, which is not here: whole, and asked for."""
    waiting = []
    keyboard = SimpleNamespace(kbhit=lambda: bool(waiting))
    monkeypatch.setitem(sys.modules, "msvcrt", keyboard)
    monkeypatch.setattr(ask, "os", SimpleNamespace(name="nt"))
    monkeypatch.setattr("typer.getchar", lambda: waiting.pop(0))
    monkeypatch.setattr(ask, "_ahead", [])
    return waiting.extend


def test_on_windows_a_word_typed_at_once_is_no_key_for_each_letter(pressed_on_windows):
    pressed_on_windows(["c", "r", "a", "w", "l", "\r"])
    with pytest.raises(ask.Word) as typed:
        ask.key("M-1:", {"r": "running"}, begun="")
    assert typed.value.text == "crawl"


def test_on_windows_a_key_alone_is_that_key(pressed_on_windows):
    pressed_on_windows(["r"])
    assert ask.key("M-1:", {"r": "running"}, begun="") == "r"


def test_on_windows_an_arrow_key_is_no_letter_of_a_word(pressed_on_windows, capsys):
    pressed_on_windows(["\xe0H", "\x00;", "r"])
    assert ask.key("M-1:", {"r": "running"}, begun="x") == "r"
    assert "is no key here" not in capsys.readouterr().out

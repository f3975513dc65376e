"""What a question says to an answer that it cannot take."""

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

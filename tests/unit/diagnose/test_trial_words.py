"""The words of a trial's one change: those that are known again, and what is told of others."""

import re
from pathlib import Path

import pytest

import diagnose
from diagnose.fixes.shapes import ADVISED, UNCHANGED, Change
from diagnose.trials.words import EXAMPLES, written_as

DIAGNOSE = Path(diagnose.__file__).parent
SOURCES = "\n".join(file.read_text(encoding="utf-8") for file in DIAGNOSE.glob("*.py"))
WRITTEN = re.findall(r'Change\("([^"]+)"', SOURCES)
"""What each step says that it changes, as the source names it."""


@pytest.mark.parametrize("what", [*ADVISED, *WRITTEN, "coats of leaf beneath", "kaolin"])
def test_what_the_program_writes_of_a_change_is_known(what):
    for change in (Change(what, 4, 2), Change(what, None, "new", "mm"), Change(what, "a", "b")):
        assert written_as(change.said) is None
        assert written_as(f"{change.said}; dry coat 2 -> 0.9 mm") is None


@pytest.mark.parametrize(
    "text", [UNCHANGED, "2/3 of the way to A", "11 soda feldspar out, 6.5 silica and 4 kaolin in"]
)
def test_controls_and_trial_recipes_are_known(text):
    assert written_as(text) is None


def test_the_examples_are_themselves_written_so():
    for what, example in EXAMPLES.items():
        assert example.startswith(f"{what} ") and written_as(example) is None


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("coat 3 -> 2", "coats 3 -> 2"),
        ("coats 3->2", "coats 3 -> 2"),
        ("Coats 3 -> 2", "coats 3 -> 2"),
        ("bisk cone 06 -> 04", "bisque cone 06 -> 04"),
        ("As it was", UNCHANGED),
        ("hotter bisque", EXAMPLES["bisque cone"]),
        ("another shelf", EXAMPLES["shelf"]),
        ("blah", EXAMPLES["coats"]),
    ],
)
def test_other_words_are_told_what_to_write(text, meant):
    assert written_as(text) == meant

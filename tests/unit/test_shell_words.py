"""Names as they must be typed, in a POSIX shell and on Windows."""

import shlex
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tiles import errors
from tiles.errors import shell_line, shell_setting, shell_word

TYPED = st.text(st.sampled_from("aé5 -=,.:;@#%&|<>(){}[]*?~^'\"\\/!_+x"), min_size=1, max_size=12)


@pytest.fixture
def on_windows(monkeypatch):
    monkeypatch.setattr(errors, "IS_WINDOWS", True)


def as_windows_reads(line: str) -> list[str]:
    """The words of a line as a program on Windows gets them (common practice, no source).

    Blanks part them outside quotes; within quotes two are one of the text; a backslash is itself
    unless a quote follows: then each two are one, and one left over makes the quote a letter.
    """
    words, word, within, at = [], None, False, 0
    while at < len(line):
        run = len(line[at:]) - len(line[at:].lstrip("\\"))
        sign = line[at + run : at + run + 1]
        if run and sign == '"':
            word, at = (word or "") + "\\" * (run // 2), at + run
            if run % 2:
                word, at = word + '"', at + 1
        elif run:
            word, at = (word or "") + "\\" * run, at + run
        elif sign == '"' and within and line[at + 1 : at + 2] == '"':
            word, at = word + '"', at + 2
        elif sign == '"':
            word, within, at = word or "", not within, at + 1
        elif sign == " " and not within:
            words, word, at = [*words, *([] if word is None else [word])], None, at + 1
        else:
            word, at = (word or "") + sign, at + 1
    return [*words, *([] if word is None else [word])]


@pytest.mark.parametrize("words", [['a "b', ""], ["C:\\my dir\\", "x"], ["é", "b\\c", '3" tile']])
def test_the_reader_of_these_tests_reads_what_python_writes_for_windows(words):
    assert as_windows_reads(subprocess.list2cmdline(words)) == words


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("M-41", "M-41"),
        ("M-44..M-47", "M-44..M-47"),
        ("röt", "röt"),
        ("Y 2", '"Y 2"'),
        (r"C:\Users\Ann\tiles.db", r"C:\Users\Ann\tiles.db"),
        (r"C:\Users\Ann Lee\tiles.db", r'"C:\Users\Ann Lee\tiles.db"'),
        (r"\\school\art room\tiles.db", r'"\\school\art room\tiles.db"'),
        ("D:\\my tiles\\", '"D:\\my tiles\\\\"'),
        ("05,06", '"05,06"'),  # PowerShell makes a list of it
        ("@2", '"@2"'),  # and spreads one
        ("a & b", '"a & b"'),
        ("Ann's", '"Ann\'s"'),
        ('3" tile', '"3"" tile"'),
        ("cost $5", "'cost $5'"),
        ("Ann’s $5", "'Ann’’s $5'"),  # to PowerShell each of these is a quote
        ("-2", '" -2"'),
        ("", '""'),
    ],
)
def test_a_name_can_be_pasted_into_either_shell_of_windows(on_windows, name, typed):
    assert shell_word(name) == typed


@given(name=TYPED)
def test_on_windows_a_program_gets_the_name_that_was_meant(name):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(errors, "IS_WINDOWS", True)
        typed = shell_word(name)
    assert [each.lstrip() for each in as_windows_reads(typed)] == [name.lstrip()]
    assert not typed.startswith("'")  # which the command prompt takes for a letter


def test_an_empty_value_stands_with_its_option_on_windows(on_windows):
    """Older PowerShells leave an empty word out, and the option would take the next for it."""
    line = shell_line(["tiles", "change", "M 4", "--shelf", "", "--note", "-", "--yes"])
    assert line == 'tiles change "M 4" --shelf= --note - --yes'


def test_a_variable_is_set_in_either_shell_of_windows(on_windows):
    in_powershell, in_prompt = shell_setting("TILES_DB", "C:\\Ann's tiles\\$5.db").splitlines()
    assert in_powershell == r"in PowerShell:          $env:TILES_DB = 'C:\Ann''s tiles\$5.db'"
    assert in_prompt == 'in the command prompt:  set "TILES_DB=C:\\Ann\'s tiles\\$5.db"'


@pytest.mark.parametrize("name", ["=3", "@2", "Y 2", "$5", "Ann's", "=", "a=3"])
@pytest.mark.skipif(sys.platform == "win32", reason="there the words are others")
def test_in_a_posix_shell_a_name_is_read_as_it_is(name):
    """The shell of macOS would look for a command of what begins with an = (its manual)."""
    assert shlex.split(shell_word(name)) == [name]
    assert not shell_word(name).startswith("=")

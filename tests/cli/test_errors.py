"""How every command ends: exit codes, one line, JSON errors, and readers that leave early."""

import json
import os
import shlex
import subprocess
import sys

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import assert_one_line_error
from tests.conftest import ROOT


def test_done_is_0(sample, tiles_process):
    ran = tiles_process("find", "--limit", "1")
    assert (ran.code, ran.err.count("Error")) == (0, 0)


def test_cannot_be_done_is_1(sample, tiles_process):
    assert_one_line_error(tiles_process("show", "M-9999"), "'M-9999'", code=1)


@pytest.mark.parametrize(
    "arguments",
    [
        ["find", "--colour", "green"],
        ["fnd"],
        ["find", "--limit", "0"],
        ["find", "--limit", "many"],
        ["find", "--thickness-from-mm", "thick"],
        ["body", "add"],
        ["show", "M-41", "M-42"],
    ],
    ids=" ".join,
)
def test_wrong_usage_is_2_in_one_line_that_names_the_help(sample, tiles, arguments):
    assert_one_line_error(tiles(*arguments), "--help", code=2)


def test_no_command_at_all_shows_the_help(tiles_process):
    ran = tiles_process()
    assert "Find and hand out:" in ran.out + ran.err
    assert "Traceback" not in ran.err


def test_an_output_that_knows_few_letters_gets_the_others_by_their_numbers(
    sample, tiles_process, monkeypatch
):
    monkeypatch.setenv("PYTHONIOENCODING", "latin-1")
    ran = tiles_process("body", "add", "clay \N{PARTY POPPER}")
    assert (ran.code, "Traceback" in ran.err) == (0, False)
    assert "clay \\U0001f389" in ran.out
    assert ran.err.count("\n") == 1
    assert " has no \\U0001f389: written as a number above." in ran.err
    ran = tiles_process("body", "list")
    assert (ran.code, "clay \\U0001f389" in ran.out) == (0, True)
    ran = tiles_process("body", "list", "--json")
    assert "clay \N{PARTY POPPER}" in {row["name"] for row in json.loads(ran.out)}
    assert ran.err == ""


def test_done_in_part_is_3(sample, tiles_process, tmp_path):
    file = tmp_path / "some.json"
    good = {"mark": "N-1", "body": "red earthenware"}
    file.write_text(json.dumps([good, {"mark": "N-2"}]))
    assert tiles_process("import", file, "--skip-refused").code == 3


ENDLESS = '"' + "x" * 200_000
DEEP = "[" * 100_000
LONG = '{"mark": "N-1", "body": "red", "trial_of": ' + "1" * 5000 + "}"


@pytest.mark.parametrize(
    ("command", "content", "told"),
    [
        (["import", "in.csv"], f"mark,body\nN-1,{ENDLESS}", "a cell of over 131072 letters"),
        (["cone", "--kiln-log", "in.csv"], f"time_h,temperature_c\n{ENDLESS}", "a cell of over"),
        (["recipe", "add", "r", "--from-csv", "in.csv"], f"material,parts\n{ENDLESS}", "a cell of"),
        (["import", "in.json"], DEEP, "nested too deeply"),
        (["import", "in.json"], LONG, "thousands of digits"),
        (["body", "add", "red", "--db", "in.csv/a.db"], "", "in.csv cannot be made"),
    ],
    ids=["tiles", "kiln log", "recipe", "deep", "long", "database"],
)
def test_a_file_that_no_one_writes_by_hand_is_told_in_one_line(
    sample, tiles, tmp_path, monkeypatch, command, content, told
):
    monkeypatch.chdir(tmp_path)
    name = next(word.partition("/")[0] for word in command if word.startswith("in."))
    (tmp_path / name).write_text(content)
    assert_one_line_error(tiles(*command), name, told)


def test_json_errors_carry_code_message_hint_field_value_and_row(sample, tiles):
    ran = tiles("show", "M-4l", "--json")
    assert (ran.code, ran.out) == (1, "")
    told = json.loads(ran.err)["error"]
    assert list(told) == ["code", "message", "hint", "field", "value", "row"]
    assert (told["code"], told["field"], told["value"]) == ("unknown_name", "mark", "M-4l")
    assert told["message"]
    assert told["hint"]


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["find", "--cone", "55", "--json"], "unknown_cone"),
        (["find", "--defect", "nothing", "--json"], "invalid_value"),
        (["find", "--body", "no such", "--json"], "unknown_name"),
        (["find", "--db", "no-such-folder/no.db", "--json"], "database_problem"),
    ],
)
def test_a_json_error_names_its_kind(sample, tiles, arguments, code):
    ran = tiles(*arguments)
    assert ran.code == 1
    assert json.loads(ran.err)["error"]["code"] == code


@pytest.mark.parametrize(
    ("typed", "told", "code"),
    [
        ("why mug Nora", 'why "mug Nora"\': a mark of several words goes in quotes.', 2),
        ("inspect MUG nora --clean", 'inspect "mug Nora" --clean\': a mark of several words', 1),
        ("load F12 M-41 mug Nora", 'load F12 M-41 "mug Nora"\': a mark of several words', 1),
        ("find --glaze pond green", 'find --glaze "pond green"\': a glaze of several words', 2),
        ("show mug Nora pond green", 'show "mug Nora" "pond green"\': a mark of several', 2),
        ("body show red earthenware", 'body show "red earthenware"\': a body of several', 2),
        (
            "log --mark mug 9 --body red earthenware --glaze pond green=2 --clean",
            'log --mark "mug 9" --body "red earthenware" --glaze "pond green=2" --clean\': a body',
            2,
        ),
        ("why --glaze pond green --defect crazing", 'why --glaze "pond green" --defect', 1),
        ("find --note old stock --clean", 'find --note "old stock" --clean\': a value of', 2),
        (
            "change mug Nora --note fell on the floor",
            'change "mug Nora" --note "fell on the floor"\': a mark of several words',
            1,
        ),
    ],
)
def test_a_name_typed_without_its_quotes_is_shown_with_them(sample, tiles, typed, told, code):
    assert tiles("log", "--mark", "mug Nora", "--body", "red earthenware").code == 0
    assert_one_line_error(tiles(*typed.split()), f"Try: 'tiles {told}", code=code)
    ran = tiles(*typed.split(), "--db", sample)
    assert f"Try: 'tiles {told}" in ran.err.replace(f"--db {sample} ", "")


def test_words_that_are_no_name_together_are_not_put_in_quotes(sample, tiles):
    assert_one_line_error(tiles("why", "mug", "Nora"), "Try: 'tiles why --help'", code=2)
    assert "quotes" not in tiles("why", "mug", "Nora", "--db", "no-such.db").err
    assert "quotes" not in tiles("show", "mug").err


def test_an_error_shows_where_it_comes_from_only_when_asked(sample, tiles_process):
    assert "Traceback" not in tiles_process("show", "M-9999").err
    assert "Traceback" in tiles_process("--debug", "show", "M-9999").err


@pytest.mark.skipif(sys.platform == "win32", reason="pipes close otherwise on Windows")
@pytest.mark.parametrize(
    "options",
    [["find", "--json"], ["find"], ["find", "--limit", "1"], ["show", "M-41"], ["--version"]],
    ids=" ".join,
)
def test_a_reader_that_leaves_early_is_no_error(sample, options):
    read, write = os.pipe()
    os.close(read)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "tiles", *options],
            stdout=write, stderr=subprocess.PIPE, text=True, cwd=ROOT, check=False,
            stdin=subprocess.DEVNULL,
        )  # fmt: skip
    finally:
        os.close(write)
    assert done.returncode == 0
    assert "Error" not in done.stderr
    assert "Traceback" not in done.stderr


def test_data_goes_to_standard_output_and_talk_to_standard_error(sample, tiles):
    ran = tiles("find", "--clean", "--limit", "2")
    assert "more" in ran.err
    assert "tiles" in ran.err
    assert "more" not in ran.out


def test_words_from_anywhere_in_the_world_are_kept_and_shown(sample, tiles):
    assert tiles("glaze", "add", "釉 grün").code == 0
    ran = tiles("log", "--mark", "Ü-1", "--body", "red earthenware", "--glaze", "釉 grün")
    assert ran.code == 0
    for mark in ("Ü-1", "ü-1"):
        assert "釉 grün" in tiles("show", mark, "--json").out
    taken = ("--body", "red earthenware", "--mark")
    assert_one_line_error(tiles("log", *taken, "ü-1"), "'Ü-1' is already on record")
    assert_one_line_error(tiles("glaze", "add", "釉 GRÜN"), "'釉 grün' is already on record")


def test_a_hint_within_quotes_quotes_no_name_in_the_same_ones(sample, tiles):
    """Letters beyond ASCII need no quotes at all, in any shell."""
    add = "Try: 'tiles body add röt' first"
    assert add in tiles("log", "--mark", "N-1", "--body", "röt").err
    ran = tiles("change", "M-19", "--mark", "Ü 1")
    assert ran.code == 0
    ran = tiles("log", "--mark", "Ü 1", "--body", "red earthenware")
    assert """'tiles inspect "Ü 1"' to add""" in ran.err


def test_output_that_is_closed_from_the_start_is_no_error(sample):
    command = f"{shlex.quote(sys.executable)} -m tiles find --db {shlex.quote(str(sample))} >&-"
    done = subprocess.run(
        ["bash", "-c", command], stderr=subprocess.PIPE, text=True, cwd=ROOT, check=False
    )
    assert (done.returncode, "Traceback" in done.stderr) == (0, False)


def test_after_a_no_the_way_out_is_told(sample, tiles):
    assert tiles("inspect", "M-2", "--defect", "crazing", "--inspected-on", "2026-03-05").code == 0
    person = Keyboard("inspect", "M-2", "--clean", "--inspected-on", "2026-06-09")
    person.answers("Is that really so?", "n")
    code, said = person.ends()
    mend = "'tiles change M-2 --forget-inspection 2026-03-05' takes the first off"
    told = f"Stopped. Nothing more was stored. Try: {mend}."
    assert (code, told in " ".join(said.split())) == (130, True)


@pytest.mark.parametrize(
    ("command", "code", "told"),
    [
        (["remove", "M-41"], 1, "removing M-41 needs a yes"),
        (["unload", "F12"], 1, "there is no keyboard here"),
        (["log"], 130, "Stopped. Nothing more was stored."),
    ],
    ids=["remove", "unload", "log"],
)
def test_input_that_is_closed_from_the_start_is_nobody_at_the_keyboard(sample, command, code, told):
    line = f"{shlex.join([sys.executable, '-m', 'tiles', *command])} <&-"
    done = subprocess.run(
        ["bash", "-c", line], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert (done.returncode, "Traceback" in done.stderr) == (code, False)
    assert told in done.stderr.splitlines()[-1]


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere no such bytes can be typed")
def test_a_name_typed_in_another_encoding_is_one_line(sample):
    for command in (["find", "--body"], ["body", "add"], ["show"]):
        done = subprocess.run(
            [os.fsencode(sys.executable), "-m", "tiles", *command, b"\xe9t\xe9"],
            capture_output=True, text=True, cwd=ROOT, check=False, stdin=subprocess.DEVNULL,
        )  # fmt: skip
        assert (done.returncode, done.stdout, done.stderr.count("\n")) == (1, "", 1)
        assert done.stderr.startswith("Error: ")

"""The README tells the truth about commands, options and shapes."""

import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
import typer

from tiles.cli.app import MODULES, command_for
from tiles.cli.overview import COMMANDS
from tiles.exchange.json_file import to_json
from tiles.records import forms

README = Path(__file__).parents[2].joinpath("README.md").read_text(encoding="utf-8")
COMMAND = command_for([])


def _blocks() -> list[str]:
    return re.findall(r"^```\n(.*?)^```", README, flags=re.S | re.M)


def _command_lines() -> list[list[str]]:
    joined = "\n".join(_blocks()).replace("\\\n", " ")
    return [shlex.split(line) for line in joined.splitlines() if line.startswith("tiles ")]


def test_readme_opens_with_the_job_in_one_paragraph():
    first = README.split("\n\n")[1]
    assert first.startswith("A ceramics class fires test tiles")
    assert README.index("\n## ") > README.index(first)


@pytest.mark.parametrize("words", _command_lines(), ids=" ".join)
def test_every_command_line_of_the_readme_exists_with_its_options(words):
    command, rest = COMMAND, words[1:]
    while hasattr(command, "commands"):
        command = command.commands[rest.pop(0)]
    known = {option for parameter in command.params for option in parameter.opts}
    assert {word.split("=")[0] for word in rest if word.startswith("--")} <= known


def test_every_command_is_in_the_table_and_every_row_is_a_command():
    rows = re.findall(r"^\| (?:`tiles ([a-z-]+)`|([A-Z][^|]+)) \|", README, flags=re.M)
    told = {}
    for command, heading in rows:
        if heading:
            told[heading] = listed = []
        else:
            listed.append(command)
    assert told == {heading: list(commands) for heading, commands in COMMANDS.items()}
    assert set().union(*told.values()) == set(COMMAND.commands)


def test_the_help_lists_every_command_in_a_line_of_its_own():
    shown = COMMAND.get_help(typer.Context(COMMAND, info_name="tiles"))
    for heading, commands in COMMANDS.items():
        assert f"\n{heading}:\n" in shown
        for name, brief in commands.items():
            assert re.search(rf"^  {name} +{re.escape(brief)}$", shown, flags=re.M), name


@pytest.mark.parametrize(("module", "names"), MODULES.items())
def test_a_command_is_found_without_building_the_others(module, names):
    for name in names:
        assert set(command_for([name]).commands) == set(names)


def test_an_option_before_the_command_does_not_hide_it():
    assert set(command_for(["--db", "find", "show", "M-1"]).commands) == set(MODULES["record"])


def test_every_subcommand_named_in_the_table_exists():
    for name, told in re.findall(r"^\| `tiles ([a-z-]+)` \| (.*) \|$", README, flags=re.M):
        command = COMMAND.commands[name]
        named = [word for word in re.findall(r"`([a-z-]+)`", told)]
        if hasattr(command, "commands") and named:
            assert set(named) == set(command.commands), name


def _every_command(command, path=()):
    for name, child in getattr(command, "commands", {}).items():
        yield (*path, name), child
        yield from _every_command(child, (*path, name))


@pytest.mark.parametrize(("path", "command"), list(_every_command(COMMAND)), ids=str)
def test_every_command_and_option_is_explained(path, command):
    assert command.help, path
    unexplained = [p.name for p in command.params if p.param_type_name == "option" and not p.help]
    assert not unexplained


def _documented_keys(name: str) -> set[str]:
    row = re.search(rf"^\| {name} \| (.*) \|$", README, flags=re.M)[1]
    outer = re.sub(r"\([^()]*\)", "", row)
    return set(re.findall(r"`(\w+)`", outer))


@pytest.mark.parametrize(
    ("name", "form"),
    [
        ("body", forms.BodyRecord),
        ("firing", forms.FiringRecord),
        ("area", forms.AreaRecord),
        ("layer", forms.LayerRecord),
        ("glaze", forms.GlazeRecord),
        ("recipe", forms.RecipeRecord),
        ("batch", forms.BatchRecord),
    ],
)
def test_each_part_of_a_record_is_documented_key_by_key(name, form):
    assert _documented_keys(name) == set(form.model_fields)


def test_the_record_shape_is_documented_key_by_key():
    table = README.split("<!-- shape: TileRecord -->")[1].split("\n\n")[0]
    keys = {key for row in re.findall(r"^\| (`.*?`) \|", table, flags=re.M) for key in
            re.findall(r"`(\w+)`", row)}  # fmt: skip
    printed = to_json(forms.read(forms.TileRecord, {"mark": "M-1", "body": "red"}))
    assert keys == set(printed)


def test_derived_facts_are_documented():
    printed = to_json(forms.read(forms.TileRecord, {"mark": "M-1", "body": "red"}))
    row = re.search(r"^\| `derived` \| (.*) \|$", README, flags=re.M)[1]
    assert set(re.findall(r"`(\w+)`", row)) == set(printed["derived"])


SHAPES = {
    "find": ["find"],
    "find --doubtful": ["find", "--doubtful"],
    "show": ["show"],
    "palette": ["palette"],
    "why MARK": ["why", "M-41", "--arithmetic"],
    "why --glaze NAME": ["why", "--glaze", "pond green", "--defect", "crawling"],
    "compare": ["compare", "--glaze", "pond green", "--by", "coats"],
    "next MARK": ["next", "M-60"],
    "forecast": ["forecast", "M-41"],
    "learn": ["learn"],
}
OF_THEIR_OWN = {
    "severity", "tiles_with", "food_label", "arithmetic", "control", "tile", "log_loss", "brier",
    "by_year", "kilns", "bodies", "hazards", "blank",
}  # fmt: skip
NOT_HERE = {"again", "group", "say"}
"""Keys of own trials, groups left out, and what speaks against a cause: the sample has none."""


def _keys(value):
    """Every key of what was printed, but for names of defects and the keys of a whole record."""
    if isinstance(value, list):
        yield from (key for each in value for key in _keys(each))
    elif isinstance(value, dict):
        for key, inside in value.items():
            yield key
            if key not in OF_THEIR_OWN:
                yield from _keys(inside)


@pytest.mark.parametrize(("shape", "command"), SHAPES.items(), ids=SHAPES)
def test_what_a_command_prints_as_json_is_documented_key_by_key(sample, tiles, shape, command):
    section = re.split(r"\n##", README.split(f"\n#### `tiles {shape} --json`")[1])[0]
    documented = set(re.findall(r"`(\w+)`", section))
    ran = tiles(*command, "--json")
    assert ran.code == 0, ran.err
    printed = set(_keys(json.loads(ran.out)))
    assert printed - documented == set()
    assert documented - printed <= NOT_HERE


def test_every_listing_comes_as_json_and_csv():
    alone = {("find",), ("palette",), ("words",), ("clues",), ("cone",), ("plan",)}
    for path, command in _every_command(COMMAND):
        if path[-1] == "list" or path in alone:
            known = {option for parameter in command.params for option in parameter.opts}
            assert known >= {"--json", "--csv"}, path


def test_the_tour_of_the_readme_runs_as_written(tmp_path):
    environment = os.environ | {"TILES_DB": str(tmp_path / "tour.db")}
    first = next(at for at, each in enumerate(_blocks()) if "tiles body add" in each)
    tour = "\n".join(each for each in _blocks()[first:]).replace("\\\n", " ")
    told = {}
    for line in filter(None, tour.splitlines()):
        words = shlex.split(line)
        if words[:2] == ["tiles", "unload"]:  # needs a keyboard; has tests of its own
            continue
        done = subprocess.run(
            [sys.executable, "-m", *words],
            env=environment,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, (line, done.stderr)
        told[line] = done
    found = told['tiles find --clean --cone 05 --body "red earthenware"']
    assert "None is clean: 1 tile inspected, crawling on 1." in found.stderr

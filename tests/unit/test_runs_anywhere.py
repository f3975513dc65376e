"""What would stop the program on Windows or misread its files there, held by walking the source."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FILES = [file for own in ("tiles", "diagnose", "sample_db") for file in (ROOT / own).rglob("*.py")]
NOT_ON_WINDOWS = {"fcntl", "grp", "posix", "pty", "pwd", "readline", "resource", "termios", "tty"}
OPENS = {"open", "read_text", "write_text"}


def opened_as_the_system_likes(tree) -> list[int]:
    """Lines where a text file is opened in the code of the system: cp1252 on many a Windows."""
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in OPENS
        and ast.unparse(node.func.value) not in ("Image", "os")
        and not any("b" in str(getattr(each, "value", "")) for each in node.args)
        and "encoding" not in {each.arg for each in node.keywords}
    ]


def loaded_at_once(tree) -> list[int]:
    """Lines outside functions that import what Windows does not have."""
    return [
        node.lineno
        for node in tree.body
        if isinstance(node, ast.Import | ast.ImportFrom)
        and NOT_ON_WINDOWS & {getattr(node, "module", None), *(each.name for each in node.names)}
    ]


@pytest.mark.parametrize("breaches", [opened_as_the_system_likes, loaded_at_once])
def test_text_is_utf_8_and_no_module_needs_another_system(breaches):
    found = {file: breaches(ast.parse(file.read_text(encoding="utf-8"))) for file in FILES}
    assert not {str(file): lines for file, lines in found.items() if lines}


def test_the_walk_sees_both():
    tree = ast.parse("import termios\nfile.read_text()\nfile.open('rb')\nfile.open('w')\n")
    assert (opened_as_the_system_likes(tree), loaded_at_once(tree)) == ([2, 4], [1])

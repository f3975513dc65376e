"""Who is at the keyboard."""

import os
from types import SimpleNamespace

import pytest

from tiles.cli import common


class _WindowsConsoleIO:
    """What stands beneath the input from a console on Windows, and nowhere else."""


@pytest.mark.parametrize(("beneath", "is_there"), [(_WindowsConsoleIO(), True), (None, False)])
def test_on_windows_nobody_is_at_a_keyboard_that_is_nul(monkeypatch, beneath, is_there):
    keyboard = SimpleNamespace(isatty=lambda: True, buffer=SimpleNamespace(raw=beneath))
    monkeypatch.setattr(common, "os", SimpleNamespace(**(vars(os) | {"name": "nt"})))
    monkeypatch.setattr("sys.stdin", keyboard)
    assert common.is_interactive() is is_there

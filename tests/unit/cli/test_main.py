"""How the command ends where what it prints cannot be written."""

import errno
import os
from types import SimpleNamespace

import pytest

from tiles.cli import main


@pytest.mark.parametrize(
    ("system", "number", "filename", "is_gone"),
    [
        ("posix", errno.EPIPE, None, True),
        ("nt", errno.EPIPE, None, True),
        ("nt", errno.EINVAL, None, True),
        ("nt", errno.EINVAL, "a?.csv", False),
        ("nt", errno.ENOSPC, None, False),
        ("posix", errno.EINVAL, None, False),
    ],
)
def test_a_reader_that_has_gone_is_known_on_every_system(
    monkeypatch, system, number, filename, is_gone
):
    """Common practice, no source: on Windows a closed pipe may be told as an invalid argument."""
    monkeypatch.setattr(main, "os", SimpleNamespace(**(vars(os) | {"name": system})))
    assert main._is_reader_gone(OSError(number, "said", filename)) is is_gone

"""One test for many things of one kind, which still names each thing that fails."""

from collections.abc import Callable, Iterable
from textwrap import shorten
from typing import Any

import pytest


def check_each(things: Iterable[tuple[str, Any]], check: Callable[[Any], None]) -> None:
    """Fail with a line ``name: what failed`` for each of the named things that fails the check."""
    things = list(things)
    assert things, "there is nothing to check"
    found = []
    for name, thing in things:
        try:
            check(thing)
        except (AssertionError, LookupError, TypeError) as error:
            found.append(f"{name}: {type(error).__name__}: {shorten(str(error), 400)}")
    if found:
        pytest.fail("\n".join(found), pytrace=False)

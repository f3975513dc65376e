"""A person at the keys, in the process of the test."""

from types import SimpleNamespace

import pytest

from tiles.cli import ask

PAUSE = None


@pytest.fixture
def keyboard(monkeypatch):
    """Lay out what a person types; a pause parts keys from each other. Gives what is left."""

    def lay(*keys):
        left = [key for each in keys for key in (each or [PAUSE])]
        clock = SimpleNamespace(now=1.0, monotonic=lambda: clock.now)

        def read():
            while left[0] is PAUSE:
                del left[0]
                clock.now += ask.READ_WITHIN
            return left.pop(0)

        monkeypatch.setattr(ask, "time", clock)
        monkeypatch.setattr(ask, "_ahead", [])
        monkeypatch.setattr(ask, "_last", {"key": ask.ENTER})
        monkeypatch.setattr(ask, "_read_key", lambda: ask._ahead.pop() if ask._ahead else read())
        monkeypatch.setattr(
            ask, "_is_typed_on", lambda _seconds=0: bool(ask._ahead or left and left[0])
        )
        return left

    return lay

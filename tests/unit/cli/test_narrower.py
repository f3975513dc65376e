"""What is said of a listing that has scrolled over a screen."""

import pytest

from tiles.cli.narrower import narrower
from tiles.queries.search import Search


@pytest.mark.parametrize(
    ("is_screen", "rows", "search", "said"),
    [
        (True, 23, Search(), "Fewer: --glaze, --body, --cone, --since, --limit"),
        (True, 23, Search(body="red", cone_to="05"), "Fewer: --glaze, --since, --limit"),
        (True, 22, Search(), ""),
        (False, 1500, Search(), ""),
    ],
)
def test_a_person_is_told_what_would_leave_fewer_rows(monkeypatch, is_screen, rows, search, said):
    monkeypatch.setenv("LINES", "24")
    monkeypatch.setattr("sys.stdout.isatty", lambda: is_screen)
    assert narrower(search, rows, "--limit") == said

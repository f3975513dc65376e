"""What stands for the name of a shelf and says that none is known."""

import pytest

from tiles.cli import ask_log_firing, notices
from tiles.cli.firing import witnesses
from tiles.errors import InvalidValue


@pytest.mark.parametrize("text", ["-", "?", "n/a"])
def test_a_sign_for_not_known_is_no_shelf_wherever_one_is_named(text):
    for read in (
        lambda: notices.shelf_meant(text, None),
        lambda: ask_log_firing._read_shelf(None, text, None),
    ):
        with pytest.raises(InvalidValue, match="is no shelf. Try: a name with a letter or a digit"):
            read()
    with pytest.raises(InvalidValue, match="names no shelf"):
        witnesses([f"05@{text}"])
    assert witnesses(["05@ top"]) == [{"cone": "05", "shelf": "top"}]

"""Options that several commands share, each written once."""

import inspect
from dataclasses import dataclass

import pytest

from tiles.cli import asked


@dataclass(frozen=True)
class Block:
    one: str | None = None
    two: int = 2


@asked.spread
def command(*, first: str, block: Block, last: bool = False):
    """Tell what was given."""
    return first, block, last


def test_a_block_stands_in_a_command_as_its_options_in_their_place():
    assert [*inspect.signature(command).parameters] == ["first", "one", "two", "last"]
    assert inspect.signature(command).parameters["two"].default == 2
    assert command(first="a", two=3, last=True) == ("a", Block(two=3), True)
    with pytest.raises(TypeError):
        command(first="a", three=3)


def test_how_tiles_were_made_is_told_as_a_search_names_it():
    searched = asked.Made(glaze=["moss"], cone="06-04", bisque_cone="04").searched
    assert searched["glazes"] == ("moss",) and searched["body"] is None
    assert (searched["cone_from"], searched["cone_to"]) == ("06", "04")
    assert (searched["bisque_cone_from"], searched["bisque_cone_to"]) == ("04", "04")

"""A database that cannot be used in the middle of ``tiles unload``: what is not stored then."""

from collections.abc import Callable, Collection
from typing import TypeVar

from tiles.cli.ask import yes_by_key
from tiles.cli.prose import say
from tiles.cli.unload_told import spoken
from tiles.errors import DatabaseProblem

Done = TypeVar("Done")


def once_it_can(
    do: Callable[[], Done], record, keyed: list | str | None, done: Collection[str]
) -> Done:
    """What is read or stored of a tile; where that fails, once more when the person says so.

    Parameters
    ----------
    do : callable
        Reads or stores it, or raises DatabaseProblem.
    keyed : list, str or None
        What was keyed for the tile and is not stored yet, None for nothing.
    done : collection of str
        The marks of the tiles that this walk has stored.

    Raises
    ------
    DatabaseProblem
        The person goes no further; it says what of the walk is stored, and what is not.
    """
    while True:
        try:
            return do()
        except DatabaseProblem as error:
            unstored = [] if keyed is None else [lost(record, keyed)]
            for told in (str(error), *(f"{each} It is kept until you stop." for each in unstored)):
                say(f"    {told}", "    ")
            if not yes_by_key("    Try again?", no="stop here"):
                error.message = " ".join([error.message, *unstored, _stored(done)])
                raise


def lost(record, keyed: list | str) -> str:
    """That what was keyed for a tile is not stored."""
    return f"{record.mark} is NOT stored ({spoken(keyed, len(record.areas) > 1)})."


def _stored(done: Collection[str]) -> str:
    from tiles.records.spoken import some

    return f"Stored in this walk: {some(list(done)) or 'nothing'}."

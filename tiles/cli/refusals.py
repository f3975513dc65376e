"""What an import refuses, told in few lines: the same thing in a hundred places is one line."""

from typing import NoReturn

from tiles.cli import common
from tiles.errors import InvalidValue, Questioned

HERE, VALUE = "\0", "\1"
"""Stand where the place and the value were, in what is wrong."""
MOST_VALUES = 4


def tell_refused(problems: list, source: str, part: str) -> list[str]:
    """Say what is wrong, each thing once, as `each_once` has it, and give those lines.

    The error of a single problem is left to `stop`, or to who goes on without it.
    """
    lines = each_once(problems, source, part)
    for line in lines if len(problems) > 1 else ():
        common.talk(f"Refused: {line}")
    return lines


def stop(problems: list, wrong: str, also: str) -> NoReturn:
    """Store nothing: one problem is told by its own error, several are summed up in one line.

    Parameters
    ----------
    problems : list of TilesError
        What is wrong.
    wrong : str
        That it is, of how many.
    also : str
        What may be done beside correcting it.

    Raises
    ------
    TilesError
        Always.
    """
    if len(problems) == 1:
        raise problems[0]
    asked = all(isinstance(error, Questioned) for error in problems)
    are_so = ", --yes if all of it really is so" if asked else ""
    raise InvalidValue(f"{wrong}, so nothing was stored.", f"correct them{are_so}{also}.")


def each_once(problems: list, source: str, part: str) -> list[str]:
    """What is wrong, one line for the same thing in many places, with some of its values.

    Parameters
    ----------
    problems : list of TilesError
        Each with the number of its part of the file as ``row``.
    source : str
        The file's name.
    part : str
        What the file is counted in: row or record.
    """
    from tiles.records.spoken import some

    alike: dict[str, list] = {}
    for error in problems:
        for said in _eaten_zeros(error, source) or [_without_value(error, part)]:
            alike.setdefault(said, []).append(error)
    lines = []
    for said, errors in alike.items():
        rows = list(dict.fromkeys(str(error.row) for error in errors))
        values = list(dict.fromkeys(_value_in(str(error), error) for error in errors))
        more = f" (also {some(values[1:], MOST_VALUES)})" if len(values) > 1 else ""
        told = f", {part}{'s' if len(rows) > 1 else ''} {some(rows)}"
        lines.append(said.replace(HERE, told).replace(VALUE, values[0] + more))
    return lines


def _without_value(error, part: str) -> str:
    said = str(error).replace(f", {part} {error.row}", HERE, 1)
    return said.replace(_value_in(said, error), VALUE, 1)


def _value_in(said: str, error) -> str:
    """The value as what is wrong with it repeats it; of a question that is the mark ahead of it."""
    from tiles.records.problems import shown

    if said.startswith(f"{error.value}: "):
        return str(error.value)
    ways = repr(error.value), shown(error.value)
    return next((way for way in ways if way in said), ways[0])


def _eaten_zeros(error, source: str) -> list[str]:
    """What is wrong, where all of it is cones that a spreadsheet may have taken a 0 from."""
    zeros = error.zeros if isinstance(error, Questioned) else ()
    if not all(zero.meant.startswith("0") for zero in zeros):
        return []
    return [
        f"{zero.what} {zero.cone} is far hotter than clay or glaze allows, and {zero.meant} is not "
        f"({source}{HERE}). Try: ^{zero.meant} there, or --yes if it really was so."
        for zero in zeros
    ]

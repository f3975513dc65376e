"""Which new names and marks to check for a slip of the pen, and how to put one right."""

from collections.abc import Collection
from datetime import date
from pathlib import Path

from tiles.cli import common
from tiles.errors import shell_line

LOOKS = "blanks, dashes or look-alike letters"
"""What does not tell one mark from another on the back of a tile."""
MOST = 8
"""So many names are told; of more, only how many."""


def tell(alike: list, file: Path | None = None, held: Collection[str] | None = None) -> None:
    """A line for each name just added that is very like another, and the commands to mend it.

    ``held`` are the names in the file, as `name_key` has them, where they are known: the file is
    to be corrected only where it holds one that goes.
    """
    from tiles.records.store.belongings import command_of
    from tiles.records.words import name_key

    if not alike:
        return
    told, more = alike[:MOST], alike[MOST:]
    for each in told:
        common.talk(f"Check: {said_of(each)}")
    if more:
        lists = dict.fromkeys(f"'{command_of(each.noun)} list'" for each in more)
        common.talk(f"Check: {len(more)} more, too; they stand in {' and '.join(lists)}.")
    is_there = file and (held is None or any(name_key(each.name) in held for each in told))
    corrected = f" (and correct {file.name})" if is_there else ""
    common.talk(f"Of two that are one, keep one{corrected}:")
    for each in _one_after_another(told):
        common.talk(f"  {command_of(each.noun)} merge {shell_line([each.name, each.like])}")


def said_of(each) -> str:
    """What two names have to do with each other, in a sentence."""
    if each.since:
        return f"{each.noun} {each.name!r} is what {each.like!r} was called until {each.since}."
    if each.day:
        return said_of_one_day(each.name, each.like, each.day)
    if each.is_asked:
        return f"is {each.noun} {each.name!r} the same as {each.like!r}?"
    return f"{each.noun} {each.name!r} is very like {each.like!r}."


def said_of_one_day(name: str, like: str, day: date) -> str:
    """What two firings have to do with each other that are probably one."""
    return (
        f"firings {name!r} and {like!r} are of one kiln and one day, {day}: one firing, or a slip "
        "of the day?"
    )


def _one_after_another(pairs: list) -> list:
    """In an order in which none names what one before it has taken off the record.

    Of three that are all alike the third pair is one by then.
    """
    left, ordered, gone = list(pairs), [], set()
    while left:
        kept = {(each.noun, each.like) for each in left}
        first = next((each for each in left if (each.noun, each.name) not in kept), left[0])
        left.remove(first)
        if (first.noun, first.name) not in gone:
            ordered.append(first)
            gone.add((first.noun, first.name))
    return ordered


def tell_shelves(session, records: list, before: dict) -> None:
    """A line for each shelf just stored that is very like another, or tells a kiln as well."""
    from tiles.queries.alike import shelves_alike, shelves_with_kiln

    for found in (shelves_alike, shelves_with_kiln):
        for shelf, like, marks in found(session, records, before):
            tell_shelf(shelf, like, marks)


def tell_shelf(shelf: str, like: str, marks: list[str]) -> None:
    """A line for a shelf that was not on record before, and the command to mend it."""
    from tiles.cli.marks import runs
    from tiles.records.spoken import some

    command = shell_line(["tiles", "change", *runs(marks), "--shelf", like])
    common.talk(f"Shelf {shelf!r} ({some(marks)}) is new. If {like!r} was meant: {command}")


def tell_marks(session, marks: list[str]) -> None:
    """A line for marks that look like others, or differ by a zero or a letter for a digit."""
    from tiles.queries.marks_alike import SLIPS, marks_of_one_tile, marks_that_look_alike
    from tiles.records.spoken import some
    from tiles.records.store import has_mark

    pairs = [f"{new!r} and {known!r}" for new, known in marks_that_look_alike(session, marks)]
    if pairs:
        common.talk(f"Check: marks that differ only by {LOOKS} are two tiles: {some(pairs)}.")
    same = dict(marks_of_one_tile(session, marks))
    for slip, find in SLIPS.items():
        found = find(session, marks)
        same |= {new: known for new, _, right in found if (known := has_mark(session, right))}
        others = [each for each in found if each[0] not in same]
        if others:
            told = some([f"{new!r} beside {known!r}" for new, known, _right in others])
            new, _known, right = others[0]
            command = shell_line(["tiles", "change", new, "--mark", right])
            common.talk(f"Check: {slip}? {told}. If so: {command}")
    _tell_same(same)


def _tell_same(pairs: dict[str, str]) -> None:
    """A line for each new mark that another tile has but for a slip of the pen."""
    for new, known in list(pairs.items())[:MOST]:
        command = shell_line(["tiles", "remove", new])
        common.talk(
            f"Check: {known!r} is on record: is {new!r} the same tile? If so, '{command}' takes "
            "this one off."
        )
    if len(pairs) > MOST:
        common.talk(f"Check: {len(pairs) - MOST} more marks are so like another.")

"""Tiles that a search for a cone leaves out because what they reached is not known, and why not."""

from collections.abc import Iterable

from tiles.cli.prose import counted
from tiles.errors import shell_line, shell_word

PUT_IN = "a cone you did read goes in with"


def without_cone(session, search) -> list[str]:
    """A line for each reason why tiles that might answer a search for a cone do not.

    Each with the command that puts on record what is missing.
    """
    from tiles.queries.unread import tiles_bisqued_by_shelf, tiles_near_by_peak, tiles_unread

    told = " to ".join(dict.fromkeys(each for each in (search.cone_from, search.cone_to) if each))
    lines = _of_tiles(tiles_unread(session, search), told)
    if many := tiles_near_by_peak(session, search):
        lines.append(
            f"{counted(many, 'more tile')} went to a peak near cone {told}, but no cone was read."
        )
    if many := tiles_bisqued_by_shelf(session, search):
        lines.append(
            f"{counted(many, 'more tile')} perhaps: some shelves of the bisque read such a cone, "
            "others not, and nothing tells on which a tile stood."
        )
    return lines


def _of_tiles(unread: list, told: str) -> list[str]:
    """Of firings without a reading, then of those whose shelves were read, but not the tile's."""
    nowhere = [each for each in unread if not each.by_shelf]
    no_shelf = [each for each in unread if each.by_shelf and each.shelf is None]
    elsewhere = [each for each in unread if each.by_shelf and each.shelf is not None]
    return [
        _set_for(found, told) + say(found)
        for found, say in (
            (nowhere, _not_read),
            (no_shelf, _shelf_not_recorded),
            (elsewhere, _on_another_shelf),
        )
        if found
    ]


def _set_for(found: list, told: str) -> str:
    return f"{counted(len(found), 'more tile')} {_were(found)} set for cone {told}, but "


def _were(found: list) -> str:
    return "was" if len(found) == 1 else "were"


def _not_read(found: list) -> str:
    from tiles.records.spoken import some

    firings = _firings(found)
    first = shell_word(firings[0])
    of = f" They were in firings {some(firings)}, so ask of each." if len(firings) > 1 else ""
    return (
        f"no cone was read.{of} 'tiles find --firing {first}' lists what was in it; {PUT_IN} "
        f"'tiles firing change {first} --witness-cone CONE'."
    )


def _shelf_not_recorded(found: list) -> str:
    """Where its shelves were read, no further cone of the firing mends it: only the tile's shelf.

    Shelves often differ by a cone, so that those read do not speak for a tile without one, even
    where they agree.
    """
    one = len(found) == 1
    first = [each for each in found if each.firing == found[0].firing]
    shelves = " or ".join(first[0].by_shelf)
    mend = shell_line(["tiles", "change", *_runs(first), "--shelf", "NAME"])
    return (
        f"{'its shelf is' if one else 'their shelves are'} not recorded, and in "
        f"{_in_firings(found)} cones were read by the shelf{_agree(found)}. Where you know it "
        f"({shelves} was read in {found[0].firing}): '{mend}'."
    )


def _on_another_shelf(found: list) -> str:
    first = found[0]
    mend = shell_word(f"CONE@{first.shelf}")
    return (
        f"stood on a shelf that was not read, in {_in_firings(found)}{_agree(found)}; {PUT_IN} "
        f"'tiles firing change {shell_word(first.firing)} --witness-cone {mend}'."
    )


def _agree(found: list) -> str:
    """Of how many tiles all that was read of the firing is one cone, and which."""
    cones = [{*each.by_shelf.values()} for each in found]
    agreed = [of.pop() for of in cones if len(of) == 1]
    counts = [(agreed.count(cone), cone) for cone in dict.fromkeys(agreed)]
    if not counts:
        return ""
    (most, cone), *rest = counts
    more = "".join(f", for {many} cone {other}" for many, other in rest)
    return f" (for {most} all that was read is cone {cone}{more})"


def _in_firings(found: list) -> str:
    from tiles.records.spoken import some

    firings = _firings(found)
    return f"firing{'s' if len(firings) > 1 else ''} {some(firings)}"


def _firings(found: Iterable) -> list[str]:
    return list(dict.fromkeys(each.firing for each in found))


def _runs(found: list) -> list[str]:
    from tiles.cli.marks import runs

    return runs([each.mark for each in found])

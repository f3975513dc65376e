"""Which way of glazing stands first on a palette, and what clean tiles are worth for that."""

from collections.abc import Sequence

from tiles.cli import find

EARLY_ON_CLAY = 0.5
"""So much of a clean tile counts one that was looked at before other glazes crazed on its clay."""
FEWEST_EARLY = 3
"""Lines of which the same is said once above the table."""


def best_first(
    made, doubt, too_early: frozenset[tuple[str, int]], on_clay: frozenset[tuple[str, int]]
) -> tuple:
    """The share of clean tiles with one more of each, then those that no others gainsay.

    Then those that were looked at late enough, then the more tiles that tell, then the more tiles
    of any kind, then the names. Clean ones that were looked at too early for a fault that comes
    late on their glaze count for nothing, for one that came late on their clay alone half.
    """
    from tiles.chemistry.cones import step
    from tiles.queries.search import natural_key

    early = early_of(made, too_early)["clean_early"]
    half = early_of(made, on_clay - too_early)["clean_early"]
    less = early + EARLY_ON_CLAY * half
    clean, tiles, area = len(made.clean) - less, len(made.marks) - less, made.areas[0]
    cone = step(area.cone_reached) if area.cone_reached else 0
    names = natural_key(find.coat(area)), natural_key(area.body)  # x2 before x10
    many = -tiles, -len(made.marks)
    return -(clean + 1) / (tiles + 2), doubt is not None, half > 0, *many, *names, cone


def early_of(made, too_early: frozenset[tuple[str, int]]) -> dict:
    """How many of the clean tiles were looked at too early to tell of a fault that comes late."""
    marks = {each.mark for each in made.areas if (each.mark, each.area) in too_early}
    return {"clean_early": sum(mark in marks for mark in made.clean)}


def is_mostly_early(rows: Sequence[dict]) -> bool:
    """Whether most lines with clean tiles have none but those looked at too early.

    Then that is said once, and on the few lines of which it is not so.
    """
    early = [row["clean_early"] == row["clean"] for row in rows if row["clean"]]
    return sum(early) >= FEWEST_EARLY and 2 * sum(early) > len(early)


def looked_at_early(row: dict, *, is_rule: bool) -> str:
    """What the clean tiles of a line are worth where a fault of their glaze comes late.

    ``is_rule``: it is said above the table that they were looked at too early.
    """
    early, clean = row["clean_early"], row["clean"]
    if is_rule:
        return "" if early == clean else f" ({early or 'not'} looked at too early)"
    return f" ({'all' if early == clean else early} looked at too early: below)" if early else ""

"""Which way of glazing stands first on a palette, and what clean tiles are worth for that."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiles.cli import find

EARLY_ON_CLAY = 0.5
"""So much of a clean tile counts one looked at before other glazes crazed on a clay, or no day."""
FEWEST_EARLY = 3
"""Lines of which the same is said once above the table."""


@dataclass(frozen=True)
class Looks:
    """Which clean areas were looked at too early, late enough, and of which no day is known.

    ``of_glaze`` were too early for a fault of their glaze, ``doubted`` are not known to be late
    enough where one came late on a clay; ``late`` were late enough by what calls others too early.
    """

    of_glaze: frozenset[tuple[str, int]] = frozenset()
    doubted: frozenset[tuple[str, int]] = frozenset()
    late: frozenset[tuple[str, int]] = frozenset()
    undated: frozenset[tuple[str, int]] = frozenset()


def looks(session, found: Iterable, early: Sequence, of_clay: Sequence) -> Looks:
    """How late some areas were looked at, beside those that were looked at too early.

    One that no limit of its glaze or clay holds for is late enough by the highest of all.
    """
    from tiles.queries.days import days_looked

    of_clay = [each for each in of_clay if each.areas]
    if not (early or of_clay):
        return Looks()
    clean = {(each.mark, each.area): each for each in found if each.clean}
    looked = days_looked(session)
    of_glaze = frozenset().union(*(each.areas for each in early))
    too_early = of_glaze.union(*(each.areas for each in of_clay))
    glazes, clays = {each.glaze for each in early}, {each.body for each in of_clay}
    needed = max(each.needed for each in (*early, *of_clay))
    late = frozenset(
        key
        for key, each in clean.items()
        if each.mark in looked and key not in too_early
        if each.body in clays or glazes & {*each.glazes} or looked[each.mark] >= needed
    )
    undated = frozenset(key for key in clean if key[0] not in looked)
    doubted = clean.keys() - of_glaze - late if of_clay else frozenset()
    return Looks(of_glaze, frozenset(doubted), late, undated)


def best_first(made, doubt, looks: Looks) -> tuple:
    """The share of clean tiles with one more of each, then those that no others gainsay.

    Then those that were looked at late enough, then the more tiles that tell, then the more tiles
    of any kind, then the names. Clean ones that were looked at too early for a fault that comes
    late on their glaze count for nothing, where one came late on a clay alone half, and so do those
    of which it is not known that they were looked at late enough for that.
    """
    from tiles.chemistry.cones import step
    from tiles.records.mark_looks import natural_key

    early, half = _clean_of(made, looks.of_glaze), _clean_of(made, looks.doubted)
    less = early + EARLY_ON_CLAY * half
    clean, tiles, area = len(made.clean) - less, len(made.marks) - less, made.areas[0]
    cone = step(area.cone_reached) if area.cone_reached else 0
    names = natural_key(find.coat(area)), natural_key(area.body)  # x2 before x10
    many = -tiles, -len(made.marks)
    return -(clean + 1) / (tiles + 2), doubt is not None, half > 0, *many, *names, cone


def early_of(made, too_early: frozenset[tuple[str, int]]) -> dict:
    """How many of the clean tiles were looked at too early to tell of a fault that comes late."""
    return {"clean_early": _clean_of(made, too_early)}


def _clean_of(made, areas: frozenset[tuple[str, int]]) -> int:
    """How many of the clean tiles have any of some areas."""
    marks = {each.mark for each in made.areas if (each.mark, each.area) in areas}
    return sum(mark in marks for mark in made.clean)


def is_mostly_early(rows: Sequence[dict]) -> bool:
    """Whether most lines with clean tiles have none but those looked at too early.

    Then that is said once, and on the few lines that are known to be late enough that they are.
    """
    early = [row["clean_early"] == row["clean"] for row in rows if row["clean"]]
    return sum(early) >= FEWEST_EARLY and 2 * sum(early) > len(early)


def looked_at_early(row: dict) -> str:
    """What the clean tiles of a line are worth where a fault of their glaze comes late."""
    early, clean = row["clean_early"], row["clean"]
    return ("early" if early == clean else f"{early} early") if early else ""


def looked_at_late(made, looks: Looks) -> str:
    """Which clean tiles were looked at late enough, where above that is denied of the others.

    Those without a day of firing are told apart.
    """
    counts = {
        "late enough": _clean_of(made, looks.late),
        "not known when": _clean_of(made, looks.undated),
    }
    clean = len(made.clean)
    told = [said if many == clean else f"{many} {said}" for said, many in counts.items() if many]
    return ", ".join(told)

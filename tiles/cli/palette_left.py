"""The ways of glazing that a palette leaves out, and what is said of them below it."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from tiles.cli import find

MOST_BUCKETS = 3
"""Ways of glazing named of which one bucket alone failed."""


@dataclass(frozen=True)
class Left:
    """What is left out: ``retired`` with the names of the clays and glazes that are."""

    faulty: list = field(default_factory=list)
    poisonous: list = field(default_factory=list)
    retired: list[str] = field(default_factory=list)

    def told(self) -> list[str]:
        """A line or more for each reason."""
        return [*_of_faulty(self.faulty), *_of_poison(self.poisonous), *_of_retired(self.retired)]


def parted(ways: Iterable, is_left: Callable) -> tuple[list, list]:
    """The ways that stay, and those that are left out."""
    stay, left = [], []
    for each in ways:
        (left if is_left(each) else stay).append(each)
    return stay, left


def retired_names(session, ways: list) -> list[str]:
    """The clays and glazes of some ways that are retired."""
    from tiles.queries.summaries import retired
    from tiles.records import models

    areas = [each.areas[0] for each in ways]
    bodies = retired(session, models.ClayBody, {each.body for each in areas})
    glazes = {name for each in areas for name in each.glazes}
    return [*bodies, *retired(session, models.Glaze, glazes)]


def _of_faulty(ways: list) -> list[str]:
    """How many were left out for their faults, and those of one bad bucket."""
    if not ways:
        return []
    lines = [f"Left out because of faults: {_many(ways)} (shown without --only-clean)."]
    buckets = [_of_bucket(each, *bad) for each in ways if (bad := each.only_bad_batch())]
    if buckets:
        more = len(buckets) - MOST_BUCKETS
        told = [*buckets[:MOST_BUCKETS], *([f"and {more} more"] if more > 0 else [])]
        lines.append(f"All faults are of one batch of: {'; '.join(told)}.")
        lines.append("Another batch alone: 'tiles palette --batch NAME'.")
    return lines


def _of_poison(ways: list) -> list[str]:
    if not ways:
        return []
    return [
        f"Left out as holding a poison by recipe or label, or not understood: {_many(ways)} (shown "
        "without --no-poison). A jar that names none may still hold it."
    ]


def _of_retired(names: list[str]) -> list[str]:
    told = f"Left out as retired: {', '.join(names)} ('tiles find' still has the tiles)."
    return [told] if names else []


def _many(ways: list) -> str:
    from tiles.cli.prose import counted

    return f"{counted(len(ways), 'way')} of glazing"


def _of_bucket(made, glaze: str, batch: str) -> str:
    """A way of glazing that failed from one bucket alone."""
    area, clean = made.areas[0], len(made.clean)
    cone = f" at cone {area.cone_reached}" if area.cone_reached else ""
    tiles = f"{clean} of {len(made.marks)} clean, none of them from it"
    return f"{find.coat(area)} on {area.body}{cone} ({glaze} batch {batch}; {tiles})"

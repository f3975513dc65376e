"""How far each glaze firing of a kiln, and each shelf in it, was from its target."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from tiles.chemistry.cones import steps_between
from tiles.records.derived import cone_reached
from tiles.records.forms import FiringRecord, TileRecord
from tiles.records.words import name_key


@dataclass(frozen=True)
class Reading:
    """A firing with its target, and how far each shelf ("" for none) missed it. [cone steps].

    ``shelves`` says how each is spelt; ``day`` is None where it is not on record.
    """

    target: str
    day: date | None
    missed: dict[str, float]
    shelves: dict[str, str]

    @property
    def of_kiln(self) -> float:
        """What all shelves missed by; 0 where one was right, or some were over, others under."""
        steps = list(self.missed.values())
        return 0 if min(steps) <= 0 <= max(steps) else min(steps, key=abs)


def readings(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord]
) -> list[Reading]:
    """Each firing with a target of which a cone was read."""

    def meant(firing: FiringRecord) -> str | None:
        return firing.target_cone if is_glaze_in(firing, kiln) else None

    return [reading for _firing, reading in readings_against(meant, records, firings)]


def readings_against(
    meant: Callable[[FiringRecord], str | None],
    records: Iterable[TileRecord],
    firings: Iterable[FiringRecord],
) -> list[tuple[FiringRecord, Reading]]:
    """Each firing of which a cone was read, against the cone it was meant to reach.

    Parameters
    ----------
    meant : callable
        That cone; None for a firing that does not count.
    """
    of_tiles: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    of_cones: dict[str, dict[str, float]] = defaultdict(dict)
    names: dict[str, dict[str, str]] = defaultdict(dict)
    known: dict[str, FiringRecord] = {}
    fired: dict[str, FiringRecord] = {}
    for record in records:
        firing, reached = record.firing, cone_reached(record)
        if firing and reached and (target := meant(firing)):
            known[firing.name] = firing
            over = steps_between(target, reached.cone)
            shelf = name_key(record.shelf or "")
            of_tiles[firing.name][shelf].append(over)
            names[firing.name][shelf] = record.shelf or ""
    for firing in (*known.values(), *firings):
        target = meant(firing)
        for each in firing.witness_cones if target else ():
            fired[firing.name] = firing
            over = steps_between(target, each.cone)
            shelf = name_key(each.shelf or "")
            of_cones[firing.name][shelf] = over
            names[firing.name][shelf] = each.shelf or ""
    fired |= known
    return [
        (fired[name], Reading(
            meant(fired[name]),
            fired[name].fired_on,
            of_cones[name] | {shelf: middle_of(overs) for shelf, overs in of_tiles[name].items()},
            names[name],
        ))
        for name in dict.fromkeys((*of_tiles, *of_cones))
    ]  # fmt: skip


def middle_of(steps: Sequence[float]) -> float:
    """The middle one; of two the smaller, so that hot and cold are judged alike."""
    ordered, last = sorted(steps), len(steps) - 1
    return min(ordered[last // 2], ordered[(last + 1) // 2], key=abs)


def is_glaze_in(firing: FiringRecord, kiln: str) -> bool:
    """Whether it is a glaze firing of this kiln."""
    return name_key(firing.kiln or "") == name_key(kiln) and firing.kind != "bisque"

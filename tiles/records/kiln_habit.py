"""How far from its target a kiln really fires, and each of its shelves from the others.

Source: common practice, no source: a kiln whose controller or cone sitter is off is off the same
way each time, which is what witness cones are for.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median_low

from tiles.chemistry.cones import CONES, cone_at, step, steps_between
from tiles.records.derived import cone_reached
from tiles.records.forms import FiringRecord, TileRecord

FEWEST_FIRINGS = 3
USUAL_SHARE = 0.75
"""So many firings, and so large a part of them, must miss their target alike (estimates)."""


@dataclass(frozen=True)
class Habit:
    """A kiln that misses its target by so many cones, in ``alike`` of the ``read`` firings."""

    kiln: str
    cones: float
    alike: int
    read: int

    def expected(self, target: str) -> str | None:
        """The cone that a firing set for ``target`` is likely to reach; None off the scale."""
        at = step(target) + self.cones
        return cone_at(at) if step(CONES[0]) <= at <= step(CONES[-1]) else None

    def said(self) -> str:
        """The habit as a person says it.

        Examples
        --------
        >>> Habit("big kiln", 1, 3, 4).said()
        'big kiln reached 1 cone more than it was set for in 3 of 4 glaze firings'
        """
        return (
            f"{self.kiln} reached {_more(self.cones)} than it was set for in {self.alike} of "
            f"{self.read} glaze firings"
        )


@dataclass(frozen=True)
class ShelfHabit:
    """A shelf that reaches so many cones more or less than all ``others``.

    So in ``alike`` of the ``read`` firings in which its cone and another shelf's were read.
    """

    shelf: str
    others: tuple[str, ...]
    cones: float
    alike: int
    read: int

    def said(self) -> str:
        """The habit as a person says it.

        Examples
        --------
        >>> ShelfHabit("bottom", ("top",), 1, 9, 9).said()
        'shelf bottom reached 1 cone more than shelf top in 9 of 9 glaze firings'
        """
        others = f"shelf {self.others[0]}" if len(self.others) == 1 else "the other shelves"
        return (
            f"shelf {self.shelf} reached {_more(self.cones)} than {others} in {self.alike} of "
            f"{self.read} glaze firings"
        )


def _more(cones: float) -> str:
    size = abs(cones)
    many = "half a cone" if size == 0.5 else f"{size:g} cone{'s' * (size > 1)}"
    return f"{many} {'more' if cones > 0 else 'less'}"


def habit_of(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord] = ()
) -> Habit | None:
    """What a kiln does in most of its glaze firings; None where it hits, or too few were read.

    Parameters
    ----------
    kiln : str
        Its name, whatever the capitals.
    records : iterable of TileRecord
        The tiles. A firing is read by the middle of what its tiles and witness cones say; one
        without a target does not count.
    firings : iterable of FiringRecord, optional
        All firings: one without tiles is read by its witness cones alone.
    """
    read: dict[str, list[float]] = defaultdict(list)
    for record in records:
        firing, reached = record.firing, cone_reached(record)
        if firing and reached and _is_of(firing, kiln):
            read[firing.name].append(steps_between(firing.target_cone, reached.cone))
    for firing in firings:
        if firing.witness_cones and firing.name not in read and _is_of(firing, kiln):
            read[firing.name] = [
                steps_between(firing.target_cone, each.cone) for each in firing.witness_cones
            ]
    counted = Counter(median_low(each) for each in read.values())
    cones, alike = counted.most_common(1)[0] if counted else (0, 0)
    if not cones or len(read) < FEWEST_FIRINGS or alike < USUAL_SHARE * len(read):
        return None
    return Habit(kiln, cones, alike, len(read))


def shelf_habits(kiln: str, firings: Iterable[FiringRecord]) -> list[ShelfHabit]:
    """The shelves that most glaze firings left hotter or cooler than all others, hottest first.

    Parameters
    ----------
    kiln : str
        Its name, whatever the capitals.
    firings : iterable of FiringRecord
        All firings; those with witness cones of two shelves or more count.
    """
    off: dict[str, list[float]] = defaultdict(list)
    others: dict[str, set[str]] = defaultdict(set)
    names: dict[str, str] = {}
    for firing in (each for each in firings if _is_glaze_in(each, kiln)):
        read = [each for each in firing.witness_cones if each.shelf]
        names |= {each.shelf.casefold(): each.shelf for each in read}
        steps = {each.shelf.casefold(): step(each.cone) for each in read}
        for shelf, at in steps.items() if len(steps) > 1 else ():
            rest = [each for other, each in steps.items() if other != shelf]
            off[shelf].append(max(0, at - max(rest)) + min(0, at - min(rest)))
            others[shelf] |= steps.keys() - {shelf}
    found = []
    for shelf, steps in off.items():
        cones, alike = Counter(steps).most_common(1)[0]
        if cones and len(steps) >= FEWEST_FIRINGS and alike >= USUAL_SHARE * len(steps):
            beside = tuple(names[each] for each in sorted(others[shelf]))
            found.append(ShelfHabit(names[shelf], beside, cones, alike, len(steps)))
    found.sort(key=lambda each: -each.cones)
    return found[:1] if len(off) == 2 else found  # of two shelves one sentence tells both


def _is_of(firing: FiringRecord, kiln: str) -> bool:
    return _is_glaze_in(firing, kiln) and firing.target_cone is not None


def _is_glaze_in(firing: FiringRecord, kiln: str) -> bool:
    return (firing.kiln or "").casefold() == kiln.casefold() and firing.kind != "bisque"

"""The other shelf of a firing that reached its target where the tile's own shelf missed it.

Such a kiln is uneven, not wrong: to fire the whole load otherwise would spoil the other shelf.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import SHELF, Change
from tiles.chemistry.cones import step, steps_between
from tiles.records.derived import cone_reached, label_range, witness_cone
from tiles.records.kiln_habit import FEWEST_MISSES, firings_now
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from diagnose.weighing import Weighed
    from tiles.records.forms import FiringRecord, TileRecord

OF_KILN, OF_SHELF = "kiln_short", "cold_shelf"
"""The same heat too little, laid to the whole kiln and to one shelf of it."""
_OVER, _SHORT = ("overfired",), (OF_KILN, OF_SHELF)
"""The causes that a cooler or a hotter shelf mends."""
_ITS_SHELF = {
    OF_KILN: "its shelf or place in the kiln fell short of the cone",
    "overfired": "its shelf or place in the kiln went over the cone",
}


@dataclass(frozen=True)
class RightShelf:
    """A shelf that reached the target, and what the tile reached on its own.

    ``over`` counts the cones that the tile went over it, below 0 where it fell short; ``here`` is
    its shelf, ``said_here`` names what was read: the shelf, or the tile itself.
    """

    name: str
    cone: str
    here: str
    cone_here: str
    over: float
    said_here: str

    @property
    def say(self) -> str:
        """As a fix."""
        return (
            f"Put such ware on shelf {self.name}: in the same firing it reached cone {self.cone}, "
            f"as set, {self.said_here} cone {self.cone_here}."
        )

    @property
    def confirm(self) -> str:
        """What proves it."""
        return f"Fire a twin on shelf {self.name}, with a witness cone beside it."

    @property
    def change(self) -> Change:
        """As the change of a trial."""
        return Change(SHELF, self.here, self.name)


def missed_alone(record: "TileRecord") -> RightShelf | None:
    """The other shelf that met the target; None where the tile met it too, or none is known."""
    firing, reached = record.firing, cone_reached(record)
    if firing is None or firing.target_cone is None or reached is None or not record.shelf:
        return None
    over = steps_between(firing.target_cone, reached.cone)
    for read in firing.witness_cones if over else ():
        is_right = steps_between(firing.target_cone, read.cone) == 0
        if is_right and read.shelf and not same_name(read.shelf, record.shelf):
            is_of_shelf = reached.cone == witness_cone(firing, record.shelf)
            said = f"shelf {record.shelf}" if is_of_shelf else "this tile"
            return RightShelf(read.shelf, read.cone, record.shelf, reached.cone, over, said)
    return None


def shelves_that_miss(record: "TileRecord", others: "Sequence[TileRecord]") -> frozenset[str]:
    """The shelves of its kiln that mostly miss the cone the kiln is set for, as `name_key`.

    Those of now count: other elements may have made another shelf miss it. One firing in which
    such a shelf was right is held against all the others: no ware is sent there for it.
    """
    off: dict[str, list[bool]] = {}
    for firing in firings_of(record, others):
        for read in (each for each in firing.witness_cones if each.shelf):
            is_off = steps_between(firing.target_cone, read.cone) != 0
            off.setdefault(name_key(read.shelf), []).append(is_off)
    return frozenset(
        shelf
        for shelf, missed in off.items()
        if sum(missed) >= FEWEST_MISSES and 2 * sum(missed) > len(missed)
    )


def firings_of(record: "TileRecord", others: "Sequence[TileRecord]") -> "list[FiringRecord]":
    """The glaze firings of its kiln as it is now that were set for a cone; none without a kiln."""
    firings = {
        name_key(each.firing.name): each.firing
        for each in (*others, record)
        if each.firing and each.firing.name and each.firing.target_cone
    }
    kiln = record.firing.kiln if record.firing else None
    return firings_now(kiln, list(firings.values())) if kiln else []


def right_shelf(record: "TileRecord", cause: str) -> RightShelf | None:
    """Where such ware belongs; None for other causes, and where no other shelf was right.

    Nor is one that went hotter than clay or label stand: the firing is too hot for that ware.
    """
    found = stands_on(record)
    return found if found and _is_of(found, cause) else None


def stands_on(record: "TileRecord") -> RightShelf | None:
    """The other shelf that met the target, where clay and glazes stand what it reached."""
    found = missed_alone(record)
    return found if found and _stand(record, found.cone) else None


def _is_of(found: RightShelf, cause: str) -> bool:
    return cause in (_OVER if found.over > 0 else _SHORT)


def _stand(record: "TileRecord", cone: str) -> bool:
    glazes = [layer.glaze for area in record.areas for layer in area.layers]
    known = [label_range(each) for each in (record.body, *glazes)]
    return all(step(cone) <= step(hottest) for _, hottest in filter(None, known))


def of_its_shelf(rows: "Sequence[Weighed]", record: "TileRecord") -> "tuple[Weighed, ...]":
    """The causes, those of the kiln told of the shelf where the kiln met its cone elsewhere.

    Where one shelf has a cause of its own, it is that which rises (``missed_alone`` in its signs).
    """
    found = missed_alone(record)
    if not found or any(row.name == OF_SHELF for row in rows):
        return tuple(rows)
    return tuple(
        replace(row, cause=replace(row.cause, title=_ITS_SHELF[row.name]))
        if row.name in _ITS_SHELF and _is_of(found, row.name)
        else row
        for row in rows
    )

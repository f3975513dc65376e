"""A jar that is dry in every firing at the cone of its own label, while other glazes melted there.

Such a jar may hold another glaze than its label says: 5 was read as 05, or it was filled from
another one. No cut of its own tiles tells that, because all of them fail: they are held against
the tiles of other glazes in the same firings.
"""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.counted import Counted, Sides
from diagnose.measures.of_area import measures
from diagnose.own_tiles.areas import looked_at, under
from diagnose.own_tiles.lesson import Lesson
from diagnose.own_tiles.lift import lift_of_count
from diagnose.own_tiles.occasions import JAR
from diagnose.view import View
from diagnose.wording import DID
from tiles.records.derived import firing_key, shows
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import AreaRecord, TileRecord

Place = tuple[str, str | None]
"""A firing, and the shelf of it where that is on record."""
OF_JAR = "underfired"
"""The fault that a label with another cone brings."""
LEAST_TILES, LEAST_FIRINGS = 3, 2
"""So many tiles of the jar, in so many firings, the one asked about counted in (estimate)."""
LEAST_BESIDE = 4
"""So many tiles of other glazes in those firings tell that the kiln was hot enough (estimate)."""
NEARLY_ALL = 0.9
"""A jar with another glaze in it is dry always (estimate) ..."""
MOST_BESIDE = 0.25
"""... and of what lies beside it no more, each glaze having faults of its own (estimate)."""
SHORT = -0.25
"""A firing that stayed further below the label is no fault of the label. [cones]"""


def lesson_of_jar(
    records: "Sequence[TileRecord]",
    record: "TileRecord",
    area: "AreaRecord",
    defect: str,
) -> Lesson | None:
    """The count of this jar against other glazes beside it; None where it tells nothing.

    Parameters
    ----------
    records : sequence of TileRecord
        Own tiles: those of the glaze, and of its firings as far as they are at hand.
    record, area : TileRecord, AreaRecord
        The failed tile, which does not count itself.
    defect : str
        One word of the defect list.
    """
    glaze, firing = View(record, area).glaze_name, firing_key(record)
    if defect != OF_JAR or not firing or glaze is None:
        return None
    own = at_its_label(records, record, glaze)
    places = {_place(each) for each in (record, *(other for other, _ in own))}
    firings = {at for at, _ in places}
    beside = [
        each
        for each in looked_at(records)
        if not places.isdisjoint({_place(each[0]), (firing_key(each[0]), None)})
        and View(*each).glazes
        and not same_name(View(*each).glaze_name, glaze)
        and not same_name(each[0].mark, record.mark)
    ]
    sides = Sides(*([Counted(*each, shows(*each, defect)) for each in of] for of in (own, beside)))
    (here, there) = sides.tiles
    many = here[1] + _met_its_label(record, area)
    is_enough = many >= LEAST_TILES and len(firings) >= LEAST_FIRINGS
    if not own or not is_enough or there[1] < LEAST_BESIDE:
        return None
    failed = [each.failed for each in sides.here]
    if sum(failed) < NEARLY_ALL * len(failed) or there[0] > MOST_BESIDE * there[1]:
        return None
    beside_it = f"of {there[1]} tiles with other glazes {_where(places)} {there[0] or 'none'}"
    return _lesson(glaze, here, there, sides.p_value, len(firings), f"{beside_it} {DID[defect]}")


def at_its_label(
    records: "Iterable[TileRecord]", record: "TileRecord", glaze: str
) -> "list[Looked]":
    """The areas of other tiles under this glaze that got the heat its label asks, in any firing.

    Parameters
    ----------
    records : iterable of TileRecord
        Own tiles.
    record : TileRecord
        The failed tile, which does not count itself.
    glaze : str
        Its uppermost glaze.
    """
    return [
        each
        for each in under(glaze, records)
        if not same_name(each[0].mark, record.mark)
        and firing_key(each[0])
        and _met_its_label(*each)
    ]


def _place(record: "TileRecord") -> Place:
    """Where it was fired. A shelf can be colder than another: none speaks for the next one."""
    return firing_key(record), name_key(record.shelf) if record.shelf else None


def _where(places: "Iterable[Place]") -> str:
    known = {shelf is not None for _, shelf in places}
    if known == {True}:
        return "on the same shelves of the same firings"
    if True in known:
        return "in the same firings, where a shelf is on record on the same one,"
    return "in the same firings"


def _lesson(
    glaze: str,
    here: tuple[int, int],
    there: tuple[int, int],
    chance: float,
    firings: int,
    beside: str,
) -> Lesson:
    say = (
        f"{beside}, of {here[1]} others of {glaze}, fired as its label says, {here[0]} did, in "
        f"{firings} firings, whatever coat and clay."
    )
    lift = round(lift_of_count(here, there, chance), 3)
    return Lesson(JAR, *here, *there, chance, lift, say, lambda _each: None, beside=beside)


def _met_its_label(record: "TileRecord", area: "AreaRecord") -> bool:
    """Whether it reached what its own label asks, or fell no further short than SHORT."""
    over = measures(record, area.number).get("cones_over_label")
    return over is not None and over.value >= SHORT

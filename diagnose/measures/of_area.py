"""A tile record turned into named measures: each a value with its unit, or not there at all.

A measure that was not recorded is absent. Nothing is filled in with what is usual.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.view import View, severity_step, sightings
from diagnose.vocabulary import unit_of
from tiles.errors import UnknownName

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord


NOTE_TRUST = 0.6
"""What a free-text note says, or another tile, counts so much of what the same fact in a field
would (estimate)."""


@dataclass(frozen=True)
class Measure:
    """One recorded fact.

    ``value`` is a number in ``unit``, a word, or ``"yes"`` / ``"no"`` for a clue; ``said`` is how a
    teacher would say it. ``note`` holds the words of a free-text note that it was read from, and
    is empty for what was recorded in a field; ``sister`` is the mark of the tile it was seen on
    where that is another one.
    """

    name: str
    value: float | str
    unit: str
    said: str
    note: str = ""
    sister: str = ""

    @property
    def trust(self) -> float:
        """1 for what was recorded, less for what was read from a note or off another tile."""
        return NOTE_TRUST if self.note or self.sister else 1.0


def measures(
    record: "TileRecord", area_number: int | None = None, defect: str | None = None
) -> dict[str, Measure]:
    """All that is recorded of a tile, as named measures.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    area_number : int, optional
        Which area to look at. Without it: the only area, or the one the defect shows worst on,
        or the first.
    defect : str, optional
        The defect in mind; adds when it was first seen and what the areas say when compared.

    Returns
    -------
    dict[str, Measure]
        By name; the names are those of ``vocabulary.toml`` and of the clue list.

    Raises
    ------
    UnknownName
        The tile has no area of that number.
    """
    from diagnose import colour_layer
    from diagnose.measures import (
        application,
        areas,
        body,
        chemistry,
        clues,
        firing,
        looks,
        names,
        recipe,
        usual_coat,
    )

    view = View(record, choose_area(record, area_number, defect), defect)
    judged = colour_layer.judged(view)
    found: dict[str, Measure] = {}
    for module, seen in (
        (application, judged),
        (body, view),
        (firing, judged),
        (recipe, judged),
        (chemistry, judged),
        (names, judged),
        (colour_layer, judged),
        (looks, view),
        (areas, view),
        (usual_coat, view),
        (clues, view),
    ):
        for name, value, said in module.read(seen):
            if value is not None:
                found[name] = Measure(name, value, unit_of(name), said)
    return found


def choose_area(
    record: "TileRecord", area_number: int | None, defect: str | None = None
) -> "AreaRecord | None":
    """The area asked for, else the worst affected, the thicker coat deciding a tie."""
    by_number = {area.number: area for area in record.areas}
    if area_number is not None:
        if area_number not in by_number:
            raise UnknownName(
                f"{record.mark} has no area {area_number}.",
                f"one of {', '.join(map(str, sorted(by_number)))}." if by_number else "no area.",
                field="area",
                value=area_number,
            )
        return by_number[area_number]
    if not by_number:
        return None
    seen = sightings(record, defect) if defect else []
    named = [s for s in seen if s.area is not None]
    if not named:
        return max(record.areas, key=_coat_key) if seen else record.areas[0]

    def badness(number: int) -> tuple:
        worst = max(severity_step(s) or 0 for s in named if s.area == number)
        return (worst, _coat_key(by_number[number]))

    return by_number[max(sorted({s.area for s in named}), key=badness)]


def _coat_key(area: "AreaRecord") -> tuple[float, float]:
    """Orders areas by how much glaze they carry, as far as recorded."""
    thickness_mm = sum(layer.thickness_mm or 0 for layer in area.layers)
    return (thickness_mm, sum(layer.coats or 0 for layer in area.layers))

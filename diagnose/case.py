"""One defect of one tile, looked at on its worst area and weighed."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose import notes
from diagnose.measures import choose_area, measures
from diagnose.right_shelf import of_its_shelf
from diagnose.rules import load
from diagnose.view import View, area_of, setting
from diagnose.weighing import weigh

if TYPE_CHECKING:
    from collections.abc import Mapping

    from diagnose.measures import Measure
    from diagnose.notes import NoteRead
    from diagnose.own_bodies import SoundBody
    from diagnose.own_tiles_say import YourTiles
    from diagnose.tried import Tried
    from diagnose.twins import Twin
    from diagnose.weighing import Weighed
    from tiles.records.forms import AreaRecord, LayerRecord, TileRecord


@dataclass(frozen=True)
class Case:
    """What was known of one defect and how the causes weigh, the likeliest first.

    ``setting`` names the set of priors; ``facts`` are the recorded measures and those read from
    notes; ``notes`` say what was read from them. ``own`` is what the user's own tiles say, where
    they were asked, ``tried`` the trials fired for this tile, ``twins`` sound tiles alike but for
    one thing that no trial tested, ``sound_on`` another clay on which own tiles of the glaze are
    sound; ``sister`` says on which tile of the glaze and clay the fault was seen sooner.
    """

    record: "TileRecord"
    defect: str
    area_number: int | None
    setting: str
    facts: "Mapping[str, Measure]"
    notes: "tuple[NoteRead, ...]"
    rows: "tuple[Weighed, ...]"
    own: "YourTiles | None" = None
    tried: "tuple[Tried, ...]" = ()
    twins: "tuple[Twin, ...]" = ()
    sound_on: "SoundBody | None" = None
    sister: str = ""

    @property
    def area(self) -> "AreaRecord | None":
        """The area looked at; None where the tile has none."""
        return area_of(self.record, self.area_number)

    @property
    def layers(self) -> "list[LayerRecord]":
        """What lies on the area looked at, from the clay upwards."""
        return self.area.layers if self.area else []

    @property
    def bonus(self) -> dict[str, float]:
        """What is added to the log-odds of each cause whatever is recorded of the tile, by name."""
        return {row.name: row.bonus + row.own for row in self.rows}

    @property
    def first(self) -> "Weighed":
        """The likeliest cause."""
        return self.rows[0]


def weigh_case(
    record: "TileRecord", defect: str, bonus: "Mapping[str, float] | None" = None
) -> Case:
    """Weigh the causes of one defect of one tile.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    defect : str
        A defect with rules; it need not have been seen.
    bonus : mapping, optional
        Log-odds for causes that explain further defects of the tile.
    """
    area = choose_area(record, None, defect)
    number = area.number if area else None
    recorded = measures(record, number, defect)
    read = notes.read(record, number, defect, recorded)
    facts = recorded | read.facts
    where = setting(View(record, area, defect))
    book = load(defect)
    rows = of_its_shelf(weigh(book, facts, where, bonus), record)
    asked = {sign.measure for cause in book.causes for sign in cause.signs}
    told = tuple(line for line in read.said if asked & line.tells)
    return Case(record, defect, number, where, facts, told, rows)

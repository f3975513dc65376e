"""One defect of one tile, looked at on its worst area and weighed."""

import math
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from diagnose import bought_bisque
from diagnose.measures.of_area import choose_area, measures
from diagnose.notes import reading as notes
from diagnose.own_tiles.right_shelf import of_its_shelf
from diagnose.rules import load
from diagnose.view import View, area_of, setting, sightings
from diagnose.weighing import weigh
from tiles.records.words import OTHER_FAULT, name_key

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from diagnose.comparing.of_studio import CountOf, OfStudio
    from diagnose.measures.of_area import Measure
    from diagnose.notes.reading import NoteRead
    from diagnose.own_tiles.bodies import SoundBody
    from diagnose.own_tiles.say import YourTiles
    from diagnose.own_tiles.twins import Twin
    from diagnose.own_tiles.versions import SoundVersion
    from diagnose.trials.tried import Tried
    from diagnose.weighing import Weighed
    from tiles.records.forms import AreaRecord, LayerRecord, TileRecord

SHARED_BY_LOAD = ("loaded_damp", "fired_longer_than_usual", "cooled_slowly", "cooled_fast",
                  "glaze_kiln_unvented", "smoke_in_firing", "chrome_in_load")  # fmt: skip
"""Clues of one tile that hold for its whole load as a rule (common practice, no source)."""


@dataclass(frozen=True)
class Case:
    """What was known of one defect and how the causes weigh, the likeliest first.

    ``setting`` names the set of priors; ``facts`` are the recorded measures and those read from
    notes; ``notes`` say what was read from them. ``own`` is what the user's own tiles say, where
    they were asked, ``tried`` the trials fired for this tile, ``twins`` sound tiles alike but for
    one thing that no trial tested, ``sound_on`` another clay on which own tiles of the glaze are
    sound, ``sound_version`` another version of its recipe; ``sister`` says on which tile of the
    glaze and clay the fault was seen sooner, ``clay`` how tiles of all glazes did on its clay and
    on others, ``firing`` how those of its glaze did in its firing, ``since`` since when it comes
    more often there; ``off_shelves`` are those of its kiln that mostly miss the cone it is set for.
    ``studio`` counts tiles of all glazes, where asked, ``load`` those of its firing where that
    failed as a whole; ``count_of`` is what both were asked of; ``together`` says which two facts
    together set its glaze's failing tiles apart, ``of_kin`` what trials for tiles akin told.
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
    sound_version: "SoundVersion | None" = None
    sister: str = ""
    clay: str = ""
    firing: str = ""
    since: str = ""
    off_shelves: frozenset[str] = frozenset()
    studio: "OfStudio | None" = None
    load: "OfStudio | None" = None
    together: str = ""
    of_kin: tuple[str, ...] = ()
    count_of: "CountOf | None" = field(default=None, repr=False, compare=False)

    def goes_to(self, shelf: str) -> bool:
        """Whether ware may be sent to a shelf: not by what it mostly reaches."""
        return name_key(shelf) not in self.off_shelves

    @property
    def area(self) -> "AreaRecord | None":
        """The area looked at; None where the tile has none."""
        return area_of(self.record, self.area_number)

    @cached_property
    def view(self) -> View:
        """The tile seen from that area."""
        return View(self.record, self.area, self.defect)

    @cached_property
    def noted(self) -> str:
        """What is written of a fault without a word of its own; empty of any other."""
        seen = sightings(self.record, self.defect) if self.defect == OTHER_FAULT else []
        return "; ".join(dict.fromkeys(each.note for each in seen if each.note))

    @property
    def layers(self) -> "list[LayerRecord]":
        """What lies on the area looked at, from the clay upwards."""
        return self.area.layers if self.area else []

    @property
    def ask_first(self) -> tuple[str, ...]:
        """The questions to begin with: of a load that failed as a whole what all of it shares."""
        return SHARED_BY_LOAD if self.load else ()

    @property
    def bonus(self) -> dict[str, float]:
        """What is added to the log-odds of each cause whatever is recorded of the tile, by name."""
        return {row.name: row.bonus + row.own for row in self.rows}

    @property
    def practice_shares(self) -> dict[str, float]:
        """The share of each cause by common practice alone, by name."""
        alone = {row.name or "other": math.exp(row.log_odds - row.own) for row in self.rows}
        whole = sum(alone.values())
        return {name: weight / whole for name, weight in alone.items()}

    @property
    def first(self) -> "Weighed":
        """The likeliest cause."""
        return self.rows[0]

    def weighed(
        self, facts: "Mapping[str, Measure]", bonus: "Mapping[str, float] | None" = None
    ) -> "tuple[Weighed, ...]":
        """The causes under other facts, the likeliest first.

        Parameters
        ----------
        facts : Mapping[str, Measure]
            In place of those of the case.
        bonus : mapping, optional
            In place of what is added to the log-odds of each cause, by name.
        """
        bonus = self.bonus if bonus is None else bonus
        rows = of_its_shelf(weigh(load(self.defect), facts, self.setting, bonus), self.record)
        rows = bought_bisque.not_asked(rows, self.record)
        return _asked_by_its_words(rows) if self.noted else rows


def weigh_case(record: "TileRecord", defect: str) -> Case:
    """Weigh the causes of one defect of one tile.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    defect : str
        One word of the defect list; it need not have been seen.
    """
    area = choose_area(record, None, defect)
    number = area.number if area else None
    recorded = measures(record, number, defect)
    read = notes.read(record, number, defect, recorded)
    facts = recorded | read.facts
    where = setting(View(record, area, defect))
    asked = {sign.measure for cause in load(defect).causes for sign in cause.signs}
    told = tuple(line for line in read.said if asked & line.tells)
    case = Case(record, defect, number, where, facts, told, rows=())
    return replace(case, rows=case.weighed(facts))


def _asked_by_its_words(rows: "Sequence[Weighed]") -> "tuple[Weighed, ...]":
    """The causes without the questions of those that would be plain to see, and are not written.

    Of a colour that was smeared nobody is asked whether it stuck to the shelf.
    """
    return tuple(replace(row, missing=()) if row.is_unspoken else row for row in rows)

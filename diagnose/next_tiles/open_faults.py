"""The faults that a studio has open, and the tile to ask about for each: what to fire next.

A fault is open while it was seen lately. Those of most tiles come first: there a trial saves most.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING

from diagnose.fixes.ranges import apart, ceiling
from diagnose.own_tiles.areas import looked_at
from diagnose.own_tiles.late_looks import LateLooks, late_looks
from diagnose.own_tiles.other_words import meant_by
from diagnose.trials.changes import recipe_trial_of
from diagnose.trials.tried import is_control
from diagnose.view import View
from tiles.records.derived import defects_on, own_words, shows
from tiles.records.gone import is_gone, is_in_pieces
from tiles.records.words import OTHER_FAULT, is_no_name, name_key

if TYPE_CHECKING:
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import TileRecord

LATELY = timedelta(days=366)
"""A fault that no look saw within a year of the newest one is not open any more (estimate)."""

NOBODY = "unknown"
"""How a name begins that stands for a clay which nobody knows: none can be fetched."""
VESSEL = "vessel"


@dataclass
class OpenFault:
    """One fault of one glaze, or of a clay without one.

    ``failed`` are the tiles that show it, ``tiles`` how many of the glaze (or the bare clay) were
    looked at, late enough for it to show; ``early`` more are sound so far. Those of which clay and
    glaze have no firing in common (``is_apart``) are counted by themselves: they tell nothing of
    the others. ``waiting`` are trials of its tiles, fired or not, that nobody has looked at yet, or
    too early. ``words`` are what was first written of a fault without a word of its own: a chip and
    a smear are two, shiny and "no longer matt" are one. ``is_of_load``: they are the tiles of a
    load that failed as a whole, whatever the glaze; those of ``but_load`` are told apart so.
    """

    name: str
    defect: str
    is_of_clay: bool = False
    is_apart: bool = False
    failed: "list[TileRecord]" = field(default_factory=list)
    tiles: int = 0
    early: int = 0
    waiting: "list[TileRecord]" = field(default_factory=list)
    words: str = ""
    is_of_load: bool = False
    but_load: str = ""

    @property
    def last_seen(self) -> date:
        """The last look that saw it."""
        return max(_last_seen(record, self.defect) for record in self.failed)

    def record(
        self, trials: "Sequence[TileRecord]" = (), beside: "Collection[str]" = ()
    ) -> "TileRecord":
        """The tile to ask about: the one with most trials, else the newest that is none itself.

        One whose cone is known goes before: else a trial may go to another one. So does one that
        went no hotter than clay and glaze stand: of the others next to no trial may be fired. Then
        one that can be made again, its clay known and the coats of its layers, and no vessel.
        Tiles asked about already, by their marks in ``beside``, come last.
        """
        tried = [each.trial_of for each in trials if each.trial_defect == self.defect]

        def telling(record: "TileRecord") -> tuple:
            is_plain = not record.trial_of or is_control(record)
            last = _last_seen(record, self.defect)
            is_new = record.mark not in beside
            trials, has_cone = tried.count(record.mark), bool(View(record).cone)
            may_again = self._may_be_fired_again(record)
            made_again = self._can_be_made_again(record)
            known = (has_cone, may_again, is_plain, *made_again)
            return is_new, trials, *known, last, record.mark

        return max(self.failed, key=telling)

    def _may_be_fired_again(self, record: "TileRecord") -> bool:
        """Whether they stand the cone it reached on an area that shows it."""
        return not all(map(ceiling, self._failed_areas(record)))

    def _can_be_made_again(self, record: "TileRecord") -> tuple[bool, ...]:
        """Whether its clay can be fetched, its layers put on alike, and a test tile cut for it."""
        is_clay = not (
            is_no_name(record.body.name) or name_key(record.body.name).startswith(NOBODY)
        )
        areas = self._failed_areas(record)
        is_coated = any(all(layer.coats for layer in view.layers) for view in areas)
        return is_clay, is_coated, record.form != VESSEL

    def _failed_areas(self, record: "TileRecord") -> list[View]:
        areas = (area for area in record.areas if shows(record, area, self.defect))
        return [View(record, area) for area in areas]


def open_faults(records: "Sequence[TileRecord]", defect: str | None = None) -> list[OpenFault]:
    """The faults seen lately on glazes and clays in use, those of most tiles first.

    Parameters
    ----------
    records : sequence of TileRecord
        Every tile on record. Trial recipes of `tiles fix` are no glazes of their own here.
    defect : str, optional
        This fault only.
    """
    found: dict[tuple[str, bool, bool, str, str], OpenFault] = {}
    looked: dict[tuple[str, bool, bool], set[str]] = {}
    whole: dict[tuple[str, bool, bool], list[Looked]] = {}
    by_mark = {name_key(each.mark): each for each in records}
    for record, area in looked_at(records, OTHER_FAULT):
        if _is_of_line(record, by_mark):
            continue
        view = View(record, area)
        glaze = view.glaze
        if record.body.is_retired or (glaze and glaze.is_retired):
            continue
        name = (glaze or record.body).name
        of = (name_key(name), glaze is None, glaze is not None and bool(apart(view)))
        looked.setdefault(of, set()).add(record.mark)
        if not is_in_pieces(record, area):
            whole.setdefault(of, []).append((record, area))
        for seen in defects_on(record, area):
            words = own_words(seen)
            new = OpenFault(name, seen.defect, *of[1:], words=words)
            fault = found.setdefault((*of, seen.defect, meant_by(record, seen)), new)
            if record not in fault.failed[-1:]:
                fault.failed.append(record)
    faults = [each for each in found.values() if defect in (None, each.defect)]
    trials = [each for each in records if each.trial_of and not is_gone(each)]
    for each in faults:
        of = name_key(each.name), each.is_of_clay, each.is_apart
        areas = whole.get(of, [])
        late = late_looks(areas, each.defect)
        told = {record.mark for record, area in areas if late.tells(record, area)}
        each.tiles = len(looked[of] if each.defect == OTHER_FAULT else told)
        each.early = len({record.mark for record, _ in areas} - told)
        each.waiting = _waiting(each, [one for one in trials if _has_to_be_seen(one, late)])
    return _lately(faults)


def _is_of_line(record: "TileRecord", by_mark: "Mapping[str, TileRecord]") -> bool:
    """Whether it carries a trial recipe for a tile on record: its faults belong to that tile."""
    of = by_mark.get(name_key(record.trial_of)) if record.trial_of else None
    return of is not None and any(recipe_trial_of(record, View(of, each)) for each in of.areas)


def _has_to_be_seen(trial: "TileRecord", late: LateLooks) -> bool:
    """Whether nobody has looked at a trial yet, or too early for the fault it is for to show."""
    if not trial.inspections:
        return True
    told = (late.tells(trial, area) for area in trial.areas)
    return trial.trial_defect == late.defect and not any(told)


def _waiting(fault: OpenFault, trials: "Sequence[TileRecord]") -> "list[TileRecord]":
    """The trials of its tiles for this fault; for any of theirs where all its tiles wait for some.

    What a tile does not show is a fault under its right name.
    """
    shown = {
        name_key(record.mark): {seen.defect for area in record.areas
                                for seen in defects_on(record, area)}
        for record in fault.failed
    }  # fmt: skip
    of_its_tiles = [each for each in trials if name_key(each.trial_of) in shown]
    for_it = [
        each
        for each in of_its_tiles
        if each.trial_defect not in shown[name_key(each.trial_of)] - {fault.defect}
    ]
    all_wait = {name_key(each.trial_of) for each in of_its_tiles} == shown.keys()
    return for_it or (of_its_tiles if all_wait else [])


def _lately(faults: Iterable[OpenFault]) -> list[OpenFault]:
    ordered = sorted(faults, key=_of_most_tiles)
    newest = max((each.last_seen for each in ordered), default=date.min)
    return [each for each in ordered if newest - each.last_seen <= LATELY]


def _of_most_tiles(fault: OpenFault) -> tuple:
    """A fault without a word of its own comes last: no cause is known that a trial could tell."""
    is_other = fault.defect == OTHER_FAULT
    return is_other, -len(fault.failed), fault.name, fault.defect, name_key(fault.words)


def _last_seen(record: "TileRecord", defect: str) -> date:
    return max(
        look.inspected_on
        for look in record.inspections
        if any(each.defect == defect for each in look.defects)
    )

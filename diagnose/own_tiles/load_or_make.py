"""Whether it was the load or how a tile is made, where a whole load failed whatever the glaze.

Until that is told, a change of its glaze or coat is tried in vain: one tile made exactly alike, in
the next ordinary load, tells it for all tiles of that load. Tiles made alike that went into other
loads tell it as well; what went since says that it is over.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.comparing.of_load import LOAD
from diagnose.fixes.ranges import not_together
from diagnose.trials.tried import is_control
from diagnose.wording import DID, sentence
from tiles.records.derived import firing_key
from tiles.records.gone import is_gone
from tiles.records.spoken import some
from tiles.records.words import name_key

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.case import Case
    from diagnose.comparing.load_again import Again
    from tiles.records.forms import FiringRecord, TileRecord

HALF = 0.5
"""Where at least so many tiles made alike failed in other loads as well, it was not the load
alone (estimate)."""
LEAST_OF_OTHERS = 2
"""Of how other tiles of the load are made, so many in other loads tell (estimate)."""
MOST_NAMED = 3


@dataclass(frozen=True)
class LoadOrMake:
    """A load that failed as a whole, and what tells it from how one of its tiles is made.

    ``say`` has its counts; ``marks`` are its tiles that failed, ``again`` how the like of this tile
    came out in other loads, or of the others of the load where there are none of this one;
    ``controls`` are those fired for others of the load, ``waiting`` those for any of its tiles that
    nobody has looked at. ``is_suspect``: nothing on the tile tells of another cause so clearly that
    it goes before. ``look_at`` is what to look at meanwhile, ``advice`` what the first cause calls
    for, where a load shares that. ``now``, ``if_again`` and ``if_sound`` hold the causes by share,
    and after a control, the likeliest first.
    """

    mark: str
    defect: str
    firing: str
    say: str
    marks: tuple[str, ...]
    again: "tuple[Again, ...]"
    controls: "tuple[Again, ...]"
    waiting: tuple[str, ...]
    is_suspect: bool
    look_at: str
    advice: str = ""
    now: tuple[tuple[str, float], ...] = ()
    if_again: tuple[tuple[str, float], ...] = ()
    if_sound: tuple[tuple[str, float], ...] = ()

    @property
    def is_make(self) -> bool:
        """Whether made alike it failed in other loads too."""
        return fails_anywhere(self.mark, (*self.again, *self.controls))

    @property
    def is_over(self) -> bool:
        """Whether what was made alike came out in loads since; its own controls before others."""
        since = [each for each in {*self.again, *self.controls} if each.is_since]
        controls = {*_controls(since)}
        since = [one for one in since if one.of == self.mark and one.mark in controls] or since
        is_own = any(each.of == self.mark or each.is_control for each in since)
        least = 1 if is_own else LEAST_OF_OTHERS
        return len(since) >= least and _failed(since) < HALF * len(since)

    @property
    def leads(self) -> bool:
        """Whether the load is to be told from the make before the tile is changed in anything."""
        return self.is_suspect and not self.is_make

    @property
    def elsewhere(self) -> str:
        """How tiles made alike came out in other loads, in words; empty where there are none.

        Where these are not made as this tile but as others of the load, that is said.
        """
        named, left = self.controls[:MOST_NAMED], self.controls[MOST_NAMED:]
        controls = (
            f"{each.mark}, made like {each.of} of {self.firing}, {self._came_out(each.failed)}."
            for each in named
        )
        failed, sound = _failed(left), len(left) - _failed(left)
        counts = (
            f"{many} {self._came_out(is_failed)}"
            for many, is_failed in ((failed, True), (sound, False))
            if many
        )
        more = f"Of the others made like tiles of {self.firing}, {' and '.join(counts)}."
        return " ".join(filter(None, (self._alike, *controls, more if left else "")))

    def _came_out(self, is_failed: bool) -> str:
        """How controls for others of the load came out."""
        did = DID.get(self.defect, "failed")
        return f"{did} in another load too" if is_failed else "came out without it since"

    @property
    def _alike(self) -> str:
        """How those of ``again`` came out."""
        is_own = bool(self.again) and self.again[0].of == self.mark
        return came_out(self.again, "it" if is_own else f"others of {self.firing}", self.defect)


def came_out(again: "Sequence[Again]", like: str, defect: str) -> str:
    """How tiles made ``like`` some of a load came out in others, in a sentence; "" of none."""
    if not again:
        return ""
    failed = dict.fromkeys(each.mark for each in again if each.failed)
    marks = dict.fromkeys(each.mark for each in again)
    did = DID.get(defect, "failed")
    if len(marks) == 1:
        so = f"{did} too" if failed else "came out without it"
        return sentence(f"made like {like}, {again[0].mark} of another load {so}")
    named = some([*failed] or [*marks], MOST_NAMED)
    start = f"of {len(marks)} tiles made like {like} in other loads"
    return sentence(f"{start} {len(failed) or 'none'} {did} ({named})")


def fails_anywhere(mark: str, again: "Sequence[Again]") -> bool:
    """Whether what was made like a tile of the load failed in others too: no load alone does it.

    Controls that were planned to tell it, where there are any, go before what was made by chance.
    """
    own, controls = [each for each in again if each.of == mark], {*_controls(again)}
    own = [each for each in own if each.mark in controls] or own
    return bool(own) and _failed(own) >= HALF * len(own)


def _controls(again: "Iterable[Again]") -> Iterable[str]:
    return (each.mark for each in again if each.is_control)


def load_or_make(diagnosis: "Diagnosis", others: "Sequence[TileRecord]") -> LoadOrMake | None:
    """The load of a tile, where that failed as a whole; None where it did not.

    Parameters
    ----------
    diagnosis : Diagnosis
        As `report.why` gives it, with its case.
    others : sequence of TileRecord
        Own tiles: controls among them that wait for a firing or a look.
    """
    case = diagnosis.case
    if case.load is None or case.load.of_load is None:
        return None
    load = case.load.of_load
    own = tuple(each for each in load.again if each.of == case.record.mark)
    controls = tuple(each for each in load.again if each.is_control and each not in own)
    mates = tuple(each for each in load.again if each not in controls)
    mates = mates if len({each.mark for each in mates}) >= LEAST_OF_OTHERS else ()
    told = LoadOrMake(
        case.record.mark,
        case.defect,
        load.firing,
        sentence(case.load.say),
        load.marks,
        own or mates,
        controls,
        tuple(_waiting(load.marks, case, others)),
        _is_suspect(diagnosis),
        _look_at(case.record.firing),
        _advice(diagnosis),
    )
    return _with_outcomes(told, case)


def causes_of_load(case: "Case") -> frozenset[str]:
    """The causes that a load shares, by name."""
    lessons = case.own.lessons if case.own else ()
    told = next((each for each in lessons if each.measure == LOAD), None)
    return case.own.causes_of(told, case) if told else frozenset()


def _advice(diagnosis: "Diagnosis") -> str:
    """What the rules advise first for its first cause; empty where that is none of a load."""
    first = diagnosis.causes[0]
    shared = first.fixes[:1] if first.name in causes_of_load(diagnosis.case) else []
    return "".join(f"If {first.title}: {_after_colon(each)}" for each in shared)


def _after_colon(text: str) -> str:
    return text[:1].lower() + text[1:]


def _is_suspect(diagnosis: "Diagnosis") -> bool:
    case = diagnosis.case
    is_other = diagnosis.enough_to_tell and case.first.name not in causes_of_load(case)
    is_fault = diagnosis.is_fault and not diagnosis.look_alike
    return is_fault and not is_other and not not_together(case.view)


def _waiting(marks: Sequence[str], case: "Case", others: "Sequence[TileRecord]") -> Iterable[str]:
    """The controls for tiles of the load, planned for another one, that nobody looked at."""
    of, firing = {name_key(each) for each in (*marks, case.record.mark)}, firing_key(case.record)
    for each in others:
        is_of_load = each.trial_of and name_key(each.trial_of) in of and is_control(each)
        is_open = firing_key(each) != firing and not each.inspections and not is_gone(each)
        if is_of_load and is_open:
            yield each.mark


def _look_at(firing: "FiringRecord") -> str:
    """What to look at of a load while its control is not fired."""
    read = ", ".join(f"{each.cone} {each.shelf or ''}".strip() for each in firing.witness_cones)
    target = f"; set for {firing.target_cone}" if firing.target_cone else ""
    cones = f"witness cones ({read}{target})" if read else "witness cones"
    asked = "was the ware dry, was bisque, clay or water new?"
    return f"look at {firing.name}: its {cones}, schedule, cooling and vents; {asked}"


def _with_outcomes(told: LoadOrMake, case: "Case") -> LoadOrMake:
    from diagnose.next_tiles.choice import named, outcomes
    from diagnose.trials.other_load import chances_in_other_load

    shares = tuple(row.share for row in case.rows)
    failed, sound = outcomes(case, shares, chances_in_other_load(case))
    after = {"now": tuple(named(case, shares))}
    after |= {"if_again": tuple(named(case, failed)), "if_sound": tuple(named(case, sound))}
    return replace(told, **after)


def _failed(again: "Sequence[Again]") -> int:
    return sum(each.failed for each in again)

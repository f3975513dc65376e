"""What a tile made alike tells in another load, where its own failed as a whole.

It is a trial of the load: what a load shares it leaves behind, as a remedy would.
"""

from typing import TYPE_CHECKING

from diagnose.fixes.bench import Step
from diagnose.fixes.shapes import Change
from diagnose.next_tiles.changes import Candidate
from diagnose.next_tiles.odds import NONE, Like, chances
from diagnose.trials.tried import is_control
from tiles.records.derived import firing_key

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import TileRecord

OTHER_LOAD = "load"


def is_in_other_load(trial: "TileRecord", case: "Case") -> bool:
    """Whether a control went into another load than a tile whose load failed as a whole.

    Not into one that failed as well: what came again there may be what was wrong before.
    """
    if case.load is None or case.load.of_load is None or not is_control(trial):
        return False
    return firing_key(trial) not in ("", firing_key(case.record), *case.load.of_load.bad_too)


def chances_in_other_load(case: "Case", before: Like = NONE) -> tuple[float, ...]:
    """How likely the fault comes again there, by cause in the order of the case.

    Parameters
    ----------
    case : Case
        The tile of the load.
    before : Like
        Earlier controls in other loads.
    """
    from diagnose.own_tiles.load_or_make import causes_of_load

    firing = case.record.firing.name
    step = Step(OTHER_LOAD, "", [Change(OTHER_LOAD, firing, "another")])
    other = Candidate(OTHER_LOAD, step, acts_on=causes_of_load(case))
    # Tiles made alike that went into other loads are told beside it: of the load they tell alone.
    return chances(case, other, case.facts, NONE, before)

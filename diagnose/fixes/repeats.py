"""A change that came out sound once is fired once more: one sound tile may be luck.

Nothing untried goes beside it: whoever has what worked need first know whether it does so again.
"""

from typing import TYPE_CHECKING

from diagnose.fixes.trials import repeat_trial
from diagnose.trials.worked import LEAST_SOUND, proven, worked_once

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.case import Case
    from diagnose.fixes.shapes import Trial
    from tiles.records.forms import TileRecord


def repeats(case: "Case", others: "Sequence[TileRecord]") -> "list[Trial]":
    """The tiles that repeat what came out sound on a single trial, those of recipes first.

    None where another change is proven already.

    Parameters
    ----------
    case : Case
        The failed tile, with its trials.
    others : sequence of TileRecord
        Own tiles, the trials among them.
    """
    if proven(case.tried):
        return []
    records = {each.mark: each for each in others}
    found = [alike[0] for alike in worked_once(case.tried) if len(alike) < LEAST_SOUND]
    return [
        repeat_trial(case.view, records[each.mark], each.glaze, case.off_shelves)
        for each in found
        if each.is_planned
    ]

"""Trials for other tiles made alike that repeat one of a tile's own: they count with it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.fixes.kin import alike_with_trials
from diagnose.trials.controls import sets_of
from diagnose.trials.outcome import change_tested
from tiles.records.gone import telling_looks

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import TileRecord


def repeats_of(
    case: "Case", trials: "Sequence[TileRecord]", others: "Sequence[TileRecord]"
) -> "list[TileRecord]":
    """The trials for tiles of the same glaze on the same clay that test the same as one of its own.

    What these differ in from this tile is judged as it is of its own. Of a change that was not
    tried on this tile there are none: they are told as those of a tile akin (`fixes.kin`).

    Parameters
    ----------
    case : Case
        The failed tile.
    trials : sequence of TileRecord
        Its own, from `tried.trials_of`.
    others : sequence of TileRecord
        Own tiles, the trials for any of them among these.
    """
    akin = {*alike_with_trials(case.record, case.defect, others)} - {*sets_of(case.record)}
    own = {case.record.mark, *(each.mark for each in trials)}
    theirs = [
        each
        for each in others
        if each.trial_of in akin and each.trial_defect == case.defect and each.mark not in own
        and telling_looks(each) and each.areas
    ]  # fmt: skip
    if not theirs:
        return []
    looked_at = (each for each in trials if telling_looks(each) and each.areas)
    tested = {change_tested(case, each) for each in looked_at} - {None}
    return [each for each in theirs if change_tested(case, each) in tested]

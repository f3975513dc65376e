"""What trials for other tiles tell of this one: the tile it is a trial for, those of its glaze.

It is told and weighs nothing; what counts as a trial for the tile itself, as that for a tile made
alike does, is found in `diagnose.trials.repeated`.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.measures.of_area import choose_area
from diagnose.trials.repeated import alike_with_trials, sisters_of
from diagnose.trials.tried import in_short, tells_nothing
from diagnose.trials.worked import recipes_that_worked
from diagnose.view import View
from diagnose.wording import listed

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.case import Case
    from tiles.records.forms import TileRecord

MOST_KIN = 2


def kin_of(record: "TileRecord", defect: str, others: "Sequence[TileRecord]") -> dict[str, str]:
    """The tiles whose trials tell of this one as well, by mark: how these are spoken of.

    First the one that it is a trial for, then those of its glaze on its clay; none that is made
    alike, as the trials for those count as its own.

    Parameters
    ----------
    record : TileRecord
        The failed tile.
    defect : str
        Its fault, for which the trials were.
    others : sequence of TileRecord
        Own tiles, the trials among them.
    """
    found = {}
    if record.trial_of and record.trial_defect == defect:
        found[record.trial_of] = f"On the other trials for {record.trial_of}"
    for mark in alike_with_trials(record, defect, others):
        found.setdefault(mark, f"On trials for {mark}, the same glaze on the same clay")
    if not found:
        return {}
    sisters = sisters_of(View(record, choose_area(record, None, defect), defect), others)
    kept = [each for each in found.items() if each[0] not in sisters]
    return dict(kept[:MOST_KIN])


def kin_says(case: "Case", kin: "Case", start: str) -> tuple[list[str], list[str]]:
    """What worked on the trials for a tile akin, and how all of them came out.

    But for those that the tile asked about was weighed with itself; empty where that is all.

    Parameters
    ----------
    case, kin : Case
        Of the tile asked about, and of the one akin.
    start : str
        How these are spoken of, from `kin_of`.
    """
    told = {case.record.mark, *(each.mark for each in case.tried)}
    left = [each for each in kin.tried if each.mark not in told and not each.of]
    if not left:
        return [], []
    worked = recipes_that_worked(left)
    return [f"{start}: {each}" for each in worked], [f"{start}. {in_short(left)}"]


def with_kin(diagnoses: "Sequence[Diagnosis]", akin: "Sequence[tuple[Case, str]]") -> list:
    """The diagnoses of a tile with what trials for tiles akin told of each fault.

    Parameters
    ----------
    diagnoses : sequence of Diagnosis
        Of the tile asked about.
    akin : sequence of tuple
        The tiles akin, weighed, with how they are spoken of.
    """
    found = []
    for each in diagnoses:
        of_fault = [pair for pair in akin if pair[0].defect == each.defect]
        told = [text for pair in of_fault for text in kin_says(each.case, *pair)[1]]
        case = replace(each.case, of_kin=tuple(told)) if told else each.case
        found.append(replace(each, case=case))
    return found


def kin_had(kin: "Sequence[Case]", change: str, but: "Sequence[str]" = ()) -> str:
    """How the trials of a change for tiles akin came out; empty where there are none that tell.

    Parameters
    ----------
    kin : sequence of Case
        Of the tiles akin.
    change : str
        As it is told of a trial.
    but : sequence of str
        The marks of trials that are told of already.
    """
    tried = {each.mark: each for case in kin for each in case.tried if not tells_nothing(each)}
    alike = [each for each in tried.values() if each.change.casefold() == change.casefold()]
    told = []
    for again, came in ((False, "the fault did not come"), (True, "the fault came again")):
        of = [e.mark for e in alike if e.came_again is again and e.mark not in but]
        told += [f"trial{'s' if len(of) > 1 else ''} {listed(of)}: {came}"] if of else []
    return "; ".join(told)

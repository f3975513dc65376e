"""What trials for other tiles tell of this one: the tile it is a trial for, those of its glaze.

It is told and weighs nothing, but for trials of a change that was tried on this tile as well
(`diagnose.trials.repeated`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.fixes.tried import recipes_that_worked
from diagnose.trials.tried import in_short, tells_nothing
from diagnose.wording import listed
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import TileRecord

MOST_KIN = 2


def kin_of(record: "TileRecord", defect: str, others: "Sequence[TileRecord]") -> dict[str, str]:
    """The tiles whose trials tell of this one as well, by mark: how these are spoken of.

    First the one that it is a trial for, then those of its glaze on its clay.

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
    return dict(list(found.items())[:MOST_KIN])


def alike_with_trials(
    record: "TileRecord", defect: str, others: "Sequence[TileRecord]"
) -> Iterator[str]:
    """The marks of the other tiles of its glaze on its clay with trials that were looked at."""
    trials = (each for each in others if each.trial_defect == defect and each.inspections)
    of = {each.trial_of for each in trials} - {record.mark}
    return (each.mark for each in others if each.mark in of and _is_alike(each, record))


def _is_alike(one: "TileRecord", other: "TileRecord") -> bool:
    """Whether some area of two tiles has the same layers, on the same clay."""
    return same_name(one.body.name, other.body.name) and bool(_glazed(one) & _glazed(other))


def _glazed(record: "TileRecord") -> set[tuple]:
    """What lies on each glazed area, from the clay up: the glazes and their recipes' versions."""
    return {
        tuple((name_key(of.glaze.name), of.recipe and of.recipe.version) for of in area.layers)
        for area in record.areas
        if area.layers
    }


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
    worked = recipes_that_worked(replace(kin, tried=tuple(left)))
    return [f"{start}: {each}" for each in worked], [f"{start}. {in_short(left)}"]


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

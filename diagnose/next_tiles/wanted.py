"""Which of the changes thought of for a failed tile are still worth a trial, and why not others."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.fixes.bench import Bench
from diagnose.fixes.own_coat import goes_on_thinner, own_coat
from diagnose.fixes.ranges import not_together
from diagnose.fixes.steps_coat import WHOLE_BAG, has_no_bag
from diagnose.next_tiles.changes import Candidate, Owned, candidates
from diagnose.next_tiles.in_vain import in_vain
from diagnose.own_tiles.failures import OwnTiles, failed_beside, failed_ever
from diagnose.own_tiles.other_areas import failed_so
from diagnose.trials.changes import tested
from diagnose.trials.coat import of_coat
from diagnose.wording import listed
from tiles.records.words import OTHER_FAULT

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.case import Case
    from tiles.records.forms import TileRecord


@dataclass(frozen=True)
class Wanted:
    """The changes that are worth a trial.

    ``made`` are those of which own tiles show that the fault came all the same, with these;
    ``in_vain`` those of which most do, and how, both by what is changed. ``mends``: one of all that
    were thought of mends or eases a cause that is asked about. ``stop`` says why there are none:
    glaze and clay have no firing in common.
    """

    changes: list[Candidate]
    made: dict[str, Sequence[str]]
    in_vain: dict[str, Sequence[str]]
    mends: bool
    stop: str


def wanted(
    diagnosis: "Diagnosis",
    case: "Case",
    own: OwnTiles,
    owned: Owned,
    others: "Sequence[TileRecord]" = (),
) -> Wanted:
    """The changes for a tile that no trial made yet, and that own tiles do not answer.

    Parameters
    ----------
    diagnosis : Diagnosis
        Of the tile.
    case : Case
        Its case, with the shelves that mostly miss their cone by all own tiles.
    own : OwnTiles
        Own tiles and the trials for it.
    owned : Owned
        What can be used.
    others : sequence of TileRecord
        Own tiles, for how thick its glaze goes on.
    """
    view, found = case.view, _thought_of(case, owned, others)
    mends = _mends(diagnosis, case, found)
    stop = not_together(view)
    left = _untried(case, found, own, owned)
    if case.defect == OTHER_FAULT and not mends:
        left = []  # another glaze tells nothing of a smear, nor of a sharp stub
    bench = Bench(view, "", case.setting)
    made, left = _told_of(left, lambda each: _failed(own, bench, each, owned))
    vain, left = _told_of(
        left, lambda each: in_vain(own, case, each, owned, changed(view, each.step, owned))
    )
    # Whatever came of another pair would not tell why this one failed.
    return Wanted([] if stop else left, made, vain, mends, stop)


def _thought_of(case: "Case", owned: Owned, others: "Sequence[TileRecord]") -> list[Candidate]:
    """Every change; the coat of sound twins in place of more coats that own tiles show as thin."""
    found = [
        each
        for each in candidates(case.view, case, owned)
        if not goes_on_thinner(case.view, each.step.edit.get("coats", 0), others)
    ]
    made = own_coat(case)
    return [*found, of_coat(made.changes, found)] if made else found


def _untried(
    case: "Case", found: Sequence[Candidate], own: OwnTiles, owned: Owned
) -> list[Candidate]:
    """Those of which no trial tells, with a bag that there is and on a shelf to send ware to."""
    moot = {each.mark for each in case.tried if each.beside}
    told = (each for each in own.trials if each.mark not in moot)
    done = [tested(trial, case.view, found, owned) for trial in told]
    no_bag = WHOLE_BAG if has_no_bag(case.view, owned.batches_on(case.view)) else ""
    return [
        each
        for each in found
        if not any(each is one for one in done)
        and each.step.key != no_bag
        and case.goes_to(each.step.edit.get("shelf", ""))
    ]


def _mends(diagnosis: "Diagnosis", case: "Case", found: Sequence[Candidate]) -> bool:
    """Whether a change would mend one of the causes in question, or ease it; once told, that."""
    asked = [row.name for row in case.rows if row.cause and row.is_in_question]
    asked = set(asked[:1] if diagnosis.enough_to_tell else asked)
    return any(asked & (each.acts_on | each.eases) for each in found)


def _told_of(
    found: Sequence[Candidate], why_not: "Callable[[Candidate], Sequence[str]]"
) -> "tuple[dict[str, Sequence[str]], list[Candidate]]":
    """By what it changes why each is left out, where there is a reason; and the others."""
    told = {each.step.changes[0].said: said for each in found if (said := why_not(each))}
    return told, [each for each in found if each.step.changes[0].said not in told]


def _failed(own: OwnTiles, bench: Bench, candidate: Candidate, owned: Owned) -> list[str]:
    """The other areas of the tile, and the tiles, made as a changed one and failed as well."""
    areas = failed_so(bench, candidate.step)
    asked = bench, candidate.step, candidate.kind, owned
    failed = failed_beside(own.beside, *asked) or failed_ever(own.ever, *asked)
    here = [f"area{'s' if len(areas) > 1 else ''} {listed(list(map(str, areas)))} of it"]
    return [*(here if areas else []), *failed]

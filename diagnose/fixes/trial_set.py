"""Which tiles are fired to prove some fixes, in which order, and which of them tells most."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.fixes.bench import Step
from diagnose.fixes.shapes import Outcome
from diagnose.fixes.trials import control, control_in_next_load
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Candidate, Owned, candidates
from diagnose.next_tiles.choice import (
    changes_little,
    information,
    named,
    of_firing,
    only_open,
    outcomes,
)
from diagnose.next_tiles.odds import AS_IT_WAS, chances, like
from diagnose.trials.changes import is_written

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fixes.shapes import Fix, Trial, Worked
    from diagnose.next_tiles.odds import Inspected
    from diagnose.own_tiles.load_or_make import LoadOrMake

WORTH_IT = 0.5
"""To go first a tile must tell so much of what the one does that tells most (estimate)."""


def trial_set(
    case: "Case", worked: "Sequence[Worked]", again: "Sequence[Trial]" = (), *, with_control: bool
) -> "list[Trial]":
    """Control first, then one change a tile: a line for the first recipe, the others in full.

    What is for causes alone that own tiles speak against comes last. ``again`` repeat trials that
    came out sound.
    """
    found: list[Trial] = list(again)
    has_line = False
    for each in _in_order(worked):
        found += each.trials[-1:] if has_line else each.trials
        has_line = has_line or each.is_recipe
    return [control(case.view, case.off_shelves), *found] if found and with_control else found


def control_of_load(case: "Case", load: "LoadOrMake") -> "list[Trial]":
    """The one tile that tells a load from how a tile is made; none where it waits or that is told.

    Nothing is changed on any tile before that.
    """
    if load.waiting or load.is_over:
        return []
    return [control_in_next_load(case.view, case.off_shelves, load.firing)]


def _in_order(worked: "Sequence[Worked]") -> "list[Fix]":
    serves = _served(worked)
    fixes = [each for cause in worked for each in cause.fixes]
    return sorted(fixes, key=lambda each: _is_against(worked, serves[each.name]))


def _served(worked: "Sequence[Worked]") -> dict[str, list[int]]:
    """The numbers of the causes that each fix acts on."""
    served: dict[str, list[int]] = {}
    for number, cause in enumerate(worked, start=1):
        for name in (*(each.name for each in cause.fixes), *cause.acts_too):
            served.setdefault(name, []).append(number)
    return served


def _is_against(worked: "Sequence[Worked]", numbers: "Sequence[int]") -> bool:
    return all(worked[number - 1].against for number in numbers)


@dataclass(frozen=True)
class Known:
    """What the worth of a tile is judged with, as `tiles next` judges it."""

    case: "Case"
    owned: Owned
    rest: "Inspected"

    def again(self, candidate: Candidate) -> tuple[float, ...]:
        """How likely each cause lets the fault come again on a tile so changed."""
        case = self.case
        then = changed(case.view, candidate.step, self.owned)
        facts = measures(then, case.area_number, case.defect)
        as_it_was = like(self.rest, case.record, case.area_number, case.defect, AS_IT_WAS)
        return chances(case, candidate, facts, as_it_was)


def first_of(worked: "Sequence[Worked]", known: Known) -> Outcome | None:
    """The trial to fire first, and what its outcome would mean; None where none changes much.

    The one whose outcome is expected to tell most of the cause, of those that own tiles do not
    speak against where there are any. None too where one of the others tells far more.
    """
    case, serves = known.case, _served(worked)
    shares = tuple(row.share for row in case.rows)
    now, open_shares = named(case, shares), tuple(row.share for row in only_open(case).rows)
    thought_of = candidates(case.view, case, known.owned)
    found = []
    for place, fix in enumerate(each for each in _in_order(worked) if each.trials):
        candidate = _candidate(fix, thought_of, worked, serves[fix.name])
        again = known.again(candidate)
        failed, sound = (named(case, then) for then in outcomes(case, shares, again))
        if all(changes_little(then, now) for then in (failed, sound)):
            continue
        trial = fix.trials[-1].name
        told = Outcome(trial, serves[fix.name], now, failed, sound)
        bits = information(open_shares, [again]) * of_firing(candidate)
        found.append((_is_against(worked, serves[fix.name]), -bits, place, told))
    if not found:
        return None
    best = min(found, key=lambda each: each[:3])
    return best[-1] if best[1] <= WORTH_IT * min(bits for _, bits, *_ in found) else None


def _candidate(
    fix: "Fix",
    thought_of: "Sequence[Candidate]",
    worked: "Sequence[Worked]",
    numbers: "Sequence[int]",
) -> Candidate:
    """The change of a fix as `tiles next` thinks of it; a recipe acts on the causes it is for."""
    change = fix.trials[-1].tile["trial_change"]
    written = (each for each in thought_of if is_written(change, each.step.changes[0]))
    causes = frozenset(worked[number - 1].cause for number in numbers)
    does = {"acts_on" if fix.reaches else "eases": causes}
    return next(written, None) or Candidate(fix.key, Step(fix.key, "", fix.changes), **does)

"""Trials that were fired for a failed tile, and what their outcomes are worth for each cause.

`tiles next` says beforehand what each outcome would mean; once the trial is looked at, the same
chances (`diagnose.next_odds`) move the causes by just that much, as far as the same own tiles are
counted: `tiles why` reads the newest that share a glaze.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.fix_shapes import UNCHANGED
from diagnose.weighing import with_own
from tiles.records.derived import defects_on, shows

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fix_shapes import Change
    from diagnose.next_changes import Candidate, Owned
    from diagnose.next_odds import Inspected
    from tiles.records.forms import TileRecord

TOLD_FROM = 0.2
"""A trial that moves a cause by less says nothing of it. [log-odds]."""


@dataclass(frozen=True)
class Tried:
    """One trial that was fired: its mark, what was changed, and whether the fault came again.

    ``instead`` are other faults it had where this one did not come. ``moves`` is what that adds to
    the log-odds of each cause by name, "" for one not in the list.
    """

    mark: str
    change: str
    came_again: bool
    instead: tuple[str, ...]
    moves: dict[str, float]

    @property
    def said(self) -> str:
        """As it stands among what own tiles say."""
        from diagnose.wording import listed

        came = "the fault came again" if self.came_again else "the fault did not come"
        instead = f", but {listed(list(self.instead))}" if self.instead else ""
        return f"trial {self.mark}, {self.change}: {came}{instead}."


def trials_of(case: "Case", others: "Sequence[TileRecord]") -> "list[TileRecord]":
    """The tiles planned as trials for this fault of this tile, fired or not."""
    sought = (case.record.mark, case.defect)
    return [each for each in others if (each.trial_of, each.trial_defect) == sought]


def waiting_for(record: "TileRecord", others: "Sequence[TileRecord]") -> list[str]:
    """Marks of the trials for any fault of a tile that were not looked at yet."""
    return [each.mark for each in others if not each.inspections and each.trial_of == record.mark]


def with_trials(
    case: "Case", trials: "Sequence[TileRecord]", rest: "Sequence[TileRecord]"
) -> "Case":
    """The case with the outcomes of its trials added to its causes, the likeliest first.

    Parameters
    ----------
    case : Case
        With what own tiles say already added.
    trials : sequence of TileRecord
        From `trials_of`.
    rest : sequence of TileRecord
        Own tiles, from `without`.
    """
    looked_at = [each for each in trials if each.inspections and each.areas]
    if not looked_at:
        return case
    from diagnose.next_odds import inspected

    alike = inspected(rest)
    tried = tuple(found for each in looked_at if (found := _tried(case, each, alike)))
    moves = {row.name: sum(each.moves[row.name] for each in tried) for row in case.rows}
    return replace(case, rows=with_own(case.rows, moves), tried=tried)


def without(
    others: "Sequence[TileRecord]", case: "Case", trials: "Sequence[TileRecord]"
) -> "list[TileRecord]":
    """Own tiles but for the trials; the control stays, being one more tile like the failed one."""
    marks = {each.mark for each in trials if not is_control(each)}
    return [each for each in others if each.mark not in marks]


def is_control(trial: "TileRecord") -> bool:
    """Whether a trial was planned as the failed tile once more, with nothing changed."""
    return trial.trial_change == UNCHANGED


def _tried(case: "Case", trial: "TileRecord", rest: "Inspected") -> Tried | None:
    """What one trial says; None where its change is not one that is proposed now.

    The control tells the causes apart no further.
    """
    from diagnose.measures import choose_area, measures
    from diagnose.next_changes import candidates, changed
    from diagnose.next_odds import AS_IT_WAS, chances, like
    from diagnose.view import View

    came_again = any(shows(trial, area, case.defect) for area in trial.areas)
    seen = {each.defect for area in trial.areas for each in defects_on(trial, area)}
    came = (came_again, () if came_again else tuple(sorted(seen)))
    unmoved = {row.name: 0.0 for row in case.rows}
    if is_control(trial):
        return Tried(trial.mark, UNCHANGED, *came, unmoved)
    view = View(case.record, choose_area(case.record, case.area_number, case.defect), case.defect)
    owned = _owned(trial)
    found = next((c for c in candidates(view, case, owned) if is_trial_of(trial, c)), None)
    if found is None:
        return None
    change = found.step.changes[0]
    if not _is_made(trial, change):
        said = f"planned with {change.said}, which its record does not bear out"
        return Tried(trial.mark, said, *came, unmoved)
    then = changed(view, found.step, owned)
    facts = measures(then, case.area_number, case.defect)
    as_it_was = like(rest, case.record, case.area_number, case.defect, AS_IT_WAS)
    as_changed = like(rest, then, case.area_number, case.defect, found.kind)
    again = chances(case, found, facts, as_it_was, as_changed)
    likely = [chance if came_again else 1 - chance for chance in again]
    whole = sum(row.share * chance for row, chance in zip(case.rows, likely, strict=True))
    moves = {
        row.name: math.log(chance / whole) for row, chance in zip(case.rows, likely, strict=True)
    }
    return Tried(trial.mark, change.said, *came, moves)


def _is_made(trial: "TileRecord", change: "Change") -> bool:
    """Whether the record of a trial does not say that it was made another way.

    Of a change of the cone that was reached, it must say that it reached it.
    """
    from diagnose.measures_body import bisque_cone
    from diagnose.view import View
    from tiles.chemistry.cones import step

    view = View(trial, trial.areas[0])
    if change.what == "coats":
        coats = view.top.coats if view.top else None
        return coats is None or coats == change.after
    if change.what == "bisque cone":
        bisque = bisque_cone(trial)
        return bisque is None or step(bisque[0]) == step(str(change.after))
    if change.what == "cone reached":
        return bool(view.cone_reached) and step(view.cone_reached) == step(str(change.after))
    return True


def is_trial_of(trial: "TileRecord", candidate: "Candidate") -> bool:
    """Whether a trial for the same case was planned with this change; a coat less is thinner."""
    said = candidate.step.changes[0].said
    return trial.trial_change == said or (trial.trial_change or "").startswith(f"{said}; dry coat ")


def _owned(trial: "TileRecord") -> "Owned":
    """What the trial itself was made of, so that its change can be thought of again."""
    from diagnose.next_changes import Owned

    layers = trial.areas[0].layers
    cones = [trial.bisque_cone] if trial.bisque_cone else []
    recipes = {each.glaze.name: each.recipe for each in layers if each.recipe}
    return Owned([trial.body], [each.glaze for each in layers], recipes, cones)

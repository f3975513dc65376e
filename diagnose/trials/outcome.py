"""What one fired trial showed, and how likely each cause was to let the fault come again on it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.fixes.shapes import OF_BUCKET
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Candidate, Owned, candidates
from diagnose.next_tiles.odds import AS_IT_WAS, Like, chances, like
from diagnose.trials.changes import (
    all_differences,
    differences,
    is_borne_out,
    is_written,
    recipe_trial_of,
    tested,
)
from diagnose.trials.coat import said_of
from diagnose.trials.recipe import RECIPE, recipe_change
from diagnose.trials.tried import Tried, is_control, tells_nothing
from diagnose.view import View, area_of
from tiles.records.derived import defects_on, shows

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.next_tiles.odds import Inspected
    from tiles.records.forms import TileRecord

_FIRED, _BUCKET = ("kiln", "cone"), ("batch", "recipe")
"""What differs of itself where a trial is fired by itself, or a bucket is changed."""


def outcome(
    case: "Case", trial: "TileRecord", rest: "Inspected", earlier: Sequence[Tried]
) -> tuple[Tried, tuple[float, ...] | None]:
    """What one trial showed, and how likely each cause was to let the fault come again on it.

    None where it tells no causes apart: the control, one made otherwise than it was planned, and
    one with a change that is not thought of now.

    Parameters
    ----------
    case : Case
        Of the failed tile.
    trial : TileRecord
        Fired for it, and looked at.
    rest : Inspected
        Own tiles but for the trials with a change.
    earlier : sequence of Tried
        The trials that were made before it.
    """
    told = _seen(case, trial)
    if is_control(trial):
        return told, None
    told, found = _change_of(case, trial, told)
    if found is None:
        return _of_no_one_change(told, all_differences(trial, case.view)), None
    if not is_borne_out(trial, found.step.changes[0]):
        said = f"planned with {told.change}, which its record does not bear out"
        return replace(told, change=said, is_as_planned=False), None
    answers = frozenset(found.if_repeats if told.came_again else found.if_sound)
    return _with_chances(case, trial, replace(told, answers=answers), found, (rest, earlier))


def _seen(case: "Case", trial: "TileRecord") -> Tried:
    """How a trial came out, with its change as it was written down."""
    came_again = any(shows(trial, area, case.defect) for area in trial.areas)
    seen = {each.defect for area in trial.areas for each in defects_on(trial, area)}
    instead, glaze = tuple(sorted(seen - {case.defect})), recipe_trial_of(trial, case.view)
    return Tried(trial.mark, trial.trial_change, came_again, instead, glaze=glaze)


def _change_of(case: "Case", trial: "TileRecord", told: Tried) -> tuple[Tried, Candidate | None]:
    """The change that a trial tests, in our words, its own kept; or that of its recipe, or none."""
    owned = _owned(trial)
    found = tested(trial, case.view, candidates(case.view, case, owned), owned)
    if not found:
        return told, recipe_change(case, trial)
    is_own = not is_written(told.change, found.step.changes[0])
    return replace(told, words=told.change if is_own else "", change=said_of(found)), found


def _with_chances(
    case: "Case", trial: "TileRecord", told: Tried, found: Candidate, beside: tuple
) -> tuple[Tried, tuple[float, ...]]:
    """In what else it differs, and the chances; ``beside`` are own tiles and earlier trials."""
    rest, earlier = beside
    then = changed(case.view, found.step, _owned(trial))
    told = replace(
        told, besides=_besides(trial, found, View(then, area_of(then, case.area_number)))
    )
    facts = measures(then, case.area_number, case.defect)
    as_it_was = like(rest, case.record, case.area_number, case.defect, AS_IT_WAS)
    alike = [one for one in earlier if one.change == told.change and not tells_nothing(one)]
    same = [one.came_again for one in alike]
    return told, chances(case, found, facts, as_it_was, Like(sum(same), len(same)))


def _of_no_one_change(told: Tried, several: Sequence[str]) -> Tried:
    """A trial of which no single change is thought of, with what differs where that is several."""
    if len(several) < 2:
        return told
    more = f"more than one thing differs ({'; '.join(several)})"
    said = f"{told.change}, but {more}, so it counts for no cause"
    return replace(told, change=said, is_as_planned=False)


def _besides(trial: "TileRecord", found: Candidate, then: View) -> tuple[str, ...]:
    """In what a trial was made otherwise than the failed tile with its change; never how fired."""
    if found.kind == RECIPE:  # a trial recipe goes by a name of its own
        return ()
    is_bucket = found.step.changes[0].what in OF_BUCKET
    return tuple(differences(trial, then, but=(*_FIRED, *(_BUCKET if is_bucket else ()))))


def _owned(trial: "TileRecord") -> Owned:
    """What the trial itself was made of, so that its change can be thought of again."""
    layers = trial.areas[0].layers
    cones = [trial.bisque_cone] if trial.bisque_cone else []
    recipes = {each.glaze.name: each.recipe for each in layers if each.recipe}
    batches = {each.glaze.name: [each.batch] for each in layers if each.batch}
    glazes = [each.glaze for each in layers]
    made_of = ([trial.body], glazes, recipes, cones, batches)
    return Owned(*made_of, is_fired=True, kiln=View(trial).kiln, shelf=trial.shelf)

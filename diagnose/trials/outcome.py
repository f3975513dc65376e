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
    FIRED,
    all_differences,
    differences,
    is_borne_out,
    is_written,
    recipe_trial_of,
    tested,
)
from diagnose.trials.coat import said_of
from diagnose.trials.fired import fired_otherwise
from diagnose.trials.other_load import chances_in_other_load, is_in_other_load
from diagnose.trials.recipe import RECIPE, recipe_change
from diagnose.trials.tried import Tried, is_control, tells_nothing
from diagnose.view import View, area_of
from tiles.records.derived import defects_on, recipe_key, shows

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.next_tiles.odds import Inspected
    from tiles.records.forms import TileRecord

_BUCKET = ("batch", "recipe")
"""What differs of itself where a bucket is changed."""


def outcome(
    case: "Case",
    trial: "TileRecord",
    rest: "Inspected",
    earlier: Sequence[Tried],
    controls: "Sequence[TileRecord]" = (),
) -> tuple[Tried, tuple[float, ...] | None]:
    """What one trial showed, and how likely each cause was to let the fault come again on it.

    None where it tells no causes apart: the control, but for one in another load than a tile whose
    load failed as a whole; one made otherwise than it was planned, and one with a change that is
    not thought of now.

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
    controls : sequence of TileRecord
        The tile once more, in any firing.
    """
    told = _seen(case, trial)
    if is_control(trial):
        made = differences(trial, case.view, but=FIRED)
        if is_in_other_load(trial, case):
            fired = fired_otherwise(case, trial, but=("cone",))
            told = replace(told, besides=(*made, *fired), load=case.record.firing.name)
            return told, chances_in_other_load(case, _before(told, earlier))
        return replace(told, besides=(*made, *fired_otherwise(case, trial))), None
    told, found = _change_of(case, trial, told)
    if found is None:
        return _of_no_one_change(told, all_differences(trial, case.view)), None
    if not is_borne_out(trial, found.step.changes[0]):
        said = f"planned with {told.change}, which its record does not bear out"
        return replace(told, change=said, is_as_planned=False), None
    answers = frozenset(found.if_repeats if told.came_again else found.if_sound)
    besides = _besides(case, trial, found, controls)
    told = replace(told, answers=answers, besides=besides)
    return told, _chances(case, told, found, _as_changed(case, trial, found), (rest, earlier))


def change_tested(case: "Case", trial: "TileRecord") -> tuple | None:
    """What a trial tests on this tile, the same for two that test the same.

    The change in our words, and of a trial recipe its lines; None where it tells no causes apart.
    """
    if is_control(trial):
        return None
    told, found = _change_of(case, trial, _seen(case, trial))
    if found is None or not is_borne_out(trial, found.step.changes[0]):
        return None
    recipe = found.step.edit.get(RECIPE) if found.kind == RECIPE else None
    return told.change.casefold(), recipe and tuple(recipe_key(recipe))


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


def _as_changed(case: "Case", trial: "TileRecord", found: Candidate) -> "TileRecord":
    """The failed tile with the change of a trial alone."""
    return changed(case.view, found.step, _owned(trial))


def _chances(
    case: "Case", told: Tried, found: Candidate, then: "TileRecord", beside: tuple
) -> tuple[float, ...]:
    """How likely it comes again, by cause; ``beside`` are own tiles and earlier trials."""
    rest, earlier = beside
    facts = measures(then, case.area_number, case.defect)
    as_it_was = like(rest, case.record, case.area_number, case.defect, AS_IT_WAS)
    return chances(case, found, facts, as_it_was, _before(told, earlier))


def _before(told: Tried, earlier: Sequence[Tried]) -> Like:
    """The earlier trials of the same change that tell anything, those in other loads apart."""
    same = (one for one in earlier if (one.change, one.load) == (told.change, told.load))
    alike = [one for one in same if not tells_nothing(one)]
    failed = sum(one.worth for one in alike if one.came_again)
    return Like(failed, sum(one.worth for one in alike))


def _of_no_one_change(told: Tried, several: Sequence[str]) -> Tried:
    """A trial of which no single change is thought of, with what differs where that is several."""
    if len(several) < 2:
        return told
    more = f"more than one thing differs ({'; '.join(several)})"
    said = f"{told.change}, but {more}, so it counts for no cause"
    return replace(told, change=said, is_as_planned=False)


def _besides(
    case: "Case", trial: "TileRecord", found: Candidate, controls: "Sequence[TileRecord]"
) -> tuple[str, ...]:
    """In what a trial differs beyond its change: how it was made, and how it was fired.

    Where the change is one of the firing, that differs of itself.
    """
    then = _as_changed(case, trial, found)
    made = _made_otherwise(trial, found, View(then, area_of(then, case.area_number)))
    is_of_firing = found.step.firing or found.step.place
    return made if is_of_firing else (*made, *fired_otherwise(case, trial, controls))


def _made_otherwise(trial: "TileRecord", found: Candidate, then: View) -> tuple[str, ...]:
    """In what a trial was made otherwise than the failed tile with its change."""
    of_itself = _BUCKET if found.step.changes[0].what in OF_BUCKET else ()
    if found.kind == RECIPE:  # a trial recipe goes by a name of its own
        of_itself = ("glaze", *_BUCKET)
    return tuple(differences(trial, then, but=(*FIRED, *of_itself)))


def _owned(trial: "TileRecord") -> Owned:
    """What the trial itself was made of, so that its change can be thought of again."""
    layers = trial.areas[0].layers
    cones = [trial.bisque_cone] if trial.bisque_cone else []
    recipes = {each.glaze.name: each.recipe for each in layers if each.recipe}
    batches = {each.glaze.name: [each.batch] for each in layers if each.batch}
    glazes = [each.glaze for each in layers]
    made_of = ([trial.body], glazes, recipes, cones, batches)
    return Owned(*made_of, is_fired=True, kiln=View(trial).kiln, shelf=trial.shelf)

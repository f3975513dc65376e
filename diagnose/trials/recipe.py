"""A trial recipe of `tiles fix` as one change: which causes it mends, by how its numbers moved."""

from typing import TYPE_CHECKING

from diagnose.fixes.aims import Body, aims_for
from diagnose.fixes.bench import Step
from diagnose.fixes.recipe import read_recipe
from diagnose.fixes.shapes import Change
from diagnose.next_tiles.changes import Candidate
from diagnose.trials.changes import recipe_trial_of

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fixes.glass import Figures
    from tiles.records.forms import TileRecord

RECIPE = "recipe"
MENDS, EASES = 0.25, 0.75
"""With no more of the way left to go a recipe mends a cause, or eases it (estimates)."""


def recipe_change(case: "Case", trial: "TileRecord") -> Candidate | None:
    """The change of recipe that a trial tests.

    None where it carries no trial recipe, or the numbers of either cannot be worked out.
    """
    name, own = recipe_trial_of(trial, case.view), case.view.top
    if not name or own is None or own.recipe is None:
        return None
    layer = next(each for each in trial.areas[0].layers if each.glaze.name == name)
    if layer.recipe is None:
        return None
    now, then = (read_recipe(each, case.view.cone, each.recipe.own)[0] for each in (own, layer))
    if now is None or then is None:
        return None
    left = {row.name: _left(case, row.name, now, then) for row in case.rows if row.cause}
    mended = frozenset(name for name, part in left.items() if part <= MENDS)
    eased = frozenset(name for name, part in left.items() if MENDS < part <= EASES)
    changes = [Change(RECIPE, None, name)]
    return Candidate(RECIPE, Step(RECIPE, "", changes, edit={RECIPE: layer.recipe}), mended, eased)


def _left(case: "Case", cause: str, now: "Figures", then: "Figures") -> float:
    """How much of the way to its aim is left for a cause; all where no recipe is changed for it."""
    body = case.record.body
    for aimed in aims_for(case.defect, cause, now, Body(body.name, body.expansion_ppm_per_k)):
        if aimed.aim and (value := getattr(then, aimed.aim.quantity)) is not None:
            return aimed.aim.shortfall(value)
    return 1.0

"""What the computed fit of glaze and clay says, where it is far from a chance by own tiles."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.body_limit.words import RISES, SIDE, VERB
from diagnose.forecasts.of_tile import Forecast
from diagnose.view import View
from diagnose.wording import in_ten

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

CLEAR = 0.5
"""From this chance on the computed fit is told (estimate)."""
FAR = 0.3
"""It is told where it lies so far above the chance by own tiles (estimate)."""
SHRINKS = {"crazing": "more", "shivering": "less"}


def with_fit(
    found: Sequence[Forecast], others: "Sequence[TileRecord]", view: View
) -> list[Forecast]:
    """The forecasts of an area, with what its recipe says: that sees what nobody looked for.

    A fit does not hang on the cone, so it is held against the chance that is told of all cones
    which the shelf may reach.
    """
    return [replace(each, by_fit=by_fit(each, others, view)) for each in found]


def by_fit(found: Forecast, others: "Sequence[TileRecord]", view: View) -> str:
    """What the recipe says of a fault of fit on this clay, with the limit by own tiles.

    Empty where the limit of the clay or the glaze's expansion is not known, where tiles speak
    against the limit, and where it says about what the chance says, or less.
    """
    from diagnose.body_limit.glaze_expansion import Expansions

    defect, body = found.defect, view.record.body
    glass = Expansions().of_area(view.area) if defect in RISES else None
    if glass is None:
        return ""
    from diagnose.body_limit.fit import believe, chance_and_worth, fit, is_against
    from diagnose.body_limit.tiles import seen_on_body

    seen, _ = seen_on_body(others, body.name, defect)
    belief = believe(seen, defect, body.expansion_ppm_per_k)
    span = glass.value, glass.low, glass.high
    computed, _ = chance_and_worth(belief, defect, *span, glass.glaze)
    if computed < max(CLEAR, (found.chance or 0.0) + FAR) or is_against(seen, defect):
        return ""
    limit = fit(seen, defect, body.expansion_ppm_per_k)
    if limit.value is None:
        return ""
    return (
        f"by its recipe it shrinks {SHRINKS[defect]} than this clay bears ({glass.value:.1f} "
        f"ppm/K; {body.name} {VERB[defect]} {SIDE[defect]} {limit.value:.1f} by your tiles): "
        f"{defect} {in_ten(computed)}"
    )

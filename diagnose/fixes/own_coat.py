"""Coats that own tiles measured: three thin ones are less than two thick ones."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.colour_layer import judged
from diagnose.fixes.bench import Step
from diagnose.fixes.shapes import COATS, DRY_COAT, Change, brushed_mm
from diagnose.own_tiles.one_thing import THICKNESS
from diagnose.own_tiles.twins import bearing_on
from diagnose.view import View
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.twins import Twin
    from diagnose.rules import Cause
    from tiles.records.forms import TileRecord


def own_coat(case: "Case", cause: "Cause | None" = None) -> Step | None:
    """The coat of sound twins, where they have more coats and less glaze, or fewer and more.

    Also where they have less glaze in as many coats. Where both go one way a change of coats alone
    says it.

    Parameters
    ----------
    case : Case
        Of the failed tile, with its twins.
    cause : Cause, optional
        Only where such a coat is a remedy of it.
    """
    view = case.view
    if len(view.glazes) != 1 or judged(view).over or not (view.top.coats and view.top.thickness_mm):
        return None
    of = bearing_on(case, cause) if cause else case.twins
    twin = next((e for e in of if _is_crosswise(e, view.top.coats) or _is_thinner(e)), None)
    if twin is None:
        return None
    is_of_coats = twin.factor == COATS
    measured = twin.mm if is_of_coats else (twin.value,)
    mm = brushed_mm(sum(measured) / len(measured))
    changes = [Change(DRY_COAT, round(view.top.thickness_mm, 2), mm, "mm")]
    changes += [Change(COATS, view.top.coats, twin.value)] if is_of_coats else []
    title = f"{'Thicker' if twin.thicker > 0 else 'Thinner'} coat, as {twin.named[0]} had it"
    return Step("own_coat", title, changes, edit={"coats": twin.value} if is_of_coats else {})


def _is_crosswise(twin: "Twin", coats: int) -> bool:
    return twin.factor == COATS and bool(twin.mm) and twin.thicker * (twin.value - coats) < 0


def _is_thinner(twin: "Twin") -> bool:
    """Whether it has less glaze in as many coats; more of it may run off onto the shelf."""
    return twin.factor == THICKNESS and twin.thicker == -1


def goes_on_thinner(view: View, coats: int, others: "Sequence[TileRecord]") -> bool:
    """Whether own tiles with more coats of the glaze are no thicker than this one.

    Then a coat more says nothing of how thick it gets.
    """
    own = view.top.thickness_mm if view.top else None
    if own is None or coats <= (view.top.coats or coats):
        return False
    tops = (View(each, area).top for each in others for area in each.areas)
    measured = [
        each.thickness_mm
        for each in tops
        if each and each.coats == coats and each.thickness_mm
        and same_name(each.glaze.name, view.glaze_name)
    ]  # fmt: skip
    return bool(measured) and max(measured) <= own

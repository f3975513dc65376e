"""Steps at the glazing table: coats, thickness, slop, clean bisque."""

from collections.abc import Sequence
from math import log
from typing import TYPE_CHECKING

from diagnose.colour_layer import judged
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.ranges import cones_of_trial, stands
from diagnose.fixes.shapes import (
    BENEATH,
    COATS,
    DRY_COAT,
    MARGIN,
    ORDER,
    STIRRED,
    WIPED,
    Change,
    brushed_mm,
)
from diagnose.fixes.steps_colour import more_colour_coats
from diagnose.measures.names import finish_of, is_clear
from diagnose.measures.usual_coat import usual_coats
from diagnose.own_tiles.other_areas import coats_do_nothing, failed_so, sound_so
from diagnose.trials.clues import by_hand
from tiles.chemistry.slip import (
    BRUSHING_SG,
    DIPPING_SG,
    GUM_PCT,
    LEAST_COAT_MM,
    MOST_COAT_MM,
    THIN_SLOP_SG,
    USUAL_COAT_MM,
    gravity_for_coat,
)
from tiles.records.words import COLOUR_ROLES, same_name

if TYPE_CHECKING:
    from diagnose.view import View
    from tiles.records.forms import BatchRecord

WHOLE_BAG, PART_BAG = "whole_bag", "part_bag"
"""The step and its cause: of no use for what comes in no bag."""
MOST_COATS = 4
"""No more are proposed."""
THICK_MM = {"clear": 0.6, "gloss": 0.8, "matt": 0.9, "satin": 0.8}
"""Dry coat aimed at when the coat was too thick. [mm]; estimates within 0.5 to 1.0."""
THIN_MM = {"clear": 0.5, "gloss": USUAL_COAT_MM, "matt": 0.8, "satin": 0.7}
"""Dry coat aimed at when it was too thin. [mm], estimates."""
LEAST_WHITE_MM = 0.6
"""An opaque white covers from here: 0.6 to 0.9 is usual. [mm], estimate."""
COATS_ROOM = 0.1
"""A whole number of coats may lie so much of a millimetre outside what is usual; else their number
stays and each changes: a trial changes one of the two. [mm], estimate."""
FIRED_SHARE = 0.5
"""A fired coat is about half of the dry one."""
LESS_SG = 0.05
"""Specific gravity to go down by at least; common practice."""
DIPPED = ("dip", "pour")
"""Where the slop alone makes the coat, so that its thickness tells how far to thin it."""
MOST_SG = 1.8
"""Above this a slop is nearly as dense as a coat: how far to thin it cannot be reckoned."""
LOST_GUM = f"The water takes gum along: if the coat powders, add {GUM_PCT} gum of the dry weight."
"""Said where the slop may be brushed (common practice, no source)."""
THINNED = 0.75
"""Where the coat is not above the aim already, three quarters of it."""


def thinner(bench: Bench) -> Step | None:
    """Fewer coats, aimed at a thickness; from the tile's own mm a coat where both are known.

    Of a single coat the slop is thinned, where that is what it hangs on.
    """
    top = bench.top
    if top is None or coats_do_nothing(bench.view):
        return None
    thickness = dry_mm(top)
    aim = _thinner_mm(top, thickness)
    if thickness is not None and thickness - aim < 0.05:
        return None
    changes = _untried(bench, _coats(top, thickness, aim, fewer=True))
    slop = [] if _coat_edit(changes) else _less_gravity(bench, aim)
    changes += slop
    if not changes:
        return None
    title = "Thinner coat"
    if slop:
        title += f", {_water(bench, slop[0])}{_shorter_dip(top, slop[0], aim)}"
    spoils = "Too thin shows the clay, looks rough, and colours go pale."
    return Step("thinner", title, changes, spoils, _coat_edit(changes))


def thinner_if_it_crawled(bench: Bench) -> Step | None:
    """Fewer coats on a soft bisque, of which each goes on thick: less of them to draw back."""
    return thinner(bench) if bench.view.defect == "crawling" else None


def thicker(bench: Bench) -> Step | None:
    """More coats, aimed at a thickness; under a clear it is the colour that was too thin."""
    if bench.cause == "coat_too_thin" and judged(bench.view).over:
        return more_colour_coats(bench)
    top = bench.top
    if top is None or coats_do_nothing(bench.view):
        return None
    thickness = dry_mm(top)
    aim = max((thickness or 0) / THINNED, _by_finish(top, THIN_MM))
    changes = _untried(bench, _coats(top, thickness, aim, fewer=False))
    if not changes:
        return None
    spoils = "Too thick crawls, runs and hides texture: stop at the first coat that covers."
    title = "Thicker coat"
    if is_likely_watery(top):
        title += ", but weigh 100 mL of the glaze first, likely it is watery"
    return Step("thicker", title, changes, spoils, _coat_edit(changes))


def dry_mm(top) -> float | None:
    """The dry coat of a layer, or as the fired one tells it. [mm]."""
    if top.thickness_mm is not None:
        return top.thickness_mm
    return top.fired_thickness_mm / FIRED_SHARE if top.fired_thickness_mm else None


def _by_finish(top, table: dict[str, float]) -> float:
    return table.get(finish_of(top.glaze) or "", table["gloss"])


def _thinner_mm(top, thickness: float | None) -> float:
    """What to thin to: the aim, or three quarters of a coat that is there already; never bare."""
    aim = _by_finish(top, THICK_MM)
    return max(_least_mm(top), min(aim, thickness * THINNED)) if thickness is not None else aim


def _least_mm(top) -> float:
    return LEAST_WHITE_MM if _is_opaque_white(top) else LEAST_COAT_MM


def _is_opaque_white(top) -> bool:
    is_white = (top.glaze.colour or "").casefold().strip().endswith("white")
    return is_white and not is_clear(top.glaze)


def _coats(top, thickness: float | None, aim_mm: float, *, fewer: bool) -> list[Change]:
    """Coats and the dry coat they lay down; the two always agree.

    Where no whole number of the tile's own coats is usual, each coat changes and not their number.
    """
    coats = top.coats
    if coats is None or (fewer and coats == 1):
        return _dry_coat(thickness, aim_mm)
    if not thickness:
        usual = usual_coats(top.glaze, top.method)  # five coats come down to it at once
        return [Change(COATS, coats, min(coats - 1, usual) if fewer else coats + 1)]
    each = thickness / coats
    others = range(1, coats) if fewer else range(coats + 1, coats + 3)
    usual = [count for count in others if _is_usual(top, count * each)]
    if usual:
        wanted = min(usual, key=lambda count: abs(log(count * each / aim_mm)))
        return [Change(COATS, coats, wanted), *_dry_coat(thickness, wanted * each)]
    now, then = brushed_mm(each), brushed_mm(aim_mm / coats)
    a_coat = [Change("each coat", now, then, "mm")] if now != then else []
    return [*dry, *a_coat] if (dry := _dry_coat(thickness, aim_mm)) else []


def _is_usual(top, coat_mm: float) -> bool:
    return _least_mm(top) - 0.005 <= coat_mm <= MOST_COAT_MM + COATS_ROOM


def _untried(bench: Bench, changes: list[Change]) -> list[Change]:
    """The change, or the next one on in coats where the tile or its like failed with it too."""
    if not _coat_edit(changes) or not _failed(bench, changes):
        return changes
    before, after = changes[0].before, changes[0].after
    thickness = dry_mm(bench.top)
    further = range(after - 1, 0, -1) if after < before else range(after + 1, MOST_COATS + 1)
    for coats in further:
        dry = _dry_coat(thickness, thickness / before * coats) if thickness else []
        found = [Change(COATS, before, coats), *dry]
        if not _failed(bench, found):
            return found
    return []


def _failed(bench: Bench, changes: list[Change]) -> bool:
    """Whether other areas of the tile failed so, or own tiles do where none of it is sound so."""
    made = Step("", "", changes, edit=_coat_edit(changes))
    fails = changes[0].after in bench.failing_coats and not sound_so(bench, made)
    return fails or bool(failed_so(bench, made))


def _dry_coat(thickness: float | None, aim_mm: float) -> list[Change]:
    """To a tenth of a millimetre; none where that is what there is."""
    if thickness is None or brushed_mm(aim_mm) == brushed_mm(thickness):
        return []
    return [Change(DRY_COAT, round(thickness, 2), brushed_mm(aim_mm), "mm")]


def _less_gravity(bench: Bench, aim_mm: float) -> list[Change]:
    """Specific gravity, where it is known and a dip or spray makes it matter.

    Of a dipped coat in mm it is reckoned; a bucket on record that is near it has proved its own.
    """
    top = bench.top
    now, thickness = _gravity(top), dry_mm(top)
    if now is None or top.method == "brush" or now - LESS_SG <= 1.2:
        return []
    least = wanted = now - LESS_SG
    if top.method in DIPPED and thickness and now <= MOST_SG:
        reckoned = gravity_for_coat(now, aim_mm / thickness)
        wanted = min(least, max(reckoned, THIN_SLOP_SG))
        known = [each.specific_gravity for each in _thinner_buckets(bench, now)]
        near = [each for each in known if abs(each - wanted) <= LESS_SG]
        wanted = min(near, key=lambda each: abs(each - wanted), default=wanted)
    return [Change("specific gravity", now, round(wanted, 2))]


def _thinner_buckets(bench: Bench, now: float) -> "list[BatchRecord]":
    known = (each for each in bench.batches if each.specific_gravity)
    return [each for each in known if each.specific_gravity <= now - LESS_SG + 0.005]


def _water(bench: Bench, change: Change) -> str:
    """What a thinner slop takes, and the bucket that was as thin."""
    from tiles.chemistry.slip import water_to_add_g

    alike = [
        each.name for each in _thinner_buckets(bench, change.before)
        if abs(each.specific_gravity - change.after) < 0.005
    ]  # fmt: skip
    water = f"{water_to_add_g(1, change.before, change.after):.0f} g of water more a litre"
    return f"{water}, as {alike[0]} had it" if alike else water


def _shorter_dip(top, slop: Change, aim_mm: float) -> str:
    """What is left to do where a slop so thin still leaves a thicker coat than is aimed at."""
    thickness = dry_mm(top)
    if top.method not in DIPPED or not thickness or slop.before > MOST_SG:
        return ""
    is_enough = gravity_for_coat(slop.before, aim_mm / thickness) > slop.after - LESS_SG
    return "" if is_enough else "; the rest by a shorter dip"


def _gravity(top) -> float | None:
    return top.batch.specific_gravity if top and top.batch else None


def thin_slop(bench: Bench) -> Step | None:
    """A thinner slop, as a change of its own beside fewer coats."""
    coats = thinner(bench)
    is_counted = bool(coats and _coat_edit(coats.changes))
    aim = _thinner_mm(bench.top, dry_mm(bench.top)) if is_counted else 0
    changes = _less_gravity(bench, aim) if is_counted else []
    if not changes:
        return None
    title = f"Thinner slop, {_water(bench, changes[0])}"
    spoils = "Too thin shows the clay, and a thinner slop settles sooner: stir well."
    return Step("thin_slop", title, changes, spoils, {"slop": "thinned"})


def thicken_slop(bench: Bench) -> Step | None:
    """Clear water off a slop that has settled: no water put in makes it thicker.

    A jar that is brushed is kept thicker than a bucket for dipping; where the record does not tell
    which it is, the less is taken off.
    """
    from tiles.chemistry.slip import clear_water_g

    if judged(bench.view).over:
        return None
    now, method = _gravity(bench.top), bench.top.method if bench.top else None
    is_low = now is not None and (now < THIN_SLOP_SG or (method == "dip" and now < DIPPING_SG))
    if not is_low or now <= 1 or method == "spray":
        return None
    wanted = BRUSHING_SG if method == "brush" else DIPPING_SG
    off = clear_water_g(1, now, wanted)
    title = f"Let the glaze settle and take off {off:.0f} g of clear water a litre"
    title += "" if method else f" (a brushing jar has about {BRUSHING_SG:g})"
    changes = [Change("specific gravity", now, wanted)]
    gum = "" if method in DIPPED else f" {LOST_GUM}"
    spoils = f"It now goes on thicker: count the coats again.{gum}"
    return Step("thicken_slop", title, changes, spoils, {"slop": "settled and drawn off"})


def thicken_watery(bench: Bench) -> Step | None:
    """The same before the coats, where as many of them as are usual make less than a usual coat."""
    return thicken_slop(bench) if bench.top and _is_thin_for_its_coats(bench.top) else None


def is_likely_watery(layer) -> bool:
    """Whether a layer is thin for its coats by too much water (common practice, no source).

    Not where its specific gravity is known, which tells by itself, nor where it was sprayed.
    """
    is_open = _gravity(layer) is None and layer.method != "spray"
    return is_open and _is_thin_for_its_coats(layer)


def _is_thin_for_its_coats(layer) -> bool:
    """Whether as many coats as are usual of it came to less than a usual coat."""
    mm = dry_mm(layer)
    if mm is None or layer.coats is None:
        return False
    return mm < LEAST_COAT_MM and layer.coats >= usual_coats(layer.glaze, layer.method)


def _coat_edit(changes: list[Change]) -> dict:
    return next(({"coats": each.after} for each in changes if each.what == COATS), {})


def clean_bisque(bench: Bench) -> Step:
    """Wash and dry the bisque."""
    wiped = by_hand(bench.view).get("bisque_wiped")
    changes = [Change(WIPED, wiped, "yes, then dried overnight")]
    return Step("clean_bisque", "Clean bisque", changes, "Glazed while wet it takes a thin coat.")


def recoat_damp(bench: Bench) -> Step | None:
    """The next coat in time."""
    if bench.top is None:
        return None
    beneath = bench.top.beneath
    was_dry = bench.view.clues.get("coats_left_powder_dry") == "yes"
    before = "powder-dry" if was_dry else beneath
    after = "still damp, its wet look just gone"
    changes = [Change(BENEATH, before, after)]
    spoils = "Too soon it drags the coat beneath."
    return Step("recoat_damp", "Next coat in time", changes, spoils, {"beneath": "damp"})


def recoat_dry(bench: Bench) -> Step | None:
    """Each coat dry to the touch before the next; of a single coat there is none to wait for."""
    top = bench.top
    if top is None or (top.coats == 1 and len(bench.view.layers) == 1):
        return None
    changes = [Change(BENEATH, bench.view.state_beneath, "dry to the touch, the same day")]
    spoils = "Left powder-dry it drinks the next."
    return Step("recoat_dry", "Let each coat dry", changes, spoils, {"beneath": "dry"})


def stir(bench: Bench) -> Step:
    """Stir to the bottom."""
    changes = [Change(STIRRED, None, "2 minutes")]
    return Step("stir", "Stir well", changes, "It may now go on thicker: count the coats again.")


def whole_bag(bench: Bench) -> Step:
    """Mix the bag whole."""
    batch = bench.top.batch if bench.top else None
    changes = [Change("dry glaze mixed", batch.dry_portion if batch else None, "whole bag")]
    return Step(WHOLE_BAG, "Mix the whole bag", changes, "Dusty work: wear a mask, wipe up wet.")


def has_no_bag(view: "View", batches: "Sequence[BatchRecord]") -> bool:
    """Whether nothing on record says that its glaze comes as a dry mix, of which a part was taken.

    Such as a jar that was bought wet, or one of which it was not noted.
    """
    top = view.top
    if top is None:
        return True
    known = [*batches, *([top.batch] if top.batch else [])]
    return top.glaze.supplied_as != "dry" and not any(each.dry_portion for each in known)


def one_glaze(bench: Bench) -> Step | None:
    """One glaze where two lay over each other."""
    if len(bench.view.glazes) < 2:
        return None
    names = " over ".join(layer.glaze.name for layer in reversed(bench.view.glazes))
    changes = [Change("glazes on the area", names, f"{bench.top.glaze.name} alone")]
    return Step("one_glaze", "One glaze alone", changes, "", {"alone": True})


def other_order(bench: Bench) -> Step | None:
    """Two glazes the other way round: what runs or slides may lie under as well as over."""
    view = bench.view
    if len(view.glazes) != 2 or same_name(*(each.glaze.name for each in view.glazes)):
        return None
    lower, upper = (each.glaze.name for each in view.glazes)
    changes = [Change(ORDER, f"{upper} over {lower}", f"{lower} over {upper}")]
    spoils = "It looks otherwise: the glaze beneath comes to the top."
    return Step("other_order", "The other way round", changes, spoils, {"turned": True})


def bare_foot(bench: Bench) -> Step:
    """A bare margin above the foot."""
    changes = [Change(MARGIN, None, 10, "mm")]
    return Step("bare_foot", "Stop short of the foot", changes, "More bare clay shows.")


def clear_over(bench: Bench) -> Step | None:
    """A clear on record that matures at this cone, thinly over a dry wash or underglaze."""
    cones = cones_of_trial(bench.view)
    clears = [each for each in bench.glazes if is_clear(each) and each.role not in COLOUR_ROLES]
    fitting = [glaze.name for glaze in clears if stands(glaze, cones)]
    after = f"1 thin coat of {fitting[0]}" if fitting else "1 thin coat of a clear for this cone"
    edit = {"clear": fitting[0]} if fitting else {}
    changes = [Change("clear over it", "none", after)]
    return Step("clear_over", "Clear over it", changes, "It turns glossy and darker.", edit)

"""The record that a tile would have, had one change been made on it."""

from typing import TYPE_CHECKING

from diagnose.fixes.bench import Step
from diagnose.fixes.shapes import COATS, CONE_REACHED, DRY_COAT, HOLD, PLACE, brushed_mm
from diagnose.fixes.steps_coat import FIRED_SHARE
from diagnose.fixes.steps_fire import COOLED_SLOWLY

if TYPE_CHECKING:
    from diagnose.next_tiles.changes import Owned
    from diagnose.view import View
    from tiles.records.forms import GlazeRecord, RecipeRecord, TileRecord

_OF_FIRING = {
    HOLD: "hold_min",
    "last 100 °C": "rate_c_per_h",
    "kiln opened at": "opened_c",
}


def changed(view: "View", made: Step, owned: "Owned") -> "TileRecord":
    """The record that the tile would have, had the change been made; only the change differs."""
    record = view.record
    after = {change.what: change.after for change in made.changes}
    values: dict = {}
    if "body" in made.edit:
        values["body"] = next(b for b in owned.bodies if b.name == made.edit["body"])
    if "bisque_cone" in made.edit:
        values |= {"bisque_cone": made.edit["bisque_cone"], "bisque_firing": None}
    if CONE_REACHED in after:
        values["cone_reached"] = after[CONE_REACHED]
    if "shelf" in made.edit:
        values |= {"shelf": made.edit["shelf"], "cone_reached": None}
    if "kiln" in made.edit:
        elsewhere = {"kiln": made.edit["kiln"], "witness_cones": []}
        values |= {"shelf": None, "cone_reached": None}
        values["firing"] = record.firing.model_copy(update=elsewhere)
    if PLACE in after:
        values["shelf"] = None
    firing = {name: after[what] for what, name in _OF_FIRING.items() if what in after}
    if firing and record.firing:
        values["firing"] = record.firing.model_copy(update=firing)
    if COOLED_SLOWLY in made.edit:
        values["clues"] = record.clues | {COOLED_SLOWLY: made.edit[COOLED_SLOWLY]}
    if layers := _layers(view, made, after, owned):
        values["areas"] = [
            area.model_copy(update={"layers": layers}) if area is view.area else area
            for area in record.areas
        ]
    return record.model_copy(update=values)


def _layers(view: "View", made: Step, after: dict, owned: "Owned") -> list | None:
    """The layers as they would be; None where they stay."""
    if "bare" in made.edit:
        return [each for each in view.layers if not any(each is one for one in view.colours)]
    if "turned" in made.edit:
        return _turned(view)
    if "colour_on" in made.edit:
        below = view.colours[-1]
        fired_on = below.model_copy(update={"applied_on": made.edit["colour_on"]})
        return [fired_on if each is below else each for each in view.layers]
    if "under" in made.edit:
        below = view.colours[-1]
        glaze, recipe = _glaze(made.edit["under"], owned)
        other = below.model_copy(update={"glaze": glaze, "recipe": recipe, "batch": None})
        return [other if each is below else each for each in view.layers]
    layer = _layer(view.top, made, after, owned)
    return layer and [layer if each is view.top else each for each in view.layers]


def _turned(view: "View") -> list:
    """The two glazes in each other's place; how dry the lower one is goes with the place."""
    lower, upper = view.glazes
    swapped = {
        id(lower): upper.model_copy(update={"beneath": lower.beneath}),
        id(upper): lower.model_copy(update={"beneath": upper.beneath}),
    }
    return [swapped.get(id(each), each) for each in view.layers]


def _glaze(name: str, owned: "Owned") -> "tuple[GlazeRecord, RecipeRecord | None]":
    """A glaze on record, and its newest recipe."""
    return next(each for each in owned.glazes if each.name == name), owned.recipes.get(name)


def _layer(top, made: Step, after: dict, owned: "Owned") -> object | None:
    """The uppermost glaze as it would be; a coat more or less scales what was measured of it."""
    if top is None:
        return None
    if "glaze" in made.edit:
        glaze, recipe = _glaze(made.edit["glaze"], owned)
        return top.model_copy(update={"glaze": glaze, "recipe": recipe, "batch": None})
    if "recipe" in made.edit:
        return top.model_copy(update={"recipe": made.edit["recipe"], "batch": None})
    if "batch" in made.edit:
        found = owned.batches[top.glaze.name]
        return top.model_copy(update={"batch": next(b for b in found if b.name == after["batch"])})
    if "slop" in made.edit:
        mended = {"specific_gravity": after["specific gravity"]}
        return top.model_copy(update={"batch": top.batch.model_copy(update=mended)})
    if "beneath" in made.edit:
        return top.model_copy(update={"beneath": made.edit["beneath"]})
    change = made.changes[0]
    if change.what not in (COATS, DRY_COAT):
        return None
    share = change.after / change.before
    values = {"coats": change.after} if change.what == COATS else {}
    # As thick as the change is told: no chance rests on less than can be brushed and measured.
    for name, of_dry in (("thickness_mm", 1), ("fired_thickness_mm", FIRED_SHARE)):
        if (measured := getattr(top, name)) is not None:
            values[name] = round(of_dry * brushed_mm(measured / of_dry * share), 3)
    return top.model_copy(update=values)

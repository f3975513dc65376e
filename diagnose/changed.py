"""The record that a tile would have, had one change been made on it."""

from functools import partial
from typing import TYPE_CHECKING

from diagnose.fixes.bench import Step
from diagnose.fixes.layers import layers_with
from diagnose.fixes.shapes import COATS, CONE_REACHED, DRY_COAT, HOLD, OPENED, PLACE, brushed_mm
from diagnose.fixes.steps_coat import FIRED_SHARE
from diagnose.fixes.steps_fire import COOLED_SLOWLY
from diagnose.view import place_of

if TYPE_CHECKING:
    from diagnose.next_tiles.changes import Owned
    from diagnose.view import View
    from tiles.records.forms import (
        BatchRecord,
        GlazeRecord,
        LayerRecord,
        RecipeRecord,
        TileRecord,
    )

_OF_FIRING = {
    HOLD: "hold_min",
    "last 100 °C": "rate_c_per_h",
    OPENED: "opened_c",
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
    layers = _layers(view, made, owned)
    if layers != view.layers:
        values["areas"] = [
            area.model_copy(update={"layers": layers}) if area is view.area else area
            for area in record.areas
        ]
    return record.model_copy(update=values)


def _layers(view: "View", made: Step, owned: "Owned") -> list:
    """The layers as they would be; a coat more or less scales what was measured of it."""

    def batch_of(name: str) -> "BatchRecord":
        return next(each for each in owned.batches[view.top.glaze.name] if each.name == name)

    layers = layers_with(view, made.edit, partial(_glaze, owned), batch_of)
    if view.top is None:
        return layers
    change, place = made.changes[0], place_of(view.layers, view.top)
    if "slop" in made.edit:
        after = {each.what: each.after for each in made.changes}
        mended = {"specific_gravity": after["specific gravity"]}
        batch = {"batch": view.top.batch.model_copy(update=mended)}
        layers[place] = layers[place].model_copy(update=batch)
    if change.what in (COATS, DRY_COAT):
        share = change.after / change.before
        layers[place] = layers[place].model_copy(update=_scaled(view.top, share))
    return layers


def _glaze(owned: "Owned", name: str) -> "tuple[GlazeRecord, RecipeRecord | None]":
    """A glaze on record, and its newest recipe."""
    return next(each for each in owned.glazes if each.name == name), owned.recipes.get(name)


def _scaled(top: "LayerRecord", share: float) -> dict:
    """As thick as the change is told: no chance rests on less than can be brushed and measured."""
    return {
        name: round(of_dry * brushed_mm(measured / of_dry * share), 3)
        for name, of_dry in (("thickness_mm", 1), ("fired_thickness_mm", FIRED_SHARE))
        if (measured := getattr(top, name)) is not None
    }

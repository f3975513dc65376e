"""The layers that a tile would have, had one step been taken: on its trial, and to reckon with."""

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.view import View
    from tiles.records.forms import BatchRecord, GlazeRecord, LayerRecord, RecipeRecord

GlazeOf = Callable[[str], "tuple[GlazeRecord, RecipeRecord | None]"]
BatchOf = Callable[[str], "BatchRecord"]


def layers_with(
    view: "View", edit: dict, glaze_of: GlazeOf, batch_of: BatchOf
) -> "list[LayerRecord]":
    """The layers from the clay upwards, with one edit made; those of the tile where it has none.

    How thick a layer was measured stays as it was.

    Parameters
    ----------
    view : View
        The tile.
    edit : dict
        As `Step.edit`.
    glaze_of, batch_of : callables
        A glaze by its name with the recipe it is mixed by, and a batch of the uppermost glaze.
    """
    if "bare" in edit:
        return _without(view, view.colours)
    if "alone" in edit:
        return _without(view, view.glazes[:-1])
    if "turned" in edit:
        return _turned(view)
    if "clear" in edit:
        return [*view.layers, _clear(view, edit["clear"], glaze_of)]
    if "bisque_cone" in edit:  # one that was glazed raw is glazed on the bisque now
        return [_on_bisque(each) for each in view.layers]
    colour, top = view.colours[-1] if view.colours else None, view.top
    to = {id(colour): _of_colour(edit, glaze_of), id(top): _of_top(edit, glaze_of, batch_of)}
    return [
        each.model_copy(update=new) if (new := to.get(id(each))) else each for each in view.layers
    ]


def _of_colour(edit: dict, glaze_of: GlazeOf) -> dict:
    """What is changed of the colour next under the glaze."""
    if "colour_on" in edit:
        return {"applied_on": edit["colour_on"]}
    if "colour_coats" in edit:
        return {"coats": int(edit["colour_coats"])}
    return _other(edit["under"], glaze_of) if "under" in edit else {}


def _of_top(edit: dict, glaze_of: GlazeOf, batch_of: BatchOf) -> dict:
    """What is changed of the uppermost glaze."""
    if "glaze" in edit:
        return _other(edit["glaze"], glaze_of)
    if "recipe" in edit:
        return {"recipe": edit["recipe"], "batch": None}
    if "batch" in edit:
        return {"batch": batch_of(edit["batch"])}
    if "coats" in edit:
        return {"coats": int(edit["coats"])}
    return {"beneath": edit["beneath"]} if "beneath" in edit else {}


def _other(name: str, glaze_of: GlazeOf) -> dict:
    """Another glaze in the place of one; it does not come from the jar of that."""
    glaze, recipe = glaze_of(name)
    return {"glaze": glaze, "recipe": recipe, "batch": None}


def _clear(view: "View", name: str, glaze_of: GlazeOf) -> "LayerRecord":
    """One coat of a clear, of which nothing else is known."""
    layer = view.layers[-1]
    blank = dict.fromkeys(type(layer).model_fields)
    return layer.model_copy(update=blank | _other(name, glaze_of) | {"coats": 1})


def _without(view: "View", layers: "list[LayerRecord]") -> "list[LayerRecord]":
    return [each for each in view.layers if not any(each is one for one in layers)]


def _on_bisque(layer: "LayerRecord") -> "LayerRecord":
    is_raw = layer.applied_on == "greenware"
    return layer.model_copy(update={"applied_on": "bisque"}) if is_raw else layer


def _turned(view: "View") -> "list[LayerRecord]":
    """The two glazes in each other's place; how dry the lower one is goes with the place."""
    lower, upper = view.glazes
    swapped = {
        id(lower): upper.model_copy(update={"beneath": lower.beneath}),
        id(upper): lower.model_copy(update={"beneath": upper.beneath}),
    }
    return [swapped.get(id(each), each) for each in view.layers]

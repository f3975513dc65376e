"""The usual handling of what the glazes on a tile hold, by the screen of the materials."""

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tiles.chemistry.hazards import Caution
    from tiles.chemistry.materials import Material
    from tiles.records.forms import GlazeRecord, LayerRecord, RecipeRecord


def of_layers(layers: "Iterable[LayerRecord]") -> "list[Caution]":
    """Cautions for recipes by their materials and for jars by the words on them, each once."""
    return each_once([each for layer in layers for each in _of_layer(layer)])


LEACHES = ("crazing", "shivering", "underfired", "unwanted matt", "colour shift")
"""Faults with which a glaze gives off more of what is in it (common practice, no source)."""
_CADMIUM_COLOURS = re.compile(
    r"\b(?:red|orange|yellow|(?:hell|dunkel|kirsch|feuer|signal|korallen|rubin|zinnober|tomaten)?rot"
    r"|\w*gelb|rouge|jaune|\w*rood|oranje|\w*geel|roj[oa]|naranja|amarill[oa]|ross[oa]|arancione"
    r"|giall[oa]|vermelh[oa]|laranja|amarel[oa]|rodt?|rott|\w{4,}rod|oransje|gul|punainen|oranssi|keltainen"
    r"|czerwony|czerwien|pomaranczowy|zolty|cerveny|cervena|oranzovy|zluty|zluta)\b",
    re.IGNORECASE,
)
"""In the languages that labels are read in, without accents."""


def leaching(layers: "Iterable[LayerRecord]", defect: str) -> str:
    """That a cadmium colour gives off more with such a fault; empty where none may be there.

    A jar of a red, orange or yellow may hold it, whether its label says so or not.
    """
    if defect not in LEACHES:
        return ""
    layers = list(layers)
    held = [each for each in layers if any(c.hazard == "cadmium" for c in _of_layer(each))]
    may = [each for each in layers if each not in held and each.recipe is None and _is_warm(each)]
    told = [f"Cadmium in {_named(held)}"] if held else []
    if may:
        what = "it" if held else "cadmium"
        told.append(f"{_named(may)} may hold {what}, as many such colours do")
    if not told:
        return ""
    return (
        f"{', and '.join(told)}: crazed, dull, underfired or burnt it gives off more. Keep this "
        "piece from food unless an accredited leach test of it says otherwise, whatever the label "
        "says."
    )


def _named(layers: "Iterable[LayerRecord]") -> str:
    return " and ".join(dict.fromkeys(each.glaze.name for each in layers))


def _is_warm(layer: "LayerRecord") -> bool:
    from tiles.chemistry.hazards import plain

    glaze = layer.glaze
    words = plain(f"{glaze.name} {glaze.colour or ''}")
    is_paint = glaze.role not in ("slip", "wash", "stain") and glaze.kind != "recipe"
    return is_paint and bool(_CADMIUM_COLOURS.search(words))


def poisons_in(glaze: "GlazeRecord", recipe: "RecipeRecord | None" = None) -> list[str]:
    """The poisons that its recipe or the words on its jar name."""
    from tiles.chemistry.hazards import poisons

    return [each.hazard for each in _of_recipe(glaze, recipe) if each.hazard in poisons()]


def of_materials(names: "Iterable[str]", own: "Iterable[Material]" = ()) -> "list[Caution]":
    """Cautions for raw materials, base and additions alike, each hazard once."""
    from tiles.chemistry.hazards import screen_material

    own = tuple(own)
    return each_once([each for name in dict.fromkeys(names) for each in screen_material(name, own)])


def spoken(cautions: "Iterable[Caution]") -> list[str]:
    """Such as ``manganese (manganese carbonate): Dust and above all firing fume ...``."""
    return [f"{each.hazard} ({', '.join(each.found_in)}): {each.handling}" for each in cautions]


def that_apply(texts: "Iterable[str]", layers: "Iterable[LayerRecord]") -> list[str]:
    """The cautions of a cause without those for a material that is known not to be there.

    Where a jar or an unknown recipe is on the tile, nothing is known not to be there.
    """
    from tiles.chemistry.hazards import screen_text

    layers = list(layers)
    if not layers or not all(map(_is_known, layers)):
        return list(texts)
    held = {each.hazard for each in of_layers(layers)}
    named = {text: {each.hazard for each in screen_text(text)} for text in texts}
    return [text for text, hazards in named.items() if not hazards or hazards & held]


def of_glaze(
    glaze: "GlazeRecord", materials: "Iterable[str]" = (), own: "Iterable[Material]" = ()
) -> "list[Caution]":
    """Cautions for every word on a jar and for what a recipe is weighed from, each hazard once.

    Parameters
    ----------
    glaze : GlazeRecord
        Or a row of the table; what is not set on it is passed over.
    materials, own : iterables
        The lines of its recipe, additions as well, and the user's own analyses.
    """
    from tiles.chemistry.hazards import screen_text

    words = (glaze.name, glaze.colour, glaze.remark, glaze.food_label)
    found = screen_text(", ".join(filter(None, words)))  # "lead", "free" denies nothing
    weighed = of_materials(materials, own)
    known = {each.hazard for each in weighed}  # its material is named, not the words on the glaze
    return [*(each for each in found if each.hazard not in known), *weighed]


def _of_layer(layer: "LayerRecord") -> "list[Caution]":
    return _of_recipe(layer.glaze, layer.recipe)


def _of_recipe(glaze: "GlazeRecord", recipe: "RecipeRecord | None") -> "list[Caution]":
    return of_glaze(glaze, _names(recipe), recipe.own) if recipe else of_glaze(glaze)


def _names(recipe: "RecipeRecord") -> list[str]:
    return [line.material for line in recipe.lines]


def _is_known(layer: "LayerRecord") -> bool:
    from tiles.chemistry.materials import find
    from tiles.errors import UnknownName

    if layer.recipe is None:
        return False
    try:
        return all(find(name, layer.recipe.own) for name in _names(layer.recipe))
    except UnknownName:
        return False


def each_once(found: "Iterable[Caution]") -> "list[Caution]":
    """Each hazard once, with every place it was found in."""
    from dataclasses import replace

    by_hazard: dict[str, Caution] = {}
    for each in found:
        was = by_hazard.get(each.hazard)
        places = dict.fromkeys((*(was.found_in if was else ()), *each.found_in))
        by_hazard[each.hazard] = replace(each, found_in=tuple(places))
    return list(by_hazard.values())

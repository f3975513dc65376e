"""The layers of a tile as ``tiles change`` puts them right: which glazes, and the coat on top."""

import re

from tiles.cli import entry, entry_numbers
from tiles.cli.prose import counted
from tiles.cli.put_on import glaze_of
from tiles.errors import InvalidValue, Questioned


def put_glazes(values: dict, texts: list[str], coats: str | None) -> list[str]:
    """Give the areas that are named, or all, these layers; those in words that then are gone."""
    from tiles.records import words

    layers = [entry.read_coat(text) for text in texts]
    numbers = [area["number"] for area in values["areas"]]
    for text, layer in zip(texts, layers, strict=True):
        if layer.area not in (None, *numbers):
            raise InvalidValue(
                f"glaze {text!r}: there is no area {layer.area}.",
                words.areas_to_name(layer.glaze, numbers),
                field="glaze",
                value=text,
            )
    if coats and layers and layers[-1].coats is not None:
        raise InvalidValue("the coats of the top layer are given twice.",
                           "--glaze NAME=COATS or --coats, not both.", field="coats")  # fmt: skip
    dropped: list[str] = []
    for area in values["areas"]:
        here = [layer for layer in layers if layer.area in (None, area["number"])]
        if here:
            area["layers"], gone = _layers_anew(area["layers"], here)
            dropped += gone
    return list(dict.fromkeys(dropped))


def question(mark: str, dropped: list[str]) -> Questioned:
    """Whether these layers are to lie on the tile no more, with all that is known of them."""
    from tiles.records.spoken import some

    return Questioned(
        f"{mark}: there would be no layer of {some(dropped)} any more.",
        "--glaze for every layer that is there, from the clay up; if this is all, --yes, and what "
        "is to stay of it named anew.",
        field="glaze",
    )


def _layers_anew(old: list[dict], coats: list[entry.Coat]) -> tuple[list[dict], list[str]]:
    """These layers with what is known of the old ones; the glazes that have no place any more."""
    from tiles.records import forms
    from tiles.records.words import same_name

    left, layers = list(old), []
    for coat in coats:
        same = (each for each in left if same_name(each["glaze"]["name"], coat.glaze))
        layers.append(next(same, None))
        if layers[-1]:
            left.remove(layers[-1])
    of_glaze = {"recipe": None, "batch": None}
    for at in reversed(range(len(coats))):  # the topmost first: what was measured is its coat
        old = next((each for each in left if _is_part_of(coats[at].glaze, each)), None)
        if layers[at] is None and old:
            left.remove(old)
            layers[at] = old | of_glaze | {"glaze": coats[at].glaze}
    if layers.count(None) == len(left):  # each new glaze was in truth what is gone
        others = iter(left)
        layers = [layer or next(others) | of_glaze | {"glaze": coat.glaze}
                  for layer, coat in zip(layers, coats, strict=True)]  # fmt: skip
        left = []
    blank = dict.fromkeys(forms.LayerRecord.model_fields)
    found = [
        (layer or blank | {"glaze": coat.glaze})
        | ({} if coat.coats is None else {"coats": coat.coats})
        for layer, coat in zip(layers, coats, strict=True)
    ]
    return found, [_in_words(each) for each in left]


def _is_part_of(name: str, layer: dict) -> bool:
    """Whether one of two names is all of the other with more: "cream matt over leaf" put right."""
    one, other = (set(re.findall(r"\w+", each.casefold())) for each in (name, glaze_of(layer)))
    return bool(one and other) and (one <= other or other <= one)


def _in_words(layer: dict) -> str:
    """A layer and all that is recorded of it, as it is spoken of."""
    from tiles.records import forms
    from tiles.records.spoken import spoken_application, spoken_layer

    record = forms.LayerRecord(**layer)
    how = spoken_application(record, {}).removeprefix(f"{record.glaze.name}: ")
    return f"{spoken_layer(record)}{f' ({how})' if how else ''}"


def take_only_recipes(session, changed, record) -> None:
    """A glaze that was not on the tile is of its one recipe, where there is no other version."""
    from tiles.records import models, reading, store

    known = {layer.glaze.name for area in record.areas for layer in area.layers}
    for area in changed.areas:
        for layer in area.layers:
            if layer.recipe is None and layer.glaze.name not in known:
                row = store.look_up(session, models.Glaze, layer.glaze.name)
                if row and len(row.recipe_versions) == 1:
                    layer.recipe = reading.recipe_record(row.recipe_versions[0])


def put_layers(values: dict, shared: dict, lists: dict) -> None:
    """Give the top layer of each area what all have alike, and of a list its own number."""
    areas = values["areas"]
    for name, text in lists.items():
        if name == "coats":
            found = entry_numbers.numbers(text, name, int)
        else:
            found = entry_numbers.thicknesses(text, name, len(areas))
        differ = len({_top(area)[name] for area in areas}) > 1 if found else False
        if found and len(found) != len(areas) and (len(found) > 1 or differ):
            raise InvalidValue(
                f"{entry_numbers.said(name)} {text!r} has {counted(len(found), 'number')} for "
                f"{counted(len(areas), 'area')}{' that differ' if differ else ''}.",
                "one number for each area.",
                field=name,
                value=text,
            )
        for area, value in zip(areas, found * len(areas), strict=False):
            _top(area)[name] = value
        if found:
            entry.refuse_one_thickness([_top(area) for area in areas], {name: found})
    if lists["coats"]:
        _refuse_old_thickness(areas)
    for name, value in shared.items():
        if value is not None:
            tops = [_top(area) for area in areas]
            if name == "beneath" and value:
                entry.put_beneath(areas, value)
                continue
            for top in tops:
                top[name] = value or None


def put_recipe(session, values: dict, version: str | None) -> None:
    """Give the top layer of each area this version of its recipe; an empty text takes it off."""
    from tiles.records import store

    if version is None:
        return
    if version.strip() and not version.strip().isdecimal():
        raise InvalidValue(f"recipe version {version!r} is not a whole number.",
                           "a version such as 2.", field="version", value=version)  # fmt: skip
    for top in map(_top, values["areas"]):
        found = version.strip() and store.find_recipe(session, glaze_of(top), int(version))
        top["recipe"] = found.model_dump() if found else None


def _refuse_old_thickness(areas: list[dict]) -> None:
    """New coats that differ leave no single thickness that was on record true of all areas."""
    tops = [_top(area) for area in areas]
    for name in ("thickness_mm", "fired_thickness_mm"):
        on_record = {top[name] for top in tops}
        if len(on_record) == 1:
            entry.refuse_one_thickness(tops, {name: list(on_record)})


def _top(area: dict) -> dict:
    if not area["layers"]:
        raise InvalidValue(
            f"area {area['number']} has no glaze yet.", "--glaze NAME.", field="glaze"
        )
    return area["layers"][-1]

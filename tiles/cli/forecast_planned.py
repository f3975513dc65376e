"""The tile of which ``tiles forecast`` is told in options: one that is to be fired."""

from tiles.cli import common, put_on
from tiles.errors import InvalidValue

PLANNED = "the tile you mean to fire"
_OF_LAYER = ("coats", "thickness_mm", "method", "beneath", "batch")
_OF_FIRING = {"cone": "target_cone", "kiln": "kiln", "hold_min": "hold_min"}


def planned(given: dict, db: str | None):
    """A record of what is to be fired."""
    from tiles.cli import entry
    from tiles.records import forms

    if not given["body"] or not given["glaze"]:
        raise InvalidValue("a forecast needs a body and a glaze.", "--body NAME --glaze NAME.")
    if given["shelf"] and not (given["kiln"] and given["cone"]):
        raise InvalidValue(
            "a shelf tells only which cone its kiln reaches there.",
            "--kiln NAME and --cone CONE beside --shelf.",
        )
    _refuse_other_areas(given)
    areas = entry.areas(given["glaze"])
    layers = areas[0]["layers"]
    place = _topmost_glaze(layers, db)
    top = layers[place]
    entry.refuse_two_counts(top, given["coats"])
    top |= {name: given[name] for name in _OF_LAYER if given[name] is not None}
    for text in given["applied_on"] or ():
        put_on.put(areas if "=" in text else [{"layers": [top]}], [text])
    areas[0] |= {"surface": given["surface"]}
    firing = {own: given[name] for name, own in _OF_FIRING.items() if given[name] is not None}
    values = {
        "mark": PLANNED,
        "body": given["body"],
        "bisque_cone": given["bisque_cone"],
        "stood": given["stood"],
        "shelf": given["shelf"],
        "firing": firing and {"name": "planned", "kind": "glaze"} | firing or None,
        "areas": areas,
        "clues": dict(entry.read_clue(text)[:2] for text in given["clue"] or ()),
    }
    record = forms.read(forms.TileRecord, values)
    return _filled(record, db, {place: given["recipe_version"]})


def _refuse_other_areas(given: dict) -> None:
    """What is put on another area than the first would not be forecast."""
    from tiles.cli.entry import split_area

    for what in ("glaze", "clue"):
        for text in given[what] or ():
            if split_area(text, what)[1] not in (None, 1):
                version = " (--recipe-version for a version of its recipe)"
                raise InvalidValue(
                    f"{what} {text!r}: a tile that you mean to fire has one area here.",
                    f"the {what} without @{version if what == 'glaze' else ''}, or the mark of a "
                    "tile on record.",
                    field=what,
                    value=text,
                )


def _topmost_glaze(layers: list[dict], db: str | None) -> int:
    """The place of the uppermost layer that is no wash or other colour; of any where all are."""
    from tiles.records import models, store
    from tiles.records.derived import main_layer

    with common.reading(db) as session:
        roles = [store.find(session, models.Glaze, each["glaze"]).role for each in layers]
    return main_layer(roles)


def _filled(record, db: str | None, versions: dict[int, int | None]):
    """The body and glazes as they are on record.

    A recipe is of the version named, else of that which the tiles from its bucket are of, else the
    newest.
    """
    from tiles.records import models, reading, store
    from tiles.records.analyses import own_materials
    from tiles.records.derived import analysed

    with common.reading(db) as session:
        record.body = reading.body_record(store.find(session, models.ClayBody, record.body.name))
        for place, layer in enumerate(record.areas[0].layers):
            row = store.find(session, models.Glaze, layer.glaze.name)
            layer.glaze = reading.glaze_record(row)
            version = versions.get(place)
            if layer.batch:
                bucket = store.find_batch(row, layer.batch.name)
                layer.batch = reading.batch_record(bucket)
                held = {each.version for each in store.recipes_from(session, bucket)}
                version = held.pop() if version is None and len(held) == 1 else version
            if version is not None or row.recipe_versions:
                layer.recipe = store.find_recipe(session, row.name, version)
        if record.firing and record.firing.kiln:
            record.firing.kiln = store.find(session, models.Kiln, record.firing.kiln).name
        return analysed(record, own_materials(session))

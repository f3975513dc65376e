"""What the studio's tiles teach, and the tile to forecast, from the database."""

from dataclasses import dataclass

from tiles.cli import common
from tiles.errors import InvalidValue

PLANNED = "the tile you mean to fire"
_OF_LAYER = ("coats", "thickness_mm", "method", "applied_on")
_OF_FIRING = {"cone": "target_cone", "kiln": "kiln", "hold_min": "hold_min"}


@dataclass(frozen=True)
class OfArea:
    """The forecasts of one area; ``unlike`` says what about it was never met."""

    area: int
    label: str | None
    forecasts: list
    unlike: list[str]
    tiles: int


def all_records(db: str | None) -> list:
    """Every tile on record."""
    from tiles.records import reading

    with common.reading(db) as session:
        rows = session.scalars(reading.whole_tiles()).unique()
        return [reading.tile_record(row) for row in rows]


def with_tile(mark: str, db: str | None) -> tuple[list, object]:
    """The other tiles, and the one of that mark: it must not be learned from itself."""
    from tiles.cli.record import fetch

    record = fetch(mark, db)
    others = [each for each in all_records(db) if each.mark != record.mark]
    return others, record


def with_plan(given: dict, db: str | None) -> tuple[list, object]:
    """Every tile, and a record of what is to be fired."""
    from tiles.cli import entry
    from tiles.records import forms

    if not given["body"] or not given["glaze"]:
        raise InvalidValue("a forecast needs a body and a glaze.", "--body NAME --glaze NAME.")
    layer = {name: given[name] for name in _OF_LAYER if given[name] is not None}
    areas = entry.areas(given["glaze"], shared=layer)
    areas[0] |= {"surface": given["surface"]}
    firing = {own: given[name] for name, own in _OF_FIRING.items() if given[name] is not None}
    values = {
        "mark": PLANNED,
        "body": given["body"],
        "bisque_cone": given["bisque_cone"],
        "stood": given["stood"],
        "firing": firing and {"name": "planned", "kind": "glaze"} | firing or None,
        "areas": areas,
        "clues": dict(entry.read_clue(text)[:2] for text in given["clue"] or ()),
    }
    record = forms.read(forms.TileRecord, values)
    return all_records(db), _filled(record, db)


def _filled(record, db: str | None):
    """The body and glazes as they are on record, a recipe in its newest version."""
    from tiles.records import models, reading, store

    with common.reading(db) as session:
        record.body = reading.body_record(store.find(session, models.ClayBody, record.body.name))
        for layer in record.areas[0].layers:
            row = store.find(session, models.Glaze, layer.glaze.name)
            layer.glaze = reading.glaze_record(row)
            if row.recipe_versions:
                layer.recipe = reading.recipe_record(row.recipe_versions[-1])
        if record.firing and record.firing.kiln:
            record.firing.kiln = store.find(session, models.Kiln, record.firing.kiln).name
    return record


def forecasts(records: list, record, defect: str | None) -> list[OfArea]:
    """Learn from the records and forecast every area of one more."""
    from diagnose.forecast import forecast, unlike
    from diagnose.learner import fit_records
    from diagnose.learning.rows import from_records
    from tiles.records.words import DEFECTS

    learned = fit_records(records).learned
    wanted = [defect] if defect else DEFECTS
    tiles = sum(bool(each.inspections) for each in records)
    bare = record.model_copy(update={"inspections": []})
    return [
        OfArea(area.number, area.label, forecast(learned, row, wanted), unlike(learned, row), tiles)
        for area, row in zip(record.areas, from_records([bare]).rows, strict=True)
    ]

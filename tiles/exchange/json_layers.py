"""Glazes of a JSON record whose names read as several layers; of a CSV, see `flat_layers`."""

from collections.abc import Collection, Iterable
from typing import Any

from sqlalchemy.orm import Session

from tiles.records import forms, models, store
from tiles.records.derived import layers_of
from tiles.records.layered import ask_if_one, question_of
from tiles.records.store.belongings import names_of_glazes
from tiles.records.words import name_key


def layer_questions(record: forms.TileRecord) -> dict[str, str]:
    """What may be asked of each glaze whose name reads as several layers, were it new."""
    found = {each.glaze.name: question_of(each.glaze.name, has_recipe=bool(each.recipe))
             for each in layers_of(record)}  # fmt: skip
    return {name: said for name, said in found.items() if said}


def names_in(values: list[Any]) -> set[str]:
    """The glazes that unchecked records name, as `name_key` has them."""
    told = [value.model_dump() if isinstance(value, forms.TileRecord) else value
            for value in values]  # fmt: skip
    layers = (layer for each in told for area in _parts(each, "areas")
              for layer in _parts(area, "layers"))  # fmt: skip
    glazes = (layer.get("glaze") for layer in layers)
    names = (each.get("name") if isinstance(each, dict) else each for each in glazes)
    return {name_key(each) for each in names if isinstance(each, str)}


def _parts(value: dict, key: str) -> Iterable[dict]:
    found = value.get(key) if isinstance(value, dict) else None
    return (each for each in found if isinstance(each, dict)) if isinstance(found, list) else ()


def ask_of_layers(
    session: Session, record: forms.TileRecord, before: list[str], in_file: Collection[str]
) -> None:
    """Ask about a new glaze as at the bench; not where the record brings the answer.

    ``in_file`` are the glazes that the file names.
    """
    for name, said in layer_questions(record).items():
        if said not in before and store.look_up(session, models.Glaze, name) is None:
            known = {*in_file, *names_of_glazes(session)}
            ask_if_one(name, known - {name_key(name)})

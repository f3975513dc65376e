"""What is on record beside the tiles, so that a whole export comes back whole.

Clay bodies, glazes with every recipe version and bucket, kilns, firings, and materials with the
user's own analyses: also those that no tile names.
"""

from collections.abc import Iterable
from datetime import date
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field
from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from tiles.chemistry.materials import LOWEST_LOSS_PERCENT, from_analysis
from tiles.errors import InvalidValue
from tiles.records import forms, models, questions, reading
from tiles.records.derived import layers_of
from tiles.records.problems import shown
from tiles.records.store import belongings, former
from tiles.records.store.material import add_material
from tiles.records.store.named import Added, Names
from tiles.records.words import same_name

# What takes up oxygen gains weight: its loss lies below 0, and an oxide of it may be over 100.
_Loss = Annotated[float, Field(ge=LOWEST_LOSS_PERCENT, lt=100)]
_OxidePercent = Annotated[float, Field(ge=0, allow_inf_nan=False)]


class MaterialRecord(BaseModel):
    """A raw material; without oxides just a name that a recipe uses."""

    model_config = ConfigDict(extra="forbid")
    name: forms.Name
    source: forms.Text | None = None
    loss_on_ignition_pct: _Loss | None = None
    remark: forms.Text | None = None
    oxides: dict[str, _OxidePercent] = {}


class GlazeOnShelf(BaseModel):
    """A glaze with the versions of its recipe, the first one first, and its buckets."""

    model_config = ConfigDict(extra="forbid")
    glaze: forms.GlazeRecord
    recipes: list[forms.RecipeRecord] = []
    batches: list[forms.BatchRecord] = []


class FormerNameRecord(BaseModel):
    """What a clay body, glaze, kiln or firing was called until a day."""

    model_config = ConfigDict(extra="forbid")
    noun: forms.Name
    name: forms.Name
    called: forms.Name
    since: date


class StudioRecord(BaseModel):
    """All that tiles may name. ``confirmed`` is as in a tile's record, of the firings."""

    model_config = ConfigDict(extra="forbid")
    materials: list[MaterialRecord] = []
    bodies: list[forms.BodyRecord] = []
    glazes: list[GlazeOnShelf] = []
    kilns: list[forms.KilnRecord] = []
    firings: list[forms.FiringRecord] = []
    former_names: list[FormerNameRecord] = []
    confirmed: list[str] = []


class MergedRecord(StudioRecord):
    """What a merge took off the record beside its tiles, and the former names it put there."""

    no_longer: list[FormerNameRecord] = []


def read_studio(session: Session) -> StudioRecord:
    """What is on record beside the tiles, in the order in which it was stored."""
    firings = [reading.firing_record(row) for row in _rows(session, models.Firing)]
    asked = (said for each in firings for said in questions.firing_questions(each))
    return StudioRecord.model_construct(
        materials=[_material_record(row) for row in _rows(session, models.Material)],
        bodies=[reading.body_record(row) for row in _rows(session, models.ClayBody)],
        glazes=[_glaze_on_shelf(row) for row in _rows(session, models.Glaze)],
        kilns=[reading.kiln_record(row) for row in _rows(session, models.Kiln)],
        firings=firings,
        former_names=list(map(_former_name, _rows(session, models.FormerName))),
        confirmed=list(dict.fromkeys(asked)),
    )


def _rows(session: Session, model: type[models.SQLModel]):
    """Every row of a table with its parts, the oldest first."""
    parts = reading.parts(model)
    if model is models.Material:
        parts = (selectinload(models.Material.oxides),)
    chosen = select(model).options(*parts).order_by(model.__mapper__.primary_key[0])
    return session.scalars(chosen).unique()


def _material_record(row: models.Material) -> MaterialRecord:
    return MaterialRecord.model_construct(
        name=row.name,
        source=row.source,
        loss_on_ignition_pct=row.loss_on_ignition_pct,
        remark=row.remark,
        oxides={each.oxide: each.weight_pct for each in row.oxides},
    )


def _glaze_on_shelf(row: models.Glaze) -> GlazeOnShelf:
    return GlazeOnShelf.model_construct(
        glaze=reading.glaze_record(row),
        recipes=[reading.recipe_record(each) for each in row.recipe_versions],
        batches=[reading.batch_record(each) for each in row.batches],
    )


def _former_name(row: models.FormerName) -> FormerNameRecord:
    return FormerNameRecord.model_validate(row, from_attributes=True)


def former_names(session: Session, model: type[models.SQLModel]) -> list[FormerNameRecord]:
    """What bodies, glazes, kilns or firings were called before, the oldest first."""
    return list(map(_former_name, former.of_noun(session, belongings.noun(model))))


def of_one(row) -> MergedRecord:
    """One body, glaze, kiln or firing; a glaze with all its recipe versions and buckets."""
    if isinstance(row, models.Glaze):
        return MergedRecord(glazes=[_glaze_on_shelf(row)])
    record = belongings.FORMS[type(row)][1](row)
    confirmed = questions.firing_questions(record) if isinstance(row, models.Firing) else []
    return MergedRecord(**{_PLACE[type(row)]: [record]}, confirmed=confirmed)


_PLACE = {models.ClayBody: "bodies", models.Kiln: "kilns", models.Firing: "firings"}


def without_tile(studio: StudioRecord, records: Iterable[forms.TileRecord]) -> list[str]:
    """What is on record and on no tile, in words: a file of tiles alone leaves it out."""
    records = list(records)
    layers = [layer for each in records for layer in layers_of(each)]
    bodies, glazes = {each.body.name for each in records}, {each.glaze.name for each in layers}
    fired = [each for tile in records for each in (tile.firing, tile.bisque_firing) if each]
    firings, kilns = {each.name for each in fired}, {each.kiln for each in fired}
    left = [f"clay body {each.name}" for each in studio.bodies if each.name not in bodies]
    for each in studio.glazes:
        name = each.glaze.name
        if name not in glazes:
            left.append(f"glaze {name}")
            continue
        of = [layer for layer in layers if layer.glaze.name == name]
        versions = {layer.recipe.version for layer in of if layer.recipe}
        batches = {layer.batch.name for layer in of if layer.batch}
        left += [f"{name} version {r.version}" for r in each.recipes if r.version not in versions]
        left += [f"batch {b.name} of {name}" for b in each.batches if b.name not in batches]
    left += [f"firing {each.name}" for each in studio.firings if each.name not in firings]
    left += [f"kiln {each.name}" for each in studio.kilns if each.name not in kilns]
    on_kilns = (each.name for each in studio.kilns if each.remark and each.name in kilns)
    left += [f"the remark on kiln {each}" for each in on_kilns]
    left += [f"the former name {each.name} of {each.called}" for each in studio.former_names]
    return left + [f"your analysis of {each.name}" for each in studio.materials if each.oxides]


def import_studio(
    session: Session, value: Any, where: str, *, keep_stored: bool, confirmed: bool
) -> Names:
    """Put on record what is not there yet: what was added, filled in, and is stored otherwise.

    Raises
    ------
    InvalidValue, Questioned
        A part cannot be right, is unlikely, or is on record otherwise; the caller stores nothing.
    """
    record = forms.read(MergedRecord, value, f"{where}, studio")
    names = Names(
        session,
        add_missing=True,
        keep_stored=keep_stored,
        ask_of_firings=not confirmed,
        asked_before=record.confirmed,
        parted=[Added(each.noun, each.name) for each in record.no_longer],
    )
    for old in record.no_longer:
        former.take_back(session, old.noun, old.name, old.called)
    for material in record.materials:
        _add_material(session, material, names)
    for body in record.bodies:
        names.body(body)
    for each in record.glazes:
        glaze = names.glaze(each.glaze, has_recipe=bool(each.recipes))
        for recipe in each.recipes:
            names.recipe(glaze, recipe)
        for batch in each.batches:
            names.batch(glaze, batch)
    for kiln in record.kilns:
        names.kiln(kiln)
    for firing in record.firings:
        names.firing(firing, firing.kind or "glaze")
    for old in record.former_names:
        known = former.called_now(session, old.noun, old.name)
        if not any(same_name(each.called, old.called) for each in known):
            session.add(models.FormerName(**old.model_dump()))
    names.told = list(dict.fromkeys(names.told))
    return names


def _add_material(session: Session, record: MaterialRecord, names: Names) -> None:
    row = belongings.look_up(session, models.Material, record.name)
    if row is None or (record.oxides and not row.oxides):
        names.added += [Added("material", record.name)] if record.oxides else []
        _store_material(session, record)
        return
    stored = _material_record(row)
    told = {key: value for key, value in record if key != "name" and value not in (None, {})}
    differing = [key for key in told if told[key] != getattr(stored, key)]
    if names.keep_stored:
        names.told += [
            f"material {record.name!r} keeps its own analysis; the other is not taken"
            if key == "oxides"
            else f"material {record.name!r} keeps {key} {shown(getattr(stored, key))}; "
            f"{shown(told[key])} is not taken"
            for key in differing
        ]
    elif differing:
        key = differing[0]
        raise InvalidValue(
            f"material {record.name!r} comes with {key} {shown(told[key])}, but is on "
            f"record with {shown(getattr(stored, key))}.",
            "another name if it is another one, or --keep-stored to use yours as it stands.",
            field=key,
            value=told[key],
        )


def _store_material(session: Session, record: MaterialRecord) -> None:
    if not record.oxides:
        values = record.model_dump(exclude={"oxides"})
        belongings.add_row(session, models.Material, values)
        return
    material = from_analysis(
        record.name,
        record.oxides,
        loss_on_ignition_percent=record.loss_on_ignition_pct,
        source=record.source or "",
    )
    add_material(session, material, remark=record.remark)

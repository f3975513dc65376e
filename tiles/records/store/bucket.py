"""Buckets: what is known of one corrected, and from which one many tiles were glazed."""

from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import (
    AlreadyOnRecord,
    InvalidValue,
    Questioned,
    UnknownName,
    nearest,
    shell_word,
)
from tiles.records import forms, models, reading
from tiles.records.derived import layers_of
from tiles.records.problems import shown
from tiles.records.spoken import some
from tiles.records.store import belongings
from tiles.records.store.whole import wholly
from tiles.records.trial_questions import with_new_name
from tiles.records.words import refuse_dash, same_name


@wholly
def change_batch(
    session: Session, glaze_name: str, name: str, changes: dict, *, confirmed: bool = False
) -> models.Batch:
    """Change what is known of a bucket, its name too; None clears a field. Its tiles stay.

    Raises
    ------
    AlreadyOnRecord, InvalidValue, UnknownName
        Nothing is changed.
    Questioned
        Tiles were coated from it, and would have been dipped in something else.
    """
    glaze = belongings.find(session, models.Glaze, glaze_name)
    row = belongings.find_batch(glaze, name)
    before = reading.batch_record(row)
    record = forms.read(forms.BatchRecord, before.model_dump() | changes)
    if record.name != before.name:
        refuse_dash(record.name)
    if "mixed_on" in changes:
        belongings.refuse_day_to_come(record)
    if belongings.look_up_batch(glaze, record.name) not in (None, row):
        raise AlreadyOnRecord(
            f"{glaze.name!r} already has a batch called {record.name!r}.",
            "another name.",
            field="name",
            value=record.name,
        )
    if not confirmed:
        _ask_of_tiles(session, row, before, record)
    _rename_in_trials(session, row, record.name)
    for key, value in record.model_dump().items():
        setattr(row, key, value)
    session.flush()
    return row


def _rename_in_trials(session: Session, row: models.Batch, name: str) -> None:
    """Have the trials of a bucket of this glaze name it as it is called now."""
    of_glaze = reading.has_layer(models.Layer.glaze_id == row.glaze_id)
    is_trial = models.Tile.trial_change.startswith("batch ")
    for trial in session.scalars(select(models.Tile).where(is_trial, of_glaze)):
        trial.trial_change = with_new_name(trial.trial_change, row.name, name)


_FIGURES = {
    "specific_gravity": "SG",
    "sieve_mesh": "mesh",
    "dry_portion": "mixed from",
    "is_revived": "revived",
}
"""What a coat depends on; filled in where it was blank, it takes nothing away."""


def _ask_of_tiles(
    session: Session, row: models.Batch, before: forms.BatchRecord, record: forms.BatchRecord
) -> None:
    """The same bucket goes thin during a term: that is another batch, and no correction."""
    changed = [
        f"{said} {_spoken(new)} in place of {_spoken(old)}"
        for key, said in _FIGURES.items()
        if (old := getattr(before, key)) is not None and (new := getattr(record, key)) != old
    ]
    marks = marks_from(session, row) if changed else []
    if not marks:
        return
    of, many = shell_word(row.glaze.name), len(marks) > 1
    raise Questioned(
        f"{some(marks)} {f'({len(marks)} tiles) were' if many else 'was'} coated from batch "
        f"{row.name!r} of {row.glaze.name}, and would count as from one with "
        f"{', '.join(changed)}. If the bucket changed since, leave it and add it as it is now: "
        f"'tiles batch add {of} {shell_word(f'{row.name} b')}'.",
        "--yes if it was so all along.",
        field="batch",
        value=row.name,
    )


def _spoken(value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "not recorded" if value is None else shown(value)


def marks_from(session: Session, row: models.Batch) -> list[str]:
    """The tiles on record from a bucket."""
    is_from = reading.has_layer(models.Layer.batch_id == row.batch_id)
    chosen = select(models.Tile.mark).where(is_from)
    return list(session.scalars(chosen.order_by(models.Tile.mark)))


def recipes_from(
    session: Session, row: models.Batch, beside: Collection[str] = ()
) -> list[forms.RecipeRecord]:
    """The recipe of each layer on record from a bucket, but for some tiles and where none is known.

    A bucket has no version of its own: its tiles tell of which it was mixed.
    """
    chosen = (
        select(models.Layer, models.Tile.mark)
        .join(models.Area, models.Area.area_id == models.Layer.area_id)
        .join(models.Tile, models.Tile.tile_id == models.Area.tile_id)
        .where(models.Layer.batch_id == row.batch_id)
        .where(models.Layer.recipe_version_id.is_not(None))
    )
    return [
        reading.recipe_record(layer.recipe_version)
        for layer, mark in session.execute(chosen)
        if mark not in beside
    ]


def from_batch(
    session: Session, records: list[forms.TileRecord], name: str
) -> list[forms.TileRecord]:
    """The records with this batch on each layer whose glaze has one of that name.

    Layers of other glazes stay as they are, so that a load of many glazes may be named at once.

    Raises
    ------
    UnknownName
        No glaze on the tiles has such a batch.
    InvalidValue
        A layer is on record from another batch.
    """
    found = [forms.TileRecord.model_validate(record.model_dump()) for record in records]
    layers = [(record, layer) for record in found for layer in layers_of(record)]
    glazes = {layer.glaze.name for _, layer in layers}
    rows = {glaze: belongings.find(session, models.Glaze, glaze) for glaze in glazes}
    batches = {glaze: belongings.look_up_batch(row, name) for glaze, row in rows.items()}
    if not any(batches.values()):
        _refuse_unknown(name, [each.name for row in rows.values() for each in row.batches])
    for record, layer in layers:
        batch = batches[layer.glaze.name]
        if batch is None:
            continue
        _refuse_other(record, layer, batch)
        layer.batch = forms.BatchRecord(name=batch.name)
    return found


def _refuse_other(record: forms.TileRecord, layer: forms.LayerRecord, batch: models.Batch) -> None:
    if not layer.batch or same_name(layer.batch.name, batch.name):
        return
    mark = shell_word(record.mark)
    by_itself = f"{mark} without --batch, as it was planned, or " if record.trial_of else ""
    raise InvalidValue(
        f"{record.mark} is on record with {layer.glaze.name} from batch {layer.batch.name!r}.",
        f"{by_itself}'tiles change {mark} --batch {shell_word(batch.name)}' if that is a mistake.",
        field="batch",
        value=batch.name,
    )


def _refuse_unknown(name: str, known: list[str]) -> None:
    close = nearest(name, known)
    raise UnknownName(
        f"no glaze on these tiles has a batch called {name!r}.",
        f"{close!r}, or 'tiles batch add GLAZE {shell_word(name)}'."
        if close
        else "'tiles batch add' first.",
        field="batch",
        value=name,
    )

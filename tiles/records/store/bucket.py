"""Buckets: what is known of one corrected, and from which one many tiles were glazed."""

import re

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
from tiles.records.problems import shown
from tiles.records.spoken import some
from tiles.records.store import belongings
from tiles.records.store.whole import wholly
from tiles.records.words import same_name


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
    for key, value in record.model_dump().items():
        setattr(row, key, value)
    session.flush()
    return row


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
    layers = select(models.Area.tile_id).join(models.Layer)
    of_it = layers.where(models.Layer.batch_id == row.batch_id)
    chosen = select(models.Tile.mark).where(models.Tile.tile_id.in_(of_it))
    return list(session.scalars(chosen.order_by(models.Tile.mark)))


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
        A layer is on record from another batch, or its tile is a trial of another.
    """
    found = [forms.TileRecord.model_validate(record.model_dump()) for record in records]
    layers = [(record, layer) for record in found for area in record.areas for layer in area.layers]
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
    mark, change = shell_word(record.mark), record.trial_change
    is_top = any(area.layers[-1] is layer for area in record.areas if area.layers)
    if record.trial_of and is_top and _is_other_bucket(change, batch):
        said = f"is a trial of {change!r}, which batch {batch.name!r} is not"
    elif layer.batch and not same_name(layer.batch.name, batch.name):
        said = f"is on record with {layer.glaze.name} from batch {layer.batch.name!r}"
    else:
        return
    by_itself = f"{mark} without --batch, as it was planned, or " if record.trial_of else ""
    no_trial = ' --trial-of ""' if record.trial_of else ""
    raise InvalidValue(
        f"{record.mark} {said}.",
        f"{by_itself}'tiles change {mark} --batch {shell_word(batch.name)}{no_trial}' if that is "
        "a mistake.",
        field="batch",
        value=batch.name,
    )


_BUCKET_CHANGED = re.compile(r"(batch|specific gravity|dry glaze mixed) [^;]*-> ([^;]+)")
"""How a trial says that another bucket, or the same one mended, is the one thing changed."""


def _bucket_tried(change: str | None) -> tuple[str, str]:
    """What a trial changes of the bucket, and into what; two empty texts where nothing."""
    told = _BUCKET_CHANGED.match(change or "")
    return (told[1], told[2].strip()) if told else ("", "")


def _is_other_bucket(change: str | None, batch: models.Batch) -> bool:
    """Whether a trial is of a bucket that this batch is not."""
    what, after = _bucket_tried(change)
    if what == "batch":
        return not same_name(after, batch.name)
    if what == "dry glaze mixed":
        return batch.dry_portion not in (None, after)
    return (
        bool(what)
        and batch.specific_gravity is not None
        and f"{batch.specific_gravity:.3g}" != after
    )


def batch_not_tried(record: forms.TileRecord) -> str | None:
    """The batch of a trial's top glaze, where the trial says it is of another; else None."""
    what, after = _bucket_tried(record.trial_change)
    if not record.trial_of or what != "batch":
        return None
    tops = [area.layers[-1] for area in record.areas if area.layers]
    names = [layer.batch.name for layer in tops if layer.batch]
    return next((name for name in names if not same_name(after, name)), None)


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

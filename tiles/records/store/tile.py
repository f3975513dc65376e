"""Writing tiles: their areas, layers, clues, inspections and pictures."""

from collections.abc import Collection
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, InvalidValue, shell_word
from tiles.records import forms, looks, lost_zeros, models, questions, reading, trial_questions
from tiles.records.derived import stage
from tiles.records.store import belongings
from tiles.records.store.bucket import from_batch
from tiles.records.store.mark import get_tile, get_tiles, has_mark, may_be
from tiles.records.store.named import Names
from tiles.records.store.whole import wholly
from tiles.records.words import refuse_dash, same_name

_OWNED = ("areas", "clues", "inspections", "photos")
"""What a tile has for itself: written anew as a whole where any of it is changed."""
_LOOKED_UP = ("mark", "body", "bisque_firing", "firing", "trial_of")
PLAIN_FIELDS = [each for each in forms.TileRecord.model_fields if each not in _OWNED + _LOOKED_UP]
"""What is written to the row of the tile as it is told: every field without a way of its own."""


@wholly
def add_tile(
    session: Session,
    record: forms.TileRecord,
    *,
    names: Names | None = None,
    confirmed: bool = False,
    asked_before: Collection[str] = (),
) -> forms.TileRecord:
    """Put a tile on record.

    Parameters
    ----------
    session : Session
        The open transaction.
    record : TileRecord
        Bodies, glazes, batches and firings may be given by bare name.
    names : Names, optional
        How to find or add what the record names; by default all of it must be on record.
    confirmed : bool
        A person has said that an unlikely cone or coat is really so.
    asked_before : collection of str
        Of these questions a person has said so.

    Returns
    -------
    TileRecord
        As stored, with all that is known of its body, glazes and firings.

    Raises
    ------
    AlreadyOnRecord, UnknownName, InvalidValue, Questioned
        Nothing is stored.
    """
    taken = has_mark(session, record.mark)
    if taken:
        typed = shell_word(taken)
        raise AlreadyOnRecord(
            f"a tile marked {taken!r} is already on record.",
            f"another mark, 'tiles inspect {typed}' to add what you see on it, or "
            f"'tiles change {typed}' to correct it.",
            field="mark",
            value=record.mark,
        )
    refuse_dash(record.mark, "mark")
    looks.refuse_faults_twice(record)
    row = models.Tile(mark=record.mark, written_on=date.today())
    added = _write(session, row, record, names, confirmed, asked_before)
    _lead_trials(session, record.mark, record.mark)
    return added


def _lead_trials(session: Session, mark: str, to: str) -> None:
    """Have the trials made for a mark, however it was typed, name the tile as it is on record."""
    is_trial = models.Tile.trial_of > ""  # few are, and the index knows them
    trials = select(models.Tile).where(is_trial, may_be(models.Tile.trial_of, mark))
    for trial in session.scalars(trials):
        if same_name(trial.trial_of, mark):
            trial.trial_of = to


@wholly
def replace_tile(
    session: Session,
    record: forms.TileRecord,
    *,
    row: models.Tile | None = None,
    names: Names | None = None,
    confirmed: bool = False,
    asked_before: Collection[str] = (),
) -> forms.TileRecord:
    """Write a changed record over the tile of the same mark; see :func:`add_tile`.

    ``row`` is that tile, where the caller has it from :func:`get_tile`.
    """
    row = row or get_tile(session, record.mark)
    before = reading.tile_record(row)
    looks.refuse_faults_twice(record, before.inspections)
    asked_before = [*asked_before, *questions.questions(before)]
    if any(getattr(record, part) != getattr(before, part) for part in _OWNED):
        for owned in (row.clues, row.inspections, row.photos):
            owned.clear()
        session.flush()
        row.areas.clear()
        session.flush()
    stored = _write(session, row, record, names, confirmed, asked_before)
    if not confirmed:
        trial_questions.require_same_glaze(before, stored)
    return stored


@wholly
def rename_tile(session: Session, mark: str, new_mark: str) -> None:
    """Give a tile another mark; the trials that were made for it follow.

    Raises
    ------
    AlreadyOnRecord, UnknownName, InvalidValue
        The new mark is another tile's, the old one nobody's, or the new one cannot be a mark.
    """
    row = get_tile(session, mark)
    values = reading.tile_record(row).model_dump() | {"mark": new_mark}
    new_mark = forms.read(forms.TileRecord, values).mark
    refuse_dash(new_mark, "mark")
    taken = has_mark(session, new_mark)
    if taken not in (None, row.mark):
        raise AlreadyOnRecord(
            f"a tile marked {taken!r} is already on record.",
            "another mark.",
            field="mark",
            value=new_mark,
        )
    _lead_trials(session, row.mark, new_mark)
    row.mark = new_mark
    session.flush()


def _write(
    session: Session,
    row: models.Tile,
    record: forms.TileRecord,
    names: Names | None,
    confirmed: bool,
    asked_before: Collection[str],
) -> forms.TileRecord:
    names = names or Names(session)
    questions.refuse_contradictions(record)
    _fill(session, row, record, names)
    stored = reading.tile_record(row)
    questions.refuse_contradictions(stored)
    if not confirmed:
        lost_zeros.require_confirmation(stored, asked_before)
    return stored


def _fill(session: Session, row: models.Tile, record: forms.TileRecord, names: Names) -> None:
    for name in PLAIN_FIELDS:
        setattr(row, name, getattr(record, name))
    row.trial_of = record.trial_of and (has_mark(session, record.trial_of) or record.trial_of)
    row.body = names.body(record.body)
    row.clay_body_id = row.body.clay_body_id
    row.bisque_firing = names.firing(record.bisque_firing, "bisque")
    row.firing = names.firing(record.firing, "glaze")
    if row.areas:  # all that the tile owns stays as it was
        session.flush()
        return
    row.areas = [_area(area, names) for area in record.areas]
    row.photos = [models.Photo(**photo.model_dump()) for photo in record.photos]
    row.clues, row.inspections = [], []  # as they are: else each would be asked for below
    session.add(row)
    session.flush()
    by_number = {area.number: area for area in row.areas}
    row.clues = [models.TileClue(clue=c, answer=a) for c, a in record.clues.items()]
    for area in record.areas:
        row.clues += [
            models.TileClue(clue=clue, answer=answer, area_id=by_number[area.number].area_id)
            for clue, answer in area.clues.items()
        ]
    row.inspections = [_inspection(look, by_number) for look in record.inspections]
    session.flush()


def _area(record: forms.AreaRecord, names: Names) -> models.Area:
    row = models.Area(**record.model_dump(exclude={"layers", "clues"}))
    row.layers = [
        _layer(layer, position, names) for position, layer in enumerate(record.layers, start=1)
    ]
    return row


def _layer(record: forms.LayerRecord, position: int, names: Names) -> models.Layer:
    glaze = names.glaze(record.glaze, has_recipe=record.recipe is not None)
    values = record.model_dump(exclude={"glaze", "recipe", "batch"})
    row = models.Layer(position=position, glaze_id=glaze.glaze_id, **values)
    row.glaze = glaze
    row.recipe_version = names.recipe(glaze, record.recipe)
    row.batch = names.batch(glaze, record.batch)
    return row


def _inspection(record: forms.InspectionRecord, areas: dict[int, models.Area]) -> models.Inspection:
    row = models.Inspection(**record.model_dump(exclude={"defects"}))
    row.defects = [
        models.Defect(
            area_id=areas[seen.area].area_id if seen.area else None,
            **seen.model_dump(exclude={"area"}),
        )
        for seen in record.defects
    ]
    return row


def add_inspection(
    session: Session,
    mark: str,
    inspection: forms.InspectionRecord,
    *,
    cone_reached: str | None = None,
    clues: dict[str, str] | None = None,
    confirmed: bool = False,
) -> forms.TileRecord:
    """Add one look at a tile: to a fresh one after unloading, or months later.

    The very same look of a day is not stored a second time.

    Parameters
    ----------
    mark : str
        The tile.
    inspection : InspectionRecord
        What was seen; without defects the tile was looked at and found clean.
    cone_reached : str, optional
        The cone its witness showed, where it is recorded at the same time.
    clues : dict, optional
        Clues about the whole tile to record with it.
    """
    row = get_tile(session, mark)
    record = reading.tile_record(row)
    values = record.model_dump()
    if not looks.is_on_record(record, inspection):
        values["inspections"].append(inspection.model_dump())
    values["clues"] |= clues or {}
    if cone_reached:
        values["cone_reached"] = cone_reached
    changed = forms.read(forms.TileRecord, values, record.mark)
    return replace_tile(session, changed, row=row, confirmed=confirmed)


@wholly
def load_tiles(
    session: Session,
    firing_name: str,
    marks: list[str],
    shelf: str | None = None,
    *,
    batch: str | None = None,
    confirmed: bool = False,
) -> list[forms.TileRecord]:
    """Put glazed tiles into a glaze firing, on a shelf and from a batch where one is named.

    Raises
    ------
    InvalidValue
        A tile was fired in another firing already.
    Questioned
        The firing's target is far outside what a label says. None of the tiles is loaded then.
    """
    firing = belongings.find(session, models.Firing, firing_name)
    loaded, shelf, names = [], _shelf(shelf), Names(session)
    rows = get_tiles(session, marks)
    records = [reading.tile_record(row) for row in rows]
    records = from_batch(session, records, batch) if batch else records
    for row, record in zip(rows, records, strict=True):
        was_in = record.firing
        if was_in and was_in.name != firing.name and stage(record) in ("fired", "inspected"):
            raise InvalidValue(
                f"{record.mark} was fired in {was_in.name} already.",
                f"'tiles change {shell_word(record.mark)} --firing {shell_word(firing.name)}' if "
                "that is a mistake.",
                field="mark",
                value=record.mark,
            )
        changed = record.model_copy(
            update={
                "firing": forms.FiringRecord(name=firing.name),
                "shelf": shelf or record.shelf,
            }
        )
        how = {"row": row, "names": names, "confirmed": confirmed}
        loaded.append(replace_tile(session, changed, **how))
    return loaded


def _shelf(name: str | None) -> str | None:
    """A shelf as a record takes it, None where nothing is named."""
    values = {"mark": "any", "body": "any", "shelf": name}
    return forms.read(forms.TileRecord, values).shelf


def add_photo(session: Session, mark: str, file: str, caption: str | None = None) -> None:
    """Note a picture, already copied into the photo folder, with its tile."""
    row = get_tile(session, mark)
    if any(photo.file == file for photo in row.photos):
        raise AlreadyOnRecord(
            f"{row.mark} already has this picture.", "another picture.", field="photo", value=file
        )
    row.photos.append(models.Photo(file=file, caption=caption))
    session.flush()


def remove_tile(session: Session, mark: str) -> forms.TileRecord:
    """Take a tile off the record and return what it was."""
    row = get_tile(session, mark)
    record = reading.tile_record(row)
    session.delete(row)
    session.flush()
    return record

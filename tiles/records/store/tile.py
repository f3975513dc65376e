"""Writing tiles: their areas, layers, clues, inspections and pictures."""

import re
from collections.abc import Collection
from datetime import date

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, InvalidValue, UnknownName, nearest, shell_line, shell_word
from tiles.records import forms, looks, lost_zeros, models, questions, reading, trial_questions
from tiles.records.derived import stage
from tiles.records.mark_looks import slip_key
from tiles.records.store import belongings
from tiles.records.store.bucket import from_batch
from tiles.records.store.named import Names
from tiles.records.store.whole import wholly
from tiles.records.words import name_key, same_name, tidy_name

_AT_ONCE = 100
"""Marks in one query; SQLite takes no expression of a thousand parts."""
_LETTERS = re.compile(r"[A-Za-z\x80-\U0010ffff]+")
_OWNED = ("areas", "clues", "inspections", "photos")
"""What a tile has for itself: written anew as a whole where any of it is changed."""
_LOOKED_UP = ("mark", "body", "bisque_firing", "firing", "trial_of")
PLAIN_FIELDS = [each for each in forms.TileRecord.model_fields if each not in _OWNED + _LOOKED_UP]
"""What is written to the row of the tile as it is told: every field without a way of its own."""


def get_tile(session: Session, mark: str) -> models.Tile:
    """The tile with this mark, with everything on it.

    Raises
    ------
    UnknownName
        Names the nearest mark.
    """
    known = has_mark(session, mark)
    if known is None:
        hint = _marks_to_try(mark, list(session.scalars(select(models.Tile.mark))))
        raise UnknownName(f"no tile is marked {mark!r}.", hint, field="mark", value=mark)
    by_mark = reading.whole_tiles().where(models.Tile.mark == known)
    return session.scalars(by_mark).unique().one()


def _marks_to_try(mark: str, known: list[str]) -> str:
    """The same mark with other zeros, blanks or letters for digits before any other like it."""
    by_key = {name_key(each): each for each in known}
    listed = [by_key.get(name_key(part)) for part in re.split("[,;]", mark)]
    if len(listed) > 1 and all(listed):
        return f"one mark alone, or several with blanks between: {shell_line(listed)}."
    slips = [each for each in sorted(known) if slip_key(each) == slip_key(mark)]
    close = slips[0] if slips else nearest(mark, known)
    return f"{close}, or 'tiles find' to list marks." if close else "'tiles find' for the marks."


def get_tiles(session: Session, marks: list[str]) -> list[models.Tile]:
    """The tiles with these marks, each as :func:`get_tile` gives it, in as few queries as one."""
    found = {}
    for start in range(0, len(marks), _AT_ONCE):
        known = _on_record(session, marks[start : start + _AT_ONCE])
        chosen = reading.whole_tiles().where(models.Tile.mark.in_(known.values()))
        found |= {name_key(row.mark): row for row in session.scalars(chosen).unique()}
    return [found.get(name_key(mark)) or get_tile(session, mark) for mark in marks]


def has_mark(session: Session, mark: str) -> str | None:
    """The mark as it is on record, whatever its capitals; None when it is free."""
    return _on_record(session, [mark]).get(name_key(mark))


def _on_record(session: Session, marks: Collection[str]) -> dict[str, str]:
    """Those of some marks that are on record, as they are written there, by their keys."""
    chosen = select(models.Tile.mark).where(or_(*(_may_be(models.Tile.mark, m) for m in marks)))
    wanted = {name_key(mark) for mark in marks}
    known = {name_key(each): each for each in session.scalars(chosen)}
    return {key: known[key] for key in wanted & known.keys()}


def _may_be(column, mark: str):
    """Whether a column may hold a mark: its digits and signs are those, with any letters between.

    Letters are compared by `name_key` alone: of Ü a server may know no small one, and SQLite never
    does. To have it read every mark would make each further tile of an import slower.
    """
    signs = re.sub(r"([\\%_])", r"\\\1", tidy_name(mark))
    return column.like(_LETTERS.sub("%", signs), escape="\\")


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
    looks.refuse_faults_twice(record)
    row = models.Tile(mark=record.mark, written_on=date.today())
    added = _write(session, row, record, names, confirmed, asked_before)
    _lead_trials(session, record.mark, record.mark)
    return added


def _lead_trials(session: Session, mark: str, to: str) -> None:
    """Have the trials made for a mark, however it was typed, name the tile as it is on record."""
    is_trial = models.Tile.trial_of > ""  # few are, and the index knows them
    trials = select(models.Tile).where(is_trial, _may_be(models.Tile.trial_of, mark))
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

"""Writing what tiles refer to: bodies, glazes, recipes, batches, kilns, firings."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from pydantic import BaseModel
from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, InvalidValue, UnknownName, meant_by, shell_word
from tiles.records import forms, label_questions, models, questions, reading, usual_target
from tiles.records.derived import label_range
from tiles.records.layered import are_layers, refuse_layers
from tiles.records.store import former
from tiles.records.store.whole import wholly
from tiles.records.words import PLAIN_GLAZE, name_key, refuse_dash, same_name, tidy_name


@dataclass(frozen=True)
class _Kind:
    noun: str
    command: str


_KINDS = {
    models.ClayBody: _Kind("clay body", "tiles body"),
    models.Glaze: _Kind("glaze", "tiles glaze"),
    models.Kiln: _Kind("kiln", "tiles kiln"),
    models.Firing: _Kind("firing", "tiles firing"),
    models.Material: _Kind("material", "tiles material"),
}


def noun(model: type[models.SQLModel]) -> str:
    """What a person calls a row of this table."""
    return _KINDS[model].noun


def command(model: type[models.SQLModel]) -> str:
    """The command that is about rows of this table."""
    return _KINDS[model].command


def command_of(named: str) -> str:
    """The same, by what a person calls such a row."""
    return next(kind.command for kind in _KINDS.values() if kind.noun == named)


def look_up(session: Session, model: type[models.SQLModel], name: str):
    """The row of this name, whatever its capitals and spaces; None when there is none."""
    name = tidy_name(name)
    exact = session.scalar(select(model).where(model.name == name))
    if exact is not None:
        return exact
    # Compared here: of letters like Ä a server may know no small ones, and SQLite never does.
    known = session.scalars(select(model.name))
    spelt = next((each for each in known if same_name(each, name)), None)
    return spelt and session.scalar(select(model).where(model.name == spelt))


def find(session: Session, model: type[models.SQLModel], name: str):
    """The row of this name.

    Raises
    ------
    UnknownName
        Names the nearest one on record and the command that adds it.
    """
    name = tidy_name(name)
    row = look_up(session, model, name)
    if row is not None:
        return row
    kind = _KINDS[model]
    _refuse_former_name(session, model, name)
    close = meant_by(name, session.scalars(select(model.name)))
    hint = f"{kind.command} add {shell_word(name)}"
    if model is models.Glaze and are_layers(name):
        hint = "each glaze by itself: one --glaze for each layer, from the clay up."
    elif close:
        hint = f"{shell_word(close)}, which is on record, or '{hint}' if it is new."
    else:
        hint = f"'{hint}' first, or '{kind.command} list' to see those on record."
    raise UnknownName(
        f"no {kind.noun} called {name!r} is on record.", hint, field=kind.noun, value=name
    )


def _refuse_former_name(session: Session, model: type[models.SQLModel], name: str) -> None:
    """A name that one had before says which it is now, so that nobody adds it once more."""
    old = former.called_now(session, noun(model), name)
    if not old:
        return
    other = f"'{command(model)} add {shell_word(name)}' if that is another one"
    hint = f"{former.names_now(old)}, or {other}."
    raise UnknownName(f"the {former.spoken(old)}", hint, field=noun(model), value=name)


def add_row(session: Session, model: type[models.SQLModel], values: dict):
    """Put a row on record under a name that is free."""
    kind = _KINDS[model]
    refuse_dash(values["name"])
    taken = look_up(session, model, values["name"])
    if taken is not None:
        raise AlreadyOnRecord(
            f"a {kind.noun} called {taken.name!r} is already on record.",
            f"'{kind.command} show {shell_word(taken.name)}', '{kind.command} change' to say more "
            "of it, or another name.",
            field="name",
            value=values["name"],
        )
    row = model(**values)
    session.add(row)
    session.flush()
    return row


def add_body(session: Session, record: forms.BodyRecord) -> models.ClayBody:
    """Put a clay body on record."""
    return add_row(session, models.ClayBody, record.model_dump())


def add_glaze(session: Session, record: forms.GlazeRecord, *, ask: bool = False) -> models.Glaze:
    """Put a glaze on record; a jar in the role of glaze where nothing else is said.

    With ``ask``, a label that speaks of food at cones far from its range is questioned first.
    """
    _refuse_version_sign(record.name)
    if ask:
        label_questions.require_confirmation(record)
    return add_row(session, models.Glaze, PLAIN_GLAZE | record.model_dump(exclude_none=True))


def _refuse_version_sign(name: str) -> None:
    """NAME@2 asks for version or area 2, so that a name of that form could never be reached."""
    before, _, after = name.rpartition("@")
    if before and after.strip().isdecimal():
        raise InvalidValue(
            f"a glaze cannot be called {name!r}: @ and a number ask for a version or an area.",
            f'"{before.strip()} {after.strip()}", or another name.',
            field="name",
            value=name,
        )


def add_kiln(session: Session, name: str, remark: str | None = None) -> models.Kiln:
    """Put a kiln on record."""
    record = forms.read(forms.KilnRecord, {"name": name, "remark": remark})
    return add_row(session, models.Kiln, record.model_dump())


@wholly
def add_firing(
    session: Session,
    record: forms.FiringRecord,
    *,
    ask: bool = False,
    before: Collection[str] = (),
    is_by_itself: bool = True,
) -> models.Firing:
    """Put a firing on record. Its kiln must be on record.

    With ``ask``, a witness cone or a peak far from the target is questioned first; not again what
    was answered ``before``. So is a cone far hotter than its kiln knows, or far from all labels,
    where it comes ``is_by_itself``: with a tile, that one's labels tell.
    """
    if ask:
        of_others = questions_of_target(session, record) if is_by_itself else ()
        questions.require_firing_confirmation(record, before, of_others=of_others)
    values = record.model_dump(exclude={"kiln", "witness_cones"})
    values["kind"] = values["kind"] or "glaze"
    if record.kiln:
        values["kiln_id"] = find(session, models.Kiln, record.kiln).kiln_id
    row = add_row(session, models.Firing, values)
    set_witness_cones(session, row, record.witness_cones)
    return row


def names_of_glazes(session: Session) -> set[str]:
    """Every glaze on record, as `name_key` has it."""
    return {name_key(name) for name in session.scalars(select(models.Glaze.name))}


def questions_of_target(session: Session, record: forms.FiringRecord) -> list[str]:
    """What the other firings on record, and the labels in use, make of a firing's cone."""
    others = reading.all_firings(session)
    labels = (_labels_in_use(session, each) for each in (models.Glaze, models.ClayBody))
    asked = usual_target.target_questions(record, others)
    return asked + usual_target.label_questions(record, *labels)


def _labels_in_use(session: Session, model) -> list[tuple[str, str]]:
    """The cone ranges of the glazes or clays in use that have one."""
    in_use = session.scalars(select(model).where(model.is_retired.is_(False)))
    return [label for each in in_use if (label := label_range(each))]


def set_witness_cones(session: Session, row: models.Firing, cones: list[forms.WitnessCone]) -> None:
    """Put these witness cones in the place of all that the firing has."""
    shelves = [read.shelf and name_key(read.shelf) for read in cones]
    if len(set(shelves)) != len(shelves):
        raise InvalidValue(
            f"firing {row.name} has two witness cone readings for one shelf.",
            "one reading per shelf; the one nearest the tiles counts.",
            field="witness_cones",
        )
    row.witness_cones = []
    session.flush()
    row.witness_cones = [models.WitnessConeRead(**read.model_dump()) for read in cones]
    session.flush()


def look_up_batch(glaze: models.Glaze, name: str) -> models.Batch | None:
    """The bucket of a glaze of this name, or None."""
    return next((each for each in glaze.batches if same_name(each.name, name)), None)


def find_batch(glaze: models.Glaze, name: str) -> models.Batch:
    """The bucket of a glaze of this name.

    Raises
    ------
    UnknownName
        Names the nearest one of this glaze.
    """
    batch = look_up_batch(glaze, name)
    if batch is not None:
        return batch
    close = meant_by(name, [each.name for each in glaze.batches])
    see = f", or 'tiles batch list {shell_word(glaze.name)}'" if glaze.batches else ""
    raise UnknownName(
        f"{glaze.name!r} has no batch called {name!r}.",
        f"{close!r}, or 'tiles batch add'." if close else f"'tiles batch add' first{see}.",
        field="batch",
        value=name,
    )


def add_batch(session: Session, glaze_name: str, record: forms.BatchRecord) -> models.Batch:
    """Put a mixed or revived bucket of a glaze on record."""
    glaze = find(session, models.Glaze, glaze_name)
    if look_up_batch(glaze, record.name) is not None:
        raise AlreadyOnRecord(
            f"{glaze.name!r} already has a batch called {record.name!r}.",
            "another batch name, such as its date, or 'tiles batch change' to correct it.",
            field="batch",
            value=record.name,
        )
    refuse_dash(record.name)
    refuse_day_to_come(record)
    row = models.Batch(**record.model_dump())
    glaze.batches.append(row)
    session.flush()
    return row


def refuse_day_to_come(record: forms.BatchRecord) -> None:
    """A bucket on record was mixed on no day to come."""
    if record.mixed_on and questions.is_to_come(record.mixed_on):
        raise InvalidValue(
            f"batch {record.name!r} would be mixed on {record.mixed_on}, a day to come.",
            f"the day it was mixed, such as today, {date.today()}.",
            field="mixed_on",
            value=str(record.mixed_on),
        )


def rename(session: Session, model: type[models.SQLModel], name: str, new_name: str):
    """Give a body, glaze, kiln or firing another name; its tiles stay with it."""
    row = find(session, model, name)
    new_name = forms.read(FORMS[model][0], new_name).name
    taken = look_up(session, model, new_name)
    if taken is not None and taken is not row:
        raise AlreadyOnRecord(
            f"a {noun(model)} called {taken.name!r} is already on record.",
            f"another name, or '{command(model)} merge {shell_word(row.name)} "
            f"{shell_word(taken.name)}' if the two are one.",
            field="name",
            value=new_name,
        )
    refuse_dash(new_name)
    if model is models.Glaze and not same_name(row.name, new_name):
        _refuse_version_sign(new_name)
        refuse_layers(new_name)
    former.remember(session, noun(model), row.name, new_name)
    row.name = new_name
    session.flush()
    return row


def retire(session: Session, model: type[models.SQLModel], name: str, is_retired: bool = True):
    """Mark a body or glaze as no longer in use (or back in use). Its tiles stay."""
    row = find(session, model, name)
    row.is_retired = is_retired
    session.flush()
    return row


FORMS = {
    models.ClayBody: (forms.BodyRecord, reading.body_record),
    models.Glaze: (forms.GlazeRecord, reading.glaze_record),
    models.Firing: (forms.FiringRecord, reading.firing_record),
    models.Kiln: (forms.KilnRecord, reading.kiln_record),
}


def differing_fields(record: BaseModel, stored: BaseModel) -> Iterator[str]:
    """The fields that a record gives otherwise than the stored one; capitals do not count.

    What one studio has retired another may use: that makes no two things.
    """
    for key in type(record).model_fields:
        given, kept = getattr(record, key), getattr(stored, key)
        if key in ("name", "is_retired") or given is None or given == []:
            continue
        if folded(given) != folded(kept):
            yield key


def folded(value):
    """A value as it is compared: capitals, and the order of a list, do not count."""
    if isinstance(value, list):
        return sorted(repr(each).casefold() for each in value)
    return value.casefold() if isinstance(value, str) else value

"""Two names of one thing made one: the tiles of the first become tiles of the second."""

from sqlalchemy import func, or_, select, update
from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, Questioned, shell_line
from tiles.records import forms, models, questions, reading
from tiles.records.derived import label_range, recipe_key
from tiles.records.problems import shown
from tiles.records.spoken import some, spoken_witness
from tiles.records.store import belongings, changing, former
from tiles.records.store.recipe import next_version
from tiles.records.store.whole import wholly
from tiles.records.words import name_key

NAMED_BY = {
    models.ClayBody: [(models.Tile.clay_body_id, models.ClayBody.clay_body_id)],
    models.Glaze: [(models.Layer.glaze_id, models.Glaze.glaze_id)],
    models.Kiln: [(models.Firing.kiln_id, models.Kiln.kiln_id)],
    models.Firing: [
        (models.Tile.firing_id, models.Firing.firing_id),
        (models.Tile.bisque_firing_id, models.Firing.firing_id),
    ],
}
"""Where each kind is named, and by which key."""
_OWN = {"name", "witness_cones", "remark", "is_retired"}
"""Fields that each has for itself."""


@wholly
def merge(
    session: Session, model: type[models.SQLModel], name: str, into: str, *, confirmed: bool = False
):
    """Make one of two bodies, glazes, kilns or firings that are one thing under two names.

    What is recorded of the first alone is taken over; the first then leaves the record. Recipe
    versions and batches of a glaze go along, the witness cones of a firing too.

    Raises
    ------
    InvalidValue
        The two are one already, or described differently; nothing is changed.
    Questioned
        Not yet confirmed: it cannot be taken back.
    """
    gone, kept = (belongings.find(session, model, each) for each in (name, into))
    noun = belongings.noun(model)
    if gone is kept:
        raise InvalidValue(
            f"{name!r} and {into!r} are the same {noun}.", "the name of another one.", value=into
        )
    _form, read_row = belongings.FORMS[model]
    asked, before, joined = _asked(session, gone, kept), read_row(kept), []
    named = some(concerned(session, model, gone.name))
    in_use_or_not = retired_of_one(gone, kept)
    _fill(gone, kept, noun)
    if isinstance(kept, models.Glaze):
        joined = _move_batches(session, gone, kept)
        _move_recipes(session, gone, kept)
    if isinstance(kept, models.Firing):
        _move_cones(gone, kept)
    moved = _move_names(session, model, gone, kept)
    old, new = gone.name, kept.name
    former.remember(session, noun, old, new)
    session.flush()
    session.expire_all()
    session.delete(gone)
    session.flush()
    if isinstance(kept, models.Firing):
        changing.refuse_contradictions(session, kept)
    if not confirmed:
        taken = taken_over(before, read_row(kept))
        takes = f" {new!r} takes over {', '.join(taken)}." if taken else ""
        takes += f" Both have a batch {some(joined)}: that becomes one." if joined else ""
        takes += "".join(f" {each}" for each in in_use_or_not)
        raise Questioned(
            f"{old!r} and {new!r} are one {noun}: {moved}{f' ({named})' if named else ''}, and "
            f"{old!r} leaves the record.{_unlikely(session, kept, *asked)}{takes}",
            "--yes if that is so.",
        )
    return kept


def concerned(session: Session, model: type[models.SQLModel], name: str) -> list[str]:
    """The marks of the tiles that a merge makes of another one; of a kiln, its firings' names."""
    row = belongings.find(session, model, name)
    if model is models.Kiln:
        of = select(models.Firing.name).where(models.Firing.kiln_id == row.kiln_id)
    else:
        of = select(models.Tile.mark).outerjoin(models.Area).outerjoin(models.Layer)
        of = of.where(or_(*(column == getattr(row, key.key) for column, key in NAMED_BY[model])))
        of = of.order_by(models.Tile.tile_id)
    return list(dict.fromkeys(session.scalars(of)))


def retired_of_one(gone, kept) -> list[str]:
    """One sentence for each batch of both glazes that is retired of one of them alone."""
    found = []
    for batch in gone.batches if isinstance(gone, models.Glaze) else ():
        same = belongings.look_up_batch(kept, batch.name)
        if same and same.is_retired != batch.is_retired:
            now, was, do = "retired", "in use", "restore"
            if not same.is_retired:
                now, was, do = was, now, "retire"
            command = shell_line(["tiles", "batch", do, kept.name, same.name])
            found.append(
                f"Batch {same.name!r} of {kept.name!r} stays {now}, that of {gone.name!r} was "
                f"{was}; if it still is: {command}"
            )
    return found


def taken_over(before, after) -> list[str]:
    """What the one that stays tells only since the merge, in words: "food label 'food safe'"."""
    ends = "cone_low", "cone_high"
    found = {
        field: value
        for field in type(before).model_fields
        if (value := getattr(after, field)) != getattr(before, field)
    }
    if ends[0] in found or ends[1] in found:
        found = {field: value for field, value in found.items() if field not in ends}
        found["cones"] = " to ".join(dict.fromkeys(label_range(after)))
    if cones := found.pop("witness_cones", None):
        new = [spoken_witness(each) for each in cones if each not in before.witness_cones]
        found["witness_cones"] = " and ".join(new)
    return [f"{field.replace('_', ' ')} {shown(value)}" for field, value in found.items()]


def _asked(session: Session, *firings) -> tuple[set[str], set[tuple[str, str]]]:
    """What the two firings, and the tiles in them, raise as they stand: it was confirmed then."""
    if not all(isinstance(each, models.Firing) for each in firings):
        return set(), set()
    of_tiles = set().union(*(changing.asked_of_tiles(session, each) for each in firings))
    records = [reading.firing_record(each) for each in firings]
    return {said for each in records for said in questions.firing_questions(each)}, of_tiles


def _unlikely(session: Session, kept, of_firing: set[str], of_tiles: set[tuple[str, str]]) -> str:
    """What is unlikely of the one firing, and of the tiles that are of it now; else empty."""
    if not isinstance(kept, models.Firing):
        return ""
    new = changing.asked_of_tiles(session, kept) - of_tiles
    try:
        questions.require_firing_confirmation(reading.firing_record(kept), of_firing, new)
    except Questioned as asked:
        return f" {asked.message[0].upper()}{asked.message[1:]}"
    return ""


def _fill(gone, kept, noun: str) -> None:
    """Take over what only the first tells; refuse where the two tell different things."""
    if isinstance(kept, models.Glaze):
        _become_recipe(gone, kept)
    form, read_row = belongings.FORMS[type(kept)]
    told = [read_row(each) for each in (gone, kept)]
    if isinstance(kept, models.ClayBody | models.Glaze):
        _refuse_other_label(gone, kept, noun)
    for field in form.model_fields:
        values = [None if field in _OWN else getattr(each, field) for each in told]
        if None not in values and belongings.folded(values[0]) != belongings.folded(values[1]):
            raise _differ(field, values, gone, kept, noun)
    kept.remark = _both(kept.remark, gone.remark)
    for column in type(kept).__table__.columns:
        if getattr(kept, column.key) is None:
            setattr(kept, column.key, getattr(gone, column.key))
    forms.read(form, read_row(kept).model_dump())


def _refuse_other_label(gone, kept, noun: str) -> None:
    """Each end may be given by one of the two alone: together they would be a range of neither."""
    ranges = [label_range(each) for each in (gone, kept)]
    if None not in ranges and ranges[0] != ranges[1]:
        said = [" to ".join(dict.fromkeys(ends)) for ends in ranges]
        raise _differ("cone_low", said, gone, kept, noun, what="the cone range")


def _differ(field: str, values: list, gone, kept, noun: str, what: str = "") -> InvalidValue:
    one, other = map(shown, values)
    return InvalidValue(
        f"{what or field} is {one} of {gone.name!r} and {other} of {kept.name!r}, so "
        f"they are not one {noun} as they stand.",
        f"'{belongings.command(type(kept))} change' to describe both alike.",
        field=field,
    )


def _both(kept: str | None, gone: str | None) -> str | None:
    """What the two say, each thing once."""
    if not (kept and gone):
        return kept or gone
    there = kept.split("; ")
    return "; ".join([kept, *(said for said in gone.split("; ") if said not in there)])


def _become_recipe(gone: models.Glaze, kept: models.Glaze) -> None:
    """A glaze is a jar where nobody said what it is; one with a recipe is none."""
    if "recipe" in (gone.kind, kept.kind):
        gone.kind = kept.kind = "recipe"


def _move_batches(session: Session, gone: models.Glaze, kept: models.Glaze) -> list[str]:
    """Buckets of one name that nothing tells apart are one; the names of these."""
    joined = []
    for batch in list(gone.batches):
        same = belongings.look_up_batch(kept, batch.name)
        if same is None:
            kept.batches.append(batch)
            continue
        _refuse_other_batch(gone, kept, batch, same)
        for column in models.Batch.__table__.columns:
            if getattr(same, column.key) is None:
                setattr(same, column.key, getattr(batch, column.key))
        same.note = _both(same.note, batch.note)
        there = models.Layer.batch_id == batch.batch_id
        session.execute(update(models.Layer).where(there).values(batch_id=same.batch_id))
        joined.append(same.name)
    return joined


def _refuse_other_batch(gone, kept, batch: models.Batch, same: models.Batch) -> None:
    """Two buckets of one name of which different things are told."""
    told = [reading.batch_record(each) for each in (batch, same)]
    for field in (each for each in forms.BatchRecord.model_fields if each not in (*_OWN, "note")):
        values = [getattr(each, field) for each in told]
        if None not in values and values[0] != values[1]:
            one, other = map(shown, values)
            raise InvalidValue(
                f"{gone.name!r} and {kept.name!r} both have a batch called {batch.name!r}, and "
                f"its {field.replace('_', ' ')} is {one} of the first and {other} of the second.",
                "'tiles batch rename' for one of them first, or 'tiles batch change' if they are "
                "one bucket.",
                field="batch",
                value=batch.name,
            )


def _move_recipes(session: Session, gone: models.Glaze, kept: models.Glaze) -> None:
    """A version with the same lines is that version; others come after those there are."""
    known = {tuple(recipe_key(reading.recipe_record(each))): each for each in kept.recipe_versions}
    for version in list(gone.recipe_versions):
        same = known.get(tuple(recipe_key(reading.recipe_record(version))))
        if same is None:
            version.version = next_version(kept)
            kept.recipe_versions.append(version)
            continue
        same.note = _both(same.note, version.note)
        column = models.Layer.recipe_version_id
        there = column == version.recipe_version_id
        session.execute(update(models.Layer).where(there).values({column: same.recipe_version_id}))


def _move_cones(gone: models.Firing, kept: models.Firing) -> None:
    cones = {each.shelf and name_key(each.shelf): each for each in kept.witness_cones}
    for read in list(gone.witness_cones):
        known = cones.get(read.shelf and name_key(read.shelf))
        if known is None:
            kept.witness_cones.append(read)
        elif known.cone != read.cone:
            place = f"of shelf {read.shelf}" if read.shelf else "of the whole load"
            raise InvalidValue(
                f"the witness cone {place} is {read.cone} in {gone.name!r} and {known.cone} in "
                f"{kept.name!r}, so they are not one firing as they stand.",
                "'tiles firing change' until the two are described alike.",
                field="witness_cones",
            )


def _move_names(session: Session, model: type[models.SQLModel], gone, kept) -> str:
    """Have whatever names the first name the second; what becomes of how many, in words."""
    many = 0
    for column, key in NAMED_BY[model]:
        there = column == getattr(gone, key.key)
        table = column.class_
        many += session.scalar(select(func.count()).select_from(table).where(there))
        session.execute(update(table).where(there).values({column: getattr(kept, key.key)}))
    what = {models.Glaze: "layer", models.Kiln: "firing"}.get(model, "tile")
    if not many:
        return f"no {what} is of {gone.name!r}"
    return f"its {what if many == 1 else f'{many} {what}s'} will be of {kept.name!r}"

"""One name of two things parted: some of its tiles, or of a kiln its firings, get a new one."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, Questioned, UnknownName, shell_line, shell_word
from tiles.records import forms, models, reading
from tiles.records.layered import refuse_layers
from tiles.records.spoken import some
from tiles.records.store import belongings, former
from tiles.records.store.merge import concerned
from tiles.records.store.named import Added
from tiles.records.store.recipe import add_recipe_version
from tiles.records.store.whole import wholly
from tiles.records.words import name_key, same_name

_AT_ONCE = 500
"""Marks in one statement; SQLite takes only so many."""
_NOT_TAKEN_ALONG = ("name", "remark", "is_retired")
"""A remark tells of the delivery, most often."""


@dataclass(frozen=True)
class Parted:
    """The two names, and the tiles (of a kiln the firings) of each by their marks."""

    name: str
    to: str
    moved: list[str]
    left: list[str]


@wholly
def split(
    session: Session,
    model: type[models.SQLModel],
    name: str,
    to: str,
    wanted: Sequence[str],
    *,
    confirmed: bool = False,
) -> Parted:
    """Give some tiles of a body or glaze, or some firings of a kiln, a new name's.

    The new one is described as the first but for its remark.

    Raises
    ------
    AlreadyOnRecord, InvalidValue, UnknownName
        The new name is taken or cannot be one; what is wanted is not of the first.
    Questioned
        Not yet confirmed: it says what would be moved.
    """
    row = belongings.find(session, model, name)
    noun, what = belongings.noun(model), "firing" if model is models.Kiln else "tile"
    _refuse_taken(session, model, to)
    if model is models.Glaze:
        refuse_layers(to)
    known = concerned(session, model, row.name)
    moved = _named(known, wanted, row.name)
    left = [each for each in known if each not in moved]
    new = _add_like(session, row, to)
    former.take_back(session, noun, new.name, row.name)  # a merge parted again
    for start in range(0, len(moved), _AT_ONCE):
        _MOVE[model](session, row, new, moved[start : start + _AT_ONCE])
    session.flush()
    session.expire_all()
    if not confirmed:
        raise Questioned(
            f"{_counted(moved, what)} of {row.name!r} will be of a new {noun} {new.name!r}: "
            f"{some(moved)}. {_counted(left, what)} will stay: {some(left) or 'none'}.",
            "--yes if that is so.",
        )
    return Parted(row.name, new.name, moved, left)


def _counted(names: Sequence[str], what: str) -> str:
    return f"{len(names)} {what}{'s' * (len(names) != 1)}"


def _refuse_taken(session: Session, model: type[models.SQLModel], to: str) -> None:
    taken = belongings.look_up(session, model, to)
    if taken is not None:
        move = "firing change FIRING --kiln" if model is models.Kiln else "change MARKS --body"
        if model is models.Glaze:
            move = "change MARKS --glaze"
        raise AlreadyOnRecord(
            f"a {belongings.noun(model)} called {taken.name!r} is already on record.",
            f"a new name, or 'tiles {move} {shell_word(taken.name)}'.",
            field="name",
            value=to,
        )


def _named(known: Sequence[str], wanted: Sequence[str], name: str) -> list[str]:
    """Those wanted as they are on record, in the order of the record."""
    keys = {name_key(each): each for each in known}
    for each in wanted:
        if name_key(each) not in keys:
            raise UnknownName(
                f"{each!r} is not of {name!r}.", f"of these: {some(list(known)) or 'none'}."
            )
    asked = {name_key(each) for each in wanted}
    return [each for key, each in keys.items() if key in asked]


def _add_like(session: Session, row, to: str):
    """A new one described as this one, with the recipes of a glaze under the same numbers."""
    model = type(row)
    form, read_row = belongings.FORMS[model]
    told = read_row(row).model_dump(exclude=set(_NOT_TAKEN_ALONG))
    record = forms.read(form, told | {"name": to})
    if model is models.Kiln:
        return belongings.add_kiln(session, record.name)
    if model is models.ClayBody:
        return belongings.add_body(session, record)
    new = belongings.add_glaze(session, record)
    for version in row.recipe_versions:
        same = reading.recipe_record(version).model_copy(update={"version": None})
        add_recipe_version(session, new.name, same).version = version.version
    return new


def _move_firings(session: Session, row: models.Kiln, new: models.Kiln, moved: list[str]) -> None:
    these = models.Firing.name.in_(moved), models.Firing.kiln_id == row.kiln_id
    session.execute(update(models.Firing).where(*these).values(kiln_id=new.kiln_id))


def _move_tiles(session: Session, row, new: models.ClayBody, moved: list[str]) -> None:
    these = models.Tile.mark.in_(moved), models.Tile.clay_body_id == row.clay_body_id
    session.execute(update(models.Tile).where(*these).values(clay_body_id=new.clay_body_id))


def _move_layers(session: Session, row: models.Glaze, new: models.Glaze, moved: list[str]) -> None:
    """With the same version of the recipe; a bucket they came from is one of the new glaze, too."""
    areas = select(models.Area.area_id).join(models.Tile).where(models.Tile.mark.in_(moved))
    these = models.Layer.area_id.in_(areas), models.Layer.glaze_id == row.glaze_id
    versions = {each.version: each.recipe_version_id for each in new.recipe_versions}
    for version in row.recipe_versions:
        of = models.Layer.recipe_version_id == version.recipe_version_id
        values = {"recipe_version_id": versions[version.version]}
        session.execute(update(models.Layer).where(*these, of).values(values))
    for batch in row.batches:
        of = models.Layer.batch_id == batch.batch_id
        if session.scalar(select(models.Layer.layer_id).where(*these, of).limit(1)) is None:
            continue
        same = belongings.look_up_batch(new, batch.name) or belongings.add_batch(
            session, new.name, reading.batch_record(batch)
        )
        session.execute(update(models.Layer).where(*these, of).values(batch_id=same.batch_id))
    session.execute(update(models.Layer).where(*these).values(glaze_id=new.glaze_id))


_MOVE = {models.ClayBody: _move_tiles, models.Glaze: _move_layers, models.Kiln: _move_firings}


def way_apart(stored: forms.TileRecord, record: forms.TileRecord, parted: Collection[Added]) -> str:
    """The command that gives a tile the clay or glaze of a record again, and takes nothing back.

    ``parted`` are the names that are to be again beside what they were merged into. Empty where
    the tile had none of them.
    """
    named = [("clay body", stored.body.name, record.body.name)]
    for now, then in zip(stored.areas, record.areas, strict=False):
        layers = zip(now.layers, then.layers, strict=False)
        named += [("glaze", one.glaze.name, other.glaze.name) for one, other in layers]
    for noun, name, was in named:
        if Added(noun, was) in parted and not same_name(name, was):
            words = ["split", name, stored.mark, "--to", was]
            return f"{belongings.command_of(noun)} {shell_line(words)}"
    return ""

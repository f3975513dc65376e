"""Taking off the record what was added by mistake: only what nothing on record uses."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, Questioned, shell_word
from tiles.records import models
from tiles.records.spoken import some
from tiles.records.store import belongings, former
from tiles.records.store.merge import NAMED_BY
from tiles.records.store.recipe import find_version
from tiles.records.store.whole import wholly

MOST = 3
"""Users that are named."""


@wholly
def remove(
    session: Session, model: type[models.SQLModel], name: str, *, confirmed: bool = False
) -> str:
    """Take a body, glaze, kiln or firing off the record with all that is its own; its name.

    Raises
    ------
    InvalidValue
        Something on record uses it.
    Questioned
        Not yet confirmed: it cannot be taken back.
    """
    row = belongings.find(session, model, name)
    used = [each for column, key in NAMED_BY[model] for each in _using(session, column, row, key)]
    command, known = belongings.command(model), shell_word(row.name)
    other = f"'{command} merge {known} OTHER' if it is another one under a second name"
    if model in (models.ClayBody, models.Glaze):
        other += f", or '{command} retire {known}'"
    _refuse_used(f"{belongings.noun(model)} {row.name!r}", used, other)
    if not confirmed:
        raise _question(f"{row.name!r}", _own(row))
    former.forget(session, belongings.noun(model), row.name)
    session.delete(row)
    _forget_materials(session)
    return row.name


@wholly
def remove_batch(session: Session, glaze_name: str, name: str, *, confirmed: bool = False) -> str:
    """Take a bucket off the record, as `remove` does; what it was."""
    glaze = belongings.find(session, models.Glaze, glaze_name)
    row = belongings.find_batch(glaze, name)
    said = f"batch {row.name!r} of {glaze.name!r}"
    used = _using(session, models.Layer.batch_id, row, models.Batch.batch_id)
    _refuse_used(said, used, "'tiles change MARK --batch OTHER' for each of them first")
    if not confirmed:
        raise _question(said, [])
    glaze.batches.remove(row)
    session.flush()
    return said


@wholly
def remove_version(
    session: Session, glaze_name: str, number: int | None, *, confirmed: bool = False
) -> str:
    """Take the newest version of a recipe off the record, as `remove` does; what it was.

    Only the newest: an export numbers the versions anew, so that none may be missing.
    """
    row = find_version(session, glaze_name, number)
    glaze = row.glaze
    said = f"version {row.version} of {glaze.name!r}"
    newest = glaze.recipe_versions[-1].version
    if row.version != newest:
        raise InvalidValue(
            f"{said} is not the newest, and the numbers of the others stay.",
            f"the newest first, version {newest}.",
            field="version",
            value=number,
        )
    key = models.RecipeVersion.recipe_version_id
    used = _using(session, models.Layer.recipe_version_id, row, key)
    _refuse_used(said, used, "the right lines as the next version, with 'tiles recipe add'")
    if not confirmed:
        raise _question(said, [])
    glaze.recipe_versions.remove(row)
    _forget_materials(session)
    return said


def _using(session: Session, column, row, key) -> list[str]:
    """The marks of the tiles, or the names of the firings, that name a row."""
    there = column == getattr(row, key.key)
    if column.class_ is models.Firing:
        return list(session.scalars(select(models.Firing.name).where(there)))
    marks = select(models.Tile.mark).order_by(models.Tile.tile_id)
    if column.class_ is models.Layer:
        area = models.Area.tile_id == models.Tile.tile_id
        marks = marks.join(models.Area, area).join(
            models.Layer, models.Layer.area_id == models.Area.area_id
        )
    return list(dict.fromkeys(session.scalars(marks.where(there))))


def _refuse_used(said: str, used: list[str], other: str) -> None:
    if used:
        raise InvalidValue(f"{said} is used by {some(used, MOST)}, so it stays.", f"{other}.")


def _question(said: str, own: list[str]) -> Questioned:
    goes = f" with {' and '.join(own)}" if own else ""
    return Questioned(
        f"Nothing on record uses {said}: it leaves the record for good{goes}.",
        "--yes if that is so.",
    )


def _own(row) -> list[str]:
    """What goes with a row, in words."""
    kinds = (
        ("recipe_versions", "version of its recipe", "versions of its recipe"),
        ("batches", "batch", "batches"),
        ("witness_cones", "witness cone", "witness cones"),
    )
    many = [(len(getattr(row, name, ())), one, more) for name, one, more in kinds]
    return [f"{count} {one if count == 1 else more}" for count, one, more in many if count]


def _forget_materials(session: Session) -> None:
    """The names that only a recipe brought in, and that no recipe has any more."""
    session.flush()
    in_use = select(models.RecipeLine.material_id)
    material = models.Material
    bare = (
        select(material)
        .where(material.material_id.not_in(in_use))
        .where(~material.oxides.any(), material.source.is_(None), material.remark.is_(None))
    )
    for row in list(session.scalars(bare)):
        session.delete(row)
    session.flush()

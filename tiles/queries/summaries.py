"""Counts over the records."""

from collections.abc import Collection
from datetime import date

from sqlalchemy import distinct, func, select
from sqlalchemy.orm import Session

from tiles.records import models, reading
from tiles.records.derived import label_range
from tiles.records.far_labels import label_of_body
from tiles.records.food_label import FoodLabel
from tiles.records.mark_looks import natural_key
from tiles.records.words import is_no_name, name_key


def with_tile_counts(session: Session, model, only=None) -> list[tuple]:
    """Every row of a table that tiles refer to, by name (G2 before G10), with its number of tiles.

    Parameters
    ----------
    model : ClayBody, Glaze, Firing or Kiln
    only : row, optional
        Just this one.
    """
    key = model.__mapper__.primary_key[0]
    counts = {
        models.ClayBody: [_per(models.Tile.clay_body_id)],
        models.Firing: [_per(models.Tile.firing_id), _per(models.Tile.bisque_firing_id)],
        models.Kiln: [
            _per(models.Firing.kiln_id).join(
                models.Firing, models.Tile.firing_id == models.Firing.firing_id
            )
        ],
        models.Glaze: [
            _per(models.Layer.glaze_id)
            .join(models.Area, models.Area.tile_id == models.Tile.tile_id)
            .join(models.Layer, models.Layer.area_id == models.Area.area_id)
        ],
    }
    counted = dict(row for each in counts[model] for row in session.execute(each).all())
    every = select(model).options(*reading.parts(model))
    rows = [only] if only is not None else session.scalars(every)
    in_order = sorted(rows, key=lambda row: natural_key(row.name))
    return [(row, counted.get(getattr(row, key.name), 0)) for row in in_order]


def retired(session: Session, model, names: Collection[str]) -> list[str]:
    """Which of these clay bodies, or of these glazes, are retired."""
    known = select(model.name).where(model.is_retired.is_(True)).order_by(model.name)
    return [name for name in session.scalars(known) if name in names]


def inspected_and_clean(session: Session) -> tuple[int, int]:
    """How many tiles were looked at, and how many of them show no fault."""
    looked_at = session.scalar(select(func.count(distinct(models.Inspection.tile_id))))
    faulty = select(func.count(distinct(models.Inspection.tile_id))).join(
        models.Defect, models.Defect.inspection_id == models.Inspection.inspection_id
    )
    return looked_at, looked_at - session.scalar(faulty)


def _per(column):
    tiles = func.count(distinct(models.Tile.tile_id))
    return select(column, tiles).select_from(models.Tile).group_by(column)


def days_of_firings(session: Session) -> dict[str, date]:
    """When each firing was, where that is on record, by its name in small letters."""
    known = select(models.Firing.name, models.Firing.fired_on)
    rows = session.execute(known.where(models.Firing.fired_on.is_not(None)))
    return {name_key(name): day for name, day in rows}


def targets_of_firings(session: Session) -> dict[str, str]:
    """The cone that each firing was set for, where that is on record, by its name."""
    known = select(models.Firing.name, models.Firing.target_cone)
    rows = session.execute(known.where(models.Firing.target_cone.is_not(None)))
    return dict(rows.all())


def no_names(session: Session) -> set[str]:
    """The marks, clays and glazes on record by a sign alone, such as "?": they may be named so."""
    columns = models.Tile.mark, models.ClayBody.name, models.Glaze.name
    found = (name for column in columns for name in session.scalars(select(column)))
    return {name_key(name) for name in found if is_no_name(name)}


def cone_labels(session: Session) -> dict[str, tuple[str, str]]:
    """The cones that labels give, from the cooler to the hotter, by the names of the glazes."""
    known = models.Glaze.cone_low.is_not(None) | models.Glaze.cone_high.is_not(None)
    rows = session.scalars(select(models.Glaze).where(known))
    return {row.name: label_range(row) for row in rows}


def clay_labels(session: Session) -> dict[str, tuple[str, str | None, str | None]]:
    """The cones of the clays as `far_labels.label_of_body` has them, by the names of the clays."""
    return {row.name: label_of_body(row) for row in session.scalars(select(models.ClayBody))}


def food_labels(session: Session) -> dict[str, FoodLabel]:
    """What the labels say about food, by the names of the glazes whose label does."""
    rows = session.scalars(select(models.Glaze).where(models.Glaze.food_label.is_not(None)))
    return {row.name: FoodLabel(row.food_label, label_range(row)) for row in rows}

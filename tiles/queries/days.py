"""The day of a tile in SQL: what a stretch of time is asked by."""

from collections.abc import Iterable
from datetime import date

from sqlalchemy import exists, func, select
from sqlalchemy.orm import Session

from tiles.records import models, reading
from tiles.records.store import belongings


def day():
    """SQL for the day of a tile; the twin of ``derived.day_of``."""
    tile, firing, look = models.Tile, models.Firing, models.Inspection
    fired = select(firing.fired_on).where(firing.firing_id == tile.firing_id)
    looked_at = select(func.min(look.inspected_on)).where(look.tile_id == tile.tile_id)
    return func.coalesce(
        fired.correlate(tile).scalar_subquery(),
        looked_at.correlate(tile).scalar_subquery(),
        tile.glazed_on,
        tile.made_on,
    )


def day_within(since: date | None, until: date | None) -> list:
    """The conditions that the day lies between two, both included; none where none is asked for."""
    start = [] if since is None else [day() >= since]
    end = [] if until is None else [day() <= until]
    return start + end


def days_seen(session: Session, defect: str) -> list[tuple[str, str, str, date | None, date]]:
    """Each tile with a defect, a glaze on it, its clay, the day of its firing, that of such a look.

    Where several looks saw it there is one for each.
    """
    tile, seen, look = models.Tile, models.Defect, models.Inspection
    clay, firing = models.ClayBody, models.Firing
    rows = (
        select(tile.mark, models.Glaze.name, clay.name, firing.fired_on, look.inspected_on)
        .select_from(models.Glaze)
        .join(models.Layer, models.Layer.glaze_id == models.Glaze.glaze_id)
        .join(models.Area, models.Area.area_id == models.Layer.area_id)
        .join(tile, tile.tile_id == models.Area.tile_id)
        .join(clay, clay.clay_body_id == tile.clay_body_id)
        .join(look, look.tile_id == tile.tile_id)
        .join(seen, seen.inspection_id == look.inspection_id)
        .outerjoin(firing, firing.firing_id == tile.firing_id)
        .where(seen.defect == defect)
    )
    return [tuple(row) for row in session.execute(rows.distinct())]


def days_looked(session: Session) -> dict[str, int]:
    """Days from the firing to the last look, of each tile that has both, by mark."""
    tile, look, firing = models.Tile, models.Inspection, models.Firing
    rows = (
        select(tile.mark, firing.fired_on, func.max(look.inspected_on))
        .join(look, look.tile_id == tile.tile_id)
        .join(firing, firing.firing_id == tile.firing_id)
        .where(firing.fired_on.is_not(None))
        .group_by(tile.mark, firing.fired_on)
    )
    return {mark: (last - fired).days for mark, fired, last in session.execute(rows)}


def marks_looked_at(session: Session, glazes: Iterable[str]) -> list[str]:
    """The marks of the inspected tiles with any of some glazes, by their names as on record."""
    tile, looks = models.Tile, exists().where(models.Inspection.tile_id == models.Tile.tile_id)
    rows = (
        select(tile.mark)
        .join(models.Area, models.Area.tile_id == tile.tile_id)
        .join(models.Layer, models.Layer.area_id == models.Area.area_id)
        .join(models.Glaze, models.Glaze.glaze_id == models.Layer.glaze_id)
        .where(models.Glaze.name.in_([*glazes]), looks)
    )
    return [*session.scalars(rows.distinct())]


def days_of(session: Session, model: type[models.SQLModel], name: str) -> dict[str, date | None]:
    """The day of each tile of a body or with a glaze, of each firing of a kiln, by its name.

    A tile is of the clay it was made of on that day, and of the glaze of the day of glazing: these
    go before its day as everywhere.
    """
    row, tile = belongings.find(session, model, name), models.Tile
    if model is models.Kiln:
        firing = models.Firing
        asked = select(firing.name, firing.fired_on).where(firing.kiln_id == row.kiln_id)
    elif model is models.ClayBody:
        asked = select(tile.mark, func.coalesce(tile.made_on, day()))
        asked = asked.where(tile.clay_body_id == row.clay_body_id)
    else:
        asked = select(tile.mark, func.coalesce(tile.glazed_on, day()))
        asked = asked.where(reading.has_layer(models.Layer.glaze_id == row.glaze_id))
    return {each: on for each, on in session.execute(asked)}  # noqa: C416 (a result has keys)

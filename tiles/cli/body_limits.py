"""What the fired tiles of a body say of the expansion it bears: for ``tiles body show``."""

from typing import TYPE_CHECKING

from tiles.cli.output import facts

if TYPE_CHECKING:
    from diagnose.body_limit.fit import BodyLimit

DEFECTS = ("crazing", "shivering")


def of_body(name: str, db: str | None) -> dict:
    """The limits of one body, ready for JSON, under ``fit_from_own_tiles``."""
    found = {
        defect: limit.as_dict()
        | {"tiles_failed": failed, "tiles_inspected": tiles, "tiles_untold": sum(untold.values())}
        | {"untold_because": untold, "later_looks": later}
        for defect, (limit, (failed, tiles), untold, later) in _limits(name, DEFECTS, db).items()
    }
    return {"fit_from_own_tiles": found}


def of_crazing(name: str, db: str | None) -> "BodyLimit":
    """What own tiles tell of the expansion from which a body crazes."""
    limit, *_ = _limits(name, ("crazing",), db)["crazing"]
    return limit


def known(cone: str | None, db: str | None) -> dict[str, dict]:
    """Where own tiles tell from which expansion a body in use for a cone crazes: the limits."""
    from tiles.cli import common
    from tiles.cli.recipe_show import is_for_cone

    with common.reading(db) as session:
        names = [body.name for body in _often_fired(session) if is_for_cone(body, cone)]
    found = {name: of_crazing(name, db) for name in names}
    return {name: limit.as_dict() for name, limit in found.items() if limit.value is not None}


def _often_fired(session) -> list:
    """Bodies in use with as many inspected tiles of known recipe as a limit needs, by name."""
    from sqlalchemy import func, select

    from diagnose.body_limit.words import LEAST_TILES
    from tiles.records import models

    tiles = func.count(models.Tile.tile_id.distinct())
    wanted = (
        select(models.ClayBody)
        .join(models.Tile, models.Tile.clay_body_id == models.ClayBody.clay_body_id)
        .join(models.Area, models.Area.tile_id == models.Tile.tile_id)
        .join(models.Layer, models.Layer.area_id == models.Area.area_id)
        .where(models.Layer.recipe_version_id.is_not(None))
        .where(models.Tile.tile_id.in_(select(models.Inspection.tile_id)))
        .where(models.ClayBody.is_retired.is_(False))
        .group_by(models.ClayBody.clay_body_id)
        .having(tiles >= LEAST_TILES)
    )
    return sorted(session.scalars(wanted), key=lambda body: body.name)


def _limits(name: str, defects: tuple[str, ...], db: str | None) -> dict:
    """Each limit, how many inspected tiles failed, how many cannot tell and why, later looks."""
    from diagnose.body_limit.fit import fit
    from diagnose.body_limit.tiles import EARLY, looked_at, looked_at_later, seen_on_body
    from tiles.cli import common

    with common.reading(db) as session:
        body, records, own = _on_body(session, name)
        named, measured = body.name, body.expansion_ppm_per_k
    later = looked_at_later(records, named)
    found = {}
    for defect in defects:
        seen, untold = seen_on_body(records, named, defect, own)
        limit = fit(seen, defect, measured, untold.get(EARLY, 0))
        found[defect] = (limit, looked_at(records, named, defect), untold, later)
    return found


def tiles_of_body(name: str, db: str | None) -> tuple:
    """A body as a record, every tile of it, and the user's own materials."""
    from tiles.cli import common
    from tiles.records import reading

    with common.reading(db) as session:
        body, records, own = _on_body(session, name)
        return reading.body_record(body), records, own


def _on_body(session, name: str) -> tuple:
    """A body, its tiles, and the user's own materials."""
    from tiles.records import models, reading, store
    from tiles.records.analyses import own_materials

    body = store.find(session, models.ClayBody, name)
    chosen = reading.whole_tiles().where(models.Tile.clay_body_id == body.clay_body_id)
    return body, reading.read_tiles(session, chosen), own_materials(session)


def lines(values: dict) -> list[str]:
    """The limits in words; nothing for a body whose tiles were never looked at."""
    from diagnose.body_limit.words import looked_at

    limits = values["fit_from_own_tiles"]
    first = limits[DEFECTS[0]]
    if not first["tiles_inspected"]:
        return []
    failed = {defect: limits[defect]["tiles_failed"] for defect in DEFECTS}
    untold = {defect: limits[defect]["untold_because"] for defect in DEFECTS}
    later = first["later_looks"]
    said = [looked_at(failed, first["tiles_inspected"], untold, later)]
    said += [each["say"] for each in limits.values()]
    return facts("from your tiles", *said)

"""What a whole record holds, in counts: for whoever takes it over."""

from collections import Counter
from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.queries.blank import BLANK
from tiles.queries.summaries import with_tile_counts
from tiles.records import derived, models
from tiles.records.forms import TileRecord


def overview(session: Session, records: list[TileRecord]) -> dict:
    """The counts of a record.

    Parameters
    ----------
    session : Session
        The database.
    records : list of TileRecord
        Every tile in it.

    Returns
    -------
    dict
        As ``tiles show --json`` prints it, but for cautions and doubts.
    """
    days = [day for record in records if (day := derived.day_of(record))]
    inspected = [record for record in records if record.inspections]
    years = Counter(str(day.year) for day in days)
    return {
        "tiles": len(records),
        "first_day": min(days, default=None),
        "last_day": max(days, default=None),
        "by_year": dict(sorted(years.items())),
        "without_day": len(records) - len(days),
        "inspected": len(inspected),
        "clean": sum(derived.summary(record)["clean"] for record in inspected),
        "tiles_with": _faults(inspected),
        "firings": _firings(session),
        "kilns": _tiles_of(session, models.Kiln),
        "bodies": _tiles_of(session, models.ClayBody),
        "glazes": _glazes(session),
        "blank": {name: sum(map(is_blank, records)) for name, is_blank in BLANK.items()},
    }


def _faults(records: Iterable[TileRecord]) -> dict[str, int]:
    seen = {(record.mark, each.defect) for record in records for each in derived.all_seen(record)}
    return dict(Counter(defect for _mark, defect in sorted(seen)).most_common())


def _firings(session: Session) -> dict[str, int]:
    """Of each kind how many, and of those that hold tiles the glaze firings without a cone."""
    rows = with_tile_counts(session, models.Firing)
    kinds = Counter(row.kind for row, _tiles in rows)
    unread = [
        row for row, tiles in rows if tiles and row.kind != "bisque" and not row.witness_cones
    ]
    return {
        "glaze": kinds.total() - kinds["bisque"],
        "bisque": kinds["bisque"],
        "without_cone": len(unread),
    }


def _tiles_of(session: Session, model) -> dict[str, int]:
    """How many tiles are of each, the most first."""
    rows = with_tile_counts(session, model)
    return {row.name: tiles for row, tiles in sorted(rows, key=lambda each: -each[1])}


def _glazes(session: Session) -> dict:
    rows = with_tile_counts(session, models.Glaze)
    return {
        "on_tiles": sum(bool(tiles) for _row, tiles in rows),
        "on_no_tile": [row.name for row, tiles in rows if not tiles],
        "retired": [row.name for row, _tiles in rows if row.is_retired],
        "with_remark": sum(bool(row.remark) for row, _tiles in rows),
        "batches": len(session.scalars(select(models.Batch.batch_id)).all()),
    }

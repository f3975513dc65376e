"""What is on record of a studio: its tiles, its firings and its own materials."""

from collections.abc import Iterator
from contextlib import contextmanager

from tiles.cli import common
from tiles.errors import NoRecordsYet


@contextmanager
def looking(db: str | None, *, aloud: bool = True) -> Iterator:
    """A session on the chosen database, or None (``aloud``: said so) when there is none yet."""
    try:
        opened = common.open_db(db)
    except NoRecordsYet as error:
        if aloud:
            common.talk(f"Note: {error.message.rstrip('.')}, so shipped materials only.")
        yield None
        return
    with opened.transaction(looking=True) as session:
        yield session


def own_materials(db: str | None, *, aloud: bool = True) -> tuple:
    """The user's own materials that have an analysis."""
    from tiles.records.analyses import own_materials as on_record

    with looking(db, aloud=aloud) as session:
        return on_record(session) if session is not None else ()


def all_records(db: str | None) -> list:
    """Every tile on record, in the order they were stored."""
    from tiles.records import models, reading

    with common.reading(db) as session:
        return reading.read_tiles(session, reading.whole_tiles().order_by(models.Tile.tile_id))


def whole_studio(db: str | None) -> tuple:
    """What is on record beside the tiles, and every tile, as they were at one moment."""
    from tiles.exchange.studio import read_studio
    from tiles.records import models, reading

    with common.reading(db) as session:
        in_order = reading.whole_tiles().order_by(models.Tile.tile_id)
        return read_studio(session), reading.read_tiles(session, in_order)


def failures_only(records: list, db: str | None) -> str:
    """What is said beside counts of some tiles where hardly a tile of the studio is clean."""
    from tiles.records.failures_only import failures_only as of_records

    if not of_records(records):  # most often: then nothing more is read
        return ""
    from tiles.cli.find import failures_only as of_studio

    with common.reading(db) as session:
        return " ".join(of_studio(session))


def all_firings(db: str | None) -> list:
    """Every firing on record, also those without a tile."""
    from tiles.records import reading

    with common.reading(db) as session:
        return reading.all_firings(session)


MOST_COUNTED = 500
"""Of more tiles than these `tiles why` and `tiles next` count none of other glazes: it takes too
long; what they tell stands in `tiles why --defect`."""


def over_all(db: str | None):
    """What is clear of a defect over all inspected tiles, read when it is first wanted."""
    from diagnose.comparing.of_studio import counter

    return counter(lambda: _inspected(db))


def why_beside_all(record, defect: str | None, own: list, count_of) -> list:
    """The diagnoses of a tile with what own tiles tell, those of its glaze and those of all.

    ``count_of`` is from `over_all`.
    """
    from diagnose.comparing.of_studio import with_studio
    from diagnose.report import why

    return with_studio(why(record, defect, own, count_of), count_of)


def _inspected(db: str | None) -> list:
    """Every inspected tile; none where there are too many."""
    from tiles.records.quick import find_inspected
    from tiles.settings import database_url

    found = find_inspected(database_url(db), MOST_COUNTED)
    if found is None:
        found = [each for each in all_records(db) if each.inspections]
    return few_enough(found)


def few_enough(inspected: list) -> list:
    """The tiles, where they are not too many to be counted over all glazes; else none."""
    return inspected if len(inspected) <= MOST_COUNTED else []


def others(record, db: str | None) -> list:
    """Own tiles with a glaze of this one or of its firing, and trials for it."""
    from tiles.records.quick import find_others
    from tiles.settings import database_url

    found = find_others(database_url(db), record.mark)
    return _in_full(record, db) if found is None else found


def _in_full(record, db: str | None) -> list:
    from tiles.records import reading
    from tiles.records.quick import MOST_OTHERS

    with common.reading(db) as session:
        marks = reading.sharing_marks(session, record, MOST_OTHERS)
        return reading.find_records(session, marks)

"""What ``tiles unload`` reads and writes while two people may walk the same load."""

from datetime import date

from tiles.cli import common


def as_it_stands(record, own, db: str | None):
    """The tile as it is on record now, without the look of one's own; None where it is gone.

    ``own`` is that look, None where none is stored yet. A tile in another firing is gone too.
    """
    with common.reading(db) as session:
        return stands(session, record, own)


def stands(session, record, own):
    """As :func:`as_it_stands`, within a transaction."""
    from tiles.records import reading, store
    from tiles.records.words import same_name

    if store.has_mark(session, record.mark) is None:
        return None
    now = reading.tile_record(store.get_tile(session, record.mark))
    if now.firing is None or not same_name(now.firing.name, record.firing.name):
        return None
    looks = list(now.inspections)
    if own in looks:
        looks.remove(own)
    return now.model_copy(update={"inspections": looks})


def look_of(day: date, seen: list):
    """What was seen on a tile, as it is stored."""
    from tiles.records import forms

    return forms.read(forms.InspectionRecord, {"inspected_on": day, "defects": seen})


def put(record, look, own, cone: str | None, db: str | None) -> bool:
    """Store one look, ``own`` one's place; its day and cone were asked about before the walk.

    False where another person has looked at the tile since ``record``, or taken it off: nothing
    is stored then.
    """
    from tiles.records import store
    from tiles.records.derived import cone_reached

    with common.writing(db) as session:
        now = stands(session, record, own)
        if now is None or now.inspections != record.inspections:
            return False
        if own:
            store.replace_tile(session, now, confirmed=True)
        own_cone = None if cone_reached(now) else cone
        store.add_inspection(session, record.mark, look, cone_reached=own_cone, confirmed=True)
    return True


def is_seen(record, day: date, seen: list) -> bool:
    """Whether a look of that day found the very same, in whatever order."""
    from tiles.records.looks import is_on_record

    return is_on_record(record, look_of(day, seen))


def tell_met(before, now, held: list) -> None:
    """What another person saw on a tile since the walk began; ``held`` is told beside it."""
    from tiles.cli.prose import say
    from tiles.records.spoken import spoken_look

    many = len(now.areas) > 1
    for look in now.inspections[len(before.inspections) :]:
        seen = f"{look.inspected_on}, {spoken_look(look, with_area=many).rstrip('.')}"
        said = f"    looked at meanwhile: {seen}.{'' if held else ' n leaves it at that.'}"
        say(said, "    ")

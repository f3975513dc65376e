"""What ``tiles log`` asks of the firing a tile was in: its shelf, the cone, the day of a look.

``offered`` and ``found`` are the answers offered and those given so far (``ask_log_answers``).
"""

import re
from datetime import date

from tiles.cli import ask_names, common
from tiles.cli.ask import ask_or_back
from tiles.errors import InvalidValue, TilesError, UnknownCone, shell_word


def has_firing(db, found) -> bool:
    """Whether the tile was in a firing that is known."""
    return bool(found.firing)


def ask_bisque(db, offered, found) -> str | None:
    """The cone of the bisque, its firing where that is on record, or both: "04, B1"."""
    from tiles.records.models import Firing

    known = ask_names.names(db, Firing, Firing.kind == "bisque")
    return ask_or_back(
        "Bisque cone, or the bisque's name" if known else "Bisque cone",
        offered.bisque,
        check=lambda text: _read_bisque(db, text),
        choices=lambda: ["a cone such as 04", *known],
    )


def _read_bisque(db: str | None, text: str) -> str:
    from tiles.cli.ask_log_answers import read_bisque
    from tiles.records import models, store

    found = read_bisque(text)
    if name := found.get("bisque_firing"):
        with common.looking_up(db) as session:
            row = store.look_up(session, models.Firing, name)
            if row is None:
                raise InvalidValue(
                    f"{name!r} is neither a pyrometric cone nor a firing on record.",
                    f"a cone such as 04, or 'tiles firing add {shell_word(name)} --kind bisque'.",
                )
            if row.kind == "glaze":
                raise InvalidValue(f"{row.name} is a glaze firing.", "the bisque before it.")
            found["bisque_firing"] = row.name
    return ", ".join(found.values())


def ask_firing(db, offered, found) -> str | None:
    """The glaze firing."""
    from tiles.records.models import Firing

    def read(text: str) -> str:
        name = ask_names.known_or_new(db, Firing, text, found.new)
        if name in ask_names.names(db, Firing, Firing.kind == "bisque"):
            raise InvalidValue(f"{name} is a bisque firing.", "the glaze firing after it.")
        return name

    return ask_or_back(
        "Firing",
        offered.firing,
        check=read,
        choices=lambda: ask_names.names(db, Firing, Firing.kind != "bisque") or ["none yet"],
    )


def ask_shelf(db, offered, found) -> str | None:
    """The place in the kiln."""
    return ask_or_back("Shelf", offered.shelf, check=lambda text: _read_shelf(db, text, found))


def _read_shelf(db: str | None, text: str, found) -> str:
    """The shelf; what is new and rather a firing, a cone or a day is asked about."""
    from tiles.queries.alike import shelves_on_record
    from tiles.records import forms, models, store
    from tiles.records.words import name_key

    given = {"mark": found.mark, "body": found.body, "shelf": text}
    shelf = forms.read(forms.TileRecord, given).shelf
    with common.looking_up(db) as session:
        if name_key(shelf) in map(name_key, shelves_on_record(session)):
            return shelf
        firing = store.look_up(session, models.Firing, shelf)
    looks = "a firing" if firing else _cone_or_day(shelf)
    if looks:
        common.talk(f"{shelf!r} looks like {looks}, and no tile stood on a shelf of that name.")
        if not common.yes_or_no(f"Is {shelf!r} the shelf?"):
            raise TilesError("")
    return shelf


def _cone_or_day(text: str) -> str:
    """What a text says that is rather no shelf; nothing where it may be one."""
    from tiles.chemistry.cones import read_cone

    if re.fullmatch(r"\d{1,4}[-./]\d{1,2}[-./]\d{1,4}", text):
        return "a day"
    try:
        return f"cone {read_cone(text)}"
    except UnknownCone:
        return ""


def ask_cone(db, offered, found) -> str | None:
    """The cone reached on the shelf.

    A cone offered belongs to its own firing and shelf: anywhere else none is, so that Enter never
    puts a tile's reading over the witness cone of another place.
    """
    from tiles.chemistry.cones import read_cone
    from tiles.records.derived import witness_cone
    from tiles.records.words import same_name

    firing = _firing(db, found)
    places = ((offered.firing, found.firing), (offered.shelf, found.shelf))
    is_there = all(same_name(then, now) for then, now in places)
    cone = offered.cone_reached if is_there else None
    read = witness_cone(firing, found.shelf)
    known = f" (Enter: {read}, the witness cone of {firing.name})" if read and not cone else ""
    return ask_or_back(f"Cone reached there{known}", cone, check=read_cone)


def was_long_ago(db, found) -> bool:
    """Whether the day of the look must be asked for: else it is today's."""
    return _days_since(_firing(db, found), found) is not None


def ask_day(db, offered, found) -> str:
    """The day of the look, where the firing was long ago."""
    from tiles.records import forms, questions

    firing = _firing(db, found)

    def read(text: str) -> str:
        looked_at = {"mark": found.mark, "body": found.body, "firing": firing.model_dump()}
        look = {"inspected_on": text}
        record = forms.read(forms.TileRecord, looked_at | {"inspections": [look]})
        questions.refuse_days_to_come(record.mark, record.inspections)
        questions.refuse_contradictions(record)
        return text

    return ask_or_back(
        f"Day of the look (fired {_days_since(firing, found)} days ago, on {firing.fired_on})",
        offered.inspected_on or date.today().isoformat(),
        check=read,
        required=True,
    )


def _days_since(firing, found) -> int | None:
    from tiles.records import notices

    return notices.days_since_long_ago(firing) if found.seen and firing else None


def _firing(db: str | None, found):
    """The firing that was answered, as it is on record or was just described; None for none."""
    from tiles.records import forms, models, reading, store

    if not found.firing:
        return None
    with common.looking_up(db) as session:
        row = store.look_up(session, models.Firing, found.firing)
        if row is not None:
            return reading.firing_record(row)
    described = found.new.get(ask_names.key(models.Firing, found.firing), {"name": found.firing})
    return forms.FiringRecord(**described)

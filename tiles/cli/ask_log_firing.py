"""What ``tiles log`` asks of the firing a tile was in: its shelf, the cone, the day of a look.

``offered`` and ``found`` are the answers offered and those given so far (``ask_log_answers``).
"""

import re
from datetime import date

from tiles.cli import ask_names, common
from tiles.cli.ask import ask_or_back
from tiles.cli.ask_log_answers import is_faulty, one_top_glaze, tile_with
from tiles.errors import InvalidValue, UnknownCone, shell_word


def has_firing(db, found) -> bool:
    """Whether the tile was in a firing that is known."""
    return bool(found.firing)


def ask_bisque(db, offered, found) -> str | None:
    """The cone of the bisque, its firing where that is on record, or both: "04, B1".

    Of bisque that was bought only its maker knows the cone.
    """
    from diagnose.bought_bisque import is_called_bisque
    from tiles.records.models import Firing

    known = ask_names.names(db, Firing, Firing.kind == "bisque")
    asked = "Bisque cone, or the bisque's name" if known else "Bisque cone"
    return ask_or_back(
        "Bisque cone, if its maker tells it" if is_called_bisque(found.body) else asked,
        offered.bisque,
        check=lambda text: _read_bisque(db, text),
        choices=lambda: ["a cone such as 04", *known],
    )


def _read_bisque(db: str | None, text: str) -> str:
    from tiles.chemistry.cones import read_cone, temperature_said
    from tiles.cli.ask_log_answers import read_bisque
    from tiles.records import models, store

    found = read_bisque(text)
    if name := found.get("bisque_firing"):
        with common.looking_up(db) as session:
            row = store.look_up(session, models.Firing, name)
            if row is None and "bisque_cone" in found and _cone_or_day(name):
                raise InvalidValue(
                    f"{text!r} is no one cone.",
                    "a cone such as 04. A thickness has a question of its own: < goes back to it.",
                )
            if row is None and temperature_said(text):
                read_cone(text)  # says which cone that is, and where a temperature goes
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
    """The glaze firing; where it is not known, the last tile's facts do not pass for this one's."""
    from tiles.records.models import Firing

    def read(text: str) -> str:
        _tell_if_a_cone(db, text)
        name = ask_names.known_or_new(db, Firing, text, found.new, found.before)
        if name in ask_names.names(db, Firing, Firing.kind == "bisque"):
            raise InvalidValue(f"{name} is a bisque firing.", "the glaze firing after it.")
        return name

    firing = ask_or_back(
        "Firing",
        offered.firing,
        check=read,
        choices=lambda: ask_names.names(db, Firing, Firing.kind != "bisque") or ["none yet"],
    )
    if firing is None and offered.firing:
        _ask_whose(offered, found)
    return firing


def _tell_if_a_cone(db: str | None, text: str) -> None:
    """A line where a name that is not on record says a cone: that has a question of its own."""
    from tiles.records import models, store

    looks = _cone_or_day(text)
    if looks.startswith("cone"):
        with common.looking_up(db) as session:
            known = store.look_up(session, models.Firing, text)
        if known is None:
            common.talk(f"{text!r} looks like a cone. Where the firing is not known: -, and the "
                        "cone reached is asked next.")  # fmt: skip


def _ask_whose(offered, found) -> None:
    """Keep what was taken over from a tile of another firing only if it was read off this one."""
    said = {"coats": "coats {}", "method": "put on by {}", "batch": "batch {}"}
    said["bisque"] = "bisque {}"
    if "," in (found.coats or ""):  # these make the areas, which other answers hang on
        del said["coats"]
    same = [name for name in said if getattr(found, name) == getattr(offered, name) is not None]
    if same:
        told = ", ".join(said[name].format(getattr(found, name)) for name in same)
        common.talk(f"As on the last tile, which was in {offered.firing}: {told}.")
        if not common.yes_or_no("Is that read off this tile, too? n leaves it unrecorded."):
            for name in same:
                setattr(found, name, None)


def ask_shelf(db, offered, found) -> str | None:
    """The place in the kiln."""
    return ask_or_back("Shelf", offered.shelf, check=lambda text: _read_shelf(db, text, found))


def _read_shelf(db: str | None, text: str, found) -> str:
    """The shelf; what is new and rather an answer to another question is asked about."""
    from tiles.queries.alike import shelf_alike, shelves_on_record
    from tiles.records.words import name_key, refuse_no_name

    refuse_no_name(text, "shelf")
    shelf = tile_with(found, shelf=text).shelf
    is_number = _NUMBER.fullmatch(shelf)
    with common.looking_up(db) as session:
        here = _shelves_here(session, firing_of(db, found))
        known = here if is_number and here else shelves_on_record(session)
        if name_key(shelf) in map(name_key, known):
            return shelf
        meant = shelf_alike(session, shelf)
        looks = rather_no_shelf(session, shelf) or _cone_or_day(shelf)
    if looks:
        common.talk(f"{shelf!r} looks like {looks}, and no tile stood on a shelf of that name.")
    elif is_number:
        of = f"no shelf of this kiln ({', '.join(here)})" if here else "new as a shelf"
        common.talk(f"{shelf} is {of}. A thickness has a question of its own: < goes back to it.")
    elif meant:
        common.talk(f"{shelf!r} is new as a shelf, and very like {meant!r}.")
    if looks or meant or is_number:
        common.require_yes(f"Is {shelf!r} the shelf?")
    return shelf


_NUMBER = re.compile(r"\d*[.,]?\d+ ?(?:mm)?", re.IGNORECASE)


def _shelves_here(session, firing) -> list[str]:
    """The shelves that tiles stood on in the kiln of a firing, or had a witness cone in it."""
    from tiles.queries.alike import tiles_on_shelves

    if firing is None:
        return []
    stood = tiles_on_shelves(session).get(firing.kiln or firing.name, {})
    read = [each.shelf for each in firing.witness_cones if each.shelf]
    return sorted({*stood, *read})


_DAY = re.compile(r"\d{1,4}[-./]\d{1,2}[-./]\d{1,4}")


def _cone_or_day(text: str) -> str:
    """What a text says that is rather no name; nothing where it may be one."""
    from tiles.chemistry.cones import read_cone

    if _DAY.fullmatch(text):
        return "a day"
    try:
        return f"cone {read_cone(text)}"
    except UnknownCone:
        return ""


def rather_no_shelf(session, text: str) -> str:
    """What a text says that was meant for another answer than the shelf; nothing where it may be.

    Numbers are left out: many shelves are called so, and each is a cone as well.
    """
    from tiles.exchange.flat_faults import names_fault
    from tiles.records import models, store
    from tiles.records.fault_words import says_nothing_seen

    for model, what in ((models.Firing, "a firing"), (models.Kiln, "a kiln")):
        if store.look_up(session, model, text):
            return what
    if _DAY.fullmatch(text):
        return "a day"
    if text.casefold() in ("y", "n", "yes", "no"):
        return "a yes or no"
    return "what is seen on a tile" if says_nothing_seen(text) or names_fault(text) else ""


def ask_cone(db, offered, found) -> str | None:
    """The cone reached on the shelf, or of a tile whose firing is not known.

    A cone offered belongs to its own firing and shelf: anywhere else none is, so that Enter never
    puts a tile's reading over the witness cone of another place.
    """
    from tiles.chemistry.cones import read_cone
    from tiles.records.derived import witness_cone
    from tiles.records.words import same_name

    firing = firing_of(db, found)
    places = ((offered.firing, found.firing), (offered.shelf, found.shelf))
    is_there = all(same_name(then, now) for then, now in places)
    cone = offered.cone_reached if is_there else None
    read = witness_cone(firing, found.shelf)
    of = f"{read}, the witness cone of {firing.name}" if read and not cone else ""
    known = f" (Enter: {of})" if of else ""
    where = f" there{known}" if firing else ", if it was fired"
    choices = [f"Enter takes {of}. A cone of this tile's own goes before it."]
    return ask_or_back(
        f"Cone reached{where}", cone, check=read_cone, choices=(lambda: choices) if of else None
    )


def was_seen(db, found) -> bool:
    """Whether the tile was looked at, so that the look has a day."""
    return bool(found.seen)


def ask_day(db, offered, found) -> str:
    """The day of the look; with how long ago the firing was, where a look today is late."""
    from tiles.records import notices, questions
    from tiles.records.words import same_name

    firing = firing_of(db, found)
    is_same = same_name(offered.firing, found.firing)
    days = notices.days_since_long_ago(firing)

    def read(text: str) -> str:
        day = ask_names.read_day(text)
        look = {"inspected_on": day}
        record = tile_with(found, inspections=[look], firing=firing and firing.model_dump())
        questions.refuse_days_to_come(record.mark, record.inspections)
        questions.refuse_contradictions(record)
        return str(day)

    fired = f" (fired {days} days ago, on {firing.fired_on})" if days else ""
    return ask_or_back(
        f"Day of the look{fired}",
        (is_same and offered.inspected_on) or date.today().isoformat(),
        check=read,
        required=True,
    )


def may_tell_glazed(db, found) -> bool:
    """Whether the day of glazing is asked for: a fault may come from a bucket that had stood."""
    return is_faulty(found) and _mixed_on(db, found) is not None


def ask_glazed(db, offered, found) -> str | None:
    """The day of glazing; that of the last tile is offered in the same firing."""
    from tiles.records import questions
    from tiles.records.words import same_name

    firing = firing_of(db, found)

    def read(text: str) -> str:
        day = ask_names.read_day(text)
        record = tile_with(found, glazed_on=day, firing=firing and firing.model_dump())
        questions.refuse_contradictions(record)
        return str(record.glazed_on)

    is_same = same_name(offered.firing, found.firing)
    return ask_or_back(
        f"Day it was glazed (its bucket was mixed on {_mixed_on(db, found)})",
        offered.glazed_on if is_same else None,
        check=read,
    )


def _mixed_on(db, found) -> date | None:
    """When the bucket of the top glaze was mixed, as far as is on record."""
    from tiles.records import models, store

    glaze = one_top_glaze(found)
    if not (glaze and found.batch):
        return None
    with common.looking_up(db) as session:
        row = store.look_up(session, models.Glaze, glaze)
        batch = row and store.look_up_batch(row, found.batch)
        return batch.mixed_on if batch else None


def firing_of(db: str | None, found):
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

"""``tiles log`` as a conversation, with the last tile's answers offered."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from tiles.cli import ask_log_firing, common, entry
from tiles.cli.ask import ask
from tiles.cli.marks import free, newest, next_mark
from tiles.errors import AlreadyOnRecord, DatabaseProblem, TilesError, meant_by

HELP = (
    "Enter takes the answer in [brackets], - leaves it unrecorded, ? lists what is on record.\n"
    "Ctrl-C stops without storing anything."
)


def ask_and_store(db: str | None) -> None:
    """Ask for one tile and put it on record; after a no, or what cannot be, it asks once more."""
    from tiles.cli.log import store_new

    common.talk(HELP)
    offered = _like_the_last(last_tile(db))
    while True:
        answers = _ask_all(db, offered)
        try:
            store_new(_values(answers), db=db, add_missing=bool(answers.new), yes=False)
            return
        except common.Declined:
            pass
        except DatabaseProblem:
            raise
        except TilesError as error:
            common.talk(str(error))
        common.talk("Not stored. Once more, with your answers: Enter keeps each.")
        offered = answers


@dataclass
class Answers:
    """What was answered, each as it is typed; None where nothing is recorded.

    ``glaze`` names the layers from the clay up: "white slip=2 + pond green". ``new`` describes
    what is to be added together with the tile, by table and name.
    """

    mark: str | None = None
    body: str | None = None
    glaze: str | None = None
    coats: str | None = None
    thickness_mm: str | None = None
    bisque_cone: str | None = None
    firing: str | None = None
    shelf: str | None = None
    cone_reached: str | None = None
    seen: str | None = None
    other: str | None = None
    inspected_on: str | None = None
    note: str | None = None
    new: dict[tuple, dict] = field(default_factory=dict)


def _like_the_last(last) -> Answers:
    """What is offered for the tile after this one: not its thickness, nor what was seen."""
    if last is None:
        return Answers()
    layers = last.areas[0].layers
    return Answers(
        body=last.body.name,
        glaze=_spoken_layers(layers),
        coats=str(layers[-1].coats) if layers and layers[-1].coats else None,
        bisque_cone=last.bisque_cone,
        firing=last.firing.name if last.firing else None,
        shelf=last.shelf,
        cone_reached=last.cone_reached,
    )


def _ask_all(db: str | None, offered: Answers) -> Answers:
    from tiles.chemistry.cones import read_cone
    from tiles.records import models

    found = Answers()

    def named(model):
        return {
            "check": lambda text: _known_or_new(db, model, text, found.new),
            "choices": lambda: names(db, model) or ["none yet"],
        }

    found.mark = ask(
        "Mark",
        lambda: _mark_to_offer(db, offered.mark),
        check=lambda text: _free_mark(db, text),
        required=True,
    )
    found.body = ask("Clay body", offered.body, required=True, **named(models.ClayBody))
    _ask_coats(db, offered, found)
    found.bisque_cone = ask("Bisque cone", offered.bisque_cone, check=read_cone)
    found.firing = ask("Firing", offered.firing, **named(models.Firing))
    firing = _firing(db, found)
    ask_log_firing.ask_place(firing, offered, found)
    found.seen = ask(
        "What do you see? clean, or defects (severe crawling, pinholes)",
        offered.seen,
        check=lambda text: _check_seen(text, found),
        choices=_known_faults,
    )
    if found.seen and any(
        each["defect"].casefold() == entry.NO_WORD for each in _read_seen(found.seen)
    ):
        found.other = ask("What is the other fault, in a few words", offered.other)
    ask_log_firing.ask_day(firing, offered, found)
    found.note = ask("Note", offered.note)
    return found


def _firing(db: str | None, found: Answers):
    """The firing that was answered, as it is on record or was just described; None for none."""
    from tiles.records import forms, models, reading, store

    if not found.firing:
        return None
    with common.writing(db) as session:
        row = store.look_up(session, models.Firing, found.firing)
        if row is not None:
            return reading.firing_record(row)
    described = found.new.get(_key(models.Firing, found.firing), {"name": found.firing})
    return forms.FiringRecord(**described)


def _ask_coats(db: str | None, offered: Answers, found: Answers) -> None:
    from tiles.records import models

    def read(text: str) -> str:
        named = [(part, entry.read_coat(part).glaze) for part in _parts(text)]
        return " + ".join(
            part.replace(name, _known_or_new(db, models.Glaze, name, found.new), 1)
            for part, name in named
        )

    found.glaze = ask(
        "Glaze (layers from the clay up: slip=2 + glaze)",
        offered.glaze,
        check=read,
        choices=lambda: names(db, models.Glaze) or ["none yet"],
    )
    if not found.glaze:
        return
    glazes = _parts(found.glaze)
    if entry.read_coat(glazes[-1]).coats is None:
        found.coats = ask(
            "Coats of the top one (1,2,3 for three areas)",
            offered.coats,
            check=lambda text: entry.areas(glazes, coats=text) and text,
        )
    found.thickness_mm = ask(
        "Thickness of the dry coat in mm",
        offered.thickness_mm,
        check=lambda text: entry.areas(glazes, coats=found.coats, thickness_mm=text) and text,
    )


def _parts(glaze: str) -> list[str]:
    return [part.strip() for part in glaze.split(" + ")]


def _values(answers: Answers) -> dict:
    """The answers as a record takes them."""
    from tiles.cli.log import inspections
    from tiles.records import models

    def named(model, name: str | None) -> Any:
        return answers.new.get(_key(model, name), name) if name else None

    values = {
        name: getattr(answers, name)
        for name in ("mark", "bisque_cone", "shelf", "cone_reached", "note")
    }
    values["body"] = named(models.ClayBody, answers.body)
    values["firing"] = named(models.Firing, answers.firing)
    values["areas"] = [{"number": 1}]
    if answers.glaze:
        coat = {"coats": answers.coats, "thickness_mm": answers.thickness_mm}
        values["areas"] = entry.areas(_parts(answers.glaze), **coat)
        for layer in (layer for area in values["areas"] for layer in area["layers"]):
            layer["glaze"] = named(models.Glaze, layer["glaze"])
    if answers.seen:
        seen = [] if _is_clean(answers.seen) else [answers.seen]
        values["inspections"] = inspections(seen, not seen, answers.inspected_on)
        for each in values["inspections"][0]["defects"]:
            if each["defect"].casefold() == entry.NO_WORD:
                each["note"] = answers.other
    return values


def _spoken_layers(layers: list) -> str | None:
    if not layers:
        return None
    *under, top = layers
    spoken = [
        f"{each.glaze.name}={each.coats}" if each.coats else each.glaze.name for each in under
    ]
    return " + ".join([*spoken, top.glaze.name])


def _is_clean(text: str) -> bool:
    return text.casefold() == "clean"


def _read_seen(text: str) -> list[dict]:
    """The defects named; an empty list for clean."""
    return [] if _is_clean(text) else entry.read_defects(text)


def _check_seen(text: str, found: Answers) -> str:
    """The same, where all of it can be on a tile with the areas that were answered."""
    from tiles.records import forms
    from tiles.records.looks import refuse_faults_twice

    defects = _read_seen(text)
    for each in defects:
        forms.read(forms.DefectSeen, each)
    areas = [{"number": area["number"]} for area in _values(found)["areas"]]
    looks = [{"inspected_on": date.today(), "defects": defects}]
    seen = {"mark": found.mark, "body": found.body, "areas": areas, "inspections": looks}
    refuse_faults_twice(forms.read(forms.TileRecord, seen))
    return text


def _known_faults() -> list[str]:
    from tiles.records.words import DEFECTS, SEVERITIES

    *others, last = SEVERITIES
    return [*DEFECTS, f"each with {', '.join(others)} or {last} before it"]


def _mark_to_offer(db: str | None, mark: str | None) -> str | None:
    """The same where it is free, else the next one that is; without one, that after the last."""
    from tiles.records import store

    with common.writing(db) as session:
        if mark and store.has_mark(session, mark) is None:
            return mark
        first = mark if next_mark(mark) else next_mark(newest(session))
        return first and free(session, 1, first)[0]


def last_tile(db: str | None):
    """The record of the tile written down last, or None."""
    from sqlalchemy import select

    from tiles.records import models, reading

    with common.writing(db) as session:
        newest = select(models.Tile.mark).order_by(models.Tile.tile_id.desc()).limit(1)
        mark = session.scalar(newest)
        return reading.find_records(session, [mark])[0] if mark else None


def _free_mark(db: str | None, mark: str) -> str:
    from tiles.queries.alike import marks_but_for_a_zero, marks_but_for_blanks
    from tiles.records import store

    with common.writing(db) as session:
        if store.has_mark(session, mark):
            raise AlreadyOnRecord(f"a tile marked {mark!r} is already on record.", "another mark.")
        twins = marks_but_for_blanks(session, [mark])
        zeros = marks_but_for_a_zero(session, [mark])
    if twins:
        common.talk(f"{twins[0][1]!r} is on record, the same but for blanks.")
        _require_yes(f"Is {mark!r} another tile?")
    elif zeros:
        common.talk(f"{zeros[0][1]!r} is on record, with other zeros.")
        _require_yes(f"Is {mark!r} right?")
    return mark


def _require_yes(question: str) -> None:
    if not common.yes_or_no(question):
        raise TilesError("")


def names(db: str | None, model) -> list[str]:
    """The names on record, those in use only."""
    from sqlalchemy import select

    from tiles.queries.search import natural_key

    with common.writing(db) as session:
        wanted = select(model.name)
        if hasattr(model, "is_retired"):
            wanted = wanted.where(model.is_retired.is_(False))
        return sorted(session.scalars(wanted), key=natural_key)


def _known_or_new(db: str | None, model, name: str, new: dict[tuple, dict]) -> str:
    """The name as it is on record; one that the person says is new is described in ``new``."""
    if _key(model, name) in new:
        return new[_key(model, name)]["name"]
    known = _known_or_yes(db, model, name)
    if known is not None:
        return known
    described = _describe(db, model, name)
    new[_key(model, name)] = described
    return described["name"]


def _known_or_yes(db: str | None, model, name: str) -> str | None:
    """The name as it is on record; None where a person says that it is new."""
    known = _known(db, model, name)
    if known is not None:
        return known
    common.talk(f"{name!r} is not on record.")
    close = meant_by(name, names(db, model))
    answer = close and _yes_or_known(db, model, f"Did you mean {close!r}?")
    if answer:
        return close if answer is True else answer
    answer = _yes_or_known(db, model, f"Add {name!r} as new?")
    if not answer:
        raise TilesError("")
    return None if answer is True else answer


def _known(db: str | None, model, name: str) -> str | None:
    from tiles.records import store

    with common.writing(db) as session:
        known = store.look_up(session, model, name)
        return known and known.name


def _yes_or_known(db: str | None, model, question: str) -> bool | str:
    """Yes or no; or the right name, where a person types that instead."""

    def read(typed: str) -> str:
        known = _known(db, model, typed)
        if known is None:
            raise TilesError(f"{typed!r} is not on record.", "y, n or the right name.")
        return known

    return common.yes_or_no(question, what_else="the right name", read=read)


def _key(model, name: str) -> tuple:
    from tiles.records.words import name_key

    return model, name_key(name)


def _describe(db: str | None, model, name: str) -> dict:
    """A new body, glaze or firing with the few facts that matter most, checked."""
    from tiles.records import forms, models

    if model is models.Firing:
        form, facts = forms.FiringRecord, _ask_firing(db, name)
    else:
        form = forms.BodyRecord if model is models.ClayBody else forms.GlazeRecord
        facts = ask("Cone range on its label (06-04)", check=common.cone_range) or {}
    return forms.read(form, {"name": name} | facts).model_dump(exclude_none=True)


def _ask_firing(db: str | None, name: str) -> dict:
    """What is known of a new firing: its kiln tells its habit, its day how late a look was."""
    from tiles.chemistry.cones import read_cone
    from tiles.records import forms, models

    def read_day(text: str) -> str:
        forms.read(forms.FiringRecord, {"name": name, "fired_on": text})
        return text

    return {
        "target_cone": ask("Its target cone", check=read_cone),
        "kiln": ask(
            "Its kiln",
            check=lambda text: _known_or_yes(db, models.Kiln, text) or text,
            choices=lambda: names(db, models.Kiln) or ["none yet"],
        ),
        "fired_on": ask("The day it was fired, YYYY-MM-DD", check=read_day),
    }

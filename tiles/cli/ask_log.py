"""``tiles log`` as a conversation, with the last tile's answers offered."""

import re
from dataclasses import dataclass
from datetime import date

import typer

from tiles.cli import common, entry
from tiles.cli.ask import ask
from tiles.errors import AlreadyOnRecord, DatabaseProblem, TilesError, nearest

HELP = (
    "Enter takes the answer in [brackets], - leaves it unrecorded, ? lists what is on record.\n"
    "Ctrl-C stops without storing the tile."
)


def ask_and_store(db: str | None) -> None:
    """Ask for one tile and put it on record; after a no, or what cannot be, it asks once more."""
    from tiles.cli.log import store_new

    common.talk(HELP)
    offered = _like_the_last(last_tile(db))
    while True:
        answers = _ask_all(db, offered)
        try:
            store_new(_values(answers), db=db, add_missing=False, yes=False)
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

    ``glaze`` names the layers from the clay up: "white slip=2 + pond green".
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
    inspected_on: str | None = None
    note: str | None = None


def _like_the_last(last) -> Answers:
    """What is offered for the tile after this one: not its thickness, nor what was seen."""
    if last is None:
        return Answers()
    layers = last.areas[0].layers
    return Answers(
        mark=next_mark(last.mark),
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

    def named(model):
        return {
            "check": lambda text: _on_record(db, model, text),
            "choices": lambda: names(db, model),
        }

    found = Answers()
    found.mark = ask("Mark", offered.mark, check=lambda text: _free_mark(db, text), required=True)
    found.body = ask("Clay body", offered.body, required=True, **named(models.ClayBody))
    _ask_coats(db, offered, found)
    found.bisque_cone = ask("Bisque cone", offered.bisque_cone, check=read_cone)
    found.firing = ask("Firing", offered.firing, **named(models.Firing))
    if found.firing:
        found.shelf = ask("Shelf", offered.shelf)
        found.cone_reached = ask("Cone reached there", offered.cone_reached, check=read_cone)
    found.seen = ask(
        "What do you see? clean, or defects (crawling:severe, pinholes)",
        offered.seen,
        check=lambda text: _read_seen(text) is not None and text,
    )
    _ask_day(db, offered, found)
    found.note = ask("Note", offered.note)
    return found


def _ask_coats(db: str | None, offered: Answers, found: Answers) -> None:
    from tiles.records import models

    def read(text: str) -> str:
        for part in _parts(text):
            _on_record(db, models.Glaze, entry.read_coat(part).glaze)
        return text

    found.glaze = ask(
        "Glaze (layers from the clay up: slip=2 + glaze)",
        offered.glaze,
        check=read,
        choices=lambda: names(db, models.Glaze),
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


def _ask_day(db: str | None, offered: Answers, found: Answers) -> None:
    """The day of the look, where the firing was long ago; else it is today's."""
    from tiles.records import forms, models, notices, questions, reading, store

    if not (found.seen and found.firing):
        return
    with common.writing(db) as session:
        firing = reading.firing_record(store.find(session, models.Firing, found.firing))
    days = notices.days_since_long_ago(firing)
    if days is None:
        return

    def read(text: str) -> str:
        looked_at = {"mark": found.mark, "body": found.body, "firing": firing.model_dump()}
        look = {"inspected_on": text}
        record = forms.read(forms.TileRecord, looked_at | {"inspections": [look]})
        questions.refuse_days_to_come(record.mark, record.inspections)
        questions.refuse_contradictions(record)
        return text

    found.inspected_on = ask(
        f"Day of the look (fired {days} days ago, on {firing.fired_on})",
        offered.inspected_on or date.today().isoformat(),
        check=read,
        required=True,
    )


def _parts(glaze: str) -> list[str]:
    return [part.strip() for part in glaze.split(" + ")]


def _values(answers: Answers) -> dict:
    """The answers as a record takes them."""
    from tiles.cli.log import inspections

    values = {
        name: getattr(answers, name)
        for name in ("mark", "body", "bisque_cone", "firing", "shelf", "cone_reached", "note")
    }
    values["areas"] = [{"number": 1}]
    if answers.glaze:
        coat = {"coats": answers.coats, "thickness_mm": answers.thickness_mm}
        values["areas"] = entry.areas(_parts(answers.glaze), **coat)
    if answers.seen:
        seen = _read_seen(answers.seen)
        values["inspections"] = inspections(seen, not seen, answers.inspected_on)
    return values


def _spoken_layers(layers: list) -> str | None:
    if not layers:
        return None
    *under, top = layers
    spoken = [
        f"{each.glaze.name}={each.coats}" if each.coats else each.glaze.name for each in under
    ]
    return " + ".join([*spoken, top.glaze.name])


def _read_seen(text: str) -> list[str]:
    """The defects named; an empty list for clean."""
    from tiles.records import forms

    if text.casefold() == "clean":
        return []
    parts = [part.strip() for part in text.split(",")]
    for part in parts:
        forms.read(forms.DefectSeen, entry.read_defect(part))
    return parts


def next_mark(mark: str | None) -> str | None:
    """The mark after this one: M-41 gives M-42; None where it does not end in a number."""
    match = re.fullmatch(r"(.*?)(\d+)", mark, re.DOTALL) if mark else None
    if not match:
        return None
    return f"{match[1]}{int(match[2]) + 1:0{len(match[2])}d}"


def last_tile(db: str | None):
    """The record of the tile written down last, or None."""
    from sqlalchemy import select

    from tiles.records import models, reading

    with common.writing(db) as session:
        newest = select(models.Tile.mark).order_by(models.Tile.tile_id.desc()).limit(1)
        mark = session.scalar(newest)
        return reading.find_records(session, [mark])[0] if mark else None


def _free_mark(db: str | None, mark: str) -> str:
    from tiles.queries.alike import marks_but_for_blanks
    from tiles.records import store

    with common.writing(db) as session:
        if store.has_mark(session, mark):
            raise AlreadyOnRecord(f"a tile marked {mark!r} is already on record.", "another mark.")
        twins = marks_but_for_blanks(session, [mark])
    if twins:
        common.talk(f"{twins[0][1]!r} is on record, the same but for blanks.")
        if not typer.confirm(f"Is {mark!r} another tile?", default=False, err=True):
            raise TilesError("")
    return mark


def names(db: str | None, model) -> list[str]:
    """The names on record, those in use only."""
    from sqlalchemy import select

    with common.writing(db) as session:
        wanted = select(model.name).order_by(model.name)
        if hasattr(model, "is_retired"):
            wanted = wanted.where(model.is_retired.is_(False))
        return list(session.scalars(wanted)) or ["none yet"]


def _on_record(db: str | None, model, name: str) -> str:
    """The name as it is on record; a new one is added when the person says so."""
    from tiles.records import store

    with common.writing(db) as session:
        known = store.look_up(session, model, name)
        if known is not None:
            return known.name
    close = nearest(name, names(db, model))
    common.talk(f"{name!r} is not on record." + (f" Did you mean {close!r}?" if close else ""))
    if not typer.confirm(f"Add {name!r} as new?", default=False, err=True):
        raise TilesError("")
    return _add(db, model, name)


def _add(db: str | None, model, name: str) -> str:
    """Add a body, glaze or firing with the few facts that matter most."""
    from tiles.chemistry.cones import read_cone
    from tiles.records import forms, models, store

    if model is models.Firing:
        target = ask("Its target cone", check=read_cone)
        record, add = forms.FiringRecord(name=name, target_cone=target), store.add_firing
    else:
        ends = ask("Cone range on its label (06-04)", check=common.cone_range) or {}
        if model is models.ClayBody:
            record, add = forms.read(forms.BodyRecord, {"name": name} | ends), store.add_body
        else:
            record, add = forms.read(forms.GlazeRecord, {"name": name} | ends), store.add_glaze
    with common.writing(db) as session:
        return add(session, record).name

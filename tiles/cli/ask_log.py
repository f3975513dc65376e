"""``tiles log`` as a conversation, with the last tile's answers offered."""

import re

import typer

from tiles.cli import common, entry
from tiles.cli.ask import ask
from tiles.errors import AlreadyOnRecord, TilesError, nearest

HELP = (
    "Enter takes the answer in [brackets], - leaves it unrecorded, ? lists what is on record.\n"
    "Ctrl-C stops without storing anything."
)


def ask_and_store(db: str | None) -> None:
    """Ask for one tile and put it on record."""
    from tiles.cli.log import inspections, store_new

    common.talk(HELP)
    last = last_tile(db)
    values = _ask_tile(db, last)
    seen = ask("What do you see? clean, or defects (crawling:severe, pinholes)", check=_read_seen)
    if seen is not None:
        values["inspections"] = inspections(seen, not seen, None)
    values["note"] = ask("Note")
    store_new(values, db=db, add_missing=False, yes=False)


def _ask_tile(db: str | None, last) -> dict:
    from tiles.chemistry.cones import read_cone
    from tiles.records import models

    def named(model):
        return {
            "check": lambda text: _on_record(db, model, text),
            "choices": lambda: names(db, model),
        }

    firing = last.firing.name if last and last.firing else None
    values = {
        "mark": ask(
            "Mark",
            next_mark(last and last.mark),
            check=lambda text: _free_mark(db, text),
            required=True,
        ),
        "body": ask("Clay body", last and last.body.name, required=True, **named(models.ClayBody)),
        "areas": _ask_areas(db, last),
        "bisque_cone": ask("Bisque cone", last and last.bisque_cone, check=read_cone),
        "firing": ask("Firing", firing, **named(models.Firing)),
    }
    if values["firing"]:
        values["shelf"] = ask("Shelf", last and last.shelf)
        values["cone_reached"] = ask(
            "Cone reached there", last and last.cone_reached, check=read_cone
        )
    return values


def _ask_areas(db: str | None, last) -> list[dict]:
    from tiles.records import models

    def read(text: str) -> list[str]:
        parts = [part.strip() for part in text.split(" + ")]
        for part in parts:
            _on_record(db, models.Glaze, entry.read_coat(part).glaze)
        return parts

    top = last.areas[0].layers[-1] if last and last.areas[0].layers else None
    glazes = ask(
        "Glaze (layers from the clay up: slip=2 + glaze)",
        _spoken_layers(last),
        check=read,
        choices=lambda: names(db, models.Glaze),
    )
    if not glazes:
        return [{"number": 1}]
    coats = ask(
        "Coats of the top one (1,2,3 for three areas)",
        str(top.coats) if top and top.coats else None,
        check=lambda text: entry.numbers(text, "coats", int) and text,
    )
    thickness = ask(
        "Thickness of the dry coat in mm",
        check=lambda text: entry.areas(glazes, coats=coats, thickness_mm=text) and text,
    )
    return entry.areas(glazes, coats=coats, thickness_mm=thickness)


def _spoken_layers(last) -> str | None:
    if not last or not last.areas[0].layers:
        return None
    *under, top = last.areas[0].layers
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
    from tiles.records import store

    with common.writing(db) as session:
        if not store.has_mark(session, mark):
            return mark
    raise AlreadyOnRecord(f"a tile marked {mark!r} is already on record.", "another mark.")


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

"""What a person answers to ``tiles log``, and the record that follows from it."""

from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from tiles.cli import common, entry
from tiles.cli.ask_names import key


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


def last_tile(db: str | None):
    """The record of the tile written down last, or None."""
    from sqlalchemy import select

    from tiles.records import models, reading

    with common.writing(db) as session:
        newest = select(models.Tile.mark).order_by(models.Tile.tile_id.desc()).limit(1)
        mark = session.scalar(newest)
        return reading.find_records(session, [mark])[0] if mark else None


def like_the_last(last) -> Answers:
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


def offered_again(offered: Answers, given: Answers, name: str) -> Answers:
    """What is offered once a person goes back to a question: the answer that was given to it.

    A cone offered belongs to the firing and shelf offered with it, and to no other.
    """
    from tiles.records.words import same_name

    again = {name: getattr(given, name)}
    if name == "cone_reached":
        again |= {"firing": given.firing, "shelf": given.shelf}
    elif name in ("firing", "shelf") and not same_name(getattr(offered, name), again[name]):
        again["cone_reached"] = None
    return replace(offered, **again)


def _spoken_layers(layers: list) -> str | None:
    if not layers:
        return None
    *under, top = layers
    spoken = [
        f"{each.glaze.name}={each.coats}" if each.coats else each.glaze.name for each in under
    ]
    return " + ".join([*spoken, top.glaze.name])


def values(answers: Answers) -> dict:
    """The answers as a record takes them."""
    from tiles.cli.log import inspections
    from tiles.records import models

    def named(model, name: str | None) -> Any:
        return answers.new.get(key(model, name), name) if name else None

    values = {
        name: getattr(answers, name)
        for name in ("mark", "bisque_cone", "shelf", "cone_reached", "note")
    }
    values["body"] = named(models.ClayBody, answers.body)
    values["firing"] = named(models.Firing, answers.firing)
    values["areas"] = [{"number": 1}]
    if answers.glaze:
        coat = {"coats": answers.coats, "thickness_mm": answers.thickness_mm}
        values["areas"] = entry.areas(parts(answers.glaze), **coat)
        for layer in (layer for area in values["areas"] for layer in area["layers"]):
            layer["glaze"] = named(models.Glaze, layer["glaze"])
    if answers.seen:
        seen = [] if _is_clean(answers.seen) else [answers.seen]
        values["inspections"] = inspections(seen, not seen, answers.inspected_on)
        for each in values["inspections"][0]["defects"]:
            if each["defect"].casefold() == entry.NO_WORD:
                each["note"] = answers.other
    return values


def parts(glaze: str) -> list[str]:
    """The layers of a glaze as it is typed, from the clay up."""
    return [part.strip() for part in glaze.split(" + ")]


def _is_clean(text: str) -> bool:
    return text.casefold() == "clean"


def read_seen(text: str) -> list[dict]:
    """The defects named; an empty list for clean."""
    return [] if _is_clean(text) else entry.read_defects(text)


def check_seen(text: str, found: Answers) -> str:
    """The same, where all of it can be on a tile with the areas that were answered."""
    from tiles.records import forms
    from tiles.records.looks import refuse_faults_twice

    defects = read_seen(text)
    for each in defects:
        forms.read(forms.DefectSeen, each)
    areas = [{"number": area["number"]} for area in values(found)["areas"]]
    looks = [{"inspected_on": date.today(), "defects": defects}]
    seen = {"mark": found.mark, "body": found.body, "areas": areas, "inspections": looks}
    refuse_faults_twice(forms.read(forms.TileRecord, seen))
    return text

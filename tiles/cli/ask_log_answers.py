"""What a person answers to ``tiles log``, and the record that follows from it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from tiles.cli import common, entry, put_on
from tiles.cli.ask_names import key
from tiles.errors import InvalidValue, UnknownCone


@dataclass
class Answers:
    """What was answered, each as it is typed; None where nothing is recorded.

    ``glaze`` names the layers from the clay up: "white slip=2 + pond green". ``bisque`` is its
    cone, its firing or both: "04, B1". ``colour_on`` is what the colours beneath were put on, each
    on a line of its own: "leaf=bisque", or "leaf=" where the last tile leaves it open. ``new``
    describes what is to be added together with the tile, by table and name, ``before`` what was
    doubted of that and is to be described anew. ``like`` is the mark of
    the tile whose answers these are, ``is_measured`` whether its coat was; ``differs`` names what
    is asked all the same, and ``kept`` is the rest, which is taken over. ``again`` names what is
    asked first, once more.
    """

    mark: str | None = None
    body: str | None = None
    glaze: str | None = None
    coats: str | None = None
    batch: str | None = None
    beneath: str | None = None
    colour_on: str | None = None
    method: str | None = None
    thickness_mm: str | None = None
    bisque: str | None = None
    firing: str | None = None
    shelf: str | None = None
    cone_reached: str | None = None
    seen: str | None = None
    other: str | None = None
    glazed_on: str | None = None
    inspected_on: str | None = None
    note: str | None = None
    new: dict[tuple, dict] = field(default_factory=dict)
    before: dict[tuple, dict] = field(default_factory=dict)
    like: str | None = None
    is_measured: bool = False
    differs: str | None = None
    again: str | None = None
    kept: dict[str, str | None] = field(default_factory=dict)


def last_tile(db: str | None) -> tuple[Any, bool]:
    """The record of the tile written down last, or None; and whether that was today.

    Trials that wait for their firing are left out: nobody who has a tile in hand goes on from them.
    """
    from sqlalchemy import select

    from tiles.records import models, reading

    with common.looking_up(db) as session:
        newest = select(models.Tile.mark, models.Tile.written_on)
        unfired = models.Tile.firing_id.is_(None) & models.Tile.cone_reached.is_(None)
        waits = models.Tile.trial_of.is_not(None) & unfired & ~models.Tile.inspections.any()
        last = newest.where(~waits).order_by(models.Tile.tile_id.desc()).limit(1)
        row = session.execute(last).first()
        if row is None:
            return None, False
        (record,) = reading.find_records(session, [row.mark])
        return record, row.written_on == date.today()


def like_the_last(last, is_of_today: bool) -> Answers:
    """What is offered for the tile after this one: not its thickness, nor what was seen.

    Of one without a firing, or of another day, only body, glaze and how it was put on: nothing
    tells that the two were made together.
    """
    if last is None:
        return Answers()
    tops = [area.layers[-1] for area in last.areas if area.layers]
    method = _one_of({each.method for each in tops})
    if last.firing is None or not is_of_today:
        glaze, _ = spoken_glaze(_uncounted(last.areas))
        return Answers(body=last.body.name, glaze=glaze, method=method)
    glaze, coats = spoken_glaze(last.areas)
    bisque = [last.bisque_cone, last.bisque_firing and last.bisque_firing.name]
    return Answers(
        body=last.body.name,
        glaze=glaze,
        coats=coats,
        method=method,
        batch=_one_of({each.batch.name if each.batch else None for each in tops}),
        beneath=_one_of({each.beneath for each in tops} - {None}),
        colour_on=_colours_on(last.areas),
        bisque=", ".join(filter(None, bisque)) or None,
        firing=last.firing.name,
        shelf=last.shelf,
        cone_reached=last.cone_reached,
        glazed_on=last.glazed_on and str(last.glazed_on),
        inspected_on=_last_look(last),
        like=last.mark,
        is_measured=any(each.thickness_mm for each in tops),
    )


def _colours_on(areas: list) -> str | None:
    """What each layer under another was put on; "leaf=" where that is not one known thing."""
    found: dict[str, set] = {}
    for layer in (layer for area in areas for layer in area.layers[:-1]):
        found.setdefault(layer.glaze.name, set()).add(layer.applied_on)
    return "\n".join(f"{name}={_one_of(words) or ''}" for name, words in found.items()) or None


def _last_look(last) -> str | None:
    """The day of the last look: who goes on with a firing mostly saw its tiles on one day."""
    return max((str(each.inspected_on) for each in last.inspections), default=None)


def _uncounted(areas: list) -> list:
    """The same areas without the counts of their coats."""
    bare = {"coats": None}
    return [
        area.model_copy(update={"layers": [each.model_copy(update=bare) for each in area.layers]})
        for area in areas
    ]


def _one_of(found: set) -> str | None:
    return found.pop() if len(found) == 1 else None


def offered_again(offered: Answers, given: Answers, name: str) -> Answers:
    """What is offered once a person goes back to a question: the answer that was given to it.

    A cone offered belongs to the firing and shelf offered with it, and to no other; what is offered
    of a layer beneath, to the glaze offered with it.
    """
    from tiles.records.words import same_name

    again = {name: getattr(given, name)}
    if name in ("beneath", "colour_on"):
        again["glaze"] = given.glaze
    elif name == "cone_reached":
        again |= {"firing": given.firing, "shelf": given.shelf}
    elif name in ("firing", "shelf") and not same_name(getattr(offered, name), again[name]):
        again["cone_reached"] = None
        again |= {"inspected_on": None} if name == "firing" else {}
    if name in _TAKEN_OVER:  # what is offered is then the last tile's no more
        again["like"] = None
    return replace(offered, **again)


_TAKEN_OVER = (
    "batch method thickness_mm colour_on bisque firing shelf cone_reached inspected_on".split()
)


def spoken_glaze(areas: list) -> tuple[str | None, str | None]:
    """The layers of all areas as they are typed, and the coats of the top one: a grid stays one.

    Nothing where they cannot be typed so that the very same areas are read from it.
    """
    made = {area.number: [(each.glaze.name, each.coats) for each in area.layers] for area in areas}
    return next((each for each in _ways_to_say(made) if _read(*each) == made), (None, None))


def _ways_to_say(made: dict[int, list[tuple]]) -> Iterator[tuple[str, str | None]]:
    """From the shortest: the top glaze of all once with its coats, areas apart, layers apart."""
    tops = [layers[-1] for layers in made.values() if layers]
    if len(tops) == len(made) and len({name for name, _ in tops}) == 1:
        under = {number: layers[:-1] for number, layers in made.items()}
        glaze = _BETWEEN.join([*_apart(under), as_one(tops[0][0])])
        coats = ["" if each is None else str(each) for _, each in tops]
        if len(set(coats)) == 1:
            yield glaze, coats[0] or None
        yield glaze, ",".join(coats)
    yield _BETWEEN.join(_apart(made)), None
    yield _BETWEEN.join(_on_each(made)), None


def _apart(made: dict[int, list[tuple]]) -> list[str]:
    """What all areas have lowest and topmost once, the layers between with their area."""
    columns = list(made.values())
    low = _common(columns)
    high = _common([layers[low:][::-1] for layers in columns])
    first = columns[0]
    between = {number: layers[low : len(layers) - high] for number, layers in made.items()}
    return [
        *map(_spoken, first[:low]),
        *_on_each(between),
        *map(_spoken, first[len(first) - high :]),
    ]


def _common(columns: list[list[tuple]]) -> int:
    """How many layers at the beginning are the same in all."""
    alike = [len(set(each)) == 1 for each in zip(*columns, strict=False)]
    return (*alike, False).index(False)


def _on_each(made: dict[int, list[tuple]]) -> list[str]:
    return [f"{_spoken(each)}@{number}" for number, layers in made.items() for each in layers]


def _spoken(layer: tuple) -> str:
    name, coats = layer
    return as_one(f"{name}={coats}" if coats else name)


def _read(glaze: str, coats: str | None) -> dict[int, list[tuple]] | None:
    """The layers of each area as they are read from what is typed."""
    try:
        found = entry.areas(parts(glaze), coats=coats)
    except InvalidValue:
        return None
    return {
        area["number"]: [(each["glaze"], each["coats"]) for each in area["layers"]]
        for area in found
    }


def values(answers: Answers) -> dict:
    """The answers as a record takes them."""
    from tiles.cli.log import inspections
    from tiles.records import models

    def named(model, name: str | None) -> Any:
        return answers.new.get(key(model, name), name) if name else None

    plain = ("mark", "shelf", "cone_reached", "glazed_on", "note")
    values = {name: getattr(answers, name) for name in plain}
    values |= read_bisque(answers.bisque) if answers.bisque else {}
    values["body"] = named(models.ClayBody, answers.body)
    values["firing"] = named(models.Firing, answers.firing)
    values["areas"] = [{"number": 1}]
    if answers.glaze:
        coat = {"coats": answers.coats, "thickness_mm": answers.thickness_mm}
        shared = {name: getattr(answers, name) for name in ("method", "batch", "beneath")}
        shared = {name: value for name, value in shared.items() if value}
        values["areas"] = entry.areas(parts(answers.glaze), **coat, shared=shared)
        put_on.put(values["areas"], (answers.colour_on or "").splitlines())
        for layer in (layer for area in values["areas"] for layer in area["layers"]):
            layer["glaze"] = named(models.Glaze, layer["glaze"])
    if answers.seen:
        seen = [] if _is_clean(answers.seen) else [answers.seen]
        values["inspections"] = inspections(seen, not seen, answers.inspected_on)
        for each in values["inspections"][0]["defects"]:
            if entry.has_no_word(each):
                each["note"] = answers.other
    return values


def read_bisque(text: str) -> dict[str, str]:
    """The cone and the firing of a bisque as they are typed: "04", "B1" or "04, B1"."""
    from tiles.chemistry.cones import read_cone

    cone, comma, firing = text.partition(",")
    try:
        found = {"bisque_cone": read_cone(cone)}
    except UnknownCone:
        return {"bisque_firing": text}
    return found | ({"bisque_firing": firing.strip()} if comma and firing.strip() else {})


def has_layer_beneath(answers: Answers) -> bool:
    """Whether the top coat of some area lies on another layer or coat."""
    areas = entry.areas(parts(answers.glaze), coats=answers.coats) if answers.glaze else []
    return any(entry.lies_on_another(area["layers"]) for area in areas)


def under_glazes(answers: Answers) -> dict[str, list[str]]:
    """The glaze on top of an area, and what lies under it there: all that are different."""
    found: dict[str, list[str]] = {}
    for area in entry.areas(parts(answers.glaze)) if answers.glaze else []:
        layers = [each["glaze"] for each in area["layers"]]
        for top in layers[-1:]:  # an area may be bare: "white@2" says nothing of the first one
            names = found.setdefault(top, [])
            names += [each for each in dict.fromkeys(layers[:-1]) if each not in names]
    return found


def one_top_glaze(answers: Answers) -> str | None:
    """The glaze on top where it is the same on all areas."""
    areas = entry.areas(parts(answers.glaze)) if answers.glaze else []
    return _one_of({area["layers"][-1]["glaze"] for area in areas if area["layers"]})


def is_faulty(answers: Answers) -> bool:
    """Whether a fault was seen."""
    return bool(answers.seen and read_seen(answers.seen))


_BETWEEN, _WITHIN = " + ", "\xa0+\xa0"
"""What parts two layers; and the same within the name of one glaze, as mixes of a blend have it."""


def parts(glaze: str) -> list[str]:
    """The layers of a glaze as it is typed, from the clay up."""
    return [part.strip().replace(_WITHIN, _BETWEEN) for part in glaze.split(_BETWEEN)]


def as_one(name: str) -> str:
    """A layer so that `parts` leaves its name whole."""
    return name.replace(_BETWEEN, _WITHIN)


def with_whole_names(glaze: str, is_known: Callable[[str], bool]) -> str:
    """What was typed, with each name on record that has a " + " in it left whole.

    Examples
    --------
    >>> parts(with_whole_names("slip=2 + red 50 + blue 50=3", ["red 50 + blue 50"].__contains__))
    ['slip=2', 'red 50 + blue 50=3']
    """
    found, rest = [], glaze.split(_BETWEEN)
    while rest:
        joined = (_BETWEEN.join(rest[:count]) for count in range(len(rest), 1, -1))
        name = next((each for each in joined if is_known(entry.read_coat(each).glaze)), rest[0])
        found.append(as_one(name))
        rest = rest[len(name.split(_BETWEEN)) :]
    return _BETWEEN.join(found)


def _is_clean(text: str) -> bool:
    from tiles.records.fault_words import says_nothing_seen

    return says_nothing_seen(text)


def read_seen(text: str) -> list[dict]:
    """The defects named; an empty list for clean, or another word for it."""
    return [] if _is_clean(text) else entry.read_defects(text)


def tile_with(found: Answers, **facts) -> Any:
    """The record of the tile with these facts alone; what cannot be is told where it is typed."""
    from tiles.records import forms

    return forms.read(forms.TileRecord, {"mark": found.mark, "body": found.body} | facts)


def check_seen(text: str, found: Answers) -> str:
    """The same, where all of it can be on a tile with the areas that were answered."""
    from tiles.records import forms
    from tiles.records.looks import refuse_faults_twice

    defects = read_seen(text)
    for each in defects:
        forms.read(forms.DefectSeen, each)
    areas = [{"number": area["number"]} for area in values(found)["areas"]]
    looks = [{"inspected_on": date.today(), "defects": defects}]
    refuse_faults_twice(tile_with(found, areas=areas, inspections=looks))
    return text


def kept_in_words(text: str, found: Answers) -> str | None:
    """What was refused as a fault, kept as a person's own words for one: "other (greenish sheen)".

    Words that most often mean one fault of the list are offered as that one: "cloudiness (milky)".
    None where a fault of the list stands among the words, for it may be the one that was meant, or
    where a single word is rather a slip.
    """
    from tiles.exchange.flat_faults import faults_apart, names_fault
    from tiles.records.fault_words import listed_fault
    from tiles.records.words import OTHER_FAULT, is_denied

    parts = faults_apart(text)
    good = [part for part in parts if _is_fault(part, found)]
    strange = [part for part in parts if part not in good]
    words = ", ".join(strange) if good else text
    meant = listed_fault(words)
    is_bare = is_denied(text) or " " not in words
    if any(map(names_fault, strange)) or is_bare and not meant:
        return None
    kept = "; ".join([*good, f"{meant or OTHER_FAULT} ({words})"])
    return kept if _is_fault(kept, found) else None


def _is_fault(text: str, found: Answers) -> bool:
    try:
        return bool(check_seen(text, found))
    except InvalidValue:
        return False

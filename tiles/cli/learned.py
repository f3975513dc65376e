"""What the studio's tiles teach, and the tile to forecast, from the database."""

from dataclasses import dataclass
from pathlib import Path

from tiles.cli import common
from tiles.errors import InvalidValue

LEARNED_FILE = "tiles-learned.json"
PLANNED = "the tile you mean to fire"
_OF_LAYER = ("coats", "thickness_mm", "method", "applied_on", "beneath", "batch")
_OF_FIRING = {"cone": "target_cone", "kiln": "kiln", "hold_min": "hold_min"}

_COMES_OF_IT = {
    True: "So far over its range clay bloats and slumps, glaze runs off onto shelf and elements.",
    False: "So far under its range glaze does not melt through and clay stays weak and porous: no "
    "ware for food.",
}


@dataclass(frozen=True)
class OfArea:
    """The forecasts of one area; ``unlike`` says what about it was never met.

    ``stop`` says why it must not be fired so: far outside what its clay or glaze is made for.
    ``kiln_habit`` says how its kiln or shelf misses its targets, where that is reckoned with.
    """

    area: int
    forecasts: list
    unlike: list[str]
    tiles: int
    stop: list[str]
    kiln_habit: str | None = None


def kept_in(db: str | None) -> Path:
    """Where what was learned is kept: beside the database file, else in the data folder."""
    from tiles.settings import data_folder, database_url, sqlite_file

    file = sqlite_file(database_url(db))
    return file.with_name(f"{file.stem}-learned.json") if file else data_folder() / LEARNED_FILE


def recalled(records: list, db: str | None):
    """The model of all tiles: the kept one where nothing changed, else learned and kept."""
    from diagnose.learner import fit_records, recall

    try:
        return recall(records, _made(kept_in(db)))
    except OSError:  # the place cannot be written: learn each time
        return fit_records(records)


def keep(model, records: list, db: str | None) -> None:
    """Keep what was learned; where that cannot be written it is said and learned each time."""
    from diagnose.learner import mark_of
    from diagnose.learning.keep import save

    file = kept_in(db)
    try:
        save(_made(file), model.learned, mark_of(records), model.all_verdicts)
    except OSError as error:
        common.talk(f"Note: not kept, {file} cannot be written ({error.strerror}).")


def _made(file: Path) -> Path:
    file.parent.mkdir(parents=True, exist_ok=True)
    return file


def planned(given: dict, db: str | None):
    """A record of what is to be fired."""
    from tiles.cli import entry
    from tiles.records import forms

    if not given["body"] or not given["glaze"]:
        raise InvalidValue("a forecast needs a body and a glaze.", "--body NAME --glaze NAME.")
    if given["shelf"] and not (given["kiln"] and given["cone"]):
        raise InvalidValue(
            "a shelf tells only which cone its kiln reaches there.",
            "--kiln NAME and --cone CONE beside --shelf.",
        )
    _refuse_other_areas(given)
    areas = entry.areas(given["glaze"])
    top = _topmost_glaze(areas[0]["layers"], db)
    entry.refuse_two_counts(top, given["coats"])
    top |= {name: given[name] for name in _OF_LAYER if given[name] is not None}
    areas[0] |= {"surface": given["surface"]}
    firing = {own: given[name] for name, own in _OF_FIRING.items() if given[name] is not None}
    values = {
        "mark": PLANNED,
        "body": given["body"],
        "bisque_cone": given["bisque_cone"],
        "stood": given["stood"],
        "shelf": given["shelf"],
        "firing": firing and {"name": "planned", "kind": "glaze"} | firing or None,
        "areas": areas,
        "clues": dict(entry.read_clue(text)[:2] for text in given["clue"] or ()),
    }
    record = forms.read(forms.TileRecord, values)
    return _filled(record, db)


def _refuse_other_areas(given: dict) -> None:
    """What is put on another area than the first would not be forecast."""
    from tiles.cli.entry import split_area

    for what in ("glaze", "clue"):
        for text in given[what] or ():
            if split_area(text, what)[1] not in (None, 1):
                raise InvalidValue(
                    f"{what} {text!r}: a tile that you mean to fire has one area here.",
                    f"the {what} without @, or the mark of a tile on record.",
                    field=what,
                    value=text,
                )


def _topmost_glaze(layers: list[dict], db: str | None) -> dict:
    """The uppermost layer that is no wash or other colour; the uppermost where all are."""
    from tiles.records import models, store
    from tiles.records.derived import main_layer

    with common.reading(db) as session:
        roles = [store.find(session, models.Glaze, each["glaze"]).role for each in layers]
    return layers[main_layer(roles)]


def _filled(record, db: str | None):
    """The body and glazes as they are on record, a recipe in its newest version."""
    from tiles.records import models, reading, store
    from tiles.records.analyses import own_materials
    from tiles.records.derived import analysed

    with common.reading(db) as session:
        record.body = reading.body_record(store.find(session, models.ClayBody, record.body.name))
        for layer in record.areas[0].layers:
            row = store.find(session, models.Glaze, layer.glaze.name)
            layer.glaze = reading.glaze_record(row)
            if layer.batch:
                layer.batch = reading.batch_record(store.find_batch(row, layer.batch.name))
            if row.recipe_versions:
                layer.recipe = reading.recipe_record(row.recipe_versions[-1])
        if record.firing and record.firing.kiln:
            record.firing.kiln = store.find(session, models.Kiln, record.firing.kiln).name
        return analysed(record, own_materials(session))


def forecasts(records: list, record, defect: str | None, db: str | None) -> list[OfArea]:
    """Forecast every area of a tile; one on record is first taken out of what is learned from."""
    from diagnose.forecast import either, forecast, unlike
    from diagnose.learner import fit_records
    from tiles.records.words import DEFECTS

    whole = recalled(records, db)
    others = [each for each in records if each.mark != record.mark]
    model = whole if len(others) == len(records) else fit_records(others)
    how = {"judged": whole, "others": others, "defects": [defect] if defect else DEFECTS}
    tiles = sum(bool(each.inspections) for each in others)
    ways, habit = _as_the_kiln_fires(record, others, db)
    stops = [stop for _, each in ways if (stop := _stop(each))]
    return [
        OfArea(
            area.number,
            either([(share, each.cone_reached, forecast(model, each, area.number, **how))
                    for share, each in ways]),
            list(dict.fromkeys(
                said for _, each in ways for said in unlike(model, each, area.number)
            )),
            tiles,
            stops[0] if stops else [],
            habit,
        )
        for area in record.areas
    ]  # fmt: skip


def _as_the_kiln_fires(record, others: list, db: str | None) -> tuple:
    """The ways in which a tile may be fired, each with its share and the tile so, and why.

    One that was not read yet with the cone its kiln or shelf reaches by habit, or with each that
    its shelf reaches now and then.
    """
    from tiles.cli.studio import all_firings
    from tiles.records.derived import cone_reached
    from tiles.records.kiln_habit import habit_of, mixed_of

    firing, shelf = record.firing, record.shelf
    if cone_reached(record) or not (firing and firing.kiln and firing.target_cone):
        return [(1.0, record)], None
    firings = all_firings(db)
    habit = habit_of(firing.kiln, others, firings, shelf)
    mixed = mixed_of(firing.kiln, others, firings, shelf) if shelf and not habit else None
    cone = habit and habit.expected(firing.target_cone)
    cones = mixed.expected(firing.target_cone) if mixed else [(1.0, cone)] if cone else []
    if not cones:
        return [(1.0, record)], None
    ways = [(share, record.model_copy(update={"cone_reached": each})) for share, each in cones]
    told = " and ".join(f"{each} ({share:.0%})" for share, each in cones) if mixed else cone
    return ways, f"{(mixed or habit).said()}: this is told for cone {told}"


def _stop(record) -> list[str]:
    """Sentences that say why a tile must not be fired so; empty for an ordinary firing."""
    from diagnose.wording import sentence
    from tiles.records.questions import far_outside, mismatches, tells_heat

    outside = far_outside(record)
    if not outside:
        apart = [] if tells_heat(record) else mismatches(record)
        return [*map(sentence, apart), "Another glaze or another clay."] if apart else []
    comes = dict.fromkeys(_COMES_OF_IT[each.is_above] for each in outside)
    return [*(sentence(each.said) for each in outside), *comes, _meant(record)]


def _meant(record) -> str:
    """The cone with its zero taken off or put on, where that one lies within the labels."""
    from tiles.chemistry.cones import with_other_zero
    from tiles.records.derived import cone_reached
    from tiles.records.questions import is_within_labels

    reached = cone_reached(record)
    cone = reached.cone if reached else record.firing and record.firing.target_cone
    if cone is None and record.firing and record.firing.peak_c:
        return "Is the peak right?"
    other = cone and with_other_zero(cone)
    is_it = other is not None and is_within_labels(record, other)
    return f"Was {other} meant?" if is_it else "Is the cone right?"

"""From tile records to rows of the flat form, and what that form cannot carry."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from tiles.exchange import flat_fault_words
from tiles.exchange.flat_cells import recipe_text, witness_text
from tiles.exchange.flat_columns import FAULT_WORDS, MAIN, NONE, PLACES, SEEN, fields_of
from tiles.records import derived, forms, words

_UNDER = PLACES[1:]


def spread(record: forms.TileRecord) -> Iterator[dict[str, Any]]:
    """One row for each area: the filled columns with their values, dates as text."""
    whole = _of_tile(record)
    for area in record.areas:
        row = {**whole, **_fill("area", area)}
        for place, layer in _placed(area.layers).items():
            row |= _layer(layer, place)
        for clue, answer in (record.clues | area.clues).items():
            row[f"clue_{clue}"] = answer
        yield row | _results(record, area)


def rows_of(record: forms.TileRecord) -> Iterator[dict[str, Any]]:
    """Its rows in a file: one for each area, and for each later look one more of what was seen.

    Each says all of the tile, or what a spreadsheet sorts by glaze would lose the later looks.
    """
    days = sorted({look.inspected_on for look in record.inspections})
    for day in days or [None]:
        looks = [look for look in record.inspections if look.inspected_on == day]
        of_day = record.model_copy(update={"inspections": looks})
        for area, row in zip(record.areas, spread(of_day), strict=True):
            words = flat_fault_words.written(of_day, area)
            yield row | ({FAULT_WORDS: words} if words else {})


def tells_the_same(one: forms.TileRecord, other: forms.TileRecord) -> bool:
    """Whether a file would hold the very same rows of both, but for the words about faults."""
    rows = ([{k: v for k, v in row.items() if v is not None and k != FAULT_WORDS}
             for row in rows_of(each)] for each in (one, other))  # fmt: skip
    return next(rows) == next(rows)


def _fill(part: str, values, place: str = MAIN) -> dict[str, Any]:
    if values is None:
        return {}
    known = ((header, getattr(values, name)) for header, name in fields_of(part, place))
    told = {header: _plain(value) for header, value in known if value not in (None, [])}
    return {header: value for header, value in told.items() if value is not None}


def _plain(value: Any) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list):
        is_recipe = isinstance(value[0], forms.RecipeLine)
        return recipe_text(value) if is_recipe else witness_text(value)
    return value


def _of_tile(record: forms.TileRecord) -> dict[str, Any]:
    row = _fill("tile", record) | _fill("body", record.body)
    row |= _fill("firing", record.firing) | _fill("bisque_firing", record.bisque_firing)
    return row | _fill("look", _last_look(record))


def _last_look(record: forms.TileRecord) -> forms.InspectionRecord | None:
    return max(record.inspections, key=lambda look: look.inspected_on, default=None)


def _placed(layers: list[forms.LayerRecord]) -> dict[str, forms.LayerRecord]:
    main = derived.main_layer([layer.glaze.role for layer in layers])
    if main is None:
        return {}
    below = zip(_UNDER, reversed(layers[:main]), strict=False)
    return {MAIN: layers[main], **dict(zip(PLACES[:1], layers[main + 1 :], strict=False)), **dict(
        below
    )}  # fmt: skip


def _layer(layer: forms.LayerRecord, place: str) -> dict[str, Any]:
    row = _fill("layer", layer, place)
    for part in ("glaze", "recipe", "batch"):
        row |= _fill(part, getattr(layer, part), place)
    return row


def _results(record: forms.TileRecord, area: forms.AreaRecord) -> dict[str, str]:
    if not record.inspections:
        return {}
    rank = {level: place for place, level in enumerate((NONE, SEEN, *words.SEVERITIES))}
    worst = dict.fromkeys(words.DEFECTS, NONE)
    for seen in derived.defects_on(record, area):
        worst[seen.defect] = max(worst[seen.defect], seen.severity or SEEN, key=rank.get)
    return {header: worst[defect] for header, defect in fields_of("defect")}


def not_carried(record: forms.TileRecord) -> list[str]:
    """What a record holds that its flat rows leave out; empty when nothing is lost."""
    words = ["the words about a defect"] if flat_fault_words.are_lost(record) else []
    return words + not_carried_of_tile(record) + _retired(record)


def not_carried_of_tile(record: forms.TileRecord) -> list[str]:
    """The part of that which is of the tile itself, and which no row of any sheet can hold."""
    lost = []
    if len({look.inspected_on for look in record.inspections}) < len(record.inspections):
        lost.append("the looks of one day each by itself")
    seen = derived.all_seen(record)
    if len(record.areas) > 1 and any(each.area is None for each in seen):
        lost.append("that a defect was logged for the whole tile")
    if record.photos:
        lost.append("the pictures")
    for area in record.areas:
        lost += _layers_left_out(area)
    firings = [each for each in (record.firing, record.bisque_firing) if each]
    if any(each.witness_cones and witness_text(each.witness_cones) is None for each in firings):
        lost.append("witness cones of a shelf whose name holds ; or =")
    return list(dict.fromkeys(lost))


def _retired(record: forms.TileRecord) -> list[str]:
    layers = derived.layers_of(record)
    glazes, batches = [each.glaze for each in layers], [each.batch for each in layers if each.batch]
    told = (record.body, *glazes, *batches)
    names = dict.fromkeys(each.name for each in told if each.is_retired)
    return [f"that {name!r} is retired" for name in names]


def _layers_left_out(area: forms.AreaRecord) -> list[str]:
    lost = []
    if len(_placed(area.layers)) < len(area.layers):
        lost.append("layers beyond one over and two under the glaze")
    if any(each.recipe and recipe_text(each.recipe.lines) is None for each in area.layers):
        lost.append("a recipe with a material whose name holds ; or begins with +")
    return lost

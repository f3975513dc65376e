"""The same question asked of records in memory: the second, independent answer for tests."""

import unicodedata
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from fnmatch import fnmatchcase
from itertools import groupby

from tiles.chemistry.cones import step
from tiles.queries.search import Search
from tiles.records import derived
from tiles.records.forms import AreaRecord, TileRecord


def matching(records: Iterable[TileRecord], search: Search) -> set[tuple[str, int]]:
    """The (mark, area) pairs that answer a search."""
    return {
        (record.mark, area.number)
        for record in records
        if _tile_matches(record, search)
        for area in record.areas
        if _area_matches(record, area, search)
    }


def unread(records: Iterable[TileRecord], search: Search) -> set[str]:
    """Marks of the tiles that would answer, had a cone been read where their firing was set."""
    if not (search.cone_from or search.cone_to):
        return set()
    unset = replace(search, cone_from=None, cone_to=None)
    of_mark = {record.mark: record for record in records if _reached(record) is None}
    targets = {mark: each.firing and each.firing.target_cone for mark, each in of_mark.items()}
    return {
        mark
        for mark, _area in matching(of_mark.values(), unset)
        if _cone_matches(targets[mark], search.cone_from, search.cone_to)
    }


def _same(wanted: str | None, name: str | None) -> bool:
    return wanted is None or (name is not None and wanted.casefold() == name.casefold())


def _may_be(mark: str, wanted: str | None) -> bool:
    """The wanted ones of the tests have no brackets, so that file names match alike."""
    return wanted is None or fnmatchcase(mark.casefold(), wanted.casefold())


def _tile_matches(record: TileRecord, search: Search) -> bool:
    firing, bisque = record.firing, record.bisque_firing
    names = [each.name if each else None for each in (firing, bisque)]
    return (
        _may_be(record.mark, search.mark)
        and _same(search.body, record.body.name)
        and any(_same(search.firing, name) for name in names)
        and _same(search.bisque_firing, names[1])
        and _same(search.kiln, firing.kiln if firing else None)
        and _cone_matches(_reached(record), search.cone_from, search.cone_to)
        and _cone_matches(_bisque(record), search.bisque_cone_from, search.bisque_cone_to)
        and _day_matches(derived.day_of(record), search)
        and _is_noted(record, search.note)
        and search.is_inspected in (None, bool(record.inspections))
    )


def _clue(record: TileRecord, area: AreaRecord, name: str) -> str | None:
    """An area's own answer counts before that of its tile."""
    return area.clues.get(name, record.clues.get(name))


def _day_matches(day: date | None, search: Search) -> bool:
    if search.since is None and search.until is None:
        return True
    return day is not None and (search.since or day) <= day <= (search.until or day)


def _is_noted(record: TileRecord, wanted: str | None) -> bool:
    """No word of the tests is of letters and signs, so that each is one word."""
    looks = record.inspections
    texts = [record.mark, record.note, *(look.note for look in looks)]
    texts += [seen.note for look in looks for seen in look.defects]
    told = " ".join(unicodedata.normalize("NFC", text).casefold() for text in texts if text)
    found = {"".join(each) for is_word, each in groupby(told, _is_of_a_word) if is_word}
    return wanted is None or {*wanted.casefold().split()} <= found


def _is_of_a_word(letter: str) -> bool:
    return letter.isalnum() or letter == "_"


def _reached(record: TileRecord) -> str | None:
    reached = derived.cone_reached(record)
    return reached.cone if reached else None


def _bisque(record: TileRecord) -> str | None:
    bisque = derived.bisque_cone(record)
    return bisque.cone if bisque else None


def _cone_matches(cone: str | None, low: str | None, high: str | None) -> bool:
    if not (low or high):
        return True
    return cone is not None and step(low or "022") <= step(cone) <= step(high or "14")


def _area_matches(record: TileRecord, area: AreaRecord, search: Search) -> bool:
    names = [layer.glaze.name for layer in area.layers]
    seen = {each.defect for each in derived.defects_on(record, area)}
    clean = derived.is_clean(record, area)
    return (
        all(_clue(record, area, name) == answer for name, answer in search.clues)
        and all(any(_same(wanted, name) for name in names) for wanted in search.glazes)
        and _has_coat(area, search)
        and (search.is_clean is None or clean is search.is_clean)
        and (search.defect is None or search.defect in seen)
        and (search.blank is None or _is_blank(record, area, search.blank))
    )


def _is_blank(record: TileRecord, area: AreaRecord, name: str) -> bool:
    of_tile = {
        "firing": record.firing,
        "shelf": record.shelf,
        "cone reached": _reached(record),
        "bisque cone": _bisque(record),
    }
    if name in of_tile:
        return of_tile[name] is None
    field = {"coats": "coats", "thickness": "thickness_mm"}[name]
    return None in [getattr(layer, field) for layer in area.layers]


def _has_coat(area: AreaRecord, search: Search) -> bool:
    low, high = search.thickness_from_mm, search.thickness_to_mm
    if search.coats is None and low is None and high is None and search.batch is None:
        return True
    return any(
        (search.coats is None or layer.coats == search.coats)
        and _same(search.batch, layer.batch.name if layer.batch else None)
        and (
            not (search.batch and search.glazes)
            or any(_same(each, layer.glaze.name) for each in search.glazes)
        )
        and (low is None or (layer.thickness_mm is not None and layer.thickness_mm >= low))
        and (high is None or (layer.thickness_mm is not None and layer.thickness_mm <= high))
        for layer in area.layers
    )

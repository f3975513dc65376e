"""What is worth saying once of a record that is stored as it stands: nothing in it is refused."""

from collections.abc import Iterable
from datetime import date
from itertools import pairwise
from typing import TypeVar

from tiles.errors import nearest
from tiles.records.derived import (
    bisque_by_shelf,
    bisque_read_otherwise,
    cone_reached,
    witness_cone,
)
from tiles.records.fault_words import listed_fault
from tiles.records.forms import FiringRecord, TileRecord
from tiles.records.own_cone import read_otherwise
from tiles.records.spoken import some
from tiles.records.words import COLOUR_ROLES, name_key

Key, Value = TypeVar("Key"), TypeVar("Value")
UNDER_A_GLAZE = ("underglaze", "slip")
LONG_AGO_DAYS = 60
"""Tiles are looked at within weeks of unloading; a first look so much later is rare (estimate)."""


def days_since_long_ago(firing: FiringRecord | None, today: date | None = None) -> int | None:
    """Days since a firing of long ago; None where it is recent, or its day is not recorded."""
    if firing is None or firing.fired_on is None:
        return None
    days = ((today or date.today()) - firing.fired_on).days
    return days if days > LONG_AGO_DAYS else None


def _grouped(pairs: Iterable[tuple[Key, Value]]) -> dict[Key, list[Value]]:
    """The values of each key, in their order."""
    found: dict[Key, list[Value]] = {}
    for key, value in pairs:
        found.setdefault(key, []).append(value)
    return found


def words_of_listed_faults(kept: Iterable[tuple[str, str]]) -> list[str]:
    """A line for each fault of the list that words kept as another fault most often mean.

    ``kept`` are these words, each behind where it stands ("row 2").
    """
    found = _grouped(
        (fault, (where, words)) for where, words in kept if (fault := listed_fault(words))
    )
    lines = []
    for fault, told in found.items():
        places, words = (list(dict.fromkeys(each)) for each in zip(*told, strict=True))
        is_one = len(words) == 1
        lines.append(
            f"{some(places)}: {some([repr(each) for each in words], 4)} "
            f"{'is' if is_one else 'are'} kept as other, but most often "
            f"{'means' if is_one else 'mean'} {fault}. If so, write {fault} ({words[0]}) there "
            "and import it again with --replace."
        )
    return lines


def shelves_without_cone(records: Iterable[TileRecord]) -> list[str]:
    """A line for each shelf that no witness cone of its firing names: a slip, most often."""
    found = _grouped(
        ((record.firing.name, record.shelf), record) for record in records if lacks_cone(record)
    )
    return [_without_cone(tiles) for tiles in found.values()]


def on_no_shelf(records: Iterable[TileRecord]) -> list[str]:
    """A line for each firing whose witness cones all name a shelf, with its tiles on none."""
    found = _grouped(
        (record.firing.name, record)
        for record in records
        if not record.shelf and _shelves(record.firing) and not cone_reached(record)
    )
    return [
        f"{some([tile.mark for tile in tiles])}: no shelf, so no cone reached is known. "
        f"{name} has witness cones for {', '.join(_shelves(tiles[0].firing))}."
        for name, tiles in found.items()
    ]


def cones_read_otherwise(records: Iterable[TileRecord]) -> dict[tuple, list[str]]:
    """Marks by (firing, what of it says a cone, that cone, the other one that the tiles say)."""
    return _grouped(
        ((record.firing.name, *said, record.cone_reached), record.mark)
        for record in records
        if (said := read_otherwise(record))
    )


def bisques_read_otherwise(records: Iterable[TileRecord]) -> dict[tuple, list[str]]:
    """Marks by (bisque, its witness cone, the other cone that these tiles say of themselves)."""
    return _grouped(
        ((record.bisque_firing.name, read, record.bisque_cone), record.mark)
        for record in records
        if (read := bisque_read_otherwise(record))
    )


def bisques_by_shelf(records: Iterable[TileRecord]) -> dict[tuple, list[str]]:
    """Marks by (bisque, its cones) of tiles without a bisque cone, its shelves having differed."""
    return _grouped(
        ((record.bisque_firing.name, read), record.mark)
        for record in records
        if (read := bisque_by_shelf(record))
    )


def colours_on_top(records: Iterable[TileRecord]) -> list[str]:
    """A line for each underglaze or slip that lies over a glaze: given in the wrong order, often.

    A wash or stain over a glaze is nothing unusual.
    """
    found = _grouped(
        ((above.name, below.name), record.mark)
        for record in records
        for area in record.areas
        for below, above in pairwise(layer.glaze for layer in area.layers)
        if above.role in UNDER_A_GLAZE and below.role not in COLOUR_ROLES
    )
    return [
        f"{above} lies on top of {below} on {some(list(dict.fromkeys(marks)))}: layers are given "
        "from the clay up. If it lies beneath, give it first."
        for (above, below), marks in found.items()
    ]


def sets_apart(records: Iterable[TileRecord]) -> list[str]:
    """A line for each set of trials that lies on several shelves: each may be another heat.

    A trial of another shelf is meant to lie apart.
    """
    sets = _grouped(
        ((record.trial_of, record.trial_defect), record)
        for record in records
        if record.trial_of and record.shelf and not _tries_a_shelf(record)
    )
    return [
        f"Trials for {mark} lie on several shelves ({by_shelf(tiles)}): "
        "put them on one, or the shelf is a second change."
        for (mark, _), tiles in sets.items()
        if len({name_key(each.shelf) for each in tiles}) > 1
    ]


def loaded_too_late(
    loaded: Iterable[TileRecord], beside: Iterable[TileRecord], failed: Iterable[TileRecord]
) -> dict[str, list[str]]:
    """Marks of tiles just put into a firing by what speaks against their having been in it.

    Parameters
    ----------
    beside : iterable of TileRecord
        All tiles of that firing.
    failed : iterable of TileRecord
        The tiles that the trials among them are for.
    """
    looked = [look.inspected_on for each in beside for look in each.inspections]
    by_mark = {name_key(each.mark): each for each in failed}
    found: dict[str, list[str]] = {}
    for record in loaded:
        of = by_mark.get(name_key(record.trial_of or ""))
        firing, seen = record.firing, of and _first_seen(of, record.trial_defect)
        if firing.fired_on and seen and seen > firing.fired_on:
            said = f"{record.trial_of}, which it is a trial for, was first seen to fail on {seen}"
        elif firing.fired_on and looked and not record.inspections:
            said = f"tiles of it were looked at on {min(looked)}"
        else:
            continue
        said = f"{firing.name} was fired on {firing.fired_on}, and {said}"
        found.setdefault(said, []).append(record.mark)
    return found


def _first_seen(record: TileRecord, defect: str) -> date | None:
    looks = (
        look.inspected_on
        for look in record.inspections
        if defect in (each.defect for each in look.defects)
    )
    return min(looks, default=None)


def _tries_a_shelf(record: TileRecord) -> bool:
    return (record.trial_change or "").startswith(("shelf ", "place in the kiln"))


def by_shelf(records: Iterable[TileRecord]) -> str:
    """The shelves as first written, each with its tiles; those on none are left out."""
    found = _grouped((name_key(record.shelf), record) for record in records if record.shelf)
    return "; ".join(
        f"{tiles[0].shelf}: {some([each.mark for each in tiles])}"
        for _, tiles in sorted(found.items())
    )


def lacks_cone(record: TileRecord) -> bool:
    """Whether other shelves of its firing have a witness cone, and its own has none."""
    if not record.shelf or record.cone_reached:
        return False
    shelves = {name_key(shelf) for shelf in _shelves(record.firing)}
    return bool(shelves) and name_key(record.shelf) not in shelves


def shelf_read(record: TileRecord) -> str | None:
    """The shelf with a witness cone that a shelf without one is most often a slip of."""
    return nearest(record.shelf, _shelves(record.firing)) if lacks_cone(record) else None


def _shelves(firing: FiringRecord | None) -> list[str]:
    """The shelves of a firing that have a witness cone of their own."""
    return [read.shelf for read in firing.witness_cones if read.shelf] if firing else []


def _without_cone(tiles: list[TileRecord]) -> str:
    firing, shelf = tiles[0].firing, tiles[0].shelf
    of_load = witness_cone(firing, None)
    marks = some([tile.mark for tile in tiles])
    effect = f"cone {of_load} of the whole load counts" if of_load else "no cone reached is known"
    close = shelf_read(tiles[0])
    return (
        f"{firing.name} has no witness cone for shelf {shelf!r}, only for "
        f"{', '.join(_shelves(firing))}: {effect} for {marks}."
        + (f" Did you mean {close!r}?" if close else "")
    )

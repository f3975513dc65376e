"""Matched comparisons: tiles alike but for one thing, counted and tested."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from diagnose import exact_test
from diagnose.factors import ALIKE, FACTORS, Factor, held_alike, value_of
from diagnose.levels import levels_of
from diagnose.own_tiles_say import YourTiles, your_tiles_say
from diagnose.own_tiles_words import verdict
from tiles.records.derived import defects_on

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

__all__ = ["Comparison", "Outcome", "YourTiles", "compare", "your_tiles_say"]

ENOUGH = 8
"""Tiles with a like one beside them before anything is let go of what is held alike (estimate)."""
ALWAYS_ALIKE = 2
"""The first of `ALIKE` are never let go."""


@dataclass(frozen=True)
class Unit:
    """The areas of one tile with one value of the thing compared: they count once."""

    mark: str
    level: str
    alike: tuple
    defects: frozenset[str]


@dataclass(frozen=True)
class Outcome:
    """How often one defect came in each group, and how often chance alone would part them so.

    ``failed`` in the order of the groups; ``p_value`` None where all tiles came out alike.
    """

    defect: str
    failed: list[int]
    p_value: float | None
    say: str


@dataclass(frozen=True)
class Comparison:
    """Tiles alike but for one thing.

    ``groups`` are its values in order and ``tiles`` how many of each have a like tile beside
    them, in ``sets`` sets; a tile whose areas differ in it stands in more than one group, so that
    they are ``different_tiles`` in all. ``alike`` is what they have in common, ``let_go`` what
    could not be held alike for want of tiles, ``alone`` and ``blank`` count the inspected tiles
    left out.
    """

    by: str
    groups: list[str]
    tiles: list[int]
    different_tiles: int
    sets: int
    alike: list[str]
    let_go: list[str]
    alone: int
    blank: int
    outcomes: list[Outcome]

    def as_dict(self) -> dict:
        """The documented JSON shape."""
        return asdict(self)


def compare(
    records: "Iterable[TileRecord]",
    by: str,
    *,
    defect: str | None = None,
    glaze: str | None = None,
    body: str | None = None,
) -> Comparison:
    """Compare tiles that are alike but for one thing.

    Parameters
    ----------
    records : iterable of TileRecord
        Tiles, of which the inspected ones count. They are only read.
    by : str
        One of `diagnose.factors.FACTORS`.
    defect : str, optional
        Only this one; without it every defect seen on the tiles compared.
    glaze, body : str, optional
        Only areas with this glaze, tiles of this body.

    Returns
    -------
    Comparison
        The clearest difference first.

    Notes
    -----
    What is held alike is chosen by the numbers of tiles only, never by how they came out, so that
    the test stays honest. Of like value is also what is blank on both.
    """
    factor = FACTORS[by]
    wanted = held_alike(factor)
    rows = _rows(records, factor, wanted, glaze, body)
    blank = len({mark for mark, value, _, _ in rows if value is None})
    known = [row for row in rows if row[1] is not None]
    name_of, groups = levels_of(factor, [row[1] for row in known])
    kept, units = _held_alike(known, name_of, wanted)
    strata = _strata(units, groups)
    used = [unit for unit in units if unit.alike in strata]
    groups = [name for name in groups if any(unit.level == name for unit in used)]
    strata = _strata(used, groups)
    looked_for = [defect] if defect else _seen(used)
    outcomes = [_outcome(each, strata, groups, factor) for each in looked_for]
    return Comparison(
        by=factor.said,
        groups=groups,
        tiles=[sum(unit.level == name for unit in used) for name in groups],
        different_tiles=len({unit.mark for unit in used}),
        sets=len(strata),
        alike=_recorded(kept, used),
        let_go=[FACTORS[each].said for each in wanted[len(kept) :]],
        alone=len({u.mark for u in units} - {u.mark for u in used}),
        blank=blank,
        outcomes=sorted(outcomes, key=lambda each: 2 if each.p_value is None else each.p_value),
    )


def _recorded(names: Sequence[str], units: list[Unit]) -> list[str]:
    """What the tiles have in common, without what is blank on all of them."""
    return [
        FACTORS[name].said
        for at, name in enumerate(names)
        if any(unit.alike[at] is not None for unit in units)
    ]


def _rows(records, factor: Factor, wanted: Sequence[str], glaze, body) -> list[tuple]:
    """Mark, value compared, values held alike, and defects, of each area that counts."""
    rows = []
    for record in records:
        if not record.inspections or (body and record.body.name.casefold() != body.casefold()):
            continue
        for area in record.areas:
            names = {layer.glaze.name.casefold() for layer in area.layers}
            if glaze and glaze.casefold() not in names:
                continue
            alike = tuple(value_of(FACTORS[each], record, area) for each in wanted)
            value = value_of(factor, record, area)
            defects = frozenset(seen.defect for seen in defects_on(record, area))
            rows.append((record.mark, value, alike, defects))
    return rows


def _held_alike(rows: list[tuple], name_of, wanted: Sequence[str]) -> tuple[list[str], list[Unit]]:
    """The strictest likeness that leaves enough tiles, and the tiles under it."""
    least = max(1, sum(each in ALIKE[:ALWAYS_ALIKE] for each in wanted))
    best: tuple[list[str], list[Unit]] = ([], [])
    for many in range(len(wanted), least - 1, -1):
        units = _units(rows, name_of, many)
        best = (list(wanted[:many]), units)
        if _paired(units) >= ENOUGH:
            break
    return best


def _units(rows: list[tuple], name_of, many: int) -> list[Unit]:
    found: dict[tuple, Unit] = {}
    for mark, value, alike, defects in rows:
        key = (mark, name_of(value), alike[:many])
        before = found[key].defects if key in found else frozenset()
        found[key] = Unit(*key, before | defects)
    return list(found.values())


def _paired(units: list[Unit]) -> int:
    """Tiles with a like one of another group."""
    groups = defaultdict(set)
    for unit in units:
        groups[unit.alike].add(unit.level)
    return sum(len(groups[unit.alike]) > 1 for unit in units)


def _strata(units: list[Unit], groups: Sequence[str]) -> dict[tuple, list[list[Unit]]]:
    """The sets in which at least two groups meet: the tiles of each group."""
    sets: dict[tuple, list[list[Unit]]] = {}
    for unit in units:
        if unit.level in groups:
            place = sets.setdefault(unit.alike, [[] for _ in groups])
            place[groups.index(unit.level)].append(unit)
    return {key: found for key, found in sets.items() if sum(map(bool, found)) > 1}


def _seen(units: list[Unit]) -> list[str]:
    from tiles.records.words import DEFECTS

    return [each for each in DEFECTS if any(each in unit.defects for unit in units)]


def _outcome(defect: str, strata: dict, groups: list[str], factor: Factor) -> Outcome:
    tables = [
        [(sum(defect in unit.defects for unit in group), len(group)) for group in found]
        for found in strata.values()
    ]
    failed = [sum(table[at][0] for table in tables) for at in range(len(groups))]
    if not tables or not 0 < sum(failed) < sum(n for table in tables for _, n in table):
        return Outcome(defect, failed, None, verdict(defect, factor, groups, tables, None, None))
    if len(groups) == 2:
        p_value = exact_test.two_groups(tables)
        least = exact_test.least_possible(tables)
    else:
        p_value = exact_test.many_groups(tables, is_ordered=factor.is_ordered)
        least = None
    said = verdict(defect, factor, groups, tables, p_value, least)
    return Outcome(defect, failed, p_value, said)

"""Matched comparisons: tiles alike but for one thing, counted and tested."""

from collections import Counter
from collections.abc import Callable, Container, Iterable, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from operator import mul
from typing import TYPE_CHECKING

from diagnose.comparing import exact_test
from diagnose.comparing.comparison_words import named, verdict, whole
from diagnose.comparing.factors import (
    ALWAYS_ALIKE,
    FACTORS,
    Factor,
    factor_named,
    held_alike,
    value_of,
)
from diagnose.comparing.levels import levels_of
from diagnose.comparing.matching import Row, Unit, matched, sets_of
from diagnose.own_tiles.areas import looked_at, with_layer
from diagnose.own_tiles.late_looks import COMES_LATE, LateLooks
from diagnose.own_tiles.same_age import SameAge, same_age
from diagnose.wording import listed
from tiles.records.derived import defects_on
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord


MOST_COUNTED = 6
"""Of more groups their counts with the early ones are not told: nobody could read them."""


@dataclass(frozen=True)
class Outcome:
    """How often one defect came in each group, and how often chance alone would part them so.

    ``failed`` of ``tiles`` in the order of the groups; ``early`` more tiles were looked at too
    early to be free of it. Where ``by_day`` is a number all count as they were by that day after
    the firing, and ``early`` more were first looked at much earlier or later. ``p_value`` is None
    where all tiles came out alike.
    """

    defect: str
    failed: list[int]
    tiles: list[int]
    early: int
    p_value: float | None
    say: str
    by_day: int | None = None


@dataclass(frozen=True)
class LeftOut:
    """A group of which no tile has a like one beside it: its tiles, and those with each defect."""

    group: str
    tiles: int
    failed: dict[str, int]


@dataclass(frozen=True)
class Comparison:
    """Tiles alike but for one thing.

    ``groups`` are its values in order and ``tiles`` how many of each have a like tile beside
    them, in ``sets`` sets; a tile whose areas differ in it stands in more than one group, so that
    they are ``different_tiles`` in all. ``alike`` is what they have in common, ``let_go`` what
    could not be held alike for want of tiles, ``alone`` and ``blank`` count the inspected tiles
    left out, ``failed_left_out`` those of them with each defect, and ``groups_left_out`` are the
    groups that lost all tiles. ``coats_under``: where what lies under the glaze is compared, the
    groups in which it has now fewer, now more coats, and how many. ``blank_but_under``: of how many
    of those left out what the layer beneath was put on is recorded, where the top one is asked of.
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
    failed_left_out: dict[str, int]
    groups_left_out: list[LeftOut]
    outcomes: list[Outcome]
    coats_under: dict[str, list[float]] = field(default_factory=dict)
    blank_but_under: int = 0

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
    only: "Container[tuple[str, int]] | None" = None,
    most_named: int | None = None,
) -> Comparison:
    """Compare tiles that are alike but for one thing.

    Parameters
    ----------
    records : iterable of TileRecord
        Tiles, of which the inspected ones count. They are only read.
    by : str
        One of `diagnose.comparing.factors.FACTORS`, or a clue.
    defect : str, optional
        Only this one; without it every defect seen on the tiles compared.
    glaze, body : str, optional
        Only areas with this glaze, tiles of this body.
    only : container of (str, int), optional
        Only these areas, each by its mark and number.
    most_named : int, optional
        So many groups are named in a sentence; without it all.

    Returns
    -------
    Comparison
        The clearest difference first.

    Notes
    -----
    What is held alike is chosen by the numbers of tiles only, never by how they came out, so that
    the test stays honest. Of like value is also what is blank on both.
    """
    factor = factor_named(by)
    wanted = held_alike(factor)
    areas = _areas(records, glaze, body, only, defect)
    of_group = partial(value_of, factor)
    ages = {each: same_age(areas, each, of_group) for each in COMES_LATE}
    read = [_row(*each, factor, wanted, ages) for each in areas]
    name_of, groups = levels_of(factor, [value for _, value, *_ in read if value is not None])
    rows = [(mark, name_of(value), *rest) for mark, value, *rest in read if value is not None]
    kept, used = matched(rows, sum(each in ALWAYS_ALIKE for each in wanted), len(wanted))
    compared = [name for name in groups if any(unit.level == name for unit in used)]
    sets = sets_of(used, compared)
    out = _left_out(read, used, defect)
    looked_for = [defect] if defect else _seen(used)
    outcomes = [
        _outcome(
            ages.get(each, SameAge(LateLooks(each))), sets, compared, factor, out[each], most_named
        )
        for each in looked_for
    ]
    marks = {mark for mark, *_ in rows}
    blank = {mark for mark, *_ in read} - marks
    return Comparison(
        by=factor.said,
        groups=compared,
        tiles=[sum(unit.level == name for unit in used) for name in compared],
        different_tiles=len({unit.mark for unit in used}),
        sets=len(sets),
        alike=_recorded([wanted[at] for at in kept], used),
        let_go=[FACTORS[name].said for at, name in enumerate(wanted) if at not in kept],
        alone=len(marks - {unit.mark for unit in used}),
        blank=len(blank),
        failed_left_out=dict(out),
        groups_left_out=[_lost(rows, name, defect) for name in groups if name not in compared],
        outcomes=sorted(outcomes, key=lambda each: 2 if each.p_value is None else each.p_value),
        coats_under=_coats_under(areas, name_of) if factor.name == "under" else {},
        blank_but_under=_known_under(areas, blank) if factor.name == "applied on" else 0,
    )


def _known_under(areas: Iterable, blank: Container[str]) -> int:
    """How many tiles say what the layer beneath was put on, though not the top one."""
    of_under = FACTORS["under put on"]
    return len(
        {
            record.mark
            for record, area in areas
            if record.mark in blank and value_of(of_under, record, area) is not None
        }
    )


def _coats_under(areas: Iterable, name_of: Callable[[str], str]) -> dict[str, list[float]]:
    """The groups of a layer beneath that has several numbers of coats, and these."""
    found: dict[str, set[float]] = {}
    for record, area in areas:
        below, coats = (value_of(FACTORS[each], record, area) for each in ("under", "coats under"))
        if below is not None and coats is not None:
            found.setdefault(name_of(below), set()).add(coats)
    return {name: sorted(coats) for name, coats in found.items() if len(coats) > 1}


def _areas(
    records: "Iterable[TileRecord]",
    glaze: str | None,
    body: str | None,
    only: "Container[tuple[str, int]] | None",
    defect: str | None,
) -> "list[tuple[TileRecord, AreaRecord]]":
    """The inspected areas with this glaze, on this body and among those named."""
    of_body = [each for each in records if not body or same_name(each.body.name, body)]
    return [
        (record, area)
        for record, area in (
            with_layer(glaze, of_body, defect) if glaze else looked_at(of_body, defect)
        )
        if only is None or (record.mark, area.number) in only
    ]


def _recorded(names: Sequence[str], units: list[Unit]) -> list[str]:
    """What the tiles have in common, without what is blank on all of them."""
    return [
        FACTORS[name].said
        for at, name in enumerate(names)
        if any(unit.alike[at] is not None for unit in units)
    ]


def _row(record, area, factor: Factor, wanted: Sequence[str], ages: dict[str, SameAge]) -> tuple:
    """Mark, value compared, values held alike, defects, and those it cannot be free of yet."""
    read = (value_of(FACTORS[each], record, area) for each in wanted)
    alike = tuple(name_key(each) if isinstance(each, str) else each for each in read)
    value = value_of(factor, record, area)
    seen = frozenset(each.defect for each in defects_on(record, area))
    later = {each for each, at in ages.items() if not at.failed(record, area)}
    early = frozenset(each for each, at in ages.items() if not at.tells(record, area))
    return record.mark, value, alike, seen - later, early


def _left_out(read: Sequence[tuple], used: Sequence[Unit], defect: str | None) -> Counter:
    """How many tiles with each defect are not among those compared."""
    marks = {unit.mark for unit in used}
    return _failed([row for row in read if row[0] not in marks], defect)


def _lost(rows: Sequence[Row], group: str, defect: str | None) -> LeftOut:
    own = [row for row in rows if row[1] == group]
    return LeftOut(group, len({mark for mark, *_ in own}), dict(_failed(own, defect)))


def _failed(rows: Sequence[tuple], defect: str | None) -> Counter:
    """Tiles with each defect, the most frequent first; or with the one defect only."""
    seen = {(each, mark) for mark, *_, defects, _ in rows for each in defects}
    found = Counter(each for each, _ in seen if defect in (None, each))
    return Counter(dict(sorted(found.items(), key=lambda each: (-each[1], each[0]))))


def _seen(units: list[Unit]) -> list[str]:
    from tiles.records.words import DEFECTS

    return [each for each in DEFECTS if any(each in unit.defects for unit in units)]


def _outcome(
    age: SameAge,
    sets: Sequence,
    groups: list[str],
    factor: Factor,
    elsewhere: int,
    most: int | None,
) -> Outcome:
    defect = age.late.defect
    told = [[[u for u in group if defect not in u.early] for group in found] for found in sets]
    tables = _tables(defect, told)
    wholes = [whole(tables, [at]) for at in range(len(groups))]
    failed, tiles = [failed for failed, _ in wholes], [many for _, many in wholes]
    early = len({u.mark for found in sets for group in found for u in group if defect in u.early})
    seen = [at for at, many in enumerate(tiles) if many]
    unseen = [name for name, many in zip(groups, tiles, strict=True) if not many]
    looked = "first looked at about then" if age.by_day else "looked at late enough"
    none = f"No tile of {named(unseen[:most], len(unseen))} was {looked} to compare {defect}."
    counts, by_day = (defect, failed, tiles, early), age.by_day or None
    if len(seen) < 2:
        return Outcome(*counts, None, f"{none} {age.left_out(early)}", by_day)
    # A group of which nobody can tell yet is no reason to be silent about the others.
    tables = _only(seen, tables)
    p_value, least = _chance(tables, factor)
    careful, turns, names = "", False, [groups[at] for at in seen]
    if early and p_value is not None and not age.by_day:
        every = _tables(defect, _only(seen, sets))
        p_value, careful, turns = _with_early(p_value, tables, every, factor)
    if turns:
        said = f"{defect}: in which it comes more often cannot be told yet."
    else:
        said = verdict(defect, factor, names, tables, p_value, least, elsewhere, most)
    parts = (said, none if unseen else "", age.left_out(early), careful)
    return Outcome(*counts, p_value, " ".join(filter(None, parts)), by_day)


def _with_early(
    p_value: float, tables: Sequence, every: Sequence, factor: Factor
) -> tuple[float, str, bool]:
    """The larger chance, had those looked at too early been counted too; their counts in words.

    They are sound so far; what failed as early is not left out. A difference must hold with them,
    else it may be nothing but who was looked at again. Last: whether it turns round with them; its
    chance is 1 then.
    """
    with_early = _chance(every, factor)[0]
    counts = ["{} of {}".format(*whole(every, [at])) for at in range(len(every[0]))]
    told = f": {listed(counts)}" if len(counts) <= MOST_COUNTED else ""
    agreement = sum(map(mul, exact_test.surplus(tables), exact_test.surplus(every)))
    if agreement < 0:
        return 1.0, f"With them it turns round{told}.", True
    if with_early > p_value:
        return with_early, f"The chance counts them in as sound{told}.", False
    return p_value, f"With them it is{told.removeprefix(':')}." if told else "", False


def _only(places: Sequence[int], sets: Sequence) -> list:
    """The sets, or their tables, with these groups alone."""
    return [[found[at] for at in places] for found in sets]


def _tables(defect: str, sets: Sequence) -> list[list[tuple[int, int]]]:
    """Failed and all of each group, a line a set; sets without a tile left out."""
    return [
        [(sum(defect in unit.defects for unit in group), len(group)) for group in found]
        for found in sets
        if any(found)
    ]


def _chance(tables: list, factor: Factor) -> tuple[float | None, float | None]:
    """How often chance parts them so, and at least; None where all came out alike."""
    failed, tiles = (sum(pair[of] for table in tables for pair in table) for of in (0, 1))
    if not 0 < failed < tiles:
        return None, None
    if any(len(table) > 2 for table in tables):
        if factor.kind == "time":
            return exact_test.many_times(tables), None
        return exact_test.many_groups(tables, is_ordered=factor.is_ordered), None
    return exact_test.two_groups(tables), exact_test.least_possible(tables)

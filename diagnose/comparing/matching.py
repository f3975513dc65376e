"""Who is set beside whom: what is held alike is chosen by the numbers of tiles alone.

How the tiles came out is never looked at, so that the test of a comparison stays honest.
"""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

KEPT = 0.9
"""What is held alike may cost a tenth of what the tiles can tell, and of each group. Chosen on
simulated studios: holding more finds few true differences, holding less finds hardly more."""

Row = tuple[str, str, tuple, frozenset[str], frozenset[str]]
"""Mark, group, values of what could be held alike, defects, and those it was looked at too early
to be free of, of one area."""


@dataclass(frozen=True)
class Unit:
    """The areas of one tile with one value of the thing compared: they count once.

    ``early``: the defects it is not known to be free of.
    """

    mark: str
    level: str
    alike: tuple
    defects: frozenset[str]
    early: frozenset[str] = frozenset()


def matched(rows: Sequence[Row], always: int, of: int) -> tuple[list[int], list[Unit]]:
    """What is held alike, and the tiles that have one of another group alike in it.

    Parameters
    ----------
    rows : sequence of Row
        The areas that count.
    always : int
        So many of the first values are held alike whatever it costs.
    of : int
        How many values there are, the weightiest first.

    Returns
    -------
    tuple
        Places of the values held alike, and the tiles compared.
    """
    kept = list(range(always))
    first = units = _with_another_group(rows, kept)
    for at in range(always, of):
        tried = _with_another_group(rows, [*kept, at])
        if _tells_as_much(tried, first):
            kept, units = [*kept, at], tried
    return kept, units


def sets_of(units: Sequence[Unit], groups: Sequence[str]) -> list[list[list[Unit]]]:
    """The tiles of each group, for each set of tiles that are alike."""
    sets: dict[tuple, list[list[Unit]]] = {}
    for unit in units:
        place = sets.setdefault(unit.alike, [[] for _ in groups])
        place[groups.index(unit.level)].append(unit)
    return list(sets.values())


def _with_another_group(rows: Sequence[Row], kept: Sequence[int]) -> list[Unit]:
    """The tiles that have a like one of another group beside them."""
    found: dict[tuple, Unit] = {}
    for mark, level, values, defects, early in rows:
        key = (mark, level, tuple(values[at] for at in kept))
        before = found.get(key, Unit(*key, frozenset()))
        defects = defects | before.defects
        found[key] = Unit(*key, defects, (early | before.early) - defects)
    groups = defaultdict(set)
    for unit in found.values():
        groups[unit.alike].add(unit.level)
    return [unit for unit in found.values() if len(groups[unit.alike]) > 1]


def _tells_as_much(tried: Sequence[Unit], first: Sequence[Unit]) -> bool:
    """Whether nearly all is left of what the tiles tell, and nearly all tiles of each group."""
    left, before = _tiles_of(tried), _tiles_of(first)
    is_there = all(left[group] >= int(KEPT * many) for group, many in before.items())
    return is_there and _told(tried) >= KEPT * _told(first)


def _tiles_of(units: Sequence[Unit]) -> Counter:
    return Counter(level for level, _ in {(unit.level, unit.mark) for unit in units})


def _told(units: Sequence[Unit]) -> float:
    """Pairs of tiles of two groups, in each set shared out among its tiles.

    One tile against nine so tells hardly twice what one against one does.
    """
    sets: dict[tuple, Counter] = defaultdict(Counter)
    for unit in units:
        sets[unit.alike][unit.level] += 1
    return sum(
        (groups.total() - sum(many**2 for many in groups.values()) / groups.total()) / 2
        for groups in sets.values()
    )

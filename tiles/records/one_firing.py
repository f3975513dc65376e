"""Two firings of one kiln on one day: one firing under two names, or a slip of the day, most often.

Source: common practice, no source: an electric kiln is not fired, cooled and fired again in a day.
A small test kiln or one for raku is, and shows it by three such days or three firings on one.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date

from tiles.records.forms import FiringRecord
from tiles.records.words import name_key

FEWEST_DAYS = 3
"""A kiln with two firings on so many days is fired so (estimate)."""
_PARTS = re.compile(r"[^\W\d_]+|\d+")
_OF_LOADS = frozenset("load loads run round".split())
_OF_TIMES = frozenset("am pm morning noon afternoon evening night first second 1st 2nd".split())
_TOLD_APART = "name", "kind", "kiln", "fired_on", "remark", "witness_cones"
"""Fields that are no reading of a firing, and those that are compared in their own way."""


def firings_twice(
    firings: Iterable[FiringRecord], tiles: Mapping[str, int], new: Iterable[str] = ()
) -> list[tuple[str, str, date]]:
    """The names of each two firings that are probably one, and their day.

    They are of one kind, kiln and day; nothing that both tell differs, and their names tell no two
    loads. First comes the one to leave the record: a ``new`` one, else that with fewer ``tiles``.
    """
    of_day: dict[tuple, dict[date, list[FiringRecord]]] = defaultdict(lambda: defaultdict(list))
    for each in firings:
        if each.kiln and each.fired_on:
            kiln = each.kind or "glaze", name_key(each.kiln)
            of_day[kiln][each.fired_on].append(each)
    found, new = [], set(new)
    for days in of_day.values():
        often = [each for each in days.values() if len(each) > 1]
        if len(often) >= FEWEST_DAYS or any(len(each) > 2 for each in often):
            continue
        for pair in often:
            if not (_differ(*pair) or _are_named_as_two(*pair)):
                in_order = sorted(
                    (each.name for each in pair),
                    key=lambda name: (name not in new, tiles.get(name, 0), -len(name), name),
                )
                found.append((*in_order, pair[0].fired_on))
    return found


def _differ(one: FiringRecord, other: FiringRecord) -> bool:
    """Whether both tell something that is not the same, so that the two are no one firing."""
    told = [each.model_dump(exclude=set(_TOLD_APART)) for each in (one, other)]
    told += [
        {read.shelf and name_key(read.shelf): read.cone for read in each.witness_cones}
        for each in (one, other)
    ]
    pairs = [*zip(told[0].values(), told[1].values(), strict=True)]
    pairs += [(told[2][shelf], told[3][shelf]) for shelf in told[2].keys() & told[3].keys()]
    return any(None not in pair and pair[0] != pair[1] for pair in pairs)


def _are_named_as_two(one: FiringRecord, other: FiringRecord) -> bool:
    """Whether the names themselves tell two loads of a day: "load 1", "am", "12 March b"."""
    parts, others = (_PARTS.findall(each.name.casefold()) for each in (one, other))
    if _OF_LOADS & {*parts} and _OF_LOADS & {*others}:
        return True
    times = [_OF_TIMES & {*words} for words in (parts, others)]
    if all(times) and times[0] != times[1]:
        return True
    is_of_day = str(one.fired_on.day) in {each.lstrip("0") for each in parts[:-1]}
    are_counted = all(len(each) == 1 or each.isdecimal() for each in (parts[-1:] + others[-1:]))
    return is_of_day and are_counted and parts[:-1] == others[:-1] and parts != others

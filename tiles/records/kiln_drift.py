"""When a kiln began to miss its targets otherwise than before: elements wear and are renewed.

The firings are cut in two on the day that parts their misses best, and each part again, as long
as chance would hardly part them so. Source: common practice, no source, for the drift itself; the
test deals the misses of the firings out anew to their days, as Fisher's exact test does.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from math import comb
from typing import TYPE_CHECKING

from tiles.records.kiln_readings import Reading, middle_of

if TYPE_CHECKING:
    import numpy as np

FEWEST_FIRINGS = 3
"""So many firings lie on each side of a change (estimate)."""
CLEAR = 0.01
"""A change is told where chance alone would part the firings so well less often than this: who
reads of one may buy elements (estimate)."""
DEALS, SEED = 1999, 20
ROUNDING = 1e-9

_WHOLE = None
"""Stands for all shelves together beside each of them: which were read may change as well."""

_Row = tuple[date, str, tuple[tuple[str | None, float], ...]]
"""Day, target, and how far the whole and each shelf missed it."""


@dataclass(frozen=True)
class Period:
    """Firings between two changes.

    ``since`` is the day of the first one after a change, ``until`` the last before the next; None
    where no change is known on that side.
    """

    read: tuple[Reading, ...]
    since: date | None = None
    until: date | None = None


def periods(read: Sequence[Reading]) -> list[Period]:
    """The firings of a kiln in the order of their days, parted where its misses changed.

    Parameters
    ----------
    read : sequence of Reading
        Its firings. Those without a day are left out where there was a change.

    Returns
    -------
    list of Period
        The last is that of now; the only one where nothing changed for certain.
    """
    dated = sorted((each for each in read if each.day), key=lambda each: each.day)
    cuts = _changes(tuple(_row(each) for each in dated))
    if not cuts:
        return [Period(tuple(read))]
    found = []
    for first, end in zip((0, *cuts), (*cuts, len(dated)), strict=True):
        part = tuple(dated[first:end])
        since = part[0].day if first else None
        found.append(Period(part, since, part[-1].day if end < len(dated) else None))
    return found


def last_alike(read: Sequence[Reading]) -> tuple[float, str] | None:
    """The miss of which all came last, and what luck does; None where no one miss did.

    Of those too few to be told as a change, of two misses for one target: luck alone would part
    them so in two of their orders.
    """
    dated = sorted((each for each in read if each.day), key=lambda each: each.day)
    missed = [each.of_kiln for each in dated]
    many = missed.count(missed[-1]) if missed else 0
    least = min(many, len(missed) - many)
    is_parted = len({*missed}) == 2 and missed[-1] not in missed[:-many]
    one_target = len({each.target for each in read}) == 1
    if least < FEWEST_FIRINGS or len(dated) < len(read) or not (is_parted and one_target):
        return None
    if dated[-many].day == dated[-many - 1].day:
        return None
    once_in = comb(len(missed), many) // 2
    return missed[-1], f"the last {many}; luck alone would do that about 1 time in {once_in}"


def _row(read: Reading) -> _Row:
    whole = (_WHOLE, middle_of(list(read.missed.values())))
    return read.day, read.target, (whole, *sorted(read.missed.items()))


@lru_cache(maxsize=64)
def _changes(rows: tuple[_Row, ...]) -> tuple[int, ...]:
    """The places at which something new begins."""
    at = _clearest(rows)
    if at is None:
        return ()
    return (*_changes(rows[:at]), at, *(at + more for more in _changes(rows[at:])))


def _clearest(rows: Sequence[_Row]) -> int | None:
    """The cut that parts the misses best; None where chance makes one as good too often."""
    last = len(rows) - FEWEST_FIRINGS
    cuts = [at for at in range(FEWEST_FIRINGS, last + 1) if rows[at][0] != rows[at - 1][0]]
    if not cuts or len({missed for *_, missed in rows}) == 1:
        return None
    import numpy as np

    missed, known = _against_others_of_the_target(rows)
    uneven = np.zeros((DEALS + 1, len(cuts)))
    order = _deals(rows)
    for values, is_read in zip(missed, known, strict=True):
        summed, many = (np.cumsum(each[order], axis=1) for each in (values, is_read))
        before, among = (each[:, [at - 1 for at in cuts]] for each in (summed, many))
        after, others = summed[:, -1:] - before, many[:, -1:] - among
        parted = before**2 / np.maximum(among, 1) + after**2 / np.maximum(others, 1)
        uneven += parted - summed[:, -1:] ** 2 / max(is_read.sum(), 1)
    best = uneven.max(axis=1)
    chance = (best >= best[0] - ROUNDING).mean()
    return cuts[int(uneven[0].argmax())] if best[0] > ROUNDING and chance < CLEAR else None


def _against_others_of_the_target(rows: Sequence[_Row]) -> "tuple[np.ndarray, np.ndarray]":
    """How far each shelf missed more than in the other firings for that target, and where read.

    A kiln that is off at cone 6 only has not changed when cone 6 is fired. Both of shape
    (shelves, firings).
    """
    import numpy as np

    shelves = sorted(
        {shelf for *_, missed in rows for shelf, _ in missed}, key=lambda each: each or ""
    )
    place = {shelf: at for at, shelf in enumerate(shelves)}
    values = np.full((len(shelves), len(rows)), np.nan)
    for at, (*_, missed) in enumerate(rows):
        for shelf, steps in missed:
            values[place[shelf], at] = steps
    known = ~np.isnan(values)
    values = np.where(known, values, 0.0)
    for places in _by_target(rows).values():
        own = values[:, places]
        mean = own.sum(axis=1) / np.maximum(known[:, places].sum(axis=1), 1)
        values[:, places] = np.where(known[:, places], own - mean[:, None], 0.0)
    return values, known


def _deals(rows: Sequence[_Row]) -> "np.ndarray":
    """The firings as they were, and dealt out anew to the places of those for the same target."""
    import numpy as np

    rng = np.random.default_rng(SEED)
    order = np.tile(np.arange(len(rows)), (DEALS + 1, 1))
    for places in _by_target(rows).values():
        order[1:, places] = rng.permuted(order[1:, places], axis=1)
    return order


def _by_target(rows: Sequence[_Row]) -> dict[str, list[int]]:
    found = defaultdict(list)
    for at, (_, target, _) in enumerate(rows):
        found[target].append(at)
    return found

"""How far from its target a kiln really fires, and each of its shelves from the others.

Source: common practice, no source: a kiln whose controller or cone sitter is off is off the same
way each time, which is what witness cones are for. What it did before its last clear change
(`kiln_drift`) is no habit of now.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from tiles.chemistry.cones import CONES, cone_at, step
from tiles.records.forms import FiringRecord, TileRecord
from tiles.records.kiln_drift import Period, last_alike, periods
from tiles.records.kiln_readings import Reading, is_glaze_in, middle_of, readings
from tiles.records.spoken import spoken_steps
from tiles.records.words import name_key

FEWEST_FIRINGS = 3
USUAL_SHARE = 0.75
"""So many firings, and so large a part of them, must miss their target alike (estimates)."""
FEWEST_MISSES, NOTED_SHARE = 2, 0.25
"""From so many misses, and so large a part, both what a shelf hits and misses is to be reckoned
with (estimates)."""


@dataclass(frozen=True)
class Habit:
    """A kiln that misses its target by so many cones, in ``alike`` of the ``read`` firings.

    ``kiln`` names it, or one of its shelves. Those ``since`` its last change count, where it had
    one.
    """

    kiln: str
    cones: float
    alike: int
    read: int
    since: date | None = None

    def expected(self, target: str) -> str | None:
        """The cone that a firing set for ``target`` is likely to reach; None off the scale."""
        at = step(target) + self.cones
        return cone_at(at) if step(CONES[0]) <= at <= step(CONES[-1]) else None

    def said(self) -> str:
        """The habit as a person says it.

        Examples
        --------
        >>> Habit("big kiln", 1, 3, 4).said()
        'big kiln reached 1 cone more than it was set for in 3 of 4 glaze firings'
        """
        return (
            f"{self.kiln} reached {_more(self.cones)} than it was set for in {self.alike} of "
            f"{self.read} {_firings(self.since)}"
        )


@dataclass(frozen=True)
class Miss:
    """A shelf that missed its target by so many cones, in ``alike`` of its ``read`` firings.

    ``shelf`` is "" where none was noted.
    """

    shelf: str
    cones: float
    alike: int
    read: int

    def said(self) -> str:
        """The miss as a person says it.

        Examples
        --------
        >>> Miss("bottom", -1, 3, 6).said()
        'shelf bottom 1 cone less than set in 3 of 6'
        """
        of = f"shelf {self.shelf}" if self.shelf else "no shelf noted:"
        return f"{of} {_off(self.cones)} in {self.alike} of {self.read}"


@dataclass(frozen=True)
class Mixed:
    """A shelf that misses its target now and then.

    ``times`` are how many firings by how many cones off, the commonest miss first; ``since`` as
    of `Habit`.
    """

    shelf: str
    times: tuple[tuple[float, int], ...]
    since: date | None = None

    def expected(self, target: str) -> list[tuple[float, str]]:
        """The cones that a firing set for ``target`` may reach there, each with its share."""
        cones = [(many, Habit("", off, 0, 0).expected(target)) for off, many in self.times]
        known = [(many, cone) for many, cone in cones if cone]
        whole = sum(many for many, _ in known)
        return [(many / whole, cone) for many, cone in known]

    def said(self) -> str:
        """What it did, as a person says it.

        Examples
        --------
        >>> Mixed("Shelf low of K", ((-1, 3), (0, 3))).said()
        'Shelf low of K reached 1 cone less than it was set for in 3 of 6 glaze firings, and what \
it was set for in 3'
        """
        told = [f"{_more(off)} than it was set for in {many}" for off, many in self.times if off]
        told[0] += f" of {sum(many for _, many in self.times)} {_firings(self.since)}"
        right = dict(self.times).get(0)
        told += [f"what it was set for in {right}"] if right else []
        return f"{self.shelf} reached {', '.join(told[:-1])}{', and ' * (len(told) > 1)}{told[-1]}"


@dataclass(frozen=True)
class ShelfHabit:
    """A shelf that reaches so many cones more or less than all ``others``.

    So in ``alike`` of the ``read`` firings in which its cone and another shelf's were read, by
    ``least`` to ``most`` cones, in the middle by ``cones``.
    """

    shelf: str
    others: tuple[str, ...]
    cones: float
    least: float
    most: float
    alike: int
    read: int

    def said(self) -> str:
        """The habit as a person says it.

        Examples
        --------
        >>> ShelfHabit("bottom", ("top",), 1, 1, 1, 9, 9).said()
        'shelf bottom reached 1 cone more than shelf top in 9 of 9 glaze firings'
        >>> ShelfHabit("bottom", ("top",), 1, 0.5, 2, 5, 5).said()
        'shelf bottom reached half a cone to 2 cones more than shelf top in 5 of 5 glaze firings'
        """
        others = f"shelf {self.others[0]}" if len(self.others) == 1 else "the other shelves"
        start = f"{spoken_steps(self.least)} to " if self.least != self.most else ""
        return (
            f"shelf {self.shelf} reached {start}{_more(self.most)} than {others} in {self.alike} "
            f"of {self.read} glaze firings"
        )


def _firings(since: date | None) -> str:
    return f"glaze firings since {since}" if since else "glaze firings"


def _more(cones: float) -> str:
    return f"{spoken_steps(cones)} {'more' if cones > 0 else 'less'}"


def habit_of(
    kiln: str,
    records: Iterable[TileRecord],
    firings: Iterable[FiringRecord] = (),
    shelf: str | None = None,
) -> Habit | None:
    """What a kiln does in most of its glaze firings; None where it hits, or too few were read.

    Parameters
    ----------
    kiln : str
        Its name, whatever the capitals.
    records : iterable of TileRecord
        The tiles. A firing is read by what all shelves that its tiles and witness cones tell of
        have in common: where one was right, the kiln was. One without a target does not count.
    firings : iterable of FiringRecord, optional
        All firings: one without tiles is read by its witness cones alone.
    shelf : str, optional
        What this shelf does is told in place of the whole kiln, where enough firings say it.
    """
    now = _now(kiln, records, firings)
    key = name_key(shelf or "")
    missed = [each.missed[key] for each in now.read if shelf and key in each.missed]
    if len(missed) >= FEWEST_FIRINGS:
        return _usual(f"Shelf {shelf} of {kiln}", missed, now.since)
    return _usual(kiln, [each.of_kiln for each in now.read], now.since)


def mixed_of(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord], shelf: str
) -> Mixed | None:
    """What a shelf that has no habit does all the same too often to be left out; else None."""
    now, key = _now(kiln, records, firings), name_key(shelf)
    times = Counter(each.missed[key] for each in now.read if key in each.missed)
    many, missed = times.total(), times.total() - times[0]
    if many < FEWEST_FIRINGS or missed < max(FEWEST_MISSES, NOTED_SHARE * many):
        return None
    told = sorted(times.items(), key=lambda each: (not each[0], -each[1], each[0]))
    return Mixed(f"Shelf {shelf} of {kiln}", tuple(each for each in told if each[1]), now.since)


def shelf_misses(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord]
) -> list[Miss]:
    """How often each shelf missed its targets, the commonest miss first; none where all are alike.

    Parameters as of `habit_or_why_none`, whose words tell the same.
    """
    read = _now(kiln, records, firings).read
    return _misses(read) if len(read) >= FEWEST_FIRINGS else []


def habit_or_why_none(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord] = ()
) -> tuple[Habit | None, str]:
    """The habit of a whole kiln, as `habit_of`; where it has none, why not: as it is said."""
    now = _now(kiln, records, firings)
    habit = _usual(kiln, [each.of_kiln for each in now.read], now.since)
    return habit, "" if habit else _why_none(now.read)


def told_by_period(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord]
) -> list[tuple[Period, str]]:
    """What it did since its last change, and before that; none where no change is clear.

    Parameters as of `habit_or_why_none`.
    """
    found = periods(readings(kiln, records, firings))
    if len(found) == 1:
        return []
    return [(each, f"{_when(each)}: {_in_words(each.read)}") for each in reversed(found)]


def _when(period: Period) -> str:
    if period.until is None:
        return f"since {period.since}"
    return f"{period.since} to {period.until}" if period.since else f"until {period.until}"


def _in_words(read: Sequence[Reading]) -> str:
    """How often each shelf missed by how much, the commonest first; shelves alike told at once."""
    if all(len({*each.missed.values()}) == 1 for each in read):
        return _commonest([each.of_kiln for each in read], " glaze firings")
    alike: dict[tuple, list[str]] = defaultdict(list)
    for shelf, name in {key: name for each in read for key, name in each.shelves.items()}.items():
        alike[tuple(each.missed.get(shelf) for each in read)].append(name)
    told, of = [], " glaze firings"
    for steps, names in sorted(alike.items(), key=lambda each: (not any(each[0]), *each[1])):
        told.append(
            f"{_of_shelves(sorted(names))} {_commonest([s for s in steps if s is not None], of)}"
        )
        of = ""
    return "; ".join(told)


def _of_shelves(names: Sequence[str]) -> str:
    if len(names) == 1:
        return f"shelf {names[0]}" if names[0] else "no shelf noted:"
    *first, last = [name or "none noted" for name in names]
    return f"shelves {', '.join(first)} and {last}"


def _commonest(steps: Sequence[float], of: str) -> str:
    (cones, many), *rest = Counter(steps).most_common()
    others = [f"{_off(each)} in {often}" for each, often in rest]
    return ", ".join([f"{_off(cones)} in {many} of {len(steps)}{of}", *others])


def _now(kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord]) -> Period:
    """The firings since the last clear change; all of them where there was none."""
    return periods(readings(kiln, records, firings))[-1]


def _why_none(read: Sequence[Reading]) -> str:
    many = len(read)
    if many >= FEWEST_FIRINGS:
        return _by_shelf(read) or _by_target(read) or _by_miss(read)
    return (
        "whether it keeps to its targets cannot be told yet: it takes "
        f"{FEWEST_FIRINGS} glaze firings with a target and a cone read, and there "
        f"{'is' if many == 1 else 'are'} {many or 'none'}"
    )


def _by_shelf(read: Sequence[Reading]) -> str:
    """In how many firings every shelf was on target, and which were off; "" where all are alike."""
    told = [
        each.said() + (" where it was read" if each.shelf and each.read < len(read) else "")
        for each in _misses(read)
    ]
    right = sum(not any(each.missed.values()) for each in read)
    start = f"all that was read on target in {right} of {len(read)} glaze firings"
    return f"{start}: {', '.join(told)}" if told else ""


def _misses(read: Sequence[Reading]) -> list[Miss]:
    if all(len({*each.missed.values()}) == 1 for each in read):
        return []
    names = {shelf: name for each in read for shelf, name in each.shelves.items()}
    times = Counter(shelf for each in read for shelf in each.missed)
    off = Counter((shelf, by) for each in read for shelf, by in each.missed.items() if by)
    commonest = sorted(off.items(), key=lambda pair: (-pair[1], *pair[0]))
    return [Miss(names[shelf], cones, many, times[shelf]) for (shelf, cones), many in commonest]


def _by_target(read: Sequence[Reading]) -> str:
    """What it does for each target, where it misses one alike in two firings or more; else ""."""
    targets: dict[str, list[float]] = defaultdict(list)
    for each in read:
        targets[each.target].append(each.of_kiln)
    is_steady = all(len({*missed}) == 1 for missed in targets.values())
    off = [missed for missed in targets.values() if any(missed)]
    if not is_steady or min(map(len, off), default=1) == 1:
        return ""
    told, firings = [], " glaze firings"
    for target, missed in sorted(targets.items(), key=lambda each: (not each[1][0], -len(each[1]))):
        many = len(missed)
        told.append(f"{_off(missed[0])} in {many} of {many}{firings} for cone {target}")
        firings = ""
    return ", ".join(told)


def _by_miss(read: Sequence[Reading]) -> str:
    """In how many firings it was on target, and by how much it missed the others."""
    missed = Counter(each.of_kiln for each in read)
    right = missed.pop(0, 0)
    told = {0: f"on target in {right} of {len(read)} glaze firings"}
    told |= {cones: f"{_off(cones)} in {many}" for cones, many in missed.most_common()}
    if last := last_alike(read):
        cones, luck = last
        told[cones] += f" ({luck})"  # beside its own count: both may be as many
    return ", ".join(told.values())


def _off(cones: float) -> str:
    return f"{_more(cones)} than set" if cones else "on target"


def _usual(name: str, steps: Sequence[float], since: date | None) -> Habit | None:
    cones, alike = Counter(steps).most_common(1)[0] if steps else (0, 0)
    if not cones or len(steps) < FEWEST_FIRINGS or alike < USUAL_SHARE * len(steps):
        return None
    return Habit(name, cones, alike, len(steps), since)


def shelf_habits(
    kiln: str, firings: Iterable[FiringRecord], since: date | None = None
) -> list[ShelfHabit]:
    """The shelves that most glaze firings left hotter or cooler than all others, hottest first.

    Parameters
    ----------
    kiln : str
        Its name, whatever the capitals.
    firings : iterable of FiringRecord
        All firings; those with witness cones of two shelves or more count.
    since : date, optional
        Only those from this day on: that of the kiln's last change.
    """
    off: dict[str, list[float]] = defaultdict(list)
    others: dict[str, set[str]] = defaultdict(set)
    names: dict[str, str] = {}
    for firing in (each for each in firings if is_glaze_in(each, kiln) and _is_from(each, since)):
        read = [each for each in firing.witness_cones if each.shelf]
        names |= {name_key(each.shelf): each.shelf for each in read}
        steps = {name_key(each.shelf): step(each.cone) for each in read}
        for shelf, at in steps.items() if len(steps) > 1 else ():
            rest = [each for other, each in steps.items() if other != shelf]
            off[shelf].append(max(0, at - max(rest)) + min(0, at - min(rest)))
            others[shelf] |= steps.keys() - {shelf}
    found = []
    for shelf, steps in off.items():
        more, less = ([each for each in steps if each * way > 0] for way in (1, -1))
        alike = sorted(max(more, less, key=len), key=abs)
        if len(steps) >= FEWEST_FIRINGS and len(alike) >= USUAL_SHARE * len(steps):
            beside = tuple(names[each] for each in sorted(others[shelf]))
            counted = middle_of(alike), alike[0], alike[-1], len(alike), len(steps)
            found.append(ShelfHabit(names[shelf], beside, *counted))
    found.sort(key=lambda each: -each.cones)
    return found[:1] if len(off) == 2 else found  # of two shelves one sentence tells both


def firings_now(kiln: str, firings: Sequence[FiringRecord]) -> list[FiringRecord]:
    """Its glaze firings since the last clear change that their witness cones tell; else all."""
    since = _now(kiln, (), firings).since
    return [each for each in firings if is_glaze_in(each, kiln) and _is_from(each, since)]


def _is_from(firing: FiringRecord, since: date | None) -> bool:
    return since is None or (firing.fired_on is not None and firing.fired_on >= since)

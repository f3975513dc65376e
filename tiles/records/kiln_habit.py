"""How far from its target a kiln really fires, and each of its shelves from the others.

Source: common practice, no source: a kiln whose controller or cone sitter is off is off the same
way each time, which is what witness cones are for.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiles.chemistry.cones import CONES, cone_at, step, steps_between
from tiles.records.derived import cone_reached
from tiles.records.forms import FiringRecord, TileRecord
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

    ``kiln`` names it, or one of its shelves.
    """

    kiln: str
    cones: float
    alike: int
    read: int

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
            f"{self.read} glaze firings"
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

    ``times`` are how many firings by how many cones off, the commonest miss first.
    """

    shelf: str
    times: tuple[tuple[float, int], ...]

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
        told[0] += f" of {sum(many for _, many in self.times)} glaze firings"
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
        start = f"{_many(self.least)} to " if self.least != self.most else ""
        return (
            f"shelf {self.shelf} reached {start}{_more(self.most)} than {others} in {self.alike} "
            f"of {self.read} glaze firings"
        )


def _more(cones: float) -> str:
    return f"{_many(cones)} {'more' if cones > 0 else 'less'}"


def _many(cones: float) -> str:
    size = abs(cones)
    return "half a cone" if size == 0.5 else f"{size:g} cone{'s' * (size > 1)}"


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
    read = _read(kiln, records, firings)
    key = name_key(shelf or "")
    missed = [each.missed[key] for each in read if shelf and key in each.missed]
    if len(missed) >= FEWEST_FIRINGS:
        return _usual(f"Shelf {shelf} of {kiln}", missed)
    return _usual(kiln, [each.of_kiln for each in read])


def mixed_of(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord], shelf: str
) -> Mixed | None:
    """What a shelf that has no habit does all the same too often to be left out; else None."""
    read, key = _read(kiln, records, firings), name_key(shelf)
    times = Counter(each.missed[key] for each in read if key in each.missed)
    many, missed = times.total(), times.total() - times[0]
    if many < FEWEST_FIRINGS or missed < max(FEWEST_MISSES, NOTED_SHARE * many):
        return None
    told = sorted(times.items(), key=lambda each: (not each[0], -each[1], each[0]))
    return Mixed(f"Shelf {shelf} of {kiln}", tuple(each for each in told if each[1]))


def shelf_misses(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord] = ()
) -> list[Miss]:
    """How often each shelf missed its targets, the commonest miss first; none where all are alike.

    Parameters as of `habit_or_why_none`, whose words tell the same.
    """
    read = _read(kiln, records, firings)
    return _misses(read) if len(read) >= FEWEST_FIRINGS else []


def habit_or_why_none(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord] = ()
) -> tuple[Habit | None, str]:
    """The habit of a whole kiln, as `habit_of`; where it has none, why not: as it is said."""
    read = _read(kiln, records, firings)
    habit = _usual(kiln, [each.of_kiln for each in read])
    return habit, "" if habit else _why_none(read)


def _why_none(read: "Sequence[_Read]") -> str:
    many = len(read)
    if many >= FEWEST_FIRINGS:
        return _by_shelf(read) or _by_target(read) or _by_miss(read)
    return (
        "whether it keeps to its targets cannot be told yet: it takes "
        f"{FEWEST_FIRINGS} glaze firings with a target and a cone read, and there "
        f"{'is' if many == 1 else 'are'} {many or 'none'}"
    )


def _by_shelf(read: "Sequence[_Read]") -> str:
    """In how many firings every shelf was on target, and which were off; "" where all are alike."""
    told = [each.said() for each in _misses(read)]
    right = sum(not any(each.missed.values()) for each in read)
    start = f"every shelf read on target in {right} of {len(read)} glaze firings"
    return f"{start}: {', '.join(told)}" if told else ""


def _misses(read: "Sequence[_Read]") -> list[Miss]:
    if all(len({*each.missed.values()}) == 1 for each in read):
        return []
    names = {shelf: name for each in read for shelf, name in each.shelves.items()}
    times = Counter(shelf for each in read for shelf in each.missed)
    off = Counter((shelf, by) for each in read for shelf, by in each.missed.items() if by)
    commonest = sorted(off.items(), key=lambda pair: (-pair[1], *pair[0]))
    return [Miss(names[shelf], cones, many, times[shelf]) for (shelf, cones), many in commonest]


def _by_target(read: "Sequence[_Read]") -> str:
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


def _by_miss(read: "Sequence[_Read]") -> str:
    """In how many firings it was on target, and by how much it missed the others."""
    missed = Counter(each.of_kiln for each in read)
    right = missed.pop(0, 0)
    told = [f"{_off(cones)} in {many}" for cones, many in missed.most_common()]
    return ", ".join([f"on target in {right} of {len(read)} glaze firings", *told])


def _off(cones: float) -> str:
    return f"{_more(cones)} than set" if cones else "on target"


@dataclass(frozen=True)
class _Read:
    """A firing with its target, and how far each shelf ("" for none) missed it. [cone steps].

    ``shelves`` says how each is spelt.
    """

    target: str
    missed: dict[str, float]
    shelves: dict[str, str]

    @property
    def of_kiln(self) -> float:
        """What all shelves missed by; 0 where one was right, or some were over, others under."""
        steps = list(self.missed.values())
        return 0 if min(steps) <= 0 <= max(steps) else min(steps, key=abs)


def _read(kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord]) -> list[_Read]:
    """Each firing with a target of which a cone was read."""
    of_tiles: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    of_cones: dict[str, dict[str, float]] = defaultdict(dict)
    names: dict[str, dict[str, str]] = defaultdict(dict)
    known, targets = {}, {}
    for record in records:
        firing, reached = record.firing, cone_reached(record)
        if firing and reached and _is_of(firing, kiln):
            known[firing.name] = firing
            over = steps_between(firing.target_cone, reached.cone)
            shelf = name_key(record.shelf or "")
            of_tiles[firing.name][shelf].append(over)
            names[firing.name][shelf] = record.shelf or ""
    for firing in (*known.values(), *firings):
        for each in firing.witness_cones if _is_of(firing, kiln) else ():
            targets[firing.name] = firing.target_cone
            over = steps_between(firing.target_cone, each.cone)
            shelf = name_key(each.shelf or "")
            of_cones[firing.name][shelf] = over
            names[firing.name][shelf] = each.shelf or ""
    targets |= {name: firing.target_cone for name, firing in known.items()}
    return [
        _Read(
            targets[name],
            of_cones[name] | {shelf: _middle(overs) for shelf, overs in of_tiles[name].items()},
            names[name],
        )
        for name in dict.fromkeys((*of_tiles, *of_cones))
    ]


def _middle(steps: Sequence[float]) -> float:
    """The middle one; of two the smaller, so that hot and cold are judged alike."""
    ordered, last = sorted(steps), len(steps) - 1
    return min(ordered[last // 2], ordered[(last + 1) // 2], key=abs)


def _usual(name: str, steps: Sequence[float]) -> Habit | None:
    cones, alike = Counter(steps).most_common(1)[0] if steps else (0, 0)
    if not cones or len(steps) < FEWEST_FIRINGS or alike < USUAL_SHARE * len(steps):
        return None
    return Habit(name, cones, alike, len(steps))


def shelf_habits(kiln: str, firings: Iterable[FiringRecord]) -> list[ShelfHabit]:
    """The shelves that most glaze firings left hotter or cooler than all others, hottest first.

    Parameters
    ----------
    kiln : str
        Its name, whatever the capitals.
    firings : iterable of FiringRecord
        All firings; those with witness cones of two shelves or more count.
    """
    off: dict[str, list[float]] = defaultdict(list)
    others: dict[str, set[str]] = defaultdict(set)
    names: dict[str, str] = {}
    for firing in (each for each in firings if _is_glaze_in(each, kiln)):
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
            counted = _middle(alike), alike[0], alike[-1], len(alike), len(steps)
            found.append(ShelfHabit(names[shelf], beside, *counted))
    found.sort(key=lambda each: -each.cones)
    return found[:1] if len(off) == 2 else found  # of two shelves one sentence tells both


def _is_of(firing: FiringRecord, kiln: str) -> bool:
    return _is_glaze_in(firing, kiln) and firing.target_cone is not None


def _is_glaze_in(firing: FiringRecord, kiln: str) -> bool:
    return name_key(firing.kiln or "") == name_key(kiln) and firing.kind != "bisque"

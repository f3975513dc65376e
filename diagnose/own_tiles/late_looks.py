"""Which own tiles can tell that a fault did not come, where it may come months after the firing.

A tile last looked at a day after its firing is no proof against a fault that was first seen after
half a year. Everything that counts sound tiles asks here which of them tell.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from diagnose.measures.looks import UNLOADED_WITHIN_DAYS, saw
from diagnose.view import View
from diagnose.wording import DID, sentence
from tiles.records.derived import shows
from tiles.records.gone import telling_looks
from tiles.records.words import OF_FIT, name_key, same_name

if TYPE_CHECKING:
    from datetime import date

    from tiles.records.forms import AreaRecord, TileRecord

COMES_LATE = OF_FIT
"""Faults that can come while the ware stands on a shelf."""
LOOK_AGAIN_DAYS = 90
"""Where no own tile tells how late a fault comes, look again after so many days (estimate)."""
SOME_WEEKS = 28
"""However soon own tiles showed it, no look before so many days is the last one (estimate)."""
ABOUT_AS_LATE = 0.5
"""A look counts from so much of the days after which the fault is seen (estimate)."""


@dataclass(frozen=True, order=True)
class Came:
    """Between which days after its firing a fault came on a tile that had a look without it."""

    seen: int
    clean: int
    mark: str

    @property
    def said(self) -> str:
        """The same in words."""
        return f"on {self.mark} it came between {self.clean} and {self.seen} days after the firing"


@dataclass(frozen=True)
class Alone:
    """The only tile that showed a fault later than at unloading.

    Of a clay with other glazes on it as well that is no rule for all: it is told, and an early look
    at the others counts on. ``days`` are since its firing; where no day of that is on record, since
    its first look.
    """

    mark: str
    body: str
    days: int
    is_fired_on: bool

    def said(self, defect: str) -> str:
        """The same in words."""
        since = "the firing" if self.is_fired_on else "its first look"
        seen = f"late, seen {self.days} days after {since}"
        did = DID.get(defect, "failed")
        return f"on {self.body} {self.mark} alone {did} {seen}: one tile, no rule for the clay"


@dataclass(frozen=True)
class LateLooks:
    """After how many days own tiles showed a fault: the middle of them, 0 where at unloading.

    ``on`` holds the clays on which it was seen later than that, by their names, with their days;
    ``came`` the latest tile of each clay of which a clean look tells that it came later. Of the
    others a first look tells only by when: ``is_by_first_look`` where the middle is of those alone.
    ``days`` are those after which each tile showed it, in order. ``of_one`` are the clays of ``on``
    of which a single tile showed it; ``alone`` those of other clays that are no rule for them, and
    ``only`` the one of all that showed it late, where a single one did.
    """

    defect: str
    seen_after: int = 0
    on: Mapping[str, int] = field(default_factory=dict)
    came: Mapping[str, Came] = field(default_factory=dict)
    is_by_first_look: bool = False
    days: tuple[int, ...] = ()
    of_one: frozenset[str] = frozenset()
    alone: tuple[Alone, ...] = ()
    only: Alone | None = None

    def look_after_days(self, body: str) -> int:
        """When to look at a tile again before it is called sound, 0 for faults that come at once.

        As late as the fault is known to have come; that it was there by a first look does not tell
        how late it can come.
        """
        if self.defect not in COMES_LATE:
            return 0
        came = self._came_on(body)
        known = came.seen if came else 0
        return known if known >= SOME_WEEKS else max(LOOK_AGAIN_DAYS, self._seen_on(body))

    def came_between(self, body: str) -> str:
        """Between which days the latest of the clay came; empty where no clean look tells."""
        came = self._came_on(body)
        return came.said if came else ""

    def when_said(self, body: str) -> str:
        """By when own tiles showed it, and when to look again."""
        by = "there by the first look," if self.is_by_first_look else "seen on half by"
        by = f"on your tiles it was {by} {self.seen_after} days after the firing"
        told = "; ".join(filter(None, (by, self.came_between(body))))
        return f"{told}: it may come later, look again {self.look_after_days(body)} days after it"

    def _came_on(self, body: str) -> Came | None:
        """The latest on a clay; on one of which no tile tells, where it came late, as on all."""
        own = (came for name, came in self.came.items() if same_name(name, body))
        everywhere = max(self.came.values(), default=None) if self.seen_after else None
        return next(own, everywhere)

    def _seen_on(self, body: str) -> int:
        """After how many days it was seen on a clay; on one that never showed it as on all."""
        own = (days for name, days in self.on.items() if same_name(name, body))
        return next(own, self.seen_after)

    def tells(self, record: "TileRecord", area: "AreaRecord") -> bool:
        """Whether an inspected area has the fault, or was looked at late enough to tell of it."""
        needed = self.needed_on(record.body.name)
        if not needed or shows(record, area, self.defect):
            return True
        return looked_until(record) >= needed

    @property
    def said(self) -> str:
        """How late it was seen on all, and on which clays later than that."""
        days = {"": self.seen_after} if self.seen_after else {}
        days |= {f" on {body}": after for body, after in self.on.items()}
        (where, after), *more = days.items()
        is_one = len(self.days) == 1 or where.removeprefix(" on ") in self.of_one
        of = "the only" if is_one else "half of the"
        told = f"{of} {self.defect}{where} was seen by {after} days after the firing"
        return told + "".join(f",{place} by {after} days" for place, after in more)

    @property
    def within(self) -> str:
        """The days after the firing within which a look was too early, where several on clays."""
        days = {after for after in (self.seen_after, *self.on.values()) if after}
        return " or ".join(str(_needed(after)) for after in sorted(days))

    @property
    def tells_from(self) -> str:
        """From how many days after the firing on a look tells."""
        return f"a look tells from {self.within} days on"

    def needed_on(self, body: str) -> int:
        """From how many days after the firing on a look at a clay tells; 0 where any does."""
        return _needed(self._seen_on(body))

    def seen_by(self, day: int) -> float:
        """What part of the tiles that showed it had done so by a day after the firing."""
        return sum(each <= day for each in self.days) / len(self.days) if self.days else 0.0

    def needed_everywhere(self, bodies: Iterable[str]) -> int:
        """From how many days on a look at any of some clays tells; 0 where any does on all."""
        return max(map(self.needed_on, set(bodies)), default=0)

    def left_out(self, many: int, noun: str = "tile") -> str:
        """What is said of those that do not tell, and of tiles that alone are no rule.

        Empty where there are none.
        """
        told = [f"{each.said(self.defect)}." for each in self.alone]
        if many:
            nouns = noun if many == 1 else f"{noun}s"
            left = f"{many} sound {nouns}, last looked at within {self.within} days"
            told = [f"{self.said}: {left}, {'is' if many == 1 else 'are'} left out.", *told]
        return " ".join(map(sentence, told))


def _needed(seen_after: int) -> int:
    return round(seen_after * ABOUT_AS_LATE)


def late_looks(areas: "Iterable[tuple[TileRecord, AreaRecord]]", defect: str) -> LateLooks:
    """How late a fault came on some areas, and on which clays it came later than that.

    Where it is there at once on one clay, it may yet come months later on another.

    Parameters
    ----------
    areas : iterable of (TileRecord, AreaRecord)
        Those of one glaze, or of all that are compared.
    defect : str
        One word of the defect list; most faults are there when the kiln is opened.
    """
    if defect not in COMES_LATE:
        return LateLooks(defect)
    areas = list(areas)
    found: dict[str, tuple[int, int | None]] = {}
    clays: dict[str, tuple[str, dict[str, TileRecord]]] = {}
    for record, area in areas:
        days = _days_seen(record, area, defect)
        if days is not None:
            found[record.mark] = min(days, found.get(record.mark, days), key=lambda each: each[0])
            clay = clays.setdefault(name_key(record.body.name), (record.body.name, {}))
            clay[1][record.mark] = record
    seen = {mark: days for mark, (days, _) in found.items()}
    on_clay = dict(clays.values())
    after = _seen_after(seen.values())
    on = {name: _seen_after(seen[mark] for mark in marks) for name, marks in on_clay.items()}
    on = {name: days for name, days in on.items() if days > after}
    only = {name: _only_late(marks.values(), seen) for name, marks in on_clay.items()}
    alone = {name: only[name] for name in on if only[name] and not _is_of_one_glaze(areas, name)}
    came = {name: _latest(found, marks) for name, marks in on_clay.items()}
    return LateLooks(
        defect,
        after,
        {name: days for name, days in on.items() if name not in alone},
        {name: latest for name, latest in came.items() if latest},
        all(clean is None for days, clean in found.values() if days <= after),
        tuple(sorted(seen.values())),
        frozenset(name for name, marks in on_clay.items() if len(marks) == 1),
        tuple(alone.values()),
        _only_late([each for marks in on_clay.values() for each in marks.values()], seen),
    )


def _only_late(records: "Iterable[TileRecord]", seen: Mapping[str, int]) -> Alone | None:
    """The one of some tiles on which it was seen later than at unloading, if it is one alone."""
    late = [each for each in records if seen[each.mark] > UNLOADED_WITHIN_DAYS]
    if len(late) != 1:
        return None
    (one,) = late
    return Alone(one.mark, one.body.name, seen[one.mark], _fired_on(one) is not None)


def _is_of_one_glaze(areas: "Iterable[tuple[TileRecord, AreaRecord]]", body: str) -> bool:
    """Whether all areas on a clay are judged by one glaze, of which a single tile may well tell."""
    on_clay = (View(*each) for each in areas if same_name(each[0].body.name, body))
    return len({name_key(each.glaze_name or "") for each in on_clay}) == 1


def _latest(found: Mapping[str, tuple[int, int | None]], marks: Iterable[str]) -> Came | None:
    """The latest of some tiles among those with a look that did not show it yet."""
    each = ((mark, *found[mark]) for mark in marks)
    dated = (Came(seen, clean, mark) for mark, seen, clean in each if clean is not None)
    return max(dated, default=None)


def _seen_after(days: Iterable[int]) -> int:
    """The middle of some days, 0 where that is at unloading."""
    usual = middle(sorted(days))
    return usual if usual > UNLOADED_WITHIN_DAYS else 0


def middle(days: list[int]) -> int:
    """The median, 0 of none; ``statistics`` would take longer to load than it saves."""
    return (days[(len(days) - 1) // 2] + days[len(days) // 2]) // 2 if days else 0


def _days_seen(
    record: "TileRecord", area: "AreaRecord", defect: str
) -> tuple[int, int | None] | None:
    """Days to the first look that saw it, and to the last before that; None of what is not known.

    Without a day of firing none tells when it came, only how long after the first look.
    """
    seen = [look.inspected_on for look in record.inspections if saw(look, area, defect)]
    fired_on = _fired_on(record)
    if not seen or (fired_on is None and min(seen) == _start(record)):
        return None
    first = min(seen)
    days = (first - _start(record)).days
    if fired_on is None:
        return days, None
    before = [each.inspected_on for each in record.inspections if each.inspected_on < first]
    return days, max(((day - fired_on).days for day in before if day >= fired_on), default=None)


def looked_until(record: "TileRecord") -> int:
    """Days from the firing to the last look; from the first look where no firing day is known."""
    last = max(look.inspected_on for look in telling_looks(record) or record.inspections)
    return (last - _start(record)).days


def looked_said(days: "Iterable[int]") -> str:
    """How long after their firing some tiles were last looked at.

    Examples
    --------
    >>> looked_said([2, 1, 2]), looked_said([1])
    ('1 to 2 days after the firing', '1 day after the firing')
    """
    each = sorted(set(days))
    span = " to ".join(str(day) for day in dict.fromkeys((each[0], each[-1])))
    return f"{span} day{'' if each[-1] == 1 else 's'} after the firing"


def again_said(days: int) -> str:
    """When to look again, as late as own tiles showed a fault, and where that is soon once more.

    Of those that showed it half did later, and a glaze may hold longer than a few tiles tell.

    Examples
    --------
    >>> again_said(4), again_said(181)
    ('4 days after the firing, and after 90', '181 days after the firing')
    """
    usual = f", and after {LOOK_AGAIN_DAYS}" if days < LOOK_AGAIN_DAYS else ""
    return f"{days} day{'' if days == 1 else 's'} after the firing{usual}"


def _fired_on(record: "TileRecord") -> "date | None":
    return record.firing.fired_on if record.firing else None


def _start(record: "TileRecord") -> "date":
    """The day of the firing, of the first look where it is not known."""
    return _fired_on(record) or min(look.inspected_on for look in record.inspections)


def later_looks(records: "Sequence[TileRecord]") -> str:
    """How many of some inspected tiles were looked at again after months; empty where all were."""
    days = [looked_until(each) for each in records]
    late = sum(each >= LOOK_AGAIN_DAYS for each in days)
    if late == len(days):
        return ""
    if late:
        return f"{late} of them looked at {LOOK_AGAIN_DAYS} days after the firing or later"
    latest = max(days)
    if latest <= 0:
        return "no later look on record"
    return f"none looked at later than {latest} day{'' if latest == 1 else 's'} after the firing"

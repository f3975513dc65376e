"""Own tiles that are alike but for one recorded thing and came out without the fault.

Nobody planned them as trials, so they are told and tried first by `tiles next`, and weigh nothing:
most faults do not come each time, and one sound tile may be luck.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.colour_layer import judged
from diagnose.comparing.factors import (
    BARE_CLAY,
    COUNTED_IN_COATS,
    Factor,
    Value,
    factor_named,
)
from diagnose.fixes.shapes import BISQUE_CONE, COATS, DRY_COAT, HOLD, NOT_RECORDED, OPENED
from diagnose.next_tiles.odds import late_on
from diagnose.own_tiles.areas import judged_as
from diagnose.own_tiles.occasions import lies_in
from diagnose.own_tiles.one_thing import NAMED, THICKNESS, are_alike, one_thing, same
from diagnose.view import View
from tiles.chemistry import cones
from tiles.records.derived import defects_on, shows
from tiles.records.gone import telling_looks
from tiles.records.words import OTHER_FAULT

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fixes.bench import Step
    from diagnose.fixes.shapes import Change
    from diagnose.rules import Cause
    from tiles.records.forms import AreaRecord, TileRecord

_TURNS = {
    "coats": (COATS, DRY_COAT),
    THICKNESS: (COATS, DRY_COAT),
    "bisque cone": (BISQUE_CONE,),
}
"""Which changes, by `Change.what`, go the way in which one of these rises or falls."""
_EDITED = {
    "body": "body",
    "coats": "coats",
    "coats under": "colour_coats",
    "under put on": "colour_on",
    "bisque cone": "bisque_cone",
    "batch": "batch",
    "kiln": "kiln",
    "beneath": "beneath",
    "under": "under",
    "over": "glaze",
    "coats over": "coats",
    "recipe": "recipe",
}


@dataclass(frozen=True)
class Twin:
    """The tiles in which this one thing differs alike, by mark: none has the fault.

    ``is_clean`` says that none has another fault either, ``defect`` is the fault. ``named`` are the
    marks with the area that is alike, where elsewhere on the tile something was seen. Of other
    coats, or of as many, ``thicker`` is 1 or -1 where their dry coat is thicker or thinner, 0 where
    it is alike, None where it is not known; of other coats ``mm`` says how thick where it differs.
    """

    factor: str
    value: Value
    marks: tuple[str, ...]
    defect: str
    is_clean: bool
    named: tuple[str, ...]
    thicker: int | None = None
    mm: tuple[float, ...] = ()

    @property
    def is_of_handling(self) -> bool:
        """Whether they differ in a clue: how the tile was handled."""
        return self.factor not in NAMED

    @property
    def said(self) -> str:
        """How they came out."""
        if self.is_clean:
            return "came out clean"
        fault = "such fault" if self.defect == OTHER_FAULT else self.defect
        return f"{'has' if len(self.marks) == 1 else 'have'} no {fault}"

    @property
    def say(self) -> str:
        """In a sentence."""
        from diagnose.wording import listed

        what, are = self._what, "is" if len(self.marks) == 1 else "are"
        is_named = what.startswith("what ") or self.is_of_handling
        what = what if is_named else f"the {what}"
        alike = f"{listed(self.named)} {are} alike but for {what}, {self._spoken}"
        return f"{alike}, and {self.said}."

    @property
    def in_short(self) -> str:
        """Their marks, and what differs."""
        what = self._what
        colon = ":" if what.startswith("what ") or self.mm else ""
        return f"{', '.join(self.named)} ({what}{colon} {self._spoken})"

    @property
    def _what(self) -> str:
        """What differs; coats and their thickness are one thing, the coat."""
        return "coat" if self.mm else _factor(self.factor).said

    @property
    def _spoken(self) -> str:
        of = _factor(self.factor)
        if self.mm:
            mm = " to ".join(f"{each:g}" for each in sorted({min(self.mm), max(self.mm)}))
            return f"{of.spoken(self.value)} of {mm} mm in all"
        is_plain = of.kind == "cone" or of.name in COUNTED_IN_COATS
        return str(self.value) if is_plain else of.spoken(self.value)

    def is_made_by(self, made: "Step") -> bool:
        """Whether a change makes of the failed tile what these are."""
        if self.thicker is not None and not self.goes_the_way_of(made):
            return False
        if self.factor == THICKNESS:
            return any(_is_as_thick(each, self.value) for each in made.changes[:1])
        if self.factor == "hold":
            return any((each.what, each.after) == (HOLD, self.value) for each in made.changes)
        if self.factor == "opened":
            return any(each.what == OPENED and self.value <= each.after for each in made.changes)
        if self.factor == "under" and self.value == BARE_CLAY:
            return bool(made.edit.get("bare"))
        edit = made.edit.get(_EDITED.get(self.factor, self.factor))
        if self.factor == "recipe" and edit is not None:
            return str(self.value).endswith(f" v{edit.version}")
        return edit == self.value

    def goes_the_way_of(self, made: "Step") -> bool:
        """Whether their dry coat differs the way in which a change takes the coat, if any."""
        turns = _TURNS["coats"]
        ways = [_rise(each.before, each.after) for each in made.changes[:1] if each.what in turns]
        return self.thicker in ways and bool(self.thicker)


def twins(case: "Case", others: "Sequence[TileRecord]") -> "tuple[Twin, ...]":
    """The sound twins of a failed tile, the most of a kind first.

    None where tiles made just like it came out sound as often as not: the fault comes by luck.

    Parameters
    ----------
    case : Case
        The failed tile.
    others : sequence of TileRecord
        Own tiles but for those trials.
    """
    own = judged(case.view)
    if own.glaze_name is None:
        return ()
    as_it_was, found = [True], {}
    for other, there in _looked_at(case, own, others):
        differs = one_thing(own, judged(View(other, there, case.defect)))
        if differs is None:
            continue
        failed = shows(other, there, case.defect)
        if not differs:
            as_it_was.append(failed)
            continue
        differs = (*differs, _thicker(differs[0], own, judged(View(other, there, case.defect))))
        found.setdefault(differs, []).append((failed, other, there))
    if 2 * sum(as_it_was) <= len(as_it_was):
        return ()
    failing = [of for of, tiles in found.items() if any(failed for failed, *_ in tiles)]
    kept = {
        of: tiles for of, tiles in found.items() if not any(_may_be_so(of, as_) for as_ in failing)
    }
    return tuple(sorted(_told(case, kept), key=lambda each: -len(each.marks)))


def bearing_on(case: "Case", cause: "Cause") -> "list[Twin]":
    """The twins made as a remedy of a cause makes them, without it, or without a sign of it."""
    from diagnose.fixes.bench import Bench
    from diagnose.fixes.steps import makers

    if not case.twins:
        return []
    bench = Bench(case.view, cause.name, case.setting)
    made = [step for make in makers(bench) if (step := make(bench))]
    made = [step for step in made if step.key != "bisque_first"]  # no other bisque: one at all
    return [
        each
        for each in case.twins
        if lies_in(each.factor, cause)
        or _rests_on(cause, each)
        or any(each.is_made_by(step) or each.goes_the_way_of(step) for step in made)
    ]


def speaking_against(case: "Case", cause: "Cause") -> "list[Twin]":
    """The twins made further from a cause's first remedy than the failed tile, and sound.

    A coat more than on one that would be too thick, a cooler bisque than on one too cool.
    """
    from diagnose.fixes.bench import Bench
    from diagnose.fixes.steps import steps_for

    steps = steps_for(Bench(case.view, cause.name, case.setting))[:1] if case.twins else []
    own = judged(case.view)
    return [
        each
        for each in case.twins
        for change in (change for step in steps for change in step.changes[:1])
        if change.what in _TURNS.get(each.factor, ())
        and _turn(own, each) == -_rise(change.before, change.after) != 0
    ]


def _turn(own: View, twin: Twin) -> int:
    """As `_rise`, from a failed tile to its twins; of coats by how thick they are where known."""
    if twin.thicker is not None:
        return twin.thicker
    return _rise(_factor(twin.factor).read(own), twin.value)


def _thicker(name: str, own: View, other: View) -> int | None:
    """Whether the coat is thicker than one's own, where that or its coats are what differs.

    None where one of the two is not measured.
    """
    of = NAMED[THICKNESS]
    here, there = of.read(own), of.read(other)
    if name not in ("coats", THICKNESS) or here is None or there is None:
        return None
    return 0 if are_alike(of, here, there) else _rise(here, there)


def _is_as_thick(change: "Change", mm: float) -> bool:
    """Whether a change makes the dry coat as thick as this, in mm."""
    return change.what == DRY_COAT and are_alike(NAMED[THICKNESS], change.after, mm)


def _may_be_so(one: tuple, other: tuple) -> bool:
    """Whether they differ in the same, as far as the thickness is known of both."""
    is_known = one[2] is not None and other[2] is not None
    return one[:2] == other[:2] and (one[2] == other[2] or not is_known)


def _rise(before: Value, after: Value) -> int:
    """1 where there is more after, or a hotter cone; -1 where less; 0 where none can tell."""
    if isinstance(before, str) and isinstance(after, str):
        before, after = cones.step(before), cones.step(after)
    if before is None or after is None or isinstance(before, str) or isinstance(after, str):
        return 0
    return (after > before) - (after < before)


def untried_twins(
    case: "Case", others: "Sequence[TileRecord]", trials: "Sequence[TileRecord]"
) -> "tuple[Twin, ...]":
    """The twins but for those of which a trial that was looked at has tested the one thing."""
    fired = [
        judged(View(each, each.areas[0], case.defect))
        for each in trials
        if telling_looks(each) and each.areas
    ]
    return tuple(
        each
        for each in twins(case, others)
        if not any(same(_factor(each.factor).read(trial), each.value) for trial in fired)
    )


def _factor(name: str) -> Factor:
    return NAMED.get(name) or factor_named(name)


def _rests_on(cause: "Cause", twin: Twin) -> bool:
    """Whether the answer that the failed tile has to a clue, and its twins have not, is a sign."""
    own = "no" if twin.value == "yes" else "yes"
    return twin.is_of_handling and any(
        sign.measure == twin.factor and own in sign.counts_if for sign in cause.signs
    )


def _told(case: "Case", found: "Mapping[tuple, list]") -> Iterator[Twin]:
    for (name, value, thicker), tiles in found.items():
        areas: dict[str, list[AreaRecord]] = {}
        for _, other, there in tiles:
            areas.setdefault(other.mark, []).append(there)
        by_mark = {other.mark: other for _, other, _ in tiles}
        is_clean = not any(defects_on(other, there) for _, other, there in tiles)
        named = tuple(_named(by_mark[mark], alike) for mark, alike in areas.items())
        mm = [NAMED[THICKNESS].read(judged(View(*each, case.defect))) for _, *each in tiles]
        mm = tuple(mm) if thicker and name == "coats" else ()
        yield Twin(name, value, tuple(areas), case.defect, is_clean, named, thicker, mm)


def _named(record: "TileRecord", alike: "Sequence[AreaRecord]") -> str:
    """The mark, and its areas where not they alone would be called sound by it."""
    from diagnose.wording import listed

    numbers = [area.number for area in alike]
    if not any(defects_on(record, area) for area in record.areas if area.number not in numbers):
        return record.mark
    return f"{record.mark} area{'s' if len(numbers) > 1 else ''} {listed(list(map(str, numbers)))}"


def _looked_at(
    case: "Case", own: View, others: "Sequence[TileRecord]"
) -> "Iterator[tuple[TileRecord, AreaRecord]]":
    """The areas judged by the same glaze that were looked at, late enough for the fault to show."""
    late = late_on(case, others)
    for other, there in judged_as(own.glaze_name, others, case.defect):
        if other.mark == case.record.mark or _by_hand(other) != _by_hand(case.record):
            continue
        if late.tells(other, there):
            yield other, there


def _by_hand(record: "TileRecord") -> str | None:
    """The change of a trial that no field of its record shows, such as stirring."""
    change = record.trial_change
    return change if change and change.endswith(NOT_RECORDED) else None

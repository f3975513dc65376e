"""What sets failing areas of a glaze, or of all, apart from sound ones, and what chance would do.

Each fact is cut where it parts them most, which is allowed for exactly. The questions that every
potter asks first are few and are judged among themselves; every other fact is judged among all.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from diagnose.comparing import exact_test
from diagnose.comparing.comparison_words import CLEAR, HINT, all_others, by_luck, not_recorded_on
from diagnose.comparing.counted import (
    COLOUR_BENEATH,
    DAY,
    Counted,
    Fact,
    Sides,
    facts_of,
    failed_and_all,
    most_uneven,
)
from diagnose.comparing.fact_words import ANOTHER, GAPS
from diagnose.comparing.since_when import with_day
from diagnose.own_tiles.layer import ABOVE, COATS_ABOVE, PAIR, TOGETHER
from diagnose.vocabulary import kind_of, measure_words
from diagnose.wording import DID

ASKED_FIRST = ("body", "coats", "thickness_mm", "cones_over_target", "cones_over_label", "under",
               "colour_applied_on", ABOVE, COATS_ABOVE, TOGETHER, "batch")  # fmt: skip
"""The clay, the coat, over or under its cone, what lies beneath and over it, the batch. With the
rest judged among all, chance makes a difference seem clear on less than one glaze in ten."""
ASKED_OF_ALL = ("glaze", "body", "coats", "thickness_mm", "cones_over_target", "cones_over_label",
                "under", PAIR, "bisque_cones_below_04", "bisque firing")  # fmt: skip
"""The same over tiles of all glazes."""
OCCASIONS = ("firing", "bisque firing")
"""Where what is recorded of a firing parts the areas alike, that is told and not its name."""
MADE_WITH = ("kiln", "shelf", "cone_reached", *ASKED_FIRST)
"""What may part areas just as a fact does and is told beside it; the rest follows from these."""
TILES = "tiles"
"""What is counted: areas of one tile do not tell of two firings."""


@dataclass(frozen=True)
class Difference:
    """One fact that splits the tiles in two, and how many failed on either side.

    A tile counts once on each side on which it has an area.

    ``p_value``: how often chance alone would split them at least as unevenly (Fisher's exact
    test, two-sided). ``p_value_of_best`` allows for the other cuts of the fact and for the other
    facts looked at beside it; it is the honest one. ``unknown`` counts the tiles of which the
    fact is not recorded. ``along`` says in what else these tiles differ alike, as far as both are
    recorded, where that is clear or a hint.
    """

    fact: str
    unit_of_count: str
    with_failed: int
    with_all: int
    without_failed: int
    without_all: int
    p_value: float
    p_value_of_best: float
    say: str
    unknown: int = 0
    along: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The fact without its cut."""
        return self.fact.partition(" (")[0]

    def cut_among(self, facts: "Mapping[str, Sequence[Fact]]") -> Fact | None:
        """Its cut among those of all facts; None where they hold no such one."""
        cuts = facts.get(self.name, ())
        return next((each for each in cuts if _with_cut(self.name, each) == self.fact), None)

    @property
    def with_(self) -> tuple[int, int]:
        """Failed and all tiles of which the fact holds."""
        return self.with_failed, self.with_all

    @property
    def without(self) -> tuple[int, int]:
        """Failed and all tiles of which it does not."""
        return self.without_failed, self.without_all

    @property
    def is_firm(self) -> bool:
        """Whether it is larger than chance would make it."""
        return self.p_value_of_best < CLEAR

    @property
    def is_hint(self) -> bool:
        """Whether it is worth a test, though chance may have made it."""
        return CLEAR <= self.p_value_of_best < HINT


def clear_facts(found: Sequence[Difference]) -> list[Difference]:
    """Those that are clear beyond chance, but for the day of the firing, which is no cause."""
    return [each for each in found if each.is_firm and each.name != DAY]


def _with_cut(name: str, cut: Fact) -> str:
    return f"{name} ({cut.said})"


@dataclass(frozen=True)
class _Cut:
    """One cut of a fact: failed and all on either side, and how often chance parts them so."""

    fact: Fact
    sides: Sides

    @property
    def with_(self) -> tuple[int, int]:
        return self.sides.tiles[0]

    @property
    def without(self) -> tuple[int, int]:
        return self.sides.tiles[1]

    @property
    def p_value(self) -> float:
        return self.sides.p_value


@dataclass(frozen=True)
class _Parted:
    """One fact at its most uneven cut.

    ``chance`` allows for all its cuts, ``least`` is the smallest that so few tiles could show.
    ``values`` and ``sides`` say which areas are alike in the fact, and which on one side of the
    cut: other facts may part them in the same way. ``every`` are the sides of all its cuts.
    ``unknown`` is how many tiles are blank in the fact. ``twins`` are facts with the same values.
    """

    name: str
    cut: _Cut
    chance: float
    least: float
    values: frozenset[frozenset[int]]
    sides: frozenset[frozenset[int]]
    every: frozenset[frozenset[frozenset[int]]]
    unknown: int
    twins: "tuple[_Parted, ...]" = ()


def differences(
    areas: Sequence[Counted],
    defect: str,
    asked_first: Sequence[str] = ASKED_FIRST,
    with_early: Sequence[Counted] = (),
) -> list[Difference]:
    """Every fact in which the areas differ, the most telling first; the same fact is told once.

    Areas of one tile with the same value of a fact count once: they do not tell of two firings.
    ``with_early`` are the same and the sound ones that were looked at too early to tell: those that
    failed as early are among the areas, so a difference must hold with these counted in as well.
    """
    found = _found(areas, asked_first)
    counted_in = {each.name: (chance, each) for chance, each in _found(with_early, asked_first)}
    found = [
        (1.0 if _turns_round(each, with_early) else max(chance, counted_in[each.name][0]), each)
        if each.name in counted_in
        else (chance, each)
        for chance, each in found
    ]
    recorded = [each for _, each in found if each.name not in (*OCCASIONS, DAY)]
    verb = DID.get(defect, "failed")
    told: set = set()
    kept = []
    for chance, each in sorted(found, key=_most_telling):
        if each.name == DAY:
            continue
        if each.name in OCCASIONS and any(each.sides in other.every for other in recorded):
            continue
        same = {each.sides, *_kinds(each.name)}
        if each.cut.p_value < 1 and not same & told:
            _, early = counted_in.get(each.name, (0.0, None))
            told_of = _difference(each, chance, verb, each.name in asked_first, early)
            kept.append((each, told_of))
        elif each.name in MADE_WITH:
            kept = [(_as_split(one, each), its) for one, its in kept]
        told |= same
    plain = [(replace(its, along=_along(each, kept)), each.cut.fact) for each, its in kept]
    for chance, each in found:
        if each.name == DAY:
            early = counted_in.get(DAY, (0.0, None))[1]
            its = _difference(each, chance, verb, tells_blanks=False, with_early=early)
            return with_day(plain, (its, each.cut.fact), areas)
    return [its for its, _ in plain]


def _turns_round(parted: _Parted, every: Sequence[Counted]) -> bool:
    """Whether those that failed more often failed less, were some more areas counted in."""
    known = [(parted.cut.fact.has(each.values[parted.name]), each) for each in every
             if parted.name in each.values]  # fmt: skip
    sides = ([each for here, each in known if here is side] for side in (True, False))
    (failed, many), (others_failed, others) = map(failed_and_all, sides)
    (here, of_here), (there, of_there) = parted.cut.with_, parted.cut.without
    before = here * of_there - there * of_here
    return before * (failed * others - others_failed * many) < 0


def _as_split(one: _Parted, other: _Parted) -> _Parted:
    """A fact with another that parts the very same areas told beside it: either may be why."""
    kinds = frozenset().union(*(_kinds(each.name) for each in (one, *one.twins)))
    if one.sides != other.sides or kinds & _kinds(other.name):
        return one
    return replace(one, twins=(*one.twins, other))


def _most_telling(found: tuple[float, _Parted]) -> tuple:
    """What chance gives least; of facts that tell as much the plainer one."""
    chance, each = found
    return chance, each.chance, each.name in GAPS


def _along(one: _Parted, kept: Sequence[tuple[_Parted, Difference]]) -> tuple[str, ...]:
    """The other clear facts and hints that part the tiles alike, on the side that fails more."""
    alike = list(one.twins)
    for other, found in kept:
        if other is not one and found.p_value_of_best < HINT and _part_alike(one, other):
            alike += [other, *other.twins]
    return tuple(dict.fromkeys(_failing_side(each.cut) for each in alike))


def _part_alike(one: _Parted, other: _Parted) -> bool:
    both = frozenset().union(*one.sides) & frozenset().union(*other.sides)
    sides, others = ({side & both for side in each.sides} for each in (one, other))
    return sides == others and frozenset() not in sides


def _failing_side(cut: _Cut) -> str:
    is_without = exact_test.fails_more(cut.without, cut.with_)
    return cut.fact.otherwise_in_full if is_without else cut.fact.in_full


def _found(areas: Sequence[Counted], asked_first: Sequence[str]) -> list[tuple[float, _Parted]]:
    """Each fact in which areas differ, with the chance that allows for all looked at beside it."""
    facts = facts_of(list(areas), lambda name: name != "glaze" or name in asked_first)
    place, many = {name: at for at, name in enumerate(asked_first)}, len(asked_first)
    same: dict[tuple[frozenset, bool], list[_Parted]] = {}

    def plain_first(name: str) -> tuple:
        return place.get(name, many), name in OCCASIONS, name in GAPS, name

    for name in sorted(facts, key=plain_first):
        each = _parted(name, facts[name], areas)
        if each:
            same.setdefault((each.values, name == DAY), []).append(each)
    parted = [replace(first, twins=_twins(first, rest)) for first, *rest in same.values()]
    asked = [each for each in parted if each.name in asked_first]
    many_asked, many = _looked_at(asked), _looked_at(parted)
    return [
        (min(1.0, each.chance * (many_asked if each.name in asked_first else many)), each)
        for each in parted
    ]


def _twins(first: _Parted, rest: Sequence[_Parted]) -> tuple[_Parted, ...]:
    """Of the facts with the same values those that a person chose, each kind once."""
    told, twins = _kinds(first.name), []
    for each in rest:
        if each.name in MADE_WITH and not told & _kinds(each.name):
            told |= _kinds(each.name)
            twins.append(each)
    return tuple(twins)


def _kinds(name: str) -> frozenset[str]:
    """What several facts tell alike: the cone reached, however it is counted; what is beneath.

    What shares the area in either order is what lies beneath or over it.
    """
    if name in (TOGETHER, PAIR):
        return frozenset(("under", ABOVE))
    if name in COLOUR_BENEATH:
        return frozenset(("under",))
    return frozenset([(kind_of(name) if name in measure_words() else "") or name])


def _looked_at(facts: Sequence[_Parted]) -> int:
    """How many facts could have seemed clear by luck: those of too few tiles do not count.

    R. E. Tarone, A modified Bonferroni method for discrete data, Biometrics 46 (1990) (from
    memory).
    """
    many = 1
    while sum(each.least < CLEAR / many for each in facts) > many:
        many += 1
    return many


def _parted(name: str, cuts: Sequence[Fact], areas: Sequence[Counted]) -> _Parted | None:
    """The most uneven cut of a fact; None where all areas are alike in it."""
    by_value: dict[float | str, list[int]] = {}
    for at, area in enumerate(areas):
        if name in area.values:
            by_value.setdefault(area.values[name], []).append(at)
    values: dict[tuple[bool, ...], set[int]] = {}
    for value, alike in by_value.items():
        values.setdefault(tuple(cut.has(value) for cut in cuts), set()).update(alike)
    if len(values) < 2:
        return None
    counts = {sides: failed_and_all(areas[at] for at in values[sides]) for sides in sorted(values)}
    chance, least = exact_test.best_cut(list(counts.values()), is_ordered=cuts[0].is_number)
    parted = [(at, _cut(at, fact, values, areas)) for at, fact in enumerate(cuts)]
    at, cut = most_uneven(parted, lambda pair: pair[1].sides)
    known = frozenset().union(*values.values())
    every = []
    for each in range(len(cuts)):
        here = frozenset().union(*(found for sides, found in values.items() if sides[each]))
        every.append(frozenset((here, known - here)))
    marks = {areas[each].record.mark for each in known}
    blank = {each.record.mark for at, each in enumerate(areas) if at not in known}
    return _Parted(
        name,
        cut,
        # By value a tile of several areas may count more often than by side: too sure, alone.
        max(chance, cut.p_value),
        least,
        frozenset(map(frozenset, values.values())),
        every[at],
        frozenset(every),
        len(blank - marks),
    )


def _cut(
    at: int, fact: Fact, values: dict[tuple[bool, ...], set[int]], areas: Sequence[Counted]
) -> _Cut:
    """The tiles on either side: one whose areas lie on both counts on both."""
    here, there = (
        [areas[each] for sides, of in values.items() if sides[at] is side for each in of]
        for side in (True, False)
    )
    return _Cut(fact, Sides(here, there))


def _difference(
    parted: _Parted, chance: float, verb: str, tells_blanks: bool, with_early: _Parted | None
) -> Difference:
    cut = parted.cut
    told = _side_by_side(cut, f"{TILES} {verb}", parted.unknown, tells_blanks)
    if with_early and with_early.cut.fact.said == cut.fact.said:
        told += f"; with the early looks {_in_order(with_early.cut)}"
    say = f"{told} ({by_luck(chance, 'all taken together')})."
    fact, sides = _with_cut(parted.name, cut.fact), (*cut.with_, *cut.without)
    return Difference(fact, TILES, *sides, cut.p_value, chance, say, parted.unknown)


def _in_order(cut: _Cut) -> str:
    """The counts of both sides in the order in which they are told."""
    sides = [f"{failed} of {many}" for failed, many in (cut.with_, cut.without)]
    return " and ".join(reversed(sides) if cut.fact.is_number else sides)


def _side_by_side(parted: _Cut, what: str, blank: int, tells_blanks: bool) -> str:
    """Both sides with their counts: ``with 2 coats or fewer: 0 of 9 tiles crawled; ...``.

    On how many the fact is ``blank`` goes with "all others" always: else these were not all.
    """
    cut = parted.fact
    with_, without = (f"{failed} of {many}" for failed, many in (parted.with_, parted.without))
    if cut.otherwise.startswith(ANOTHER):
        others = all_others(parted.without, blank)
        return f"{cut.said.removeprefix('with ')}: {with_} {what}; {others}"
    left_out = not_recorded_on(blank) if tells_blanks else ""
    if cut.is_number:
        return f"{cut.otherwise}: {without} {what}; {cut.said}: {with_}{left_out}"
    one, other = (each.removeprefix("with ") for each in (cut.said, cut.otherwise))
    return f"{one}: {with_} {what}; {other}: {without}{left_out}"

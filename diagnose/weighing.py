"""Log-odds arithmetic: from priors and signs to the share of each cause.

For one cause::

    log odds = ln(prior share) + bonus + support - opposition + expected
    support  = strongest sign for + half of the next strongest
    opposition = the same over the signs against
    expected = the same over what its facts do to this fault in general (``curves``)

Signs of one cause are parts of one argument, so a third sign adds nothing. The shares are the
exponentials of the log odds divided by their sum, with "something not in this list" as one more
candidate that has a prior and no signs. A sign whose measure was not recorded counts nowhere; one
read from a free-text note, or seen on another tile, counts in part. The bonus is for a cause that
would explain further defects of the same tile (see ``together.py``) and is nought for a tile with
one.
"""

import math
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.curves import by_fact, one_fact, told_by
from diagnose.vocabulary import holds_word, is_asked

if TYPE_CHECKING:
    from diagnose.measures.of_area import Measure
    from diagnose.rules import Cause, RuleBook, Sign


OTHER = "something not in this list"
LEAST_PRIOR = 0.1
"""No prior [%] counts as less: evidence must be able to raise any cause."""
RULED_OUT = 1.0
"""A cause is ruled out when what speaks against it outweighs its support by this (log-odds)."""
HARDLY = 0.5
"""What supports by no more is hardly a fact and names no suspect by itself (estimate, log-odds)."""
IN_GENERAL = 0.75
"""What the facts of a cause do to the fault in general counts so much of it (estimate)."""


@dataclass(frozen=True)
class Argument:
    """One sign with the measure that meets it and the log-odds weight it carries here.

    ``full`` is the weight of the sign when it is met in full, ``grade`` how far it is met (0 to 1).
    """

    sign: "Sign"
    measure: "Measure"
    full: float
    grade: float

    @property
    def weight(self) -> float:
        """Full weight, times how far the sign is met, times trust."""
        return self.full * self.grade * self.measure.trust


@dataclass(frozen=True)
class Weighed:
    """One cause (None: something not in the list) with its evidence and its share.

    ``in_general`` tells what each recorded fact that it rests on does to this fault in general
    [log-odds], ``own`` what the user's own tiles add to its log odds; 0 where they were not asked.
    """

    cause: "Cause | None"
    prior: float
    for_: tuple[Argument, ...]
    against: tuple[Argument, ...]
    missing: tuple["Sign", ...]
    log_odds: float
    share: float
    bonus: float = 0.0
    in_general: tuple[tuple[str, float], ...] = ()
    own: float = 0.0

    @property
    def name(self) -> str:
        """Name of the cause; "" for one that is not in the list."""
        return self.cause.name if self.cause else ""

    @property
    def title(self) -> str:
        """The cause in words."""
        return self.cause.title if self.cause else OTHER

    @property
    def is_ruled_out(self) -> bool:
        """Whether what speaks against it clearly outweighs what speaks for it, own tiles too.

        What was seen on another tile is weighed and rules out nothing: it is no record of this one.
        """
        against = combine([each.weight for each in self.against if not each.measure.sister])
        return against - self.support - max(0.0, self.own) >= RULED_OUT

    @property
    def is_unspoken(self) -> bool:
        """Whether it would be plain to see, and hardly anything recorded speaks for it.

        A fault without a word of its own is known by what is said of it alone: nobody is told
        that a lid stuck who did not say so, nor of a thin coat by two coats alone.
        """
        is_named = self.cause is not None and any(each.names_it for each in self.cause.signs)
        return is_named and self.support <= HARDLY and self.own <= 0

    @property
    def is_in_question(self) -> bool:
        """Whether it is named among the likely causes."""
        return not (self.is_ruled_out or self.is_unspoken)

    @property
    def support(self) -> float:
        """Log-odds that speak for the cause."""
        return combine([each.weight for each in self.for_])

    @property
    def evidence(self) -> float:
        """Log-odds that speak for the cause, recorded on this tile or told by own tiles."""
        return self.support + self.own

    @property
    def opposition(self) -> float:
        """Log-odds that speak against the cause."""
        return combine([each.weight for each in self.against])

    @property
    def expected(self) -> float:
        """What its facts do to the fault in general, joined like signs, as far as it counts."""
        said = [log_odds for _, log_odds in self.in_general]
        for_, against = [each for each in said if each > 0], [-each for each in said if each < 0]
        return IN_GENERAL * (combine(for_) - combine(against))


def combine(weights: Sequence[float]) -> float:
    """The strongest weight in full and half of the next.

    Examples
    --------
    >>> combine([1.0, 2.0, 0.5])
    2.5
    """
    strongest = sorted(weights, reverse=True)
    return sum(weight * part for weight, part in zip(strongest, (1.0, 0.5), strict=False))


def ramp(value: float, start: float, full: float) -> float:
    """0 before ``start``, 1 from ``full`` on, a straight line between; either direction.

    Examples
    --------
    >>> ramp(1.0, 0.5, 1.5), ramp(1.0, 1.5, 0.5), ramp(2.0, 1.5, 0.5)
    (0.5, 0.5, 0.0)
    """
    if start == full:
        return float(value >= full)
    return min(1.0, max(0.0, (value - start) / (full - start)))


def weigh(
    rulebook: "RuleBook",
    measures: "Mapping[str, Measure]",
    setting: str = "unknown",
    bonus: Mapping[str, float] | None = None,
) -> "list[Weighed]":
    """Every cause with its share, the likeliest first.

    Parameters
    ----------
    rulebook : RuleBook
        Causes of one defect.
    measures : Mapping[str, Measure]
        What is recorded, by name.
    setting : str
        ``"low_fire"``, ``"mid_range"``, or ``"unknown"`` for the mean of both priors.
    bonus : Mapping[str, float], optional
        Log-odds to add, by the name of the cause; "" for one that is not in the list.

    Returns
    -------
    list[Weighed]
        Shares add up to 1.
    """
    scored = [(cause, _possible_prior(cause.prior, setting)) for cause in rulebook.causes]
    scored.append((None, _possible_prior(rulebook.other_prior, setting)))
    total = sum(prior for _, prior in scored)
    extra = bonus or {}
    telling = told_by(rulebook.defect, measures)
    told = by_fact(telling)
    rows = [
        _row(
            cause,
            prior / total,
            measures,
            setting,
            extra.get(cause.name if cause else "", 0.0),
            told,
            telling.keys(),
        )
        for cause, prior in scored
    ]
    top = max(row.log_odds for row in rows)
    weights = [math.exp(row.log_odds - top) for row in rows]
    whole = sum(weights)
    rows = [replace(row, share=weight / whole) for row, weight in zip(rows, weights, strict=True)]
    return sorted(rows, key=lambda row: -row.share)


def with_own(rows: "Sequence[Weighed]", moves: Mapping[str, float]) -> "tuple[Weighed, ...]":
    """The causes with what own tiles add to their log-odds, the likeliest first.

    Parameters
    ----------
    rows : sequence of Weighed
        From `weigh`.
    moves : Mapping[str, float]
        Log-odds to add, by the name of each cause.
    """
    moved = [
        replace(row, own=row.own + moves[row.name], log_odds=row.log_odds + moves[row.name])
        for row in rows
    ]
    whole = sum(math.exp(row.log_odds) for row in moved)
    shared = (replace(row, share=math.exp(row.log_odds) / whole) for row in moved)
    return tuple(sorted(shared, key=lambda row: -row.share))


def without_bonus(row: Weighed) -> Weighed:
    """A cause with nothing added for what is not recorded of this fault."""
    return replace(row, bonus=0.0, log_odds=row.log_odds - row.bonus)


def prior_of(prior: Mapping[str, float], setting: str) -> float:
    """The prior of the setting, or the mean of all when the setting is not known."""
    return prior[setting] if setting in prior else sum(prior.values()) / len(prior)


def _possible_prior(prior: Mapping[str, float], setting: str) -> float:
    return max(prior_of(prior, setting), LEAST_PRIOR)


def _row(
    cause, prior: float, measures, setting: str, bonus: float, told: Mapping, telling: Set[str]
) -> Weighed:
    arguments_for, against, missing = [], [], []
    rests_on = set()
    for sign in cause.signs if cause else ():
        if not applies(sign, measures, setting):
            continue
        if sign.weight_for:
            rests_on.add(one_fact(sign.measure))
        measure = measures.get(sign.measure)
        if measure is None:
            if is_asked(sign.measure, measures):
                missing.append(sign)
            continue
        grade = strength_for(sign, measure.value)
        arguments_for.append(Argument(sign, measure, sign.weight_for, grade))
        if not any(name in measures for name in sign.against_unless):
            grade = strength_against(sign, measure.value)
            against.append(Argument(sign, measure, sign.weight_against, grade))
    row = Weighed(
        cause=cause,
        prior=prior,
        for_=_strongest_first(arguments_for),
        against=_strongest_first(against),
        missing=() if _is_of_another(against) else tuple(missing),
        log_odds=0.0,
        share=0.0,
        bonus=bonus,
    )
    if cause and not cause.right_name:
        row = replace(row, in_general=_in_general(row, rests_on, told, telling))
    evidence = row.support - row.opposition + row.expected
    return replace(row, log_odds=math.log(prior) + bonus + evidence)


def _is_of_another(against: "Sequence[Argument]") -> bool:
    """Whether what is written names the fault of other causes alone: this one asks nothing."""
    return any(each.sign.names_another and each.weight > 0 for each in against)


def _in_general(
    row: Weighed, rests_on: "set[str]", told: Mapping[str, float], telling: Set[str]
) -> tuple[tuple[str, float], ...]:
    """What the facts that a cause rests on do to the fault in general.

    A fact that brings crawling about is a better reason for it than one that hardly does. None
    takes back what a sign made of it: a fact that speaks for a cause alone lowers nothing, one
    that speaks against it alone raises nothing. Of a fact that speaks both ways, by two of its
    measures, the one that speaks against lets it be lowered only where it has a curve itself
    (``telling``): else the other, recorded beside it, would lower what it speaks for.
    """
    speaks_for = {one_fact(each.sign.measure) for each in row.for_}
    against = [each.sign.measure for each in row.against]
    speaks_against = {one_fact(name) for name in against}
    may_lower = {one_fact(name) for name in against if name in telling}
    found = []
    for fact in sorted(rests_on & told.keys()):
        least = 0.0 if fact in speaks_for - may_lower else -math.inf
        most = 0.0 if fact in speaks_against - speaks_for else math.inf
        found.append((fact, min(max(told[fact], least), most)))
    return tuple(each for each in found if each[1])


def _strongest_first(arguments: list[Argument]) -> tuple[Argument, ...]:
    counting = [each for each in arguments if each.weight > 0]
    return tuple(sorted(counting, key=lambda each: -each.weight))


def applies(sign: "Sign", measures: "Mapping[str, Measure]", setting: str) -> bool:
    """Whether the sign's conditions hold: ``only`` lists the words a measure must have.

    ``only`` with ``not_`` before the name lists words it must not have, and holds as well when
    that measure was not recorded.
    """
    for key, words in sign.only.items():
        name = key.removeprefix("not_")
        if name == "setting":
            value = setting
        else:
            value = measures[name].value if name in measures else None
        if holds_word(value, words) == key.startswith("not_"):
            return False
    return True


def strength_for(sign: "Sign", value: float | str) -> float:
    """How far the sign counts for its cause, from 0 to 1."""
    return _strength(value, sign.counts_if, sign.counts_from, sign.counts_fully)


def strength_against(sign: "Sign", value: float | str) -> float:
    """How far the value speaks against the cause, from 0 to 1."""
    return _strength(value, sign.against_if, sign.against_from, sign.against_fully)


def _strength(value, words: tuple[str, ...], start: float | None, full: float | None) -> float:
    if isinstance(value, str):
        return float(holds_word(value, words))
    return 0.0 if start is None or full is None else ramp(value, start, full)

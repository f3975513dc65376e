"""Log-odds arithmetic: from priors and signs to the share of each cause.

For one cause::

    log odds = ln(prior share) + support - opposition
    support  = strongest sign for + half of the next strongest
    opposition = the same over the signs against

Signs of one cause are parts of one argument, so a third sign adds nothing. The shares are the
exponentials of the log odds divided by their sum, with "something not in this list" as one more
candidate that has a prior and no signs. A sign whose measure was not recorded counts nowhere.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.measures import Measure
    from diagnose.rules import Cause, RuleBook, Sign


@dataclass(frozen=True)
class Argument:
    """One sign with the measure that meets it and the log-odds weight it carries here."""

    sign: "Sign"
    measure: "Measure"
    weight: float


@dataclass(frozen=True)
class Weighed:
    """One cause (None: something not in the list) with its evidence and its share."""

    cause: "Cause | None"
    prior: float
    for_: tuple[Argument, ...]
    against: tuple[Argument, ...]
    missing: tuple["Sign", ...]
    log_odds: float
    share: float

    @property
    def support(self) -> float:
        """Log-odds that speak for the cause."""
        return combine([each.weight for each in self.for_])

    @property
    def opposition(self) -> float:
        """Log-odds that speak against the cause."""
        return combine([each.weight for each in self.against])


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
    rulebook: "RuleBook", measures: "Mapping[str, Measure]", setting: str = "unknown"
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

    Returns
    -------
    list[Weighed]
        Shares add up to 1.
    """
    scored = [(cause, prior_of(cause.prior, setting)) for cause in rulebook.causes]
    scored.append((None, prior_of(rulebook.other_prior, setting)))
    total = sum(prior for _, prior in scored)
    rows = [_row(cause, prior / total, measures, setting) for cause, prior in scored]
    top = max(row.log_odds for row in rows)
    weights = [math.exp(row.log_odds - top) for row in rows]
    whole = sum(weights)
    rows = [replace(row, share=weight / whole) for row, weight in zip(rows, weights, strict=True)]
    return sorted(rows, key=lambda row: -row.share)


def prior_of(prior: Mapping[str, float], setting: str) -> float:
    """The prior of the setting, or the mean of all when the setting is not known."""
    return prior[setting] if setting in prior else sum(prior.values()) / len(prior)


def _row(cause, prior: float, measures, setting: str) -> Weighed:
    arguments_for, against, missing = [], [], []
    for sign in cause.signs if cause else ():
        if not applies(sign, measures, setting):
            continue
        measure = measures.get(sign.measure)
        if measure is None:
            missing.append(sign)
            continue
        arguments_for.append(
            Argument(sign, measure, sign.weight_for * strength_for(sign, measure.value))
        )
        if not any(name in measures for name in sign.against_unless):
            weight = sign.weight_against * strength_against(sign, measure.value)
            against.append(Argument(sign, measure, weight))
    arguments_for, against = _strongest_first(arguments_for), _strongest_first(against)
    support = combine([each.weight for each in arguments_for])
    opposition = combine([each.weight for each in against])
    odds = math.log(prior) + support - opposition
    return Weighed(cause, prior, arguments_for, against, tuple(missing), odds, share=0.0)


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
        if (value in words) == key.startswith("not_"):
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
        return float(any(word == value or word in value.split() for word in words))
    return 0.0 if start is None or full is None else ramp(value, start, full)

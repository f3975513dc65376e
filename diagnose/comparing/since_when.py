"""Since when a fault comes: the day that parts the tiles best, and what else began about then.

A day causes nothing. It points at what changed, so it is told after what else is clear and weighed
nowhere; and only where it tells more than any plain fact does.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.comparison_words import CLEAR, HINT
from diagnose.comparing.counted import DAY, NONE_ON_RECORD, Counted, Fact, Sides
from diagnose.comparing.exact_test import two_groups
from diagnose.wording import listed

if TYPE_CHECKING:
    from diagnose.comparing.set_apart import Difference

ABOUT_DAYS = 45
"""What began within so many days of the cut began about then (estimate): the first tiles made of
something new may be sound by luck, or the last ones before it failing."""
MOST = 0.5
"""What began is named where it has so much of the tiles in question (estimate): else it cannot be
what changed."""
_BEGAN = ("glaze", "body", "batch", "kiln", "bisque firing")
"""What may begin on a day, as it is on record."""
ASK = (
    "A day is no cause: what changed about then, such as a new bag of clay, new elements or a new "
    "jar?"
)


def with_day(
    plain: "Sequence[tuple[Difference, Fact]]",
    day: "tuple[Difference, Fact]",
    areas: Sequence[Counted],
) -> "list[Difference]":
    """The differences with the best cut in time among them; without it where another tells it all.

    Parameters
    ----------
    plain : sequence of (Difference, Fact)
        All other facts, the most telling first, each with how it cuts the areas.
    day : (Difference, Fact)
        The best cut in time.
    areas : sequence of Counted
        Failing and sound ones.
    """
    found, cut = day
    told = [each for each, _ in plain]
    telling = [(each, fact) for each, fact in plain if each.p_value_of_best < HINT]
    is_worth_telling = found.is_firm or found.is_hint
    if not is_worth_telling or any(_adds_nothing(cut, fact, areas) for _, fact in telling):
        return told
    before = [each for each, fact in telling
              if each.is_firm and not _adds_nothing(fact, cut, areas)]  # fmt: skip
    after = [each for each in told if each not in before]
    began = _began(cut, areas)
    since = f" First used about then: {listed(began)}." if began else ""
    found = replace(found, say=f"{found.say} {ASK}{since}")
    return [*before, *sorted([found, *after], key=lambda each: each.p_value_of_best)]


def _adds_nothing(one: Fact, other: Fact, areas: Sequence[Counted]) -> bool:
    """Whether a fact parts areas that are alike in another no more than chance would."""
    strata = []
    for alike in other.parts(areas):
        sides = Sides(*one.parts(alike))
        if all(many for _, many in sides.tiles):
            strata.append(sides.tiles)
    return not strata or two_groups(strata) >= CLEAR


def _began(cut: Fact, areas: Sequence[Counted]) -> list[str]:
    """What was first used about the day of a cut and has most of those that failed from it on.

    Where it failed before that day: most of all from it on.
    """
    known = sorted((each for each in areas if DAY in each.values), key=_day)
    here = [each for each in known if cut.holds(each)]
    asked = [each for each in here if each.failed]
    asked = asked if len(asked) * len(known) > len(here) * sum(x.failed for x in known) else here
    found = []
    for name in _BEGAN:
        first: dict[str, float] = {}
        for each in known:
            first.setdefault(each.values.get(name), _day(each))
        for value, on in first.items():
            many = sum(each.values.get(name) == value for each in asked)
            is_new = on > _day(known[0]) and abs(on - _day(here[0])) <= ABOUT_DAYS
            if value not in (None, NONE_ON_RECORD) and is_new and many >= MOST * len(asked):
                found.append(f"{name} {value}")
    return found


def _day(each: Counted) -> float:
    return each.values[DAY]

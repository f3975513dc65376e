"""A comparison in words: what came more often where, and what chance alone would do."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.exact_test import fails_more, surplus
from diagnose.comparing.in_time import clearest_stretch
from diagnose.wording import listed

if TYPE_CHECKING:
    from diagnose.comparing.factors import Factor

CLEAR, HINT = 0.05, 0.20
"""Below the first a difference is called more than chance, after allowing for what was looked at;
below the second it is worth a test."""
TELL_EACH = 4
"""So many tiles of each group tell where all of one fail and none of the other: 4 against 4 come
about by chance once in 35."""
FEWEST_NAMED = 2
"""One tile with a defect names no group as one where it comes more often."""
BY_CHANCE = "this may be chance"
"""What is said of a difference that is not even a hint."""
LEAST_TOLD = 0.001
"""No smaller chance is told: the records are not that sure."""


def verdict(
    defect: str,
    factor: "Factor",
    groups: Sequence[str],
    tables: Sequence[Sequence[tuple[int, int]]],
    p_value: float | None,
    least: float | None,
    elsewhere: int = 0,
    most: int | None = None,
) -> str:
    """What the counts of one defect say, naming ``most`` groups.

    ``p_value`` is None where all tiles came out alike, ``least`` is the smallest chance that so
    many tiles could show (two groups only), ``elsewhere`` counts the tiles left out that have it.
    """
    if not tables:
        return f"{defect}: no two inspected tiles are alike but for {factor.said}."
    if p_value is None:
        if any(f for table in tables for f, _ in table):
            return f"{defect}: every tile compared has it, so nothing differs."
        if not elsewhere:
            return f"{defect}: no tile compared has it, so nothing differs."
        have = "1 that was left out has" if elsewhere == 1 else f"{elsewhere} left out have"
        return f"{defect}: no tile compared has it, but {have}: nothing can be told."
    if least is not None and least > CLEAR:
        return (
            f"{defect}: too few tiles to tell. Whichever of them had failed, chance alone could "
            f"have picked them {often(least)}.{_how_many_tell(tables)}"
        )
    within = ", within the sets" if len(tables) > 1 else ""
    chance = f"chance alone would part them so {often(p_value)} (p {_shown(p_value)}{within})"
    if p_value > HINT:
        return f"{defect}: no difference to speak of; {chance}."
    where = _where(factor, groups, tables, most)
    if p_value > CLEAR:
        return f"{defect}: perhaps more often {where}, but {chance}: a hint to test, no more."
    return f"{defect}: more often {where}; {chance}."


def _how_many_tell(tables: Sequence[Sequence[tuple[int, int]]]) -> str:
    """How many to fire, where a group has fewer."""
    sizes = [sum(table[at][1] for table in tables) for at in (0, 1)]
    if min(sizes) >= TELL_EACH:
        return ""
    return f" It takes {TELL_EACH} alike of each, were all of one to have it and none of the other."


def often(p_value: float) -> str:
    """A chance as a person says it.

    Examples
    --------
    >>> often(0.034), often(0.5), often(1.0)
    ('about 1 time in 29', '5 times in 10', 'more than 9 times in 10')
    """
    if p_value < LEAST_TOLD:
        return f"less than 1 time in {1 / LEAST_TOLD:.0f}"
    if p_value > HINT:
        tenths = round(10 * p_value)
        return f"{tenths} times in 10" if tenths <= 9 else "more than 9 times in 10"
    return f"about 1 time in {1 / p_value:.0f}"


def by_luck(p_value: float, of: str) -> str:
    """What chance alone would do among all that was looked at; marked where it is but a hint."""
    if p_value >= HINT:
        return BY_CHANCE
    said = ", ".join(part for part in (f"chance would do this {often(p_value)}", of) if part)
    return said if p_value < CLEAR else f"a hint to test: {said}"


def not_recorded_on(blank: int) -> str:
    """How many tiles a count leaves out, the fact being blank on them; "" where on none."""
    return f", not recorded on {blank}" if blank else ""


def all_others(count: tuple[int, int], blank: int) -> str:
    """Failed and all of the tiles off one side of a fact, and on how many that is blank.

    Examples
    --------
    >>> all_others((1, 32), 0), all_others((1, 32), 5)
    ('all others: 1 of 32', 'all others: 1 of 32, not recorded on 5')
    """
    failed, many = count
    return f"all others: {failed} of {many}{not_recorded_on(blank)}"


def _shown(p_value: float) -> str:
    return f"= {p_value:.2g}" if p_value >= LEAST_TOLD else f"< {LEAST_TOLD:g}"


def _where(factor: "Factor", groups: Sequence[str], tables, most: int | None) -> str:
    """The groups in which it came more often, or the direction, or the stretch of time.

    Named are those with a larger share than all together, on ``FEWEST_NAMED`` tiles or more, and
    more than their sets would make: with their counts, so that a reader can check. Of more than
    ``most`` the names of those that have most above what their sets would make.
    """
    if factor.is_ordered:
        rising = sum(at * each for at, each in enumerate(surplus(tables)))
        return f"towards {groups[-1] if rising > 0 else groups[0]}"
    if factor.kind == "time":
        stretch = clearest_stretch(tables)
        worst, said = range(stretch.first, stretch.last + 1), stretch.said(groups)
    else:
        worst = _worst(tables)
        more = surplus(tables)
        first = sorted(sorted(worst, key=lambda at: -more[at])[:most])
        said = f"with {named([groups[at] for at in first], len(worst))}"
    if len(groups) == 2:
        return said
    inside = whole(tables, worst)
    outside = whole(tables, [at for at in range(len(groups)) if at not in worst])
    told = "{} of {}, else {} of {}".format(*inside, *outside)
    # Who is rarely where it fails may fail more often there than those alike.
    is_so_in_all = fails_more(inside, outside)
    return f"{said} ({told})" if is_so_in_all else f"{said} among tiles alike (in all {told})"


def named(groups: Sequence[str], many: int) -> str:
    """Groups in a row, and how many of ``many`` are not among them."""
    more = many - len(groups)
    return listed([*groups, *([f"{more} more"] if more else [])])


def _worst(tables: Sequence[Sequence[tuple[int, int]]]) -> list[int]:
    more, wholes = surplus(tables), [whole(tables, [at]) for at in range(len(tables[0]))]
    every = whole(tables, range(len(wholes)))
    found = [
        at
        for at, own in enumerate(wholes)
        if own[0] >= FEWEST_NAMED and fails_more(own, every) and more[at] > 0
    ]
    return found or [more.index(max(more))]


def whole(tables: Sequence[Sequence[tuple[int, int]]], places: Iterable[int]) -> tuple[int, int]:
    """Failed and all of some groups, over all sets."""
    own = [table[at] for at in places for table in tables]
    return sum(failed for failed, _ in own), sum(many for _, many in own)

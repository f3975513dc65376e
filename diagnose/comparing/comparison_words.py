"""A comparison in words: what came more often where, and what chance alone would do."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.wording import listed

if TYPE_CHECKING:
    from diagnose.comparing.factors import Factor

CLEAR, HINT = 0.05, 0.20
"""Below the first a difference is called more than chance, after allowing for what was looked at;
below the second it is worth a test."""
TELL_EACH = 4
"""So many tiles of each group tell where all of one fail and none of the other: 4 against 4 come
about by chance once in 35."""
WORST = 0.5
"""Groups with so much of the largest surplus are named beside it."""
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
) -> str:
    """What the counts of one defect say.

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
    where = _where(factor, groups, tables)
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
    said = ", ".join(part for part in (f"chance would do this {often(p_value)}", of) if part)
    return said if p_value < CLEAR else f"a hint to test: {said}"


def _shown(p_value: float) -> str:
    return f"= {p_value:.2g}" if p_value >= LEAST_TOLD else f"< {LEAST_TOLD:g}"


def _where(factor: "Factor", groups: Sequence[str], tables) -> str:
    """The groups with the largest surplus over what chance would give them; or the direction."""
    surplus = [0.0] * len(groups)
    for table in tables:
        rate = sum(f for f, _ in table) / sum(n for _, n in table)
        for at, (failed, size) in enumerate(table):
            surplus[at] += failed - rate * size
    if factor.is_ordered:
        rising = sum(at * each for at, each in enumerate(surplus))
        return f"towards {groups[-1] if rising > 0 else groups[0]}"
    most = max(surplus)
    worst = [group for group, each in zip(groups, surplus, strict=True) if each >= most * WORST]
    return f"with {listed(worst)}"

"""The values of one thing put into a few groups that can be compared."""

from collections.abc import Callable, Sequence

from diagnose.comparing.factors import Factor, Value
from tiles.records.words import name_key

MOST_VALUES = 4
"""So many different numbers stand for themselves; more are put into three groups."""


def levels_of(factor: Factor, values: Sequence[Value]) -> tuple[Callable[[Value], str], list[str]]:
    """How a value's group is called, and all groups in order.

    Parameters
    ----------
    factor : Factor
        The thing compared.
    values : sequence
        Every value recorded; not None.

    Returns
    -------
    tuple
        A function from a value to its group's name, and the names, the least first. Numbers of
        many values are cut at their thirds, to one decimal.
    """
    distinct = sorted(set(values), key=factor.sort_key)
    if factor.kind == "word":
        # A shelf is the same whatever its capitals; of its spellings one is told.
        spelt = {name_key(each): each for each in distinct}
        return lambda value: spelt[name_key(value)], list(spelt.values())
    if factor.kind != "number" or len(distinct) <= MOST_VALUES:
        return factor.spoken, [factor.spoken(each) for each in distinct]
    cuts = _thirds(sorted(values))
    names = _names(factor, cuts)

    def name_of(value: Value) -> str:
        return names[sum(value >= cut for cut in cuts)]

    return name_of, [name for name in names if any(name_of(each) == name for each in distinct)]


def _thirds(values: Sequence[float]) -> list[float]:
    """One or two round numbers that cut the values into parts of about the same size."""
    digits = 1 if values[-1] < 10 else 0
    at = [round(values[len(values) * part // 3], digits) for part in (1, 2)]
    return sorted({cut for cut in at if values[0] < cut})


def _names(factor: Factor, cuts: Sequence[float]) -> list[str]:
    unit = f" {factor.unit}" if factor.unit else ""
    between = [f"{a:g} to {b:g}{unit}" for a, b in zip(cuts, cuts[1:], strict=False)]
    if not cuts:
        return ["all"]
    return [f"under {cuts[0]:g}{unit}", *between, f"{cuts[-1]:g}{unit} and over"]

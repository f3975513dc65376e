"""Grams as a person weighs them: never a trace told as nothing; a word on what is too little."""

from collections.abc import Iterable, Mapping
from math import ceil, floor, log10

LEAST_STEP_G = 0.05
"""A scale that shows 0.1 g cannot tell less. [g], half of what it shows."""

LEAST_SURE_G = 0.5
"""What a scale that shows 0.1 g weighs to a tenth of the amount. [g], computed."""

_ONE_PERCENT = 0.01
"""A step that is less than this of the amount itself does not matter (estimate)."""


def check_batch(batch_g: float) -> float:
    """The mass of a dry batch once it can be one. [g]."""
    from tiles.chemistry._number import read_positive

    return read_positive(batch_g, "--batch-g", "the dry weight wanted, such as 500 [g].")


def decimals(mass_g: float) -> int:
    """Decimals that show three figures of a mass, and at least a tenth of a gram.

    Examples
    --------
    >>> decimals(1234.5), decimals(12.3), decimals(0.0625)
    (1, 1, 4)
    """
    return max(1, 2 - floor(log10(mass_g))) if mass_g > 0 else 1


def spoken_g(mass_g: float) -> str:
    """A mass in plain figures.

    Examples
    --------
    >>> spoken_g(0.249376), spoken_g(12.34), spoken_g(720.0), spoken_g(1e6)
    ('0.249', '12.3', '720', '1000000')
    """
    text = f"{mass_g:.{decimals(mass_g)}f}"
    return text.rstrip("0").rstrip(".")


def too_little(weights: Iterable[Mapping[str, float]], batch_g: float) -> list[str]:
    """What to do about amounts, or steps between mixtures, that a usual scale cannot tell.

    Parameters
    ----------
    weights : iterable of mappings
        Mass of each material in each mixture. [g].
    batch_g : float
        Dry weight of each mixture. [g].

    Returns
    -------
    list of str
        One line for the material with the least amount or step; none when all can be weighed.
    """
    steps = {name: step for name, step in _least_steps(list(weights)).items() if step}
    if not steps or min(steps.values()) >= LEAST_STEP_G:
        return []
    name = min(steps, key=steps.get)
    others = sum(step < LEAST_STEP_G for step in steps.values()) - 1
    shows = 10.0 ** floor(log10(steps[name] / 10) + 1e-9)
    enough = batch_g * LEAST_SURE_G / steps[name]
    enough = ceil(enough / 10 ** floor(log10(enough))) * 10 ** floor(log10(enough))
    return [
        f"{name} comes in amounts or steps of {spoken_g(steps[name])} g"
        f"{f' ({others} more below {LEAST_STEP_G:g} g)' if others else ''}: a scale that shows "
        f"0.1 g cannot tell them. Use one that shows {shows:.10g} g, --batch-g {enough:.0f}, or a "
        "stock: a weighed amount stirred into a weighed amount of water, kept stirred."
    ]


def _least_steps(weights: list[Mapping[str, float]]) -> dict[str, float | None]:
    """The least amount of each material, or the least step of it between two mixtures. [g]."""
    names = dict.fromkeys(name for each in weights for name in each)
    return {name: _least([each.get(name, 0.0) for each in weights]) for name in names}


def _least(amounts: list[float]) -> float | None:
    levels = sorted(set(amounts))
    steps = [after - before for before, after in zip(levels, levels[1:], strict=False)]
    told = [each for each in (levels[0], *steps) if each > _ONE_PERCENT * levels[-1]]
    return min(told, default=None)

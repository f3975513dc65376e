"""The forecasts of an area that may reach one cone or another, as one of each fault."""

from collections.abc import Sequence
from dataclasses import replace

from diagnose.forecasts.of_tile import LEAST_POINTS, Forecast
from tiles.records.words import DEFECTS


def either(ways: Sequence[tuple[float, str | None, list[Forecast]]]) -> list[Forecast]:
    """The forecasts of an area that may reach one cone or another.

    Parameters
    ----------
    ways : sequence of tuple
        The share of each cone, the cone and the forecasts there.

    Returns
    -------
    list[Forecast]
        Each chance and its range is the mean by share: which cone it will be is not known.
    """
    if len(ways) == 1:
        return ways[0][2]
    by_defect: dict[str, list[tuple[float, str | None, Forecast]]] = {}
    for share, cone, found in ways:
        for each in found:
            by_defect.setdefault(each.defect, []).append((share, cone, each))
    mean = [_mean(each) for each in by_defect.values()]
    return sorted(mean, key=lambda each: (-(each.chance or 0.0), DEFECTS.index(each.defect)))


def _mean(ways: Sequence[tuple[float, str | None, Forecast]]) -> Forecast:
    worst = max((each for *_, each in ways), key=lambda each: each.chance or 0.0)
    if worst.chance is None:
        return next((each for *_, each in ways if each.leans == "more"), worst)
    chance, low, high = (
        sum(share * getattr(each, name) for share, _, each in ways)
        for name in ("chance", "low", "high")
    )
    leans = "more" if chance > worst.usual else "less"
    is_special = abs(chance - worst.usual) >= LEAST_POINTS
    is_special &= any(each.leans == leans for *_, each in ways)
    return replace(
        worst,
        chance=chance,
        low=low,
        high=high,
        leans=leans if is_special else "as usual",
        by_cone={cone: each.chance for _, cone, each in ways},
    )

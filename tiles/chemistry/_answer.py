"""The answer of a glass-property model: a value, its 90 % interval, and what to know about it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tiles.chemistry._glass import Glass
from tiles.errors import InvalidValue

COLOURANTS_FROM = {
    **{"Fe2O3": 3.0, "Cr2O3": 0.2},
    **dict.fromkeys(("MnO", "CoO", "NiO", "CuO"), 0.4),
}
"""Mol % of each colourant that is worth a word: about half a weight per cent, of iron 7.5, which
more of the measured glasses hold."""

OPACIFIERS_FROM = {"SnO2": 1.0, "ZrO2": 2.0, "TiO2": 3.75}
"""Mol % that starts to make a glaze opaque: about 2.5 weight per cent of tin oxide, 6 of zircon,
5 of titania (common practice, no source)."""

UNMEASURED_FROM = 0.15
"""Mol % of oxides no measured glass had, vanadium among them, that is worth a word."""


@dataclass(frozen=True)
class Estimate:
    """A value with the limits between which nine of ten measurements fall.

    Attributes
    ----------
    value, low, high : float
        Estimate and its 90 % interval, all in ``unit``.
    unit : str
        Unit of the three numbers.
    remarks : tuple[str, ...]
        What to know before relying on the number; empty for an ordinary clear glaze.
    """

    value: float
    low: float
    high: float
    unit: str
    remarks: tuple[str, ...] = ()


def as_answer(
    glass: Glass, value: Any, low: Any, high: Any, unit: str, remarks: tuple[str, ...] = ()
) -> Any:
    """One `Estimate`, or a frame with the columns value, low, high on the glasses' own index."""
    if glass.index is None:
        return Estimate(value, low, high, unit, (*general_remarks(glass), *remarks))
    import pandas as pd

    columns = {"value": value, "low": low, "high": high}
    return pd.DataFrame(columns, index=glass.index, dtype=float)


def general_remarks(glass: Glass) -> tuple[str, ...]:
    """What to know about one glass before relying on any of its estimated properties."""
    scarce = _above(glass, COLOURANTS_FROM)
    earths = glass.total(("MgO", "CaO", "SrO", "BaO"))
    checks = (
        (scarce, f"colourants ({', '.join(scarce)}) are barely covered by the measured glasses"),
        (
            glass["other"] > UNMEASURED_FROM,
            f"no measured glass had {', '.join(glass.unmeasured)}",
        ),
        (glass["PbO"] > 0.5, "leaded: outside the measured glazes"),
        (
            _above(glass, OPACIFIERS_FROM),
            "probably opacified: the estimate describes the clear glass only",
        ),
        (
            glass["Al2O3"] > 13 or earths > 25 or glass["ZnO"] > 12,
            "probably matt or crystalline: the estimate describes the glass only",
        ),
        (glass.outside() > 1.0, "far from the measured glasses: the interval is a rough guess"),
    )
    return tuple(remark for applies, remark in checks if applies)


def _above(glass: Glass, limits: Mapping[str, float]) -> list[str]:
    """Those that count when the amounts, each in its own limit, come to more than 1 together."""
    shares = {oxide: glass[oxide] / limit for oxide, limit in limits.items()}
    return [oxide for oxide, share in shares.items() if share > 0.2 and sum(shares.values()) > 1]


def moved_percent(first: Glass, second: Glass) -> float:
    """Mol % of one glass that must be exchanged to make it the other. 0 when they are the same."""
    return sum(abs(first[oxide] - second[oxide]) for oxide in first.percent) / 2.0


def difference_of(
    glasses: Sequence[Glass],
    answers: Sequence[Estimate],
    coefficients: Mapping[str, Mapping[str, float]],
) -> Estimate:
    """Second answer less the first, with the 90 % interval of the difference.

    Notes
    -----
    The error of a model changes slowly with composition, so most of it cancels between two glasses
    that are alike. Between measured pairs of one laboratory, errors part company like a random
    walk: with the square root of the mol % exchanged. The width is never more than that of two
    independent errors.
    """
    if any(glass.index is not None for glass in glasses):
        raise InvalidValue(
            "A difference is between two glasses, not between frames.",
            "one row of each, such as frame.iloc[0].",
        )
    first, second = answers
    independent = sum(((each.high - each.low) / 2) ** 2 for each in answers) ** 0.5
    walk = coefficients["difference"]["per_root_percent"] * moved_percent(*glasses) ** 0.5
    half = min(walk, independent)
    value = second.value - first.value
    remarks = tuple(dict.fromkeys((*first.remarks, *second.remarks)))
    return Estimate(value, value - half, value + half, first.unit, remarks)

"""Where no small change is enough: what stops it, and another glaze to test in its place.

The larger change is searched like the small ones, in coarser steps and with wider limits. It is no
longer the same glaze, so it is named as another one and fired as the far end of a line blend.
"""

from diagnose.fixes.bounds import MOST_PARTS, Aim, Band, bands, opened
from diagnose.fixes.glass import Figures
from diagnose.fixes.search import FINE, Found, best_at, families

LARGE_PARTS = 30.0
"""No more than so many parts per 100 go out or come in, even for another glaze; estimate."""

STEP = 2.5
"""[parts], for two swaps together; one alone goes in the small steps."""

WORTH_SHOWING = 0.5
"""A change that goes less than this share of the way is not offered; estimate."""

LEAST_TO_SHOW = {"expansion": 0.4, "viscosity": 0.25, "ratio": 0.8, "raw_clay": 3.0, "loss": 1.5}
"""Nor one that moves the number by less than would show on a tile: a melt by a cone; estimates."""

_WIDE_SHARE = {"ratio": (0.4, 2.2), "silica": (0.5, 2.0), "alumina": (0.4, 3.0)}
"""Limits as shares of what the number was; estimates."""

_WIDE_ROOM = {"viscosity": 0.75, "boron": 0.4, "expansion": 2.0}
"""About three cones; boron [mol per mol flux]; expansion [1e-6/K]. Estimates."""

_MORE_GAS, _LEAST_CLAY, _MOST_CLAY = 5.0, 5.0, 25.0


def larger(before: Figures, aim: Aim, setting: str) -> Found | None:
    """The larger change that comes nearest to the aim at the least cost, None without any.

    Parameters
    ----------
    before, aim, setting
        As `search.search`.
    """
    limits = wide_bands(before, aim)
    found = [
        best_at(family, before, aim, limits, LARGE_PARTS, STEP if family[1:] else FINE)
        for family in families(before, aim, setting)
    ]
    kept = [each for each in found if each and is_worth_showing(aim, each)]
    return min(kept, key=lambda each: (round(each.shortfall, 9), each.cost), default=None)


def is_worth_showing(aim: Aim, found: Found) -> bool:
    """Whether a change that does not reach the aim goes far enough to be seen on a tile."""
    moved = abs(getattr(found.after, aim.quantity) - aim.now)
    least = LEAST_TO_SHOW.get(aim.quantity, 0.0)
    return 1 - found.shortfall >= WORTH_SHOWING and moved >= least


def wide_bands(before: Figures, aim: Aim) -> list[Band]:
    """Limits within which it still is a glaze of its kind, near its cone."""
    return [opened(_widened(band), aim) for band in bands(before, aim)]


def _widened(band: Band) -> Band:
    was = band.was
    if band.quantity in _WIDE_SHARE:
        low, high = _WIDE_SHARE[band.quantity]
        return Band(band.quantity, was, was * low, was * high)
    if band.quantity in _WIDE_ROOM:
        room = _WIDE_ROOM[band.quantity]
        return Band(band.quantity, was, max(0.0, was - room), was + room)
    if band.quantity == "loss":
        return Band("loss", was, 0.0, was + _MORE_GAS)
    if band.quantity == "raw_clay":
        return Band("raw_clay", was, min(was, _LEAST_CLAY), max(was, _MOST_CLAY))
    return band


_STOPS = {
    "ratio": "the gloss would change (silica to alumina {was:.1f} -> {now:.1f})",
    "silica": "the silica of the formula would go {was:.2f} -> {now:.2f}",
    "alumina": "the alumina of the formula would go {was:.2f} -> {now:.2f}",
    "boron": "the boron of the formula would go {was:.2f} -> {now:.2f}",
    "viscosity": "the melt would be {way} by about {cones:.0f} cones",
    "raw_clay": "raw clay would go {was:.0f} % -> {now:.0f} %",
    "loss": "more gas would leave ({was:.0f} % -> {now:.0f} %)",
    "expansion": "its fit to the clay would change (expansion {was:.1f} -> {now:.1f})",
}
_LOG10_PA_S_A_CONE = 0.2
"""Between neighbouring cones the estimate moves 0.1 to 0.25 (computed, see `bounds`)."""


def what_stops(before: Figures, aim: Aim, large: Found) -> list[str]:
    """What a change that goes far enough would do to the rest of the glaze, in plain words."""
    broken = [band for band in bands(before, aim) if not band.holds(large.after)]
    told = [_stop(band, large.after) for band in broken if band.quantity != aim.quantity]
    if large.parts_moved > MOST_PARTS:
        told.append(f"{large.parts_moved:g} parts per 100 would have to move")
    return told


def _stop(band: Band, after: Figures) -> str:
    now = getattr(after, band.quantity)
    cones = max(2.0, abs(now - band.was) / _LOG10_PA_S_A_CONE)
    way = "stiffer" if now > band.was else "more fluid"
    return _STOPS[band.quantity].format(was=band.was, now=now, cones=cones, way=way)

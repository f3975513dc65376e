"""The one recorded thing in which two tiles differ, and whether all else on them is alike."""

from diagnose.comparing.factors import ALIKE, FACTORS, Factor, Value
from diagnose.view import View, total_of
from tiles.records.clues import clues
from tiles.records.words import name_key

THICKNESS = "thickness"
"""How thick the dry coat is, by its name among the factors. [mm]"""
_FIRED = ("hold", "rate", "opened", "atmosphere", "bisque rate", "bisque hold")


def _over(view: View) -> Value:
    return " + ".join(layer.glaze.name for layer in view.over) or None


def _coats_over(view: View) -> Value:
    return total_of(list(view.over), "coats")


_OVER = (
    Factor("over", "what lies over it", _over),
    Factor("coats over", "coats of what lies over it", _coats_over, "number", "coats"),
)
"""Of a colour that is judged under a clear: what that clear is, and how much of it there is."""
_COMPARED = (*ALIKE, "coats under", THICKNESS, "applied on", "under put on", "beneath",
             *_FIRED)  # fmt: skip
_ALIKE = (*(FACTORS[name] for name in _COMPARED), *_OVER)
NAMED = {each.name: each for each in _ALIKE}
"""What has to be alike, by its name."""
COOLED = ("cooled_slowly", "cooled_fast")
"""Clues of how it cooled; both, and at what the kiln was opened, are one thing."""
_GOES_ALONG = {
    THICKNESS: ("coats", "method"),
    "batch": ("recipe",),
    "coats under": ("under",),
    "under put on": ("under",),
    "coats over": ("over",),
    "opened": COOLED,
}
"""What is no second thing where one of these differs."""
HANDLED = ("bisque", "application")
"""The groups of clues that say how a tile was handled; others say what the fault looks like."""
SAME_WITHIN = {THICKNESS: 0.1, "opened": 20}
"""Coats whose thickness and kilns whose opening differ by no more are alike. [mm, C]"""
SAME_PART = {"rate": 0.2, "bisque rate": 0.2}
"""Rates that differ by no larger part are alike (estimate)."""


def one_thing(own: View, other: View) -> tuple[str, Value] | tuple[()] | None:
    """The one thing in which they differ and its value there; None where there is more.

    Blank is alike to blank alone, and no more can be said of what differs from a blank; a clue
    that is blank on either is none in which they differ.
    """
    found = [
        (name, other.clues[name])
        for name in sorted(own.clues.keys() & other.clues.keys())
        if own.clues[name] != other.clues[name]
    ]
    if not all(name in COOLED or clues()[name].group in HANDLED for name, _ in found):
        return None
    if len({name in COOLED or name for name, _ in found}) > 1:
        return None
    for factor in _ALIKE:
        here, there = factor.read(own), factor.read(other)
        if are_alike(factor, here, there):
            continue
        if any(name in _GOES_ALONG.get(factor.name, ()) for name, _ in found):
            continue
        if found or here is None or there is None:
            return None
        found.append((factor.name, there))
    if own.cone_reached is None and not same(_firing(own), _firing(other)):
        return None
    return found[0] if found else ()


def are_alike(factor: Factor, here: Value, there: Value) -> bool:
    """Whether two values of a factor are one, as near as it is measured; a coat also if blank."""
    if factor.name == THICKNESS and (here is None or there is None):
        return True
    if factor.kind == "number" and here is not None and there is not None:
        part = SAME_PART.get(factor.name, 0) * max(here, there)
        return abs(here - there) <= max(SAME_WITHIN.get(factor.name, 0), part)
    return here == there or same(here, there)


def same(here: Value, there: Value) -> bool:
    """Whether two values are known and read alike, whatever their capitals."""
    return here is not None and name_key(str(here)) == name_key(str(there))


def _firing(view: View) -> str | None:
    return view.record.firing.name if view.record.firing else None

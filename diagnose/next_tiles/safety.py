"""Which tiles would wreck a shelf: those are never proposed. Which bring a poison: those last."""

from collections.abc import Iterator
from itertools import chain
from typing import TYPE_CHECKING

from diagnose.fixes.ranges import ABOUT, too_hot_for
from diagnose.handling import poisons_in
from diagnose.view import View, area_of, sightings
from diagnose.wording import listed
from tiles.chemistry.cones import step
from tiles.records.derived import shows
from tiles.records.words import SEVERITIES, same_name

if TYPE_CHECKING:
    from diagnose.fixes.bench import Step
    from diagnose.next_tiles.changes import Owned
    from diagnose.next_tiles.odds import Inspected
    from tiles.records.forms import TileRecord

MOST_MM = 1.5
"""No coat thicker than this is proposed. [mm dry], estimate."""
RUNNY_LOG10_PA_S = 2.5
"""From here down a melt with more glaze on it may reach the shelf: the upper edge of ``runny`` and
a quarter for the error of the estimate. [log10 Pa.s]."""
CATCHES = "Kiln wash the shelf and put a scrap of bisque or a catch tray below."
MELT = ("melt_stiffest_log10_pa_s", "melt_thinnest_log10_pa_s")
"""Ends of the 90 % interval of the melt; their middle is the estimate."""


def would_wreck(now: View, then: "TileRecord", facts) -> str:
    """Why the changed tile must not go on a shelf; empty when it may.

    Parameters
    ----------
    now : View
        The tile as it was.
    then : TileRecord
        As it would be.
    facts : Mapping[str, Measure]
        Measures of the changed tile.
    """
    changed = View(then, area_of(then, now.area.number))
    most, name = too_hot_for(changed)
    return f"{name} is made for cone {most} at most" if most else runs_off(now, changed, facts)


def runs_off(now: View, changed: View, facts) -> str:
    """Why a thicker coat may reach the shelf; empty where it is no thicker, or may not.

    Parameters
    ----------
    now, changed : View
        The tile as it was, and as it would be.
    facts : Mapping[str, Measure]
        Measures of the changed tile.
    """
    if not _is_thicker(now, changed):
        return ""
    thickness = [layer.thickness_mm or 0 for layer in changed.glazes]
    if sum(thickness) > MOST_MM:
        return "so thick a coat runs or falls off"
    if now.defect == "running" or sightings(now.record, "running"):
        return "it ran already"
    ends = [facts[name].value for name in MELT if name in facts]
    return "its melt is runny" if ends and sum(ends) / len(ends) < RUNNY_LOG10_PA_S else ""


def saves_shelf(record: "TileRecord") -> str:
    """What keeps the shelf whole under a tile fired like one that ran; empty where none is needed.

    A run that was called slight stayed on the tile. What a trial changes may not stop it.
    """
    seen = sightings(record, "running")
    if all(each.severity == SEVERITIES[0] for each in seen):
        return ""
    return f"{record.mark} ran: {CATCHES[0].lower()}{CATCHES[1:]}"


def ran_before(then: View, own: "Inspected") -> str:
    """Own tiles of which the other glaze ran no hotter than it would be fired; empty where none.

    Where as many of them or more did not run, it is no more than one that may.
    """
    ran, sound = [], 0
    for each in _of_glaze(then, own):
        if shows(each.record, each.area, "running"):
            ran.append(each.record.mark)
        else:
            sound += 1
    marks = list(dict.fromkeys(ran))
    return f"{then.glaze_name} ran on {listed(marks)}" if len(ran) > sound else ""


def _of_glaze(then: View, own: "Inspected") -> Iterator[View]:
    """The areas under the glaze of a changed tile that went as hot as it will, or cooler."""
    for record, area in chain.from_iterable(own.values()):
        each = View(record, area)
        if not same_name(each.glaze_name, then.glaze_name):
            continue
        if not (then.cone and each.cone) or step(each.cone) <= step(then.cone) + ABOUT:
            yield each


def brings(now: View, step: "Step", owned: "Owned") -> list[str]:
    """The poisons of another glaze that the tile does not hold already."""
    name = step.edit.get("glaze") or step.edit.get("under")
    glaze = next((each for each in owned.glazes if each.name == name), None)
    if glaze is None:
        return []
    held = {each for layer in now.layers for each in poisons_in(layer.glaze, layer.recipe)}
    return [each for each in poisons_in(glaze, owned.recipes.get(glaze.name)) if each not in held]


def _is_thicker(now: View, then: View) -> bool:
    """By what was measured; where something was not, by the coats as well."""

    def amount(view: View, name: str) -> float:
        return sum(getattr(layer, name) or 0 for layer in view.glazes)

    is_measured = all(layer.thickness_mm for view in (now, then) for layer in view.glazes)
    names = ("thickness_mm",) if is_measured else ("coats", "thickness_mm")
    return any(amount(then, name) > amount(now, name) for name in names)

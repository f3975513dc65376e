"""What the failed tile itself shows of a change: its other areas, fired beside the failed one.

An area that was glazed as a change would have it, in the same firing and on the same clay, is as
good as a trial of that change: where it failed too, the change is in vain.
"""

from typing import TYPE_CHECKING

from diagnose.colour_layer import judged
from diagnose.fixes.shapes import COATS
from diagnose.fixes.trials import as_planned, control, step_trial
from diagnose.view import View, sightings
from tiles.records.words import name_key

if TYPE_CHECKING:
    from diagnose.fixes.bench import Bench, Step
    from tiles.records.forms import AreaRecord

SAME_MM = 0.1
"""Dry coats that differ by no more are alike. [mm]"""
ALL_COATS = 3
"""Where the fault is there with so many different coats, and never absent, it is not the coats."""
_OF_THE_LAYERS = ("areas", "note", "trial_change")
_NEVER_BLANK = ("glaze", "coats")
_OF_THE_JAR = {"batch", "recipe"}
"""What another glaze has of its own."""


def by_coats(view: View) -> dict[int, bool]:
    """Whether the fault came, by coats of the top glaze, on the areas alike in all but these.

    Of a colour under a clear by the coats of the colour.

    The area of the view is one of them. Where one failed and one did not, it came.
    """
    found: dict[int, bool] = {}
    view = judged(view)
    own = _but_coats(view)
    for area in view.record.areas if view.area and own else ():
        there = judged(View(view.record, area, view.defect))
        has_it = _has_it(view, area)
        if _but_coats(there) == own and there.top.coats and has_it is not None:
            found[there.top.coats] = found.get(there.top.coats, False) or has_it
    return found


def coats_do_nothing(view: View) -> bool:
    """Whether it failed with every one of several numbers of coats."""
    seen = by_coats(view)
    return len(seen) >= ALL_COATS and all(seen.values())


def failed_so(bench: "Bench", step: "Step") -> list[int]:
    """Numbers of the areas that show a change to be in vain."""
    if step.changes[0].what in (COATS, "dry coat") and coats_do_nothing(bench.view):
        return sorted(area.number for area in bench.record.areas if _has_it(bench.view, area))
    return [number for number, has_it in _made_so(bench, step) if has_it]


def sound_so(bench: "Bench", step: "Step") -> list[int]:
    """Numbers of the areas that were glazed so and are sound."""
    return [number for number, has_it in _made_so(bench, step) if not has_it]


def fails_alone(view: View) -> bool:
    """Whether one of the glazes of the area shows the fault on an area of its own."""
    return any(has_it for has_it in _alone(view) if has_it is not None)


def only_on_overlap(view: View) -> bool:
    """Whether each of its glazes is sound on an area of its own."""
    alone = _alone(view)
    return len(alone) >= len(view.glazes) > 1 and not any(each is not False for each in alone)


def _alone(view: View) -> list[bool | None]:
    """Of each other area with one of the glazes of this one alone, whether it shows the fault."""
    names = {_key(each.glaze.name) for each in view.glazes}
    others = [area for area in view.record.areas if area is not view.area]
    return [
        _has_it(view, area)
        for area in others
        if len(area.layers) == 1 and _key(area.layers[0].glaze.name) in names
    ]


def _made_so(bench: "Bench", step: "Step") -> list[tuple[int, bool]]:
    """The other areas that a change would make of the failed one, and whether they failed."""
    view = bench.view
    if view.area is None or len(view.record.areas) < 2:
        return []
    now, then = control(view).tile, step_trial(bench, step).tile
    if any(now.get(key) != then.get(key) for key in {*now, *then} - {*_OF_THE_LAYERS}):
        return []
    before, after = (each["areas"][0]["layers"] for each in (now, then))
    if before == after:
        return []
    dry = next((each.after for each in step.changes if each.what == "dry coat"), None)
    found = []
    for area in view.record.areas:
        has_it = _has_it(view, area)
        if area is view.area or area.surface != view.area.surface or has_it is None:
            continue
        made = [as_planned(layer) for layer in area.layers]
        if _are_alike(before, after, made) and _is_as_thick(view, area, dry):
            found.append((area.number, has_it))
    return found


def _has_it(view: View, area: "AreaRecord") -> bool | None:
    """Whether the fault was seen on an area; None where it was logged for the whole tile."""
    seen = [each.area for each in sightings(view.record, view.defect)]
    if area.number in seen:
        return True
    return None if None in seen else False


def _but_coats(view: View) -> tuple | None:
    """All that areas must share to be compared by the coats of their top glaze."""
    if view.area is None or view.top is None:
        return None
    layers = [
        (_key(each.glaze.name), None if each is view.top else each.coats, _key(view.batch))
        for each in (*view.layers, *view.over)
    ]
    return view.area.surface, tuple(layers)


def _are_alike(before: list[dict], after: list[dict], made: list[dict]) -> bool:
    """Whether an area has the layers of a change; what was changed must be on record of it."""
    if len(after) != len(made):
        return False
    stay = before if len(before) == len(after) else after
    return all(_is_alike(*layers) for layers in zip(stay, after, made, strict=True))


def _is_alike(before: dict, after: dict, made: dict) -> bool:
    is_other = _plain(before["glaze"]) != _plain(after["glaze"])
    for key in {*before, *after, *made} - (_OF_THE_JAR if is_other else set()):
        was, wanted, there = (_plain(each.get(key)) for each in (before, after, made))
        if wanted != there and (key in _NEVER_BLANK or was != wanted or (wanted and there)):
            return False
        if was != wanted and wanted is None:
            return False
    return True


def _plain(value: object) -> object:
    """A glaze or batch by its name, in whatever letters it is written."""
    return name_key(value["name"]) if isinstance(value, dict) and "name" in value else value


def _key(name: str | None) -> str | None:
    return name and name_key(name)


def _is_as_thick(view: View, area: "AreaRecord", dry_mm: float | None) -> bool:
    """Whether its coat is not on record as another one than the change aims at."""
    top = View(view.record, area).top
    known = top.thickness_mm if top else None
    return None in (known, dry_mm) or abs(known - dry_mm) <= SAME_MM

"""The tiles that prove a fix: a control as the tile was, and one change on each of the others."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.layers import layers_with
from diagnose.fixes.ranges import ceiling
from diagnose.fixes.shapes import (
    CONTROL,
    KILN,
    OF_BUCKET,
    SHELF,
    UNCHANGED,
    Answer,
    BlendPoint,
    Fix,
    Trial,
)
from diagnose.next_tiles.safety import saves_shelf
from diagnose.own_tiles.right_shelf import RightShelf, missed_alone, stands_on
from diagnose.trials.clues import copy_clues, give_clues, left_as_it_was
from diagnose.trials.controls import right_heat
from diagnose.view import View, place_of
from tiles.records.derived import TARGET, bisque_cone
from tiles.records.forms import BatchRecord, GlazeRecord
from tiles.records.spoken import spoken_bisque, spoken_kiln, spoken_steps
from tiles.records.words import TRIAL_GLAZE, name_key

if TYPE_CHECKING:
    from tiles.records.forms import LayerRecord, TileRecord

SAME_FIRING = "Same firing and shelf as the others of the set."
IN_PLACE = "Same firing as the others of the set, {}."
NEXT_LOAD = (
    "In the next ordinary load, with a witness cone beside it: it tells whether load {} was at "
    "fault or how the tile is made."
)
COOLER = "nothing changed but the firing"
"""What is said of a control that must not go as hot as the tile did."""
OWN_FIRING = re.compile(r"\bFire it ([^.]+)\.")
"""How the note of a trial says that it is not fired with the others."""
_LAYER_KEYS = ("glaze", "recipe", "batch", "coats", "method", "applied_on", "beneath")
"""What is chosen of a layer; how thick it then turns out is measured anew."""


def control(view: "View", off_shelves: frozenset[str] = frozenset()) -> Trial:
    """The tile once more, as far as it is recorded; never hotter than clay and label stand.

    ``off_shelves`` are those that mostly miss their cone: no set is sent there.
    """
    limit, cooler = ceiling(view), cooler_shelf(view, off_shelves)
    there = f", on shelf {cooler.name}" if cooler else ""
    change = f"{COOLER}{there}. {limit.removesuffix('.')}" if limit else "nothing changed"
    if left := left_as_it_was(view):
        change += f"; {left}"
    tile = _tile(view, UNCHANGED, off_shelves)
    give_clues(tile, view)
    return Trial(CONTROL, f"as {view.record.mark}, {change}", tile)


def control_in_next_load(view: "View", off_shelves: frozenset[str], load: str) -> Trial:
    """The tile once more, alone, to tell a ``load`` that failed as a whole from how it is made."""
    made = control(view, off_shelves)
    note = made.tile["note"].replace(_same_firing(view, off_shelves), NEXT_LOAD.format(load))
    return replace(made, tile=made.tile | {"note": note})


def cooler_shelf(view: "View", off_shelves: frozenset[str] = frozenset()) -> RightShelf | None:
    """The shelf for a set that must go less hot than the tile did on its own; None if none is.

    On its own shelf the same firing would be too hot once more.
    """
    found = stands_on(view.record) if ceiling(view) else None
    return found if found and name_key(found.name) not in off_shelves else None


def without_second_control(answers: list[Answer]) -> list[Answer]:
    """A control that only goes less hot is left out where a trial has just that for its change."""
    trials = [(trial.name, trial.tile["trial_change"]) for a in answers for trial in a.trials]
    if not right_heat(trials):
        return answers
    return [
        replace(each, trials=[t for t in each.trials if not (t.is_control and COOLER in t.change)])
        for each in answers
    ]


def _tile(view: "View", change: str, off_shelves: frozenset[str] = frozenset()) -> dict:
    """The values of a planned tile like this one: what is done by hand goes into the note."""
    cooler, apart = cooler_shelf(view, off_shelves), missed_alone(view.record)
    shelf = cooler.name if cooler else view.record.shelf if apart else None
    # What its bisque was only set for is planned too: a trial stands for a tile bisqued so.
    record, cone = view.record, view.bisque_cone
    known = {"form": record.form, "stood": record.stood, "bisque_cone": cone}
    surface = {"surface": view.area.surface} if view.area and view.area.surface else {}
    layers = [as_planned(layer) for layer in view.layers]
    return {
        "body": {"name": record.body.name},
        **{key: value for key, value in known.items() if value is not None},
        **({"shelf": shelf} if shelf else {}),
        "areas": [{"number": 1, **surface, "layers": layers}],
        "note": _by_hand(view, off_shelves),
        "trial_of": record.mark,
        "trial_defect": view.defect,
        "trial_change": change,
    }


def as_planned(layer: "LayerRecord") -> dict:
    """The values of a layer that a tile planned like it gets as well."""
    return {key: _value(layer, key) for key in _LAYER_KEYS if getattr(layer, key) is not None}


def _value(layer: "LayerRecord", key: str):
    value = getattr(layer, key)
    if key in ("glaze", "batch"):
        return {"name": value.name}
    return value.model_dump() if key == "recipe" else value


def _by_hand(view: "View", off_shelves: frozenset[str]) -> str:
    """What whoever glazes and fires the trial has to see to."""
    same_firing = _same_firing(view, off_shelves)
    parts = (_of_batch(view), _of_bisque(view), same_firing, _in_kiln(view))
    parts = (*parts, ceiling(view), saves_shelf(view.record))
    return " ".join(part for part in parts if part)


def _of_bisque(view: "View") -> str:
    """Which bisque it had, where no single cone was read of it."""
    bisque = bisque_cone(view.record)
    is_unread = bisque is None or bisque.said_by == TARGET
    known = spoken_bisque(view.record) if is_unread else ""
    return f"Bisque as of {known}." if known else ""


def _same_firing(view: "View", off_shelves: frozenset[str]) -> str:
    """Where the shelves went apart, that of the tile is part of how it was made.

    Where it would be too hot there again, the cooler shelf; else the firing is set less hot.
    """
    found = missed_alone(view.record)
    if not found:
        return SAME_FIRING
    if cooler := cooler_shelf(view, off_shelves):
        return IN_PLACE.format(f"on shelf {cooler.name}")
    less = f", set {spoken_steps(found.over)} less than then" if ceiling(view) else ""
    return IN_PLACE.format(f"on shelf {found.here}{less}")


def _in_kiln(view: "View") -> str:
    """In which kiln: what fails in one for its slow cooling is sound in the other."""
    return f"In {spoken_kiln(view.kiln)}, as then." if view.kiln else ""


def _of_batch(view: "View") -> str:
    """From which jar."""
    return f"Glaze from {view.batch}, as then." if view.batch else ""


def _forget_jar(tile: dict, view: "View") -> None:
    """Nobody is asked to take the jar of the failed tile."""
    tile["note"] = tile["note"].removeprefix(_of_batch(view)).strip()


def forget_batch(tile: dict, view: "View") -> None:
    """Another glaze does not come from the jar of this one."""
    _forget_jar(tile, view)
    if view.batch:
        _top_layer(tile, view).pop("batch", None)


def _forget_bisque(tile: dict, view: "View") -> None:
    """Another bisque is not as that of this one."""
    if said := _of_bisque(view):
        tile["note"] = tile["note"].replace(f"{said} ", "")


def _top_layer(tile: dict, view: "View") -> dict:
    return tile["areas"][0]["layers"][place_of(view.layers, view.top)]


def step_trial(bench: Bench, step: Step) -> Trial:
    """The tile with the one step taken; the fix gives it its letter."""
    said = "; ".join(change.said for change in step.changes)
    tile = _tile(bench.view, said, bench.off_shelves)
    _edit(tile, bench, step.edit)
    told = f"Fire it {step.firing}." if step.firing else IN_PLACE.format(step.place)
    if step.firing or step.place:
        same_firing = _same_firing(bench.view, bench.off_shelves)
        tile["note"] = tile["note"].replace(same_firing, told)
    if KILN in step.edit:
        tile["note"] = tile["note"].replace(_in_kiln(bench.view), "").strip()
    if "batch" in step.edit:
        _forget_jar(tile, bench.view)
        tile["note"] = f"Glaze from {step.edit['batch']}. {tile['note']}"
    elif "glaze" in step.edit or "recipe" in step.edit:
        _forget_jar(tile, bench.view)
    elif any(change.what in OF_BUCKET for change in step.changes):
        forget_batch(tile, bench.view)
    if "slop" in step.edit:
        name = bench.view.top.batch.name
        tile["note"] = f"Glaze from part of {name}, {step.edit['slop']} first. {tile['note']}"
    give_clues(tile, bench.view, [each.what for each in step.changes])
    return Trial("", said, tile)


def _edit(tile: dict, bench: Bench, edit: dict) -> None:
    view = bench.view
    layers = layers_with(view, edit, _by_name, lambda name: BatchRecord(name=name))
    tile["areas"][0]["layers"] = [as_planned(each) for each in layers]
    if "bisque_cone" in edit:
        tile["bisque_cone"] = edit["bisque_cone"]
        _forget_bisque(tile, view)
    if "shelf" in edit:
        tile["shelf"] = edit["shelf"]
    if "body" in edit:
        tile["body"] = {"name": edit["body"]}


def _by_name(name: str) -> tuple[GlazeRecord, None]:
    """A glaze as a plan names it; it is glazed as it is mixed when the plan is put on record."""
    return GlazeRecord(name=name), None


def recipe_trial(bench: Bench, fix: Fix, point: BlendPoint) -> Trial:
    """The tile with a trial glaze in place of its own."""
    view = bench.view
    change = (
        fix.title.partition("; ")[0]
        if point.share == 1
        else f"{point.name} of the way to {fix.name}"
    )
    tile = _tile(view, change, bench.off_shelves)
    layer = _top_layer(tile, view)
    glaze = view.top.glaze
    recipe = {
        "lines": [
            {"material": name, "parts": parts, "is_addition": name in point.additions}
            for name, parts in point.parts.items()
        ],
        "note": f"{TRIAL_GLAZE}{view.record.mark}: {change}",
    }
    layer["glaze"] = {
        "name": f"{glaze.name} {view.record.mark} {fix.name} {point.name}",
        "kind": "recipe",
        **{
            key: getattr(glaze, key)
            for key in ("role", "finish", "colour", "cone_low", "cone_high")
            if getattr(glaze, key) is not None
        },
        "remark": f"{TRIAL_GLAZE}{view.record.mark}: {change}"[:500],
    }
    layer["recipe"] = recipe
    forget_batch(tile, view)
    give_clues(tile, view, ["glaze"])
    return Trial(f"{fix.name} {point.name}", change, tile, recipe)


def repeat_trial(
    view: "View", fired: "TileRecord", recipe: str, off_shelves: frozenset[str] = frozenset()
) -> Trial:
    """The tile like a trial for it, or for one made alike, that came out sound: once more.

    ``recipe`` names the trial recipe that it carries, by which it is told then; empty without one.
    """
    change, made = fired.trial_change or "", View(fired, fired.areas[0], view.defect)
    tile = _tile(view, change, off_shelves)
    tile["body"] = {"name": fired.body.name}
    tile["areas"][0]["layers"] = [as_planned(layer) for layer in made.layers]
    if made.bisque_cone:
        tile["bisque_cone"] = made.bisque_cone
    how = _same_firing(view, off_shelves)
    if change.startswith(f"{SHELF} ") and fired.shelf:
        tile["shelf"] = fired.shelf
        how = IN_PLACE.format(f"on shelf {fired.shelf}")
    if own_firing := OWN_FIRING.search(fired.note or ""):
        how = own_firing[0]
    kiln = "" if change.startswith(f"{KILN} ") else _in_kiln(view)
    parts = (f"Once more as {fired.mark}.", how, kiln, ceiling(view), saves_shelf(view.record))
    tile["note"] = " ".join(filter(None, parts))
    copy_clues(tile, made)
    return Trial(f"as {fired.mark}", recipe or change, tile, repeats=fired.mark)

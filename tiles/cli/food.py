"""What the labels say about food, beside tiles that are not made as the labels ask."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

KEEP_FROM_FOOD = ("crazing", "shivering", "underfired")
"""Faults with which ware is kept from food, whatever a label says (common practice, no source):
cracks that hold what is eaten, flakes that come off, a surface that gives off what is in it."""


_DID = {"crazing": "crazed", "shivering": "flaking", "underfired": "underfired"}


def tell_kept(looks: Iterable[tuple["TileRecord", Collection[str]]]) -> None:
    """One line where such a fault was seen on tiles of a glaze whose label promises food use.

    Parameters
    ----------
    looks : iterable of (TileRecord, collection of str)
        Tiles, each with the faults just seen on it.
    """
    from tiles.cli import common
    from tiles.records.food_label import FoodLabel
    from tiles.records.spoken import some

    did: dict[str, None] = {}
    marks: dict[str, None] = {}
    labels: dict[str, None] = {}
    for record, seen in looks:
        glazes = [layer.glaze for area in record.areas for layer in area.layers]
        told = [each for each in glazes if each.food_label]
        named = [each.name for each in told if not FoodLabel(each.food_label).is_warning]
        faults = [_DID[each] for each in KEEP_FROM_FOOD if each in seen]
        if named and faults:
            did |= dict.fromkeys(faults)
            labels |= dict.fromkeys(named)
            marks[record.mark] = None
    if marks:
        common.talk(
            f"{' or '.join(did).capitalize()}: keep {some(list(marks))} from food, whatever the "
            f"label of {some(list(labels))} says."
        )


@dataclass
class _Said:
    """A glaze whose label speaks of food, and the areas that its label does not speak for."""

    glaze: str
    label: object
    others: list = field(default_factory=list)
    """At another cone than it names, or not known at which."""
    unsure: list = field(default_factory=list)
    """Where it is not plain about its cones, hangs on another condition or is not understood."""
    bare: list = field(default_factory=list)
    """With nothing over it, though it speaks of the glaze with another one over it."""
    layered: list = field(default_factory=list)
    """Beside another layer, of which its label does not speak."""
    faulty: list = field(default_factory=list)


def unmet(areas: list, labels: dict) -> list[str]:
    """A line for each glaze with clean tiles that were not made as its label asks."""
    from tiles.records.spoken import some

    lines = []
    for said in _by_glaze([each for each in areas if each.clean], labels):
        told = [
            f"{why}: {some(list(dict.fromkeys(each.mark for each in found)))}"
            for why, found in (
                ("at another cone, or not known at which", said.others),
                ("not judged, so read it", said.unsure),
                ("with nothing over it", said.bare),
                ("of the glaze alone, but with other layers", said.layered),
            )
            if found
        ]
        if told:
            lines.append(f'The label of {said.glaze} says "{said.label.text}"; {"; ".join(told)}.')
    return lines


def claims(areas: list, labels: dict, every: list) -> list[str]:
    """What the labels say about food, each once with its glazes and where it does not hold.

    A heading, then a line each, and one with the glazes of which no label speaks; nothing where
    none does at all. ``every`` holds what is not shown, too: a sheet without the crazed ones must
    not read as if there were none.
    """
    faulty = {said.glaze: said.faulty for said in _by_glaze(every, labels)}
    glazes: dict[tuple[str, str], list[str]] = {}
    for said in _by_glaze(areas, labels):
        told = _not_so_made(said) + _not_alone(said, labels) + _seen(faulty[said.glaze])
        glazes.setdefault((said.label.text, told), []).append(said.glaze)
    # A warning stays one: only the words are the label's.
    lines = [f'   "{text}": {", ".join(names)}.{told}' for (text, told), names in glazes.items()]
    silent = sorted({name for each in areas for name in each.glazes} - labels.keys())
    lines += [f"   No label on record says anything of: {', '.join(silent)}."] if silent else []
    return ["On food, in the words of the labels, not ours:", *lines] if glazes else []


def beside(area, glaze: str, labels: dict) -> dict[str, list[str]]:
    """The layers of an area that the food label of one of its glazes does not speak for.

    "over" those beneath it, "under" those on top of it. A label speaks of its own glaze alone:
    two that are safe each by itself are together a glaze that nobody tested. Only a label that
    asks for another glaze over it speaks for one whose own says, at this cone, too, that it is
    safe. A warning is one whatever else is there.
    """
    label, at = labels[glaze], area.glazes.index(glaze)
    if label.is_warning:
        return {}
    on_top = [
        name
        for name in area.glazes[at + 1 :]
        if not (label.asks_for_cover and _is_safe(name, area, labels))
    ]
    found = {"over": area.glazes[:at], "under": on_top}
    return {where: [name for name in there if name != glaze] for where, there in found.items()}


def _is_safe(glaze: str, area, labels: dict) -> bool:
    label = labels.get(glaze)
    return bool(label and label.says_safe and label.is_met(area.cone_reached))


def _not_so_made(said: _Said) -> str:
    from tiles.chemistry.cones import step
    from tiles.records.spoken import some

    cones = sorted({each.cone_reached for each in said.others if each.cone_reached}, key=step)
    told = f" Not so fired: at cone {', '.join(cones)}." if cones else ""
    if any(not each.cone_reached for each in said.others):
        told += " Of some the cone reached is not known."
    if not (said.label.is_understood or said.label.is_promise):
        told += " Not understood: read it yourself."
    elif said.unsure:
        told += " Not judged whether so made: read it."
    bare = some(list(dict.fromkeys(each.mark for each in said.bare)))
    return f"{told} Nothing lies over it on {bare}." if bare else told


def _not_alone(said: _Said, labels: dict) -> str:
    from tiles.records.spoken import some

    found: dict[str, dict[str, None]] = {"over": {}, "under": {}}
    for each in said.layered:
        for where, names in beside(each, said.glaze, labels).items():
            found[where] |= dict.fromkeys(names)
    told = [f"{where} {some(list(names))}" for where, names in found.items() if names]
    return f" Said of the glaze alone, not {' or '.join(told)}." if told else ""


def _seen(faulty: list) -> str:
    from tiles.records.spoken import some

    on = {fault: {each.body: None for each in faulty if fault in each.severity}
          for fault in KEEP_FROM_FOOD}  # fmt: skip
    told = [f"{fault} on {some(list(bodies))}" for fault, bodies in on.items() if bodies]
    return f" Seen here: {', '.join(told)}: keep from food." if told else ""


def _by_glaze(areas: list, labels: dict) -> list[_Said]:
    """Each glaze of some areas with such a label, and the areas that it does not speak for."""
    names = {name for each in areas for name in each.glazes if name in labels}
    found = {name: _Said(name, labels[name]) for name in sorted(names)}
    for each in areas:
        for name in found.keys() & set(each.glazes):
            said, is_met = found[name], labels[name].is_met(each.cone_reached)
            if not is_met:
                (said.unsure if is_met is None else said.others).append(each)
            if labels[name].asks_for_cover and each.glazes[-1] == name:
                said.bare.append(each)
            if any(beside(each, name, labels).values()):
                said.layered.append(each)
            if not each.severity.keys().isdisjoint(KEEP_FROM_FOOD):
                said.faulty.append(each)
    return list(found.values())

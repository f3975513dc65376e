"""Which change a trial was fired to test: as it was written down, else as its record shows it."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.factors import FACTORS
from diagnose.fixes.shapes import (
    BENEATH,
    BISQUE_CONE,
    COATS,
    COLOUR_ON,
    CONE_REACHED,
    COOLING,
    KILN,
    ORDER,
    SHELF,
    UNDER,
    VERSION,
    WIPED,
)
from diagnose.fixes.steps_fire import COOLED_SLOWLY
from diagnose.next_tiles.odds import NEAR_CONES, batch_of
from diagnose.view import View, area_of
from tiles.chemistry.cones import step
from tiles.records.derived import recipe_key
from tiles.records.words import TRIAL_GLAZE, name_key, same_name

if TYPE_CHECKING:
    from diagnose.comparing.factors import Factor, Value
    from diagnose.fixes.shapes import Change
    from diagnose.next_tiles.changes import Candidate, Owned
    from tiles.records.forms import TileRecord

_ALTERED = ("body", "glaze", "coats", "coats under", "under put on", "bisque cone", "beneath",
            "batch", "recipe", "kiln", "cone")  # fmt: skip
"""What a change alters on record, and no chance as it does a tenth of a millimetre."""
FIRED = ("kiln", "cone", "shelf")
"""How a tile was fired. A shelf is a second change (`notices.sets_apart`) and no name of one."""
_WITH_IT = {
    "glaze": ("coats", "coats under", "under put on", "beneath", "batch", "recipe"),
    "batch": ("recipe",),
    "kiln": ("cone", "shelf"),
    "cone": ("shelf",),
}
"""What is no second thing where one of these differs."""


def tested(
    trial: "TileRecord", view: View, found: "Sequence[Candidate]", owned: "Owned"
) -> "Candidate | None":
    """The change among some that a trial tests; None where it is none of them.

    Parameters
    ----------
    trial : TileRecord
        Planned or fired for the tile of the view.
    view : View
        The failed tile.
    found : sequence of Candidate
        From `next_tiles.changes.candidates`.
    owned : Owned
        What they were thought of with.
    """
    written = (each for each in found if is_written(trial.trial_change, each.step.changes[0]))
    return next(written, None) or _read(trial, view, found, owned)


def _read(
    trial: "TileRecord", view: View, found: "Sequence[Candidate]", owned: "Owned"
) -> "Candidate | None":
    """The change as the record of a trial shows it; where none accounts for its coat, the coat."""
    from diagnose.changed import changed
    from diagnose.trials.coat import coat_changes, is_coat_too, of_coat, written_coat

    coat = coat_changes(trial, view) or written_coat(trial)
    shown = _shown(trial, view, found, owned)
    if one := next((each for each in shown if is_coat_too(each.step.changes[0], coat)), None):
        return one
    if not coat:
        return None
    read = of_coat(coat, found)
    return None if _differ(trial, changed(view, read.step, owned), view) else read


def is_written(text: str | None, change: "Change") -> bool:
    """Whether a trial was planned with this change, or with it and what follows from it.

    Also before it was known how it was before the change.
    """
    unsaid = replace(change, before=None).said
    return text in (change.said, unsaid) or (text or "").startswith(f"{change.said}; ")


def is_borne_out(trial: "TileRecord", change: "Change") -> bool:
    """Whether the record of a trial does not say that it was made another way.

    Of a change of the cone that was reached, it must say that it reached it.
    """
    view = View(trial, trial.areas[0])
    if change.what == COATS:
        coats = view.top.coats if view.top else None
        return coats is None or coats == change.after
    if change.what == BISQUE_CONE:
        bisque = view.bisque_cone
        return bisque is None or step(bisque) == step(str(change.after))
    if change.what == UNDER:
        below = " + ".join(layer.glaze.name for layer in view.colours) or "nothing"
        return same_name(below, str(change.after))
    if change.what == COLOUR_ON:
        return bool(view.colours) and view.colours[-1].applied_on in (None, change.after)
    if change.what == WIPED:
        return view.clues.get("bisque_wiped") != "no"
    if change.what == ORDER:
        names = " over ".join(layer.glaze.name for layer in reversed(view.glazes[-2:]))
        return same_name(names, str(change.after))
    if change.what == BENEATH and str(change.after).startswith("dry"):
        return view.state_beneath in (None, "dry")
    if change.what == "batch":
        return batch_of(view.area) in (None, name_key(str(change.after)))
    if change.what == VERSION:
        recipe = view.top.recipe if view.top else None
        return recipe is None or recipe.version == change.after
    if change.what == KILN:
        return view.kiln is None or same_name(view.kiln, str(change.after))
    if change.what == SHELF:
        return not trial.shelf or same_name(trial.shelf, str(change.after))
    if change.what == COOLING:
        return view.clues.get(COOLED_SLOWLY) != "no"
    if change.what == CONE_REACHED:
        return bool(view.cone_reached) and step(view.cone_reached) == step(str(change.after))
    return True


def _shown(
    trial: "TileRecord", view: View, found: "Sequence[Candidate]", owned: "Owned"
) -> "Iterator[Candidate]":
    """The changes that make the failed tile what the trial is on record as."""
    from diagnose.changed import changed

    if not trial.areas or not view.area or _is_recipe_trial(trial, view):
        return
    for each in found if _differ(trial, view.record, view) else ():
        change = each.step.changes[0]
        is_on_record = each.step.edit or change.what == CONE_REACHED
        is_so = is_on_record and not _differ(trial, changed(view, each.step, owned), view)
        if is_so and is_borne_out(trial, change):  # a cone is reached on more than one shelf
            yield each


def differences(trial: "TileRecord", view: View, but: Collection[str] = ()) -> list[str]:
    """In what the record of a trial differs from a tile, of all that a change can alter.

    As far as both say it; ``but`` for some factors, by name.
    """
    found = apart(_first_area(trial), view, [name for name in _ALTERED if name not in but])
    return [
        f"{FACTORS[name].said}: {_plain(there)} -> {_plain(here)}"
        for name, (here, there) in found.items()
    ]


def apart(one: View, other: View, names: Sequence[str]) -> "dict[str, tuple[Value, Value]]":
    """The factors among some in which two areas are known to differ: of the one, of the other."""
    if not one.area or not other.area:
        return {}
    seen = View(one.record, one.area), View(other.record, other.area)
    found: dict[str, tuple[Value, Value]] = {}
    for factor in map(FACTORS.__getitem__, names):
        here, there = map(factor.read, seen)
        goes_along = any(factor.name in _WITH_IT.get(name, ()) for name in found)
        if not goes_along and _is_other(factor, here, there):
            found[factor.name] = here, there
    return found


def all_differences(trial: "TileRecord", view: View) -> list[str]:
    """As `differences`, and the coat where it is clearly another: coats and mm as one thing."""
    from diagnose.trials.coat import coat_changes, spoken_change

    coat = coat_changes(trial, view)
    if not coat:
        return differences(trial, view)
    return [spoken_change(coat, view, trial), *differences(trial, view, but=("coats",))]


def _first_area(record: "TileRecord") -> View:
    return View(record, record.areas[0] if record.areas else None)


def _plain(value: "Value") -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _is_other(factor: "Factor", here: "Value", there: "Value") -> bool:
    """Whether two values are known and no way alike."""
    if here is None or there is None:
        return False
    if factor.kind == "cone":
        apart = abs(step(here) - step(there))
        return apart >= NEAR_CONES if factor.name == "cone" else apart > 0
    return here != there and name_key(str(here)) != name_key(str(there))


def _differ(trial: "TileRecord", record: "TileRecord", view: View) -> bool:
    """Whether two records differ in what a change can alter, as far as both say it."""
    area = area_of(record, view.area.number)
    one, other = _make(trial, trial.areas[0]), _make(record, area)
    is_known = one[1:], other[1:]
    is_other = any(a and b and a != b for a, b in zip(*is_known, strict=True))
    return one[0] != other[0] or is_other or bool(differences(trial, View(record, area)))


def _make(record: "TileRecord", area) -> tuple:
    """Layers, then the coats of each, batch and recipe; None if not known."""
    names = tuple(name_key(layer.glaze.name) for layer in area.layers)
    coats = tuple(layer.coats for layer in area.layers)
    top = View(record, area).top
    return (
        names,
        coats if all(coats) else None,
        batch_of(area),
        recipe_key(top.recipe) if top and top.recipe else None,
    )


def _is_recipe_trial(trial: "TileRecord", view: View) -> bool:
    """Whether it carries a trial recipe of `tiles fix`: nearly the same glaze, under a new name."""
    return bool(recipe_trial_of(trial, view))


def recipe_trial_of(trial: "TileRecord", view: View) -> str:
    """The name of the trial recipe of `tiles fix` that it carries; empty where it has none.

    Known by its remark, or by a name that begins with what it was made for: marks and glazes are
    given other names.
    """
    ours = f"{view.glaze_name} {view.record.mark} "
    for glaze in (layer.glaze for layer in trial.areas[0].layers):
        if glaze.name.startswith(ours) or (glaze.remark or "").startswith(TRIAL_GLAZE):
            return glaze.name
    return ""

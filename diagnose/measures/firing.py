"""Measures of the glaze firing: what it reached against what was meant, and how it went."""

from collections.abc import Iterator

from diagnose.measures.application import Reading, number
from diagnose.own_tiles.right_shelf import missed_alone
from diagnose.view import View
from tiles.chemistry.cones import band, steps_between, steps_outside
from tiles.records.far_labels import FAR_OUTSIDE_STEPS
from tiles.records.spoken import spoken_range
from tiles.records.words import same_name


def read(view: View) -> Iterator[Reading]:
    """Cone reached, over or under target and label, hold, rate, opening, atmosphere."""
    yield from _cones(view)
    yield from _set_for(view)
    firing = view.record.firing
    if firing is None:
        return
    held = "held {:g} min at the top" if firing.hold_min else "no hold"
    yield number("hold_min", firing.hold_min, held)
    yield number("rate_c_per_h", firing.rate_c_per_h, "rose {:g} °C an hour near the top")
    yield number("opened_c", firing.opened_c, "kiln opened at {:g} °C")
    yield "atmosphere", firing.atmosphere, f"fired in {firing.atmosphere}"
    yield number("peak_c", firing.peak_c, "went to {:g} °C")


def _cones(view: View) -> Iterator[Reading]:
    reached = view.cone_reached
    if reached is None:
        return
    yield "cone_reached", reached, f"reached cone {reached}"
    if view.target is not None:
        over = steps_between(view.target, reached)
        said = f"reached cone {reached}, set for cone {view.target}"
        yield "cones_over_target", over, said
        low = (view.label or (view.target,))[0]
        is_enough = over >= 0 and steps_between(low, reached) >= 0
        said = f"cone {reached} here, {'' if is_enough else 'not '}as much as it was meant to get"
        yield "had_its_heat", "yes" if is_enough else "no", said
    yield from _label(view, reached)
    yield from _shelves(view)


def _set_for(view: View) -> Iterator[Reading]:
    """What the kiln was set for against the label; and which part of the cone scale it was."""
    fired = view.cone
    if fired is not None:
        said = _spoken_peak(view) or f"fired to cone {fired}"
        yield "firing_band", band(fired), f"{said}, which is {band(fired)}"
    if view.label:
        said = f"the {view.glaze_name} label says {spoken_range(view.label)}"
        yield from set_against(view, "set_over_label", view.label, said)


def set_against(view: View, name: str, spans: tuple[str, str], said: str) -> Iterator[Reading]:
    """What the kiln was set for against a range; where that is not known, a peak far outside it."""
    if view.target is not None:
        yield name, steps_outside(view.target, *spans), f"set for cone {view.target}, {said}"
    elif peak := _spoken_peak(view):
        yield name, _far_outside(view.cone_fired, spans), f"{peak}, {said}"


def _spoken_peak(view: View) -> str:
    """The peak and its cone where they stand for the cone of the firing; else empty."""
    if view.cone_reached or not view.cone_fired:
        return ""
    return f"went to {view.record.firing.peak_c:g} °C, about cone {view.cone_fired}"


def _far_outside(near: str, spans: tuple[str, str]) -> float | None:
    """A peak tells as much as a target where it is far from a range, and nothing near it."""
    over = steps_outside(near, *spans)
    return over if abs(over) >= FAR_OUTSIDE_STEPS else None


def _shelves(view: View) -> Iterator[Reading]:
    """How far this tile's shelf stayed below the hottest other one; whether it alone missed."""
    right = missed_alone(view.record)
    if right is not None:
        said = f"cone {right.cone_here} here, cone {right.cone} on shelf {right.name}, as set"
        yield "missed_alone", "yes", said
    firing, reached = view.record.firing, view.cone_reached
    cones = [each for each in firing.witness_cones if each.shelf] if firing else []
    others = [each for each in cones if not same_name(each.shelf, view.record.shelf)]
    if not others:
        return
    hottest = max(others, key=lambda each: steps_between("022", each.cone))
    below = steps_between(reached, hottest.cone)
    said = f"cone {reached} here, cone {hottest.cone} on shelf {hottest.shelf}"
    yield "cones_below_other_shelves", below, said


def _label(view: View, reached: str) -> Iterator[Reading]:
    """Steps outside the range on the label of the top glaze."""
    if view.label is None:
        return
    low, high = view.label
    outside = steps_outside(reached, low, high)
    said = f"reached cone {reached}, the {view.glaze_name} label says {spoken_range(view.label)}"
    yield "cones_over_label", outside, said
    middle = (steps_between(low, reached) + steps_between(high, reached)) / 2
    yield "cones_from_label_middle", middle, said
    nearest = high if outside > 0 else low
    is_wrong = bool(outside) and band(reached) != band(nearest)
    said = f"cone {reached} is {band(reached)}, cone {nearest} is {band(nearest)}"
    if not is_wrong:
        said = "the firing and the label belong to the same part of the cone scale"
    yield "wrong_band", "yes" if is_wrong else "no", said

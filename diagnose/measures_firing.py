"""Measures of the glaze firing: what it reached against what was meant, and how it went."""

from collections.abc import Iterator

from diagnose.measures_application import Reading
from diagnose.view import View
from tiles.chemistry.cones import band, steps_between, steps_outside


def read(view: View) -> Iterator[Reading]:
    """Cone reached, over or under target and label, hold, rate, opening, atmosphere."""
    yield from _cones(view)
    firing = view.record.firing
    if firing is None:
        return
    if firing.hold_min is not None:
        said = f"held {firing.hold_min:g} min at the top" if firing.hold_min else "no hold"
        yield "hold_min", firing.hold_min, said
    if firing.rate_c_per_h is not None:
        said = f"rose {firing.rate_c_per_h:g} °C an hour near the top"
        yield "rate_c_per_h", firing.rate_c_per_h, said
    if firing.opened_c is not None:
        yield "opened_c", firing.opened_c, f"kiln opened at {firing.opened_c:g} °C"
    yield "atmosphere", firing.atmosphere, f"fired in {firing.atmosphere}"


def _cones(view: View) -> Iterator[Reading]:
    reached = view.cone_reached
    if reached is None:
        return
    yield "cone_reached", reached, f"reached cone {reached}"
    target = view.record.firing.target_cone if view.record.firing else None
    if target is not None:
        over = steps_between(target, reached)
        said = f"reached cone {reached}, set for cone {target}"
        yield "cones_over_target", over, said
    yield from _label(view, reached)


def _label(view: View, reached: str) -> Iterator[Reading]:
    """Steps outside the range on the label of the top glaze."""
    glaze = view.top.glaze if view.top else None
    if glaze is None or (glaze.cone_low is None and glaze.cone_high is None):
        return
    # A label with one cone means that cone, not "from there on up".
    low, high = glaze.cone_low or glaze.cone_high, glaze.cone_high or glaze.cone_low
    span = low if low == high else f"{low} to {high}"
    outside = steps_outside(reached, low, high)
    said = f"reached cone {reached}, the {glaze.name} label says {span}"
    yield "cones_over_label", outside, said
    nearest = high if outside > 0 else low
    is_wrong = bool(outside) and band(reached) != band(nearest)
    said = f"cone {reached} is {band(reached)}, cone {nearest} is {band(nearest)}"
    if not is_wrong:
        said = "the firing and the label belong to the same part of the cone scale"
    yield "wrong_band", "yes" if is_wrong else "no", said

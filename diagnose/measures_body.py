"""Measures of the clay body, its bisque, and how the tile stood."""

from collections.abc import Iterator

from diagnose.measures_application import Reading
from diagnose.view import View
from tiles.chemistry.cones import steps_between, steps_outside
from tiles.records.derived import witness_cone


def read(view: View) -> Iterator[Reading]:
    """Body figures, bisque cone and rate, and the bisque compared with the glaze firing."""
    yield from _body(view.record.body)
    yield from _body_heat(view)
    yield from _set_for(view)
    yield from _bisque(view)
    record = view.record
    yield "stood", record.stood, f"fired {record.stood}"
    yield "form", record.form, f"{record.form} tile"


def _body(body) -> Iterator[Reading]:
    yield "body_kind", body.kind, f"the body is {body.kind}"
    yield "body_colour", body.colour and body.colour.casefold(), f"{body.colour} body"
    absorption = body.absorption_pct
    if absorption is not None:
        said = f"the fired body takes up {absorption:g} % water"
        yield "absorption_pct", absorption, said
    expansion = body.expansion_ppm_per_k
    if expansion is not None:
        said = f"body expansion {expansion:g} millionths per K"
        yield "body_expansion_ppm_per_k", expansion, said


def bisque_cone(record) -> tuple[str, str] | None:
    """The bisque cone and how it is known; a programmed cone counts and is said to be one."""
    firing = record.bisque_firing
    known = record.bisque_cone or witness_cone(firing, None)
    if known:
        return known, f"bisque cone {known}"
    if firing and firing.target_cone:
        return firing.target_cone, f"bisque set for cone {firing.target_cone} (no witness cone)"
    return None


def _body_heat(view: View) -> Iterator[Reading]:
    """Steps by which the hottest firing lies outside the body's range; needs both firings."""
    body, bisque, reached = view.record.body, bisque_cone(view.record), view.cone_reached
    if body.cone_low is None and body.cone_high is None:
        return
    known = [cone for cone in (bisque and bisque[0], reached) if cone]
    if not known:
        return
    hottest = max(known, key=lambda cone: steps_between(known[0], cone))
    outside = steps_outside(hottest, body.cone_low, body.cone_high)
    if outside < 0 and len(known) < 2:
        return
    spans = " to ".join(dict.fromkeys(c for c in (body.cone_low, body.cone_high) if c))
    said = f"hottest firing cone {hottest}, the body is made for {spans}"
    yield "cones_over_body", outside, said


def _set_for(view: View) -> Iterator[Reading]:
    """What the glaze firing was set for against the body's range."""
    firing, body = view.record.firing, view.record.body
    target = firing.target_cone if firing else None
    if target is None or (body.cone_low is None and body.cone_high is None):
        return
    spans = " to ".join(dict.fromkeys(c for c in (body.cone_low, body.cone_high) if c))
    said = f"set for cone {target}, the body is made for {spans}"
    yield "set_over_body", steps_outside(target, body.cone_low, body.cone_high), said


def _bisque(view: View) -> Iterator[Reading]:
    bisque = bisque_cone(view.record)
    if bisque is not None:
        cone, said = bisque
        below = steps_between(cone, "04")
        yield "bisque_cones_below_04", below, said
        yield from _against_glaze(view, cone, said)
    firing = view.record.bisque_firing
    if firing is not None:
        rate = firing.rate_c_per_h
        if rate is not None:
            yield "bisque_rate_c_per_h", rate, f"bisque rose {rate:g} °C an hour near its top"
        hold = firing.hold_min
        if hold is not None:
            yield "bisque_hold_min", hold, f"bisque held {hold:g} min"


def _against_glaze(view: View, bisque: str, said: str) -> Iterator[Reading]:
    """Bisque minus glaze firing: by the cone reached, else by the cone it was set for.

    A kiln a cone or more over its target makes no bisque too cool: then the target counts.
    """
    firing = view.record.firing
    target = firing.target_cone if firing else None
    glaze = view.cone_reached or target
    if glaze is None:
        return
    how = f"glaze firing reached cone {glaze}"
    if view.cone_reached and target and steps_between(target, glaze) >= 1:
        how = f"glaze firing set for cone {target}, but reached {glaze}"
        glaze = target
    if view.cone_reached is None:
        how = f"glaze firing set for cone {glaze} (no witness cone)"
    yield "bisque_minus_glaze_cones", steps_between(glaze, bisque), f"{said}, {how}"

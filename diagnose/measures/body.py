"""Measures of the clay body, its bisque, and how the tile stood."""

from collections.abc import Iterator

from diagnose.measures.application import Reading, number
from diagnose.measures.firing import set_against
from diagnose.view import View
from tiles.chemistry.cones import steps_between, steps_outside
from tiles.records import derived
from tiles.records.derived import label_range, stage
from tiles.records.spoken import spoken_range

FAR_OVER = 2
"""So many cones over the label are no glaze firing that a bisque could be made for (estimate)."""

BEFORE_FIRING = ("planned", "glazed", "loaded")
"""Stages at which nobody can miss a witness cone."""


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
    yield number("absorption_pct", body.absorption_pct, "the fired body takes up {:g} % water")
    said = "body expansion {:g} millionths per K"
    yield number("body_expansion_ppm_per_k", body.expansion_ppm_per_k, said)


def _bisque_cone(record) -> tuple[str, str] | None:
    """The bisque cone and how it is known; a programmed cone counts and is said to be one."""
    known = derived.bisque_cone(record)
    if known is None:
        return None
    if known.said_by == derived.TARGET:
        return known.cone, f"bisque set for cone {known.cone} (no witness cone)"
    if read := derived.bisque_read_otherwise(record):
        return known.cone, f"bisque cone {known.cone} (the tile's own; its bisque read {read})"
    return known.cone, f"bisque cone {known.cone}"


def _body_heat(view: View) -> Iterator[Reading]:
    """Steps by which the hottest firing lies outside the body's range; needs both firings."""
    spans = label_range(view.record.body)
    if spans is None:
        return
    known = [cone for cone in (view.bisque_cone, view.cone_reached) if cone]
    if not known:
        return
    hottest = max(known, key=lambda cone: steps_between(known[0], cone))
    outside = steps_outside(hottest, *spans)
    if outside < 0 and len(known) < 2:
        return
    said = f"hottest firing cone {hottest}, the body is made for {spoken_range(spans)}"
    yield "cones_over_body", outside, said


def _set_for(view: View) -> Iterator[Reading]:
    """What the glaze firing was set for against the body's range."""
    if spans := label_range(view.record.body):
        said = f"the body is made for {spoken_range(spans)}"
        yield from set_against(view, "set_over_body", spans, said)


def _bisque(view: View) -> Iterator[Reading]:
    bisque = _bisque_cone(view.record)
    if bisque is not None:
        cone, said = bisque
        below = steps_between(cone, "04")
        yield "bisque_cones_below_04", below, said
        yield from _against_glaze(view, cone, said)
    firing = view.record.bisque_firing
    if firing is not None:
        said = "bisque rose {:g} °C an hour near its top"
        yield number("bisque_rate_c_per_h", firing.rate_c_per_h, said)
        yield number("bisque_hold_min", firing.hold_min, "bisque held {:g} min")


def _against_glaze(view: View, bisque: str, said: str) -> Iterator[Reading]:
    """Bisque minus glaze firing: by the cone the glaze firing was meant for or reached."""
    found = _glaze_cone(view)
    if found is not None:
        glaze, how = found
        yield "bisque_minus_glaze_cones", steps_between(glaze, bisque), f"{said}, {how}"


def _glaze_cone(view: View) -> tuple[str, str] | None:
    """The glaze firing a bisque is held against: the cone reached, else the one it was set for.

    Too hot a kiln makes no bisque too cool: a cone or more over its target, the target counts, and
    more than `FAR_OVER` over the label, the label.
    """
    reached, target, spans = view.cone_reached, view.target, view.label
    if reached is None:
        unread = "" if stage(view.record) in BEFORE_FIRING else " (no witness cone)"
        return (target, f"glaze firing set for cone {target}{unread}") if target else None
    if spans and steps_between(spans[1], reached) > FAR_OVER:
        hottest = target if target and steps_between(target, spans[1]) > 0 else spans[1]
        return hottest, f"glaze made for cone {hottest}, but fired to {reached}"
    if target and steps_between(target, reached) >= 1:
        return target, f"glaze firing set for cone {target}, but reached {reached}"
    return reached, f"glaze firing reached cone {reached}"

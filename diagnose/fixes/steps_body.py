"""Steps on the clay: the bisque, another body, glaze on bisque instead of raw clay."""

from diagnose.bought_bisque import is_bought
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.ranges import cones_of_trial, stands, suits
from diagnose.fixes.shapes import BISQUE_CONE, Change
from tiles.chemistry.cones import steps_between
from tiles.records.words import same_name

HOT_BISQUE, DENSE_BISQUE = "04", "03"
"""A bisque that drives gas out: usual at low fire, hot for mid-range clay, where 08 to 04 is usual
and mostly 06; and one that makes a low-fire body shrink more (all read)."""
SOFT_BISQUE = {"mid_range": "06"}
"""The usual bisque where that is another than HOT_BISQUE."""
ROUND_MM = 2.0
"""Radius of a rim that holds its glaze: common practice, no source."""
BISQUE_RATE_C_PER_H, BISQUE_HOLD_MIN = 80, 30
"""Slow bisque between 700 and 900 C: 60 to 80 C an hour and a hold, common practice."""


def hotter_bisque(bench: Bench) -> Step | None:
    """Gas out before glazing: to cone 04, as far as the body stands it."""
    return _bisque(bench, HOT_BISQUE, hotter=True)


def denser_bisque(bench: Bench) -> Step | None:
    """A body that shrinks more and takes up less damp: to cone 03 where the body stands it."""
    return _bisque(bench, DENSE_BISQUE, hotter=True) if bench.setting != "mid_range" else None


def enough_bisque(bench: Bench) -> Step | None:
    """Against crazing a denser clay where the body stands it; else hot enough to drive gas out."""
    denser = denser_bisque(bench) if bench.view.defect == "crazing" else None
    return denser or hotter_bisque(bench)


def softer_bisque(bench: Bench) -> Step | None:
    """A bisque that draws the glaze in again."""
    return _bisque(bench, SOFT_BISQUE.get(bench.setting, HOT_BISQUE), hotter=False)


def _bisque(bench: Bench, wanted: str, *, hotter: bool) -> Step | None:
    if is_bought(bench.record):
        return None
    before = bench.view.bisque_cone
    wanted = bench.within_body(wanted)
    if before is not None:
        by = steps_between(before, wanted)
        if by == 0 or (by > 0) != hotter:
            return None
    changes = [Change(BISQUE_CONE, before, wanted)]
    spoils = (
        "A hotter bisque draws less glaze: it needs a longer dip or one more coat."
        if hotter
        else "A softer bisque draws more glaze and gives off more gas later."
    )
    title = "Hotter bisque" if hotter else "Softer bisque"
    return Step(
        "hotter_bisque" if hotter else "softer_bisque",
        title,
        changes,
        spoils,
        {"bisque_cone": wanted},
    )


def slower_bisque(bench: Bench) -> Step | None:
    """More time and air between 700 and 900 C; a hold there where the rise was slow."""
    if is_bought(bench.record):
        return None
    firing = bench.record.bisque_firing
    rate = firing.rate_c_per_h if firing else None
    held = firing.hold_min if firing else None
    if rate is None or rate > BISQUE_RATE_C_PER_H:
        change = Change("bisque, 700 to 900 °C", rate, BISQUE_RATE_C_PER_H, "°C/h")
    elif held is None or held < BISQUE_HOLD_MIN:
        change = Change("bisque hold at the top", held, BISQUE_HOLD_MIN, "min")
    else:
        return None
    spoils = "It takes longer; leave the vent or a spy hole open until 900 °C."
    return Step("slower_bisque", "Slower bisque", [change], spoils, firing="in a slow bisque")


def bisque_first(bench: Bench) -> Step:
    """Bisque before glazing."""
    before = bench.top.applied_on if bench.top else None
    cone = bench.within_body(SOFT_BISQUE.get(bench.setting, HOT_BISQUE))
    changes = [Change("glazed on", before, f"bisque, cone {cone}")]
    return Step("bisque_first", "Bisque first", changes, "", {"bisque_cone": cone})


def round_rims(bench: Bench) -> Step:
    """No sharp edge for the glaze to lift from."""
    changes = [Change("rim and edges", None, f"rounded to {ROUND_MM:g} mm before the bisque")]
    return Step("round_rims", "Round rims", changes, "A fine rim looks thicker.")


def other_body(bench: Bench) -> Step | None:
    """Another body on record that stands the cone, one with sound tiles of the glaze first.

    Else they are ordered by what is measured of them.
    """
    if _fails_on_every_body(bench):
        return None
    body = bench.record.body
    others = [
        each
        for each in bench.bodies
        if not same_name(each.name, body.name)
        and stands(each, cones_of_trial(bench.view))
        and suits(each, bench.view.glaze)
    ]
    if not others:
        return None
    best = min(others, key=lambda each: _promise(bench, each))
    changes = [Change("body", body.name, best.name)]
    spoils = "Colours look different on another clay, and a body that shrinks "
    spoils += (
        "much more can make a glaze flake off." if _wants_more(bench) else "less can craze it."
    )
    return Step("other_body", _title(bench, best), changes, spoils, {"body": best.name})


def _title(bench: Bench, best) -> str:
    """Why this body: what own tiles or its expansion say for it."""
    if _is_sound_on(bench, best):
        return f"Another body, {bench.sound_on.there}"
    spans = [each.expansion_ppm_per_k for each in (best, bench.record.body)]
    if spans[0] is None:
        return "Another body"
    here = f", here {spans[1]:g}" if spans[1] else ""
    return f"Another body (expansion {spans[0]:g}{here})"


def _is_sound_on(bench: Bench, body) -> bool:
    return bench.sound_on is not None and body.name == bench.sound_on.name


def _fails_on_every_body(bench: Bench) -> bool:
    """Whether the record says that no clay tried so far helped."""
    return bench.view.clues.get("fails_on_every_body") == "yes"


def _promise(bench: Bench, body) -> tuple:
    """Crazing wants a body that shrinks more, shivering one that shrinks less; unknown last."""
    expansion = body.expansion_ppm_per_k
    if _is_sound_on(bench, body):
        return (-1, 0.0, body.name)
    if expansion is None:
        return (1, 0.0, body.name)
    return (0, -expansion if _wants_more(bench) else expansion, body.name)


def _wants_more(bench: Bench) -> bool:
    return bench.view.defect == "crazing"

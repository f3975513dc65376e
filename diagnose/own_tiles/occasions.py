"""Which causes a count by clay, kiln, shelf, load, batch or layer beneath or above speaks for.

No sign of a cause names a kiln or a jar: what fails in one kiln and not in another lies in how it
was fired, what fails from one jar alone in what was in it, what fails on one clay alone in that, or
in how the glaze fits it. A load shares its firing and most often its bisque.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from diagnose.colour_layer import OF_THE_CLEAR
from diagnose.comparing.factors import BARE_CLAY
from diagnose.comparing.of_load import LOAD
from diagnose.own_tiles.fit import FIT_CAUSES
from diagnose.own_tiles.layer import ABOVE
from diagnose.rules import load
from diagnose.view import NOTHING
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.comparing.counted import Counted
    from diagnose.measures.of_area import Measure
    from diagnose.rules import Cause

CLAY = "body"
JAR = "jar"
"""A whole jar that fails always: its label is wrong, or its recipe."""
_AT_THE_KILN = {"firing", "cooling"}
_AT_THE_JAR = {"slip"}
_OF_A_CLAY = {
    "sound_on_other_body",
    "fails_on_every_body",
    "body_has_talc",
    "lump_in_clay",
}
"""What a cause asks that lies in what a clay is, and not in how a piece was made of it."""
_MENDED = {
    "kiln": _AT_THE_KILN,
    "shelf": _AT_THE_KILN,
    "batch": _AT_THE_JAR,
    JAR: {"recipe"},
    LOAD: _AT_THE_KILN | {"bisque"},
}
OVER_A_GLAZE = "over a glaze"
"""What lies beneath where that is a glaze: no colour lets it slide."""
_ANSWERED = {
    "batch": "new_batch_only",
    "under": "only_over_colour",
    OVER_A_GLAZE: "only_in_overlaps",
    JAR: "wrong_jar_possible",
}
"""The clue of a cause that such a count answers."""
_SOUND = {
    "batch": "another batch: of {many} tiles from batch {name} none {did}",
    "under": "another layer under the glaze: of {many} tiles over {name} none {did}",
    ABOVE: "another glaze over it: of {many} tiles under {name} none {did}",
}
LEAST_SOUND = 2
_MISSED = ("kiln_short", "cold_shelf", "overfired")
IN_CLAY = ("body_kind", "body_colour", "absorption_pct", "body_expansion_ppm_per_k")
"""Figures of a clay: they part tiles as its name does, and are no second thing."""
OCCASIONS = ("kiln", "shelf", "batch", "under", ABOVE)


def occasion_of(measure: str, facts: "Mapping[str, Measure]") -> str:
    """What a count is by: beneath may lie a glaze, which is no colour that lets it slide."""
    glazes = facts.get("glazes_on_area")
    is_on_glaze = glazes is not None and glazes.value > 1 and "colour_beneath" not in facts
    return OVER_A_GLAZE if measure == "under" and is_on_glaze else measure


def is_read(cause: "Cause", facts: "Mapping[str, Measure]") -> bool:
    """Whether the cause is a missed cone, and the cone was read: a count by kiln tells no more.

    A kiln that reads as set fails ware by how it cools or how long it takes.
    """
    return cause.name in _MISSED and "cones_over_target" in facts


def lies_in(occasion: str, cause: "Cause") -> bool:
    """Whether a cause comes with a clay, kiln, shelf, batch or layer beneath, not with another.

    With a layer above, where it rests on what is in that.
    """
    if cause.right_name:
        return False
    is_mended = cause.who_can_act[:1] and cause.who_can_act[0] in _MENDED.get(occasion, ())
    asked = {sign.measure for sign in cause.signs}
    if occasion == CLAY:
        is_of_clay = cause.who_can_act[:1] == ("body",) and not asked.isdisjoint(_OF_A_CLAY)
        return is_of_clay or cause.name in FIT_CAUSES
    if occasion == ABOVE:
        return not asked.isdisjoint(OF_THE_CLEAR)
    return bool(is_mended) or _ANSWERED.get(occasion) in asked


def is_in_no_cause(occasion: str, defect: str) -> bool:
    """Whether the list of a fault holds no cause that comes with it."""
    return not any(lies_in(occasion, cause) for cause in load(defect).causes)


def fails_least(occasion: str, own: str, others: "Sequence[Counted]") -> str:
    """The other kiln, shelf, batch or layer beneath of whose areas the smallest part failed.

    Of two that fail alike the one with more areas; "" where none is on record.
    """
    found: dict[str, list[bool]] = {}
    for each in others:
        name = each.values.get(occasion)
        if name and not same_name(name, own):
            found.setdefault(name, []).append(each.failed)
    return min(found, key=lambda name: (_part(found[name]), -len(found[name]), name), default="")


def sound_on(
    occasion: str, own: str, others: "Sequence[Counted]", failing: "Sequence[Counted]", did: str
) -> str:
    """The other batch or layer beneath of which most tiles came out, none of them with the fault.

    "" where there is none of two tiles or more; bare clay is no other layer.

    Parameters
    ----------
    occasion, own : str
        One of ``OCCASIONS``, and which of them this tile had.
    others : sequence of Counted
        Own areas of the same glaze.
    failing : sequence of Counted
        All areas of it that failed, also later than these are compared at.
    did : str
        What failing is called ("crawled").
    """
    tiles: dict[str, set[str]] = {}
    failed = {each.values.get(occasion) for each in failing}
    for each in others if occasion in _SOUND else ():
        name = each.values.get(occasion)
        if name and name not in (BARE_CLAY, NOTHING) and not same_name(name, own):
            tiles.setdefault(name, set()).add(each.record.mark)
    sound = {name: len(of) for name, of in tiles.items() if name not in failed}
    best = min(sound, key=lambda name: (-sound[name], name), default="")
    if sound.get(best, 0) < LEAST_SOUND:
        return ""
    return _SOUND[occasion].format(name=best, many=sound[best], did=did)


def _part(failed: list[bool]) -> float:
    return (sum(failed) + 1) / (len(failed) + 2)

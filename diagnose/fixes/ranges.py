"""Whether a glaze and a clay stand the same firing, and how hot or cool a trial may go.

A low-fire clay above its range slumps, bloats or melts on to the shelf; no step may lead there.
"""

from typing import TYPE_CHECKING

from tiles.chemistry.cones import band, cone_at, in_range, step
from tiles.records.derived import label_range
from tiles.records.spoken import spoken_range
from tiles.records.words import COLOUR_ROLES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.view import View
    from tiles.records.forms import BodyRecord, GlazeRecord

COOL_ROOM = 2.0
"""A glaze firing may lie so far below the cool end of a clay. [cones]; low-fire clay is commonly
bisqued to cone 04 and glazed at 06 (common practice)."""

COOLEST, HOTTEST = step("022"), step("10")

LOW_FIRE_CLAY = "earthenware"
"""A clay of this kind is kept out of mid-range firings where its bag is not on record."""


ABOUT = 0.5
"""A witness cone that lies so far above what ware stands is still about that cone. [cones]"""


def hotter_than(one: "BodyRecord | GlazeRecord", cone: str) -> str:
    """The cone that a clay or glaze stands at most, where another is hotter by more than about."""
    known = label_range(one)
    return known[1] if known and step(cone) > step(known[1]) + ABOUT else ""


def is_too_hot(body: "BodyRecord", cone: str) -> bool:
    """Whether a cone is hotter than what the clay is known to stand."""
    known = label_range(body)
    if known:
        return step(cone) > step(known[1])
    return body.kind == LOW_FIRE_CLAY and band(cone) != "low fire"


def stands(one: "BodyRecord | GlazeRecord", cones: "Sequence[str]") -> bool:
    """Whether a clay or glaze may go on a trial fired to these cones: the one judgement of that.

    By its label. Where none is on record a clay stands a low firing, and a hotter one where its
    kind is known and no earthenware; a colour does not melt and stands any; a glaze stands none,
    for it may run off on to the shelf, or stay dry and tell nothing (common practice, no source).

    Parameters
    ----------
    one : BodyRecord or GlazeRecord
        What would be used.
    cones : sequence of str
        From `cones_of_trial`; where there are none, no label tells.
    """
    from tiles.records.forms import BodyRecord

    if known := label_range(one):
        return bool(cones) and all(in_range(cone, *known) for cone in cones)
    if isinstance(one, BodyRecord):
        return bool(cones) and all(
            band(cone) == "low fire" or (one.kind and not is_too_hot(one, cone)) for cone in cones
        )
    return one.role in COLOUR_ROLES


def suits(body: "BodyRecord", glaze: "GlazeRecord | None") -> bool:
    """Whether some firing within the label of the glaze suits the clay as well."""
    label = label_range(glaze)
    if label is None:
        return True
    known = label_range(body)
    if known is None:
        return not is_too_hot(body, label[0])
    return step(label[0]) <= step(known[1]) and step(label[1]) >= step(known[0]) - COOL_ROOM


def within_both(body: "BodyRecord", glaze: "GlazeRecord | None", cone: str) -> str | None:
    """The cone nearest to the one given that label and clay stand, None where there is none."""
    if not suits(body, glaze):
        return None
    label, known = label_range(glaze), label_range(body)
    low, high = map(step, label) if label else (COOLEST, HOTTEST)
    if known:
        low = max(low, step(known[0]) - COOL_ROOM)
        high = min(high, step(known[1]))
    found = cone_at(min(max(step(cone), low), high))
    return None if is_too_hot(body, found) else found


def cones_of_trial(view: "View") -> tuple[str, ...]:
    """The cones that what goes on a trial must stand: what the tile reached, and what was set.

    Where a shelf missed its cone, the trial stands there again, in a firing set as that one was.
    """
    return tuple(dict.fromkeys(filter(None, (view.cone, view.target))))


def not_together(view: "View") -> str:
    """Why no tile of this glaze and clay is planned, and what to use; empty where they suit."""
    told = apart(view)
    return told and f"{told} No tile of the two is planned."


def apart(view: "View") -> str:
    """Why glaze and clay have no firing in common, and what to use; empty where they have one."""
    body, glaze = view.record.body, view.glaze
    if suits(body, glaze):
        return ""
    label, known = label_range(glaze), label_range(body)
    ware = spoken_range(known) if known else f"an {body.kind}, and its bag is not on record"
    is_hotter = known is None or step(label[0]) > step(known[1])
    harm = (
        f"at {spoken_range(label)} this clay can slump, bloat or melt on to the shelf"
        if is_hotter
        else f"at {spoken_range(label)} this clay stays porous, so it seeps and the glaze crazes; "
        f"at {spoken_range(known)} the glaze runs off on to the shelf"
    )
    return (
        f"{glaze.name} is for {spoken_range(label)}, {body.name} is {'for ' if known else ''}"
        f"{ware}: {harm}. They do not belong together. Use another glaze for this clay"
        f"{f' ({spoken_range(known)})' if known else ''}, or this glaze on a clay for "
        f"{spoken_range(label)}."
    )


def ceiling(view: "View") -> str:
    """The limit to write on a trial where the tile itself went hotter than clay or label stand.

    Or was set to, where no cone was read.
    """
    most, name = too_hot_for(view)
    return f"No hotter than cone {most}, the most that {name} stands." if most else ""


def too_hot_for(view: "View") -> tuple[str, str]:
    """The cone that clay or glazes stand at most, and which of them; empty where that was kept."""
    reached = view.cone
    for one in (view.record.body, *(layer.glaze for layer in view.glazes)) if reached else ():
        if most := hotter_than(one, reached):
            return most, one.name
    return "", ""

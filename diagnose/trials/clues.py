"""What was done by hand on a failed tile, as clues say it: its control and trials get it, too.

Whoever wipes the bisque as always on the control of a tile that was not wiped gets a sound tile,
and learns nothing.
"""

from typing import TYPE_CHECKING

from diagnose.fixes.shapes import BENEATH, MARGIN, STIRRED, WIPED
from diagnose.vocabulary import clue_said
from diagnose.wording import sentence
from tiles.records.clues import clues

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.view import View

BY_HAND = (
    "bisque_wiped",
    "coats_left_powder_dry",
    "wax_near",
    "glaze_near_foot",
    "glazed_inside_only",
    "shared_brushes",
    "glaze_stirred",
)
"""The clues that say how a tile was glazed, so that it can be done once more; others say how it
came out, or what is true of the jar and the firing."""
_CHANGED_BY = {
    WIPED: ("bisque_wiped", "yes"),
    STIRRED: ("glaze_stirred", "yes"),
    MARGIN: ("glaze_near_foot", "no"),
    BENEATH: ("coats_left_powder_dry", None),
    "glaze": ("glaze_stirred", None),
    "batch": ("glaze_stirred", None),
}
"""The clue that a change is about, and the answer that it then has, if any."""


def give_clues(tile: dict, view: "View", changed: "Sequence[str]" = ()) -> None:
    """Put on a planned tile what was done by hand on the failed one, but for what is changed.

    The note asks for it to be done so; what is changed its change tells already.

    Parameters
    ----------
    tile : dict
        The values of a planned tile; they are changed.
    view : View
        The failed tile.
    changed : sequence of str, optional
        What is done otherwise, as `Change.what`.
    """
    wanted = {name: answer for name, answer in view.clues.items() if name in BY_HAND}
    other = dict(_CHANGED_BY[each] for each in changed if each in _CHANGED_BY)
    asked = [clue_said(name, wanted[name]) for name in wanted if name not in other]
    tile["note"] = " ".join([*(sentence(f"as then: {each}") for each in asked), tile["note"]])
    for name, answer in (wanted | {n: a for n, a in other.items() if n in wanted}).items():
        if answer:
            holder = tile if clues()[name].about == "tile" else tile["areas"][0]
            holder.setdefault("clues", {})[name] = answer

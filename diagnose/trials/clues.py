"""What was done by hand on a failed tile, as clues say it: its control and trials get it, too.

Whoever wipes the bisque as always on the control of a tile that was not wiped gets a sound tile,
and learns nothing; and where the control fails of dust that is not on its record, the glaze gets
the blame.
"""

from typing import TYPE_CHECKING

from diagnose.fixes.shapes import BENEATH, MARGIN, STIRRED, WIPED
from diagnose.vocabulary import clue_said
from diagnose.wording import sentence
from tiles.records.clues import clues

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from diagnose.view import View

BY_HAND = (
    "bisque_wiped",
    "bisque_dusty",
    "bisque_greasy",
    "coats_left_powder_dry",
    "wax_near",
    "glaze_near_foot",
    "glazed_inside_only",
    "shared_brushes",
    "glaze_stirred",
)
"""The clues that say how a tile was glazed, so that it can be done once more; others say how it
came out, or what is true of the jar and the firing."""
_CHANGED_BY: "dict[str, dict[str, str | None]]" = {
    WIPED: {"bisque_wiped": "yes", "bisque_dusty": None},
    STIRRED: {"glaze_stirred": "yes"},
    MARGIN: {"glaze_near_foot": "no"},
    BENEATH: {"coats_left_powder_dry": None},
    "glaze": {"glaze_stirred": None},
    "batch": {"glaze_stirred": None},
}
"""The clues that a change is about, and the answer that each then has, if any."""
_LEAVE = {("bisque_dusty", "yes"): "leave the bisque dusty"}
"""What is not to be put right out of habit, as it is asked for."""


def by_hand(view: "View") -> dict[str, str]:
    """What was done by hand on a tile: as its clues have it, else as its notes say."""
    from diagnose.measures.of_area import measures
    from diagnose.notes.reading import read, texts

    number, found = view.area.number if view.area else None, {}
    about = (view.record, number, view.defect or "")
    if any(texts(*about)):
        found = read(*about, measures(view.record, number, view.defect)).facts
    said = {name: str(fact.value) for name, fact in found.items()} | view.clues
    return {name: answer for name, answer in said.items() if name in BY_HAND}


def left_as_it_was(view: "View") -> str:
    """What is to be left on the control that one would put right: "leave the bisque dusty"."""
    return "; ".join(_LEAVE[each] for each in by_hand(view).items() if each in _LEAVE)


def give_clues(tile: dict, view: "View", changed: "Sequence[str]" = ()) -> None:
    """Put on a planned tile what was done by hand on the failed one, but for what is changed.

    The note asks for it to be done so; what is changed its change tells already, and so does its
    clue, whether or not that of the failed tile is known: else the trial could not be compared.

    Parameters
    ----------
    tile : dict
        The values of a planned tile; they are changed.
    view : View
        The failed tile.
    changed : sequence of str, optional
        What is done otherwise, as `Change.what`.
    """
    wanted, other = by_hand(view), dict[str, str | None]()
    for each in changed:
        other |= _CHANGED_BY.get(each, {})
    asked = [_asked(view, name, wanted[name]) for name in wanted if name not in other]
    tile["note"] = " ".join([*asked, tile["note"]])
    _put(tile, wanted | other)


def copy_clues(tile: dict, view: "View") -> None:
    """Put on a planned tile what was done by hand on a trial that it repeats."""
    _put(tile, by_hand(view))


def _put(tile: dict, answers: "Mapping[str, str | None]") -> None:
    for name, answer in answers.items():
        if answer:
            holder = tile if clues()[name].about == "tile" else tile["areas"][0]
            holder.setdefault("clues", {})[name] = answer


def _asked(view: "View", name: str, answer: str) -> str:
    if leave := _LEAVE.get((name, answer)):
        return sentence(f"as {view.record.mark}: {leave}")
    return sentence(f"as then: {clue_said(name, answer)}")

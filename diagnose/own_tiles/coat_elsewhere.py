"""Where the kiln or shelf parts own tiles: a coat that is sound elsewhere did not fail here.

Tiles with as thin (or as thick) a coat that came out sound in another kiln do not fail by it. They
are counted only where kiln or shelf parts the tiles very clearly, and none of them failed.
"""

import operator
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.counted import Counted, failed_and_all, is_in_all
from diagnose.own_tiles.lift import MOST_CLEAR, MOST_LIFT
from diagnose.view import spoken_coats

if TYPE_CHECKING:
    from diagnose.own_tiles.lesson import Lesson

_PLACES = {"kiln": "in another kiln", "shelf": "on another shelf"}
COATS_OF = {"coat_too_thin": (operator.le, "fewer"), "coat_too_thick": (operator.ge, "more")}
"""The causes that a coat is, with the coats that must fail as well if it were that."""
LEAST_SOUND = 5
"""So many other tiles, none of them failed, before they speak against a coat (estimate)."""


def coat_is_sound(
    lessons: "Sequence[Lesson]", others: Sequence[Counted], coats: float | None, did: str
) -> "list[Lesson]":
    """Counts that speak against the coat, each named for the cause that it speaks against.

    Parameters
    ----------
    lessons : sequence of Lesson
        All counts for a tile.
    others : sequence of Counted
        The areas that were counted.
    coats : float or None
        How many coats the tile has.
    did : str
        What failing is called ("crawled").
    """
    clear = (each for each in lessons if each.lift > MOST_LIFT and not each.explained_by)
    place = next((each for each in clear if each.measure in _PLACES), None)
    if coats is None or place is None:
        return []
    there = [each for each in others if place.is_here(each) is False]
    total = " in all" if is_in_all(there) else ""
    found = []
    for cause, (is_so, said) in COATS_OF.items():
        alike = [each for each in there if is_so(each.values.get("coats", float("nan")), coats)]
        failed, many = failed_and_all(alike)
        if many < LEAST_SOUND or failed:
            continue
        words = f"{spoken_coats(coats)} or {said}{total}, {_PLACES[place.measure]},"
        say = f"of {many} others with {words} none {did}."
        against = replace(place, measure=cause, lift=-MOST_CLEAR, say=say)
        found.append(replace(against, instead="", sound_on="", explained_by=()))
    return found

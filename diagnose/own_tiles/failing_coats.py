"""Numbers of coats of which own tiles of the glaze show clearly that the fault comes with them."""

from typing import TYPE_CHECKING

from diagnose.comparing.comparison_words import CLEAR

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.lesson import Lesson

MOST_ASKED = 6
"""No more coats than this are thought of."""


def is_clear(lesson: "Lesson") -> bool:
    """Whether tiles on its side failed oftener than chance would have it, and values tell it."""
    return lesson.lift > 0 and lesson.chance <= CLEAR and lesson.holds_with is not None


def failing_coats(case: "Case") -> frozenset[int]:
    """The numbers of coats on the failing side of a clear count."""
    for lesson in case.own.lessons if case.own else ():
        if lesson.measure == "coats" and is_clear(lesson):
            return frozenset(filter(lesson.holds_with, range(1, MOST_ASKED + 1)))
    return frozenset()

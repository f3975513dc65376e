"""The count of own tiles that is told first, where the record of the tile itself does not tell."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.curves import COAT
from diagnose.own_tiles.lift import VERY_CLEAR

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.lesson import Lesson
    from diagnose.own_tiles.twins import Twin
    from diagnose.rules import Advice

OWN_TEST = "Thin beside thick, as your own tiles show: "
SIDE_BY_SIDE = "rises_with_coat"
"""What a tile with one, two and three coats side by side would show, as a test names it."""


def head_count(case: "Case") -> "Lesson | None":
    """The clearest count that speaks for a cause still open; None where none is very clear.

    A difference, and no cause: many facts are counted, so that less than very clear is no head.
    """
    if case.own is None:
        return None
    open_ = {row.name for row in case.rows if not row.is_ruled_out}
    found = [
        each
        for each in case.own.lessons
        if each.lift > 0 and each.chance <= VERY_CLEAR and case.own.causes_of(each, case) & open_
    ]
    return min(found, key=lambda each: (each.chance, -each.lift), default=None)


def shown_by_coats(case: "Case") -> "Lesson | Twin | None":
    """What own tiles with other coats showed, made alike or counted; None where there are none."""
    from diagnose.comparing.comparison_words import CLEAR

    lessons = case.own.lessons if case.own else ()
    clear = [each for each in lessons if each.measure in COAT and each.chance < CLEAR]
    twins = [each for each in case.twins if each.factor in ("coats", "thickness")]
    return next(iter((*clear, *twins)), None)


def made_by_own(
    tests: "Sequence[Advice]", case: "Case"
) -> "list[tuple[Advice, Lesson | Twin | None]]":
    """The tests; for a tile of several coats what own tiles showed, where they made it."""
    shown = shown_by_coats(case)
    told = [shown if SIDE_BY_SIDE in each.aim else None for each in tests]
    return [
        (replace(each, say=f"{OWN_TEST}{by.say}") if by else each, by)
        for each, by in zip(tests, told, strict=True)
    ]

"""What counts by kiln, shelf or batch tell beyond the facts of a tile that a cause rests on.

A colour that was put under the glaze in one term alone goes with the bucket of that term. Where
such a fact parts own tiles as well, it is told, and kiln, shelf or batch only where they part tiles
that are alike in it. Of the clay and another fact that which parts the tiles better is told, and
the other where it parts tiles that are alike in that.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.comparison_words import CLEAR
from diagnose.comparing.counted import Counted, Sides
from diagnose.comparing.exact_test import ROUNDING, two_groups
from diagnose.own_tiles.occasions import CLAY, IN_CLAY

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.lesson import Lesson
    from diagnose.own_tiles.say import YourTiles

PLACES = ("kiln", "shelf", "batch")
"""They come with a cause and are none: any fact may go along with one."""
LIES_OVER = ("coats", "beneath")
"""Several coats alone lie over one that was damp: where that parts them, their number may not."""
ADDED_UP = ("coats", "thickness_mm", "fired_thickness_mm", "glazes_on_area")
"""Over another glaze there is more in all: where that one glaze parts them, the sum may not."""
_SAID = {
    "coats": "number of coats",
    "thickness_mm": "thickness",
    "fired_thickness_mm": "fired thickness",
    "glazes_on_area": "number of glazes",
}


def with_what_explains(lessons: "list[Lesson]", others: Sequence[Counted]) -> "list[Lesson]":
    """Each count with the measures beyond which it tells nothing.

    Parameters
    ----------
    lessons : list of Lesson
        All counts for a tile.
    others : sequence of Counted
        The areas that were counted.
    """
    facts = [each for each in lessons if each.measure not in PLACES]
    facts = [each for each in facts if each.lift > 0 or each.is_hint]
    told = [
        replace(
            each,
            explained_by=tuple(
                fact.measure
                for fact in facts
                if fact.measure != CLAY and _tells_nothing_beyond(each, fact, others)
            ),
        )
        if each.measure in PLACES and (each.lift > 0 or each.is_hint)
        else _by_what_lay_beneath(each, facts, others)
        for each in lessons
    ]
    return _beside_clay(told, others)


def _beside_clay(lessons: "list[Lesson]", others: Sequence[Counted]) -> "list[Lesson]":
    """The count by clay explained by others that part the tiles better, or these by it."""
    clay = next((each for each in lessons if each.measure == CLAY), None)
    if clay is None:
        return lessons
    beside = [
        each
        for each in lessons
        if each.measure not in (CLAY, *IN_CLAY) and (each.lift > 0 or each.is_hint)
    ]
    by_clay = [each for each in beside if _is_outdone(each, clay, others)]
    better = [
        each
        for each in beside
        if each.measure not in PLACES and each not in by_clay and _is_outdone(clay, each, others)
    ]
    told = []
    for each in lessons:
        by = [of.measure for of in better] if each is clay else [CLAY] if each in by_clay else []
        told.append(replace(each, explained_by=(*each.explained_by, *by)))
    return told


def _is_outdone(one: "Lesson", by: "Lesson", others: Sequence[Counted]) -> bool:
    """Whether another count parts the tiles better, and this one then tells nothing more."""
    known = (each for each in others if one.is_here(each) is not None)
    both = [each for each in known if by.is_here(each) is not None]
    is_better = _sides(by, both).p_value * ROUNDING < _sides(one, both).p_value
    return is_better and _tells_nothing_beyond(one, by, others)


def _by_what_lay_beneath(
    lesson: "Lesson", facts: "Sequence[Lesson]", others: Sequence[Counted]
) -> "Lesson":
    """A count by coats, explained where it parts none alike in what lay under the last of them.

    One coat alone lies over none, so neither over a damp one. What is added up over several glazes
    is explained by the name of what lies beneath as well.
    """
    many, state = LIES_OVER
    under = next((each for each in facts if each.measure == "under"), None)
    is_sum = lesson.measure in ADDED_UP and lesson.lift > 0 and under and under.lift > 0
    if is_sum and _tells_nothing_beyond(lesson, under, others):
        return replace(lesson, explained_by=("under",))
    by_state = next((each for each in facts if each.measure == state), None)
    if lesson.measure != many or lesson.lift <= 0 or by_state is None or by_state.lift <= 0:
        return lesson

    def is_here(each: Counted) -> bool | None:
        return False if each.values.get(many) == 1 else by_state.is_here(each)

    if not _tells_nothing_beyond(lesson, replace(by_state, is_here=is_here), others):
        return lesson
    return replace(lesson, explained_by=(state,))


def that_remain(told: "YourTiles", case: "Case") -> "YourTiles":
    """The counts without those that another explains which bears on a cause not ruled out."""
    open_ = {row.name for row in case.rows if not row.is_ruled_out}
    bearing = [each.measure for each in told.lessons if open_ & told.causes_of(each, case)]
    left_out: dict[str, str] = {}
    for each in told.lessons:
        for measure in filter(each.explained_by.__contains__, bearing):
            left_out.setdefault(each.measure, measure)
    kept = [each for each in told.lessons if each.measure not in left_out]
    return replace(told, lessons=[_with_left_out(each, left_out) for each in kept])


def _with_left_out(lesson: "Lesson", left_out: dict[str, str]) -> "Lesson":
    """A count that says which places it explains."""
    from diagnose.wording import listed

    places = [_SAID.get(place, place) for place, by in left_out.items() if by == lesson.measure]
    if not places:
        return lesson
    tell = "tells" if len(places) == 1 else "tell"
    say = f"{lesson.say.removesuffix('.')}; their {listed(places)} {tell} nothing beyond that."
    return replace(lesson, say=say)


def _tells_nothing_beyond(place: "Lesson", fact: "Lesson", others: Sequence[Counted]) -> bool:
    """Whether a fact parts the tiles as well as a place does, which then parts none alike in it."""
    known = (each for each in others if place.is_here(each) is not None)
    both = [each for each in known if fact.is_here(each) is not None]
    if _sides(fact, both).p_value > _sides(place, both).p_value * ROUNDING:
        return False
    strata = []
    for side in (True, False):
        alike = _sides(place, [each for each in both if fact.is_here(each) is side])
        if all(many for _, many in alike.tiles):
            strata.append(alike.tiles)
    expected = sum(_by_luck(*each) for each in strata)
    is_more = sum(here[0] for here, _ in strata) > expected
    return not is_more or two_groups(strata) >= CLEAR


def _by_luck(here: tuple[int, int], there: tuple[int, int]) -> float:
    """How many of those here would fail, were all alike."""
    return here[1] * (here[0] + there[0]) / (here[1] + there[1])


def _sides(lesson: "Lesson", areas: Sequence[Counted]) -> Sides:
    return Sides(
        [each for each in areas if lesson.is_here(each)],
        [each for each in areas if not lesson.is_here(each)],
    )

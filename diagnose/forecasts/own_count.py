"""The fact that parts own tiles of a glaze most, counted for a tile that is to be fired."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.counted import failed_and_all
from diagnose.comparing.exact_test import fails_more
from diagnose.curves import COAT
from diagnose.own_tiles.cut import TELLING
from diagnose.own_tiles.known_apart import apart, bearing, handled, is_of_another_colour
from diagnose.own_tiles.made_alike import has_layers_of, names_below
from diagnose.own_tiles.pair import PairCount, is_less
from diagnose.own_tiles.say import your_tiles_say
from diagnose.view import View
from tiles.records.words import OF_FIT, same_name

if TYPE_CHECKING:
    from diagnose.comparing.counted import Counted
    from diagnose.forecasts.of_tile import Forecast
    from diagnose.own_tiles.lesson import Lesson
    from tiles.records.forms import TileRecord

FEWEST_LAYERS = 3
"""So many tiles with the very same layers that did otherwise speak for themselves."""


def own_count(
    others: "Sequence[TileRecord]", view: View
) -> "tuple[Lesson | None, tuple[int, int]]":
    """The fact that parts own tiles of the glaze most, counted on this one's side and the other.

    Not where those of its side with the very same layers did otherwise, or all that failed there
    were made otherwise in what is known of this one: others would speak for it.
    Of these, failed and all are told as well.
    """
    known = view.record.model_copy(update={"clues": view.record.clues | handled(view)})
    told = your_tiles_say(others, known, view.area.number, view.defect)
    kept = [
        (each.chance, at, each, likest)
        for at, each in enumerate(told.lessons if told else ())
        if each.chance <= TELLING
        and each.measure not in COAT
        and not each.measure.startswith("cones_")
        for likest in [_likest(each, told.counted, view)]
        if likest[1] < FEWEST_LAYERS or not _gainsays(likest, each)
        if not _is_of_others(each, told.counted, view)
    ]
    return min(kept)[2:] if kept else (None, (0, 0))


def _likest(lesson: "Lesson", every: "Sequence[Counted]", view: View) -> tuple[int, int]:
    """Failed and all tiles of its side with the very same layers, glazed as this one.

    Of a fault of fit those on other clays say nothing.
    """
    own, body = bearing(handled(view), view.defect), view.record.body.name
    return failed_and_all(
        each
        for each in every
        for its in [View(each.record, each.area)]
        if lesson.is_here(each)
        and has_layers_of(view, its)
        and not apart(own, handled(its))
        and (view.defect not in OF_FIT or same_name(its.record.body.name, body))
    )


def _is_of_others(lesson: "Lesson", every: "Sequence[Counted]", view: View) -> bool:
    """Whether all that failed on its side were glazed otherwise, or lie over another colour.

    Or where its side did well: whether this one's colour is on the other side alone, and failed.
    """
    if not _is_more(lesson):
        return _is_on_other_side(lesson, every, view)
    own = bearing(handled(view), view.defect)
    here = [(View(each.record, each.area), each.failed) for each in every if lesson.is_here(each)]
    failed = [set(apart(own, handled(its))) for its, is_failed in here if is_failed]
    if failed and set.intersection(*failed):
        return True
    came = [(names_below(its), is_failed) for its, is_failed in here]
    return view.defect not in OF_FIT and is_of_another_colour(names_below(view), came)


def _is_on_other_side(lesson: "Lesson", every: "Sequence[Counted]", view: View) -> bool:
    """Whether tiles over the very colour of one stand on the other side alone, and failed more."""
    own = names_below(view)
    over = [each for each in every if names_below(View(each.record, each.area)) == own]
    there = failed_and_all(each for each in over if lesson.is_here(each) is False)
    is_met = any(lesson.is_here(each) for each in over)
    here = lesson.here_failed, lesson.here_all
    return view.defect not in OF_FIT and not is_met and bool(there[1]) and is_less(here, there)


def _is_more(lesson: "Lesson") -> bool:
    """Whether more of its side failed than of the other."""
    return fails_more(
        (lesson.here_failed, lesson.here_all), (lesson.there_failed, lesson.there_all)
    )


def _gainsays(likest: tuple[int, int], lesson: "Lesson") -> bool:
    """Whether the likest tiles failed far less where those of their side did more, or more."""
    here = lesson.here_failed, lesson.here_all
    return is_less(likest, here) if _is_more(lesson) else is_less(here, likest)


def counted(
    found: "Forecast", lesson: "Lesson | None", likest: tuple[int, int] = (0, 0)
) -> "Forecast":
    """With what parts own tiles of the glaze, and whether those like it gainsay the chance.

    No chance is far from them where the ``likest`` of them, or those closest to this one, failed
    less where they did more, or more where they did less.
    """
    if lesson is None:
        return found
    here = lesson.here_failed, lesson.here_all
    is_more, closest = here[0] > found.chance * here[1], (found.closest_seen, found.closest_areas)
    nearer = [each for each in (likest, closest) if each[1]]
    is_far = PairCount(*here).is_far_from(found.chance) and not any(
        is_less(each, here) if is_more else is_less(here, each) for each in nearer
    )
    told = {"own_count": lesson.say, "own_count_by": lesson.measure, "own_count_is_far": is_far}
    return replace(found, **told)

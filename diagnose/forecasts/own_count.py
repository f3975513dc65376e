"""The fact that parts own tiles of a glaze most, counted for a tile that is to be fired."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.counted import COLOUR_BENEATH
from diagnose.curves import COAT
from diagnose.own_tiles.cut import TELLING
from diagnose.own_tiles.known_apart import handled
from diagnose.own_tiles.pair import PairCount
from diagnose.own_tiles.say import your_tiles_say
from diagnose.view import View, area_of

if TYPE_CHECKING:
    from diagnose.forecasts.of_tile import Forecast
    from diagnose.own_tiles.lesson import Lesson
    from tiles.records.forms import TileRecord

FEWEST_LAYERS, ANOTHER_SHARE = 3, 0.25
"""So many areas with the very same layers say something else where their share is so far off."""


def own_count(
    others: "Sequence[TileRecord]", record: "TileRecord", area: int, found: "Forecast"
) -> "Lesson | None":
    """The fact that parts own tiles of the glaze most, counted on this one's side and the other.

    Not by colour beneath where this very colour did otherwise: others would speak for it.
    """
    clues = record.clues | handled(View(record, area_of(record, area)))
    told = your_tiles_say(others, record.model_copy(update={"clues": clues}), area, found.defect)
    share = found.layers_seen / found.layers_areas if found.layers_areas >= FEWEST_LAYERS else None
    apart = [
        each
        for each in (told.lessons if told else ())
        if each.chance <= TELLING
        and each.measure not in COAT
        and not each.measure.startswith("cones_")
        and not (
            share is not None
            and each.measure in COLOUR_BENEATH
            and abs(each.here_failed / each.here_all - share) >= ANOTHER_SHARE
        )
    ]
    return min(apart, key=lambda each: each.chance, default=None)


def counted(found: "Forecast", lesson: "Lesson | None") -> "Forecast":
    """With what parts own tiles of the glaze, and whether those like it gainsay the chance."""
    if lesson is None:
        return found
    like_it = PairCount(lesson.here_failed, lesson.here_all)
    is_far = like_it.is_far_from(found.chance)
    told = {"own_count": lesson.say, "own_count_by": lesson.measure, "own_count_is_far": is_far}
    return replace(found, **told)

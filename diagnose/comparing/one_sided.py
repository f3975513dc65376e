"""What was noted of failing tiles alone: recorded of the sound ones as well it could be counted."""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.factors import with_dust_told
from diagnose.own_tiles.one_thing import HANDLED
from diagnose.view import View
from tiles.records.clues import clues

if TYPE_CHECKING:
    from diagnose.comparing.counted import Counted

FEWEST = 3
"""Of fewer failing, or fewer sound, tiles nothing could be told with it either (estimate)."""


def noted_of_failing_alone(areas: "Sequence[Counted]") -> list[tuple[str, str, int]]:
    """Clues of how a tile was handled that failing tiles alone have, the commonest first.

    Each with its answer, the same on all of them, and on how many.
    """
    failing = {each.record.mark for each in areas if each.failed}
    told: dict[str, dict[str, str]] = {}
    for each in areas:
        for name, answer in with_dust_told(View(each.record, each.area).clues).items():
            told.setdefault(name, {})[each.record.mark] = answer
    if len({each.record.mark for each in areas} - failing) < FEWEST:
        return []
    found = [
        (name, *Counter(answers.values()).most_common(1)[0])
        for name, answers in told.items()
        if clues()[name].group in HANDLED and failing.issuperset(answers)
    ]
    return sorted(
        (each for each in found if each[2] >= FEWEST and each[2] == len(told[each[0]])),
        key=lambda each: -each[2],
    )

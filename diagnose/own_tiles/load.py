"""What a load that failed as a whole tells of one of its tiles, whatever the glaze.

A load that stands out clearly over tiles of all glazes speaks for the causes that a whole load
shares: how it was fired and cooled, and its bisque. What was recorded of the firing on other tiles
of it holds for this one in part. Where the fault was said to be on most of the load, that is the
same fact, and the count is told alone.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.case import SHARED_BY_LOAD
from diagnose.comparing.comparison_words import by_luck
from diagnose.comparing.counted import Counted
from diagnose.comparing.of_load import LEAST_GLAZES, LOAD
from diagnose.measures.of_area import Measure
from diagnose.own_tiles.lesson import Lesson
from diagnose.own_tiles.lift import lift_of_count
from diagnose.view import View
from diagnose.vocabulary import clue_said
from tiles.records.derived import firing_key, shows

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.comparing.of_studio import CountOf, OfStudio
    from diagnose.own_tiles.say import YourTiles
    from tiles.records.forms import TileRecord

TOO_FEW = 3
"""Fewer failed tiles of a load are no load that failed."""
LEAST_SHARE = 2 / 5
"""Nor is a smaller part of what was in it (estimate)."""
SAID_OF_LOAD = "most_of_load_affected"


def with_load(
    case: "Case",
    told: "YourTiles | None",
    others: "Sequence[TileRecord]",
    count_of: "CountOf | None",
) -> "tuple[Case, YourTiles | None]":
    """The case and the counts of own tiles, with those of its load where that failed as a whole.

    Parameters
    ----------
    case : Case
        The failed tile.
    told : YourTiles or None
        What own tiles of its glaze say.
    others : sequence of TileRecord
        Own tiles, those of its firing among them.
    count_of : callable or None
        What is clear of a defect over all tiles, where that may be asked.
    """
    case = replace(case, count_of=count_of)
    load = load_of(case, others, count_of)
    if load is None or told is None:
        return case, told
    lessons = sorted(
        [*told.lessons, lesson_of_load(load, case)], key=lambda each: (-each.lift, each.chance)
    )
    return as_load_was(replace(case, load=load), others), replace(told, lessons=lessons)


def load_of(
    case: "Case", others: "Sequence[TileRecord]", count_of: "CountOf | None"
) -> "OfStudio | None":
    """The count of the load that this tile was in, where that failed as a whole.

    Tiles of all glazes are counted only where a good part of the load failed, of several glazes.
    """
    firing = firing_key(case.record)
    if count_of is None or case.area is None or not firing:
        return None
    beside = [each for each in (case.record, *others) if firing_key(each) == firing]
    failed = [
        (each, View(each, area).glaze_name)
        for each in beside
        for area in each.areas
        if shows(each, area, case.defect)
    ]
    if not that_may_have_failed(failed, beside):
        return None
    load = count_of(case.defect).load
    return load if load and load.holds_of(case.record, case.area_number) else None


def that_may_have_failed(
    failed: "Iterable[tuple[TileRecord, str | None]]", records: "Iterable[TileRecord]"
) -> frozenset[str]:
    """The loads of which a good part failed, of several glazes: then all tiles are counted.

    As names are compared.

    Parameters
    ----------
    failed : iterable of (TileRecord, str)
        The tiles that failed, each with the glaze that did.
    records : iterable of TileRecord
        Own tiles, those of their loads among them.
    """
    loads: dict[str, list[tuple[str, str | None]]] = {}
    for record, glaze in failed:
        if firing := firing_key(record):
            loads.setdefault(firing, []).append((record.mark, glaze))
    looked_at = Counter(firing_key(each) for each in records if each.inspections)
    return frozenset(
        firing
        for firing, of in loads.items()
        if len({mark for mark, _ in of}) >= max(TOO_FEW, LEAST_SHARE * looked_at[firing])
        and len({glaze for _, glaze in of}) >= LEAST_GLAZES
    )


def lesson_of_load(load: "OfStudio", case: "Case") -> Lesson:
    """The count as one among those of own tiles; this tile does not count itself."""
    (failed, many), there = load.here, load.there
    here = failed - 1, many - 1
    is_said = SAID_OF_LOAD in case.facts
    lift = 0.0 if is_said else round(lift_of_count(here, there, load.chance), 3)
    say = f"{load.say.removesuffix('.')} ({by_luck(load.chance, '')})."

    def is_here(each: Counted) -> bool | None:
        return load.sides[0].has(each.values) if LOAD in each.values else None

    return Lesson(LOAD, *here, *there, load.chance, lift, say, is_here)


def as_load_was(case: "Case", others: "Sequence[TileRecord]") -> "Case":
    """The case with what other tiles of the load say of its firing, where they say the same."""
    firing = firing_key(case.record)
    beside = [each for each in others if firing_key(each) == firing]
    asked = {sign.measure for row in case.rows for sign in (row.cause.signs if row.cause else ())}
    told = {}
    for name in SHARED_BY_LOAD:
        answers = {each.mark: each.clues[name] for each in beside if name in each.clues}
        if name in asked and name not in case.facts and len({*answers.values()}) == 1:
            told[name] = _of_another(name, answers)
    if not told:
        return case
    facts = dict(case.facts) | told
    return replace(case, facts=facts, rows=case.weighed(facts))


def _of_another(name: str, answers: dict[str, str]) -> Measure:
    mark, answer = min(answers.items())
    more = f" and {len(answers) - 1} more" if len(answers) > 1 else ""
    said = f"{mark}{more} of the same load: {clue_said(name, answer)}"
    return Measure(name, answer, "", said, sister=mark)

"""What all tiles of a studio, of whatever glaze, tell of a fault that one of them shows.

The bisque of one day may pinhole a tile of each glaze: no count by glaze tells that.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from diagnose.comparing.compared import compared
from diagnose.comparing.comparison_words import CLEAR, all_others
from diagnose.comparing.counted import Counted
from diagnose.comparing.load_again import FailedLoad, failed_load
from diagnose.comparing.of_load import LOAD, fails_as_a_whole
from diagnose.comparing.set_apart import ASKED_OF_ALL, Difference, clear_facts, differences
from diagnose.comparing.set_apart_pairs import Pair, Side, together_surely, worse_side
from diagnose.own_tiles.layer import PAIR
from diagnose.own_tiles.other_words import meant_by
from diagnose.view import area_of
from diagnose.wording import DID, sentence
from tiles.records.derived import defects_on
from tiles.records.words import OTHER_FAULT

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.case import Case
    from diagnose.rules import Cause
    from tiles.records.forms import TileRecord

MOST_HERE, FEW_ELSEWHERE = 1 / 2, 1 / 4
"""A lot or a firing fails together where at least so many of its tiles do, and of all others no
more than such a part of that share (estimates)."""
_OF_THE_GLAZE = ("glaze", PAIR)
"""What its own tiles tell better."""


@dataclass(frozen=True)
class OfStudio:
    """A clear count over tiles of all glazes: failed and all on its failing side, and elsewhere.

    ``chance`` is how often luck alone would part them so, all that was looked at allowed for;
    ``of_load`` what is known of a load that failed as a whole, where it is one.
    """

    here: tuple[int, int]
    there: tuple[int, int]
    chance: float
    say: str
    sides: tuple[Side, ...]
    of_load: FailedLoad | None = None

    @property
    def failed(self) -> int:
        """How many failed on its failing side."""
        return self.here[0]

    @property
    def fails_together(self) -> bool:
        """Whether most fail on its failing side and few elsewhere, as of a bad lot or firing."""
        (failed, many), (rest, others) = self.here, self.there
        is_much = rest * many <= FEW_ELSEWHERE * failed * others
        return failed >= MOST_HERE * many and is_much

    def speaks_for(self, cause: "Cause | None") -> bool:
        """Whether a cause has more, or less, of a number that parts them so."""
        numbers = [each for each in self.sides if each.is_more is not None]
        return cause is not None and any(
            cause.more_of(each.name) is each.is_more for each in numbers
        )

    def holds_of(self, record: "TileRecord", area: int | None) -> bool:
        """Whether a tile lies on the failing side."""
        values = Counted(record, area_of(record, area) or record.areas[0], True).values
        return all(each.has(values) for each in self.sides)


@dataclass(frozen=True)
class Clear:
    """What is clear of a defect over all tiles, what tells most first; and a load that failed.

    The load is the last of ``counts`` as well.
    """

    counts: tuple[OfStudio, ...] = ()
    load: OfStudio | None = None


CountOf = Callable[[str], Clear]
"""What is clear of a defect over all tiles; reckoned once for each."""


def counter(read: "Callable[[], Sequence[TileRecord]]") -> CountOf:
    """The counts over every inspected tile, which ``read`` gives when the first is wanted."""
    records = cache(read)
    return cache(lambda defect: clear_counts(records(), defect))


def with_studio(diagnoses: "Sequence[Diagnosis]", count_of: CountOf) -> "list[Diagnosis]":
    """Each diagnosis with what all tiles tell, where own tiles of its glaze tell nothing clear.

    Nor where the cause of a worse fault explains it.
    """
    explained = {defect for each in diagnoses for defect in each.also_explains}
    return [
        replace(each, case=replace(each.case, studio=of_studio(each.case, count_of)))
        if _is_open(each.case) and not each.instead_of and each.defect not in explained
        else each
        for each in diagnoses
    ]


def _is_open(case: "Case") -> bool:
    lessons = case.own.lessons if case.own else ()
    return case.area is not None and not any(each.lift > 0 for each in lessons)


def of_studio(case: "Case", count_of: CountOf) -> OfStudio | None:
    """The clear count that tells most, of those on whose failing side the tile is."""
    told = count_of(case.defect).counts
    return next((each for each in told if each.holds_of(case.record, case.area_number)), None)


def fails_together(case: "Case") -> str:
    """The clear count that a tile is one of, in a sentence, where most of those failed; else ""."""
    return sentence(case.studio.say) if case.studio and case.studio.fails_together else ""


def clear_counts(records: "Sequence[TileRecord]", defect: str) -> Clear:
    """What `tiles why` with a defect alone tells as clear; not what parts glazes.

    Nor of faults without a word of their own, unless the words for all of them mean the same.

    Parameters
    ----------
    records : sequence of TileRecord
        Every inspected tile.
    defect : str
        One word of the defect list.
    """
    asked = compared(records, None, defect)
    areas, with_early = asked.areas, asked.with_early
    if defect == OTHER_FAULT and not _is_one_fault(areas):
        return Clear()
    if asked.is_too_few:
        return Clear()
    found = differences(areas, defect, ASKED_OF_ALL, with_early)
    firm = clear_facts(found)
    clear = next(iter(firm), None)
    told = []
    if pair := _clear_pair(areas, with_early, clear, defect):
        told.append(_told(pair.here, pair.there, pair.chance, pair.sides, pair.counts))
    told += [_of_one(areas, clear, defect)] if clear and clear.name != LOAD else []
    told = [each for each in told if not any(of.name in _OF_THE_GLAZE for of in each.sides)][:1]
    loads = (_of_one(areas, each, defect) for each in firm if each.name == LOAD)
    whole = [each for each in loads if fails_as_a_whole(each.sides[0], areas)][:1]
    whole = [replace(each, of_load=failed_load(each.sides[0], areas)) for each in whole]
    counts = tuple(
        replace(each, say=f"{each.say.removesuffix('.')}{asked.when}.") for each in (*told, *whole)
    )
    return Clear(counts, counts[-1] if whole else None)


def _is_one_fault(areas: Sequence[Counted]) -> bool:
    """Whether faults without a word of their own, as broken and smeared are, are told as one."""
    words = {
        meant_by(area.record, each)
        for area in areas
        for each in defects_on(area.record, area.area)
        if each.defect == OTHER_FAULT
    }
    return len(words) == 1 and "" not in words


def _clear_pair(
    areas: Sequence[Counted],
    with_early: Sequence[Counted],
    clear: Difference | None,
    defect: str,
) -> Pair | None:
    """The pair that is clear, and as clear with the early looks counted in."""
    pair = together_surely(areas, with_early, ASKED_OF_ALL, defect, clear)
    return pair if pair and pair.chance < CLEAR else None


def _of_one(areas: Sequence[Counted], clear: Difference, defect: str) -> OfStudio:
    """The single fact, on the side that fails more."""
    side, here, there = worse_side(clear, areas)
    did = DID.get(defect, "failed")
    counts = f"{here[0]} of {here[1]} tiles {did}; {all_others(there, clear.unknown)}"
    return _told(here, there, clear.p_value_of_best, (side,), counts)


def _told(
    here: tuple[int, int],
    there: tuple[int, int],
    chance: float,
    sides: tuple[Side, ...],
    counts: str,
) -> OfStudio:
    which = " and ".join(each.said.removeprefix("with ") for each in sides)
    return OfStudio(here, there, chance, f"whatever the glaze, {which}: {counts}.", sides)

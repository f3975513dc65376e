"""Two facts together that set the failing tiles of a glaze apart, where a tile has both."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.comparing.compared import compared
from diagnose.comparing.comparison_words import by_luck
from diagnose.comparing.counted import Counted
from diagnose.comparing.set_apart import ASKED_FIRST, clear_facts, differences
from diagnose.comparing.set_apart_pairs import Pair, sides_to_tell, together_surely
from diagnose.wording import sentence
from tiles.records.mark_looks import natural_key

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.case import Case
    from tiles.records.forms import TileRecord


def with_pairs(
    diagnoses: "Sequence[Diagnosis]", others: "Sequence[TileRecord]"
) -> "list[Diagnosis]":
    """Each diagnosis with what two facts together tell of its glaze, as `tiles why --glaze` does.

    Parameters
    ----------
    diagnoses : sequence of Diagnosis
        Of one tile, weighed with own tiles.
    others : sequence of TileRecord
        Own tiles, those of its glaze among them.
    """
    return [
        replace(each, case=replace(each.case, together=pair_of(each.case, others)))
        if not each.instead_of
        else each
        for each in diagnoses
    ]


def pair_of(case: "Case", others: "Sequence[TileRecord]") -> str:
    """The two facts with their counts, in words; "" where none tell, or the tile lacks one."""
    if case.own is None or case.area is None:
        return ""
    glaze, defect = case.own.glaze, case.defect
    # In the order of a search: the failures that are dealt out are then those of --glaze.
    every = sorted([case.record, *others], key=lambda each: natural_key(each.mark))
    asked = compared(every, glaze, defect)
    areas, with_early = asked.areas, asked.with_early
    if asked.is_too_few:
        return ""
    values = Counted(case.record, case.area, True, glaze).values
    sides = sides_to_tell(areas, ASKED_FIRST)
    if not sides or not all(each.has(values) for each in sides):
        return ""  # before luck is asked, which takes most of the time
    found = differences(areas, defect, ASKED_FIRST, with_early)
    clear = next(iter(clear_facts(found)), None)
    pair = together_surely(areas, with_early, ASKED_FIRST, defect, clear)
    return _said(pair, asked.when) if pair else ""


def _said(pair: Pair, when: str) -> str:
    both = " and ".join(side.said for side in pair.sides)
    return sentence(f"{both}: {pair.counts} ({by_luck(pair.chance, '')}){when}")

"""Questions that own records answer already, so that nobody need be asked them.

They are not asked and weigh nothing: on simulated studios such answers made the order of causes
worse (README.md, "How well causes are named").
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.own_tiles.areas import looked_at
from diagnose.own_tiles.late_looks import late_looks
from diagnose.view import View
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import AreaRecord, TileRecord

LEAST_OTHERS = 2
"""So many tiles of other glazes on the clay tell whether it is the clay (estimate) ..."""
LEAST_OF_LOAD = 5
"""... and so many of a firing how its load came out (estimate)."""


def answered_by_record(case: "Case", others: "Sequence[TileRecord]") -> frozenset[str]:
    """The clues that tiles on record answer, looked at late enough to tell.

    Parameters
    ----------
    case : Case
        The failed tile.
    others : sequence of TileRecord
        Own tiles: those of its glaze, and of its firing.
    """
    record, glaze = case.record, case.view.glaze_name
    if glaze is None:
        return frozenset()
    areas = [
        each for each in looked_at(others, case.defect) if not same_name(each[0].mark, record.mark)
    ]
    late = late_looks([*areas, (record, case.area)], case.defect)
    areas = [each for each in areas if late.tells(*each)]
    on_others = [each for each in areas if _is_under(glaze, each) and not _on_clay_of(record, each)]
    beside = [each for each in areas if _on_clay_of(record, each) and not _is_under(glaze, each)]
    before = [
        each
        for each in areas
        if _is_under(glaze, each) and _on_clay_of(record, each) and _seen_before(record, each[0])
    ]
    firing = record.firing and record.firing.name
    load = {other.mark for other, _ in areas if _is_of(firing, other)}
    answers = {
        "fails_on_every_body": bool(on_others),
        "sound_on_other_body": any(_is_of(firing, other) for other, _ in on_others),
        "used_to_be_sound": bool(before),
        "other_glazes_fail_too": len({other.mark for other, _ in beside}) >= LEAST_OTHERS,
        "most_of_load_affected": len(load) >= LEAST_OF_LOAD,
    }
    return frozenset(name for name, is_known in answers.items() if is_known)


def _is_under(glaze: str, looked: "tuple[TileRecord, AreaRecord]") -> bool:
    return same_name(View(*looked).glaze_name, glaze)


def _on_clay_of(record: "TileRecord", looked: "tuple[TileRecord, AreaRecord]") -> bool:
    return same_name(looked[0].body.name, record.body.name)


def _seen_before(record: "TileRecord", other: "TileRecord") -> bool:
    """Whether another tile was taken from the kiln earlier, by the day of the first look."""
    days = [min(look.inspected_on for look in each.inspections) for each in (other, record)]
    return days[0] < days[1]


def _is_of(firing: str | None, record: "TileRecord") -> bool:
    return bool(firing and record.firing and same_name(record.firing.name, firing))

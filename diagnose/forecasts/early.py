"""A chance that rests on sound tiles which were all looked at too early to tell of the fault."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.own_tiles.areas import looked_at, under
from diagnose.own_tiles.late_looks import COMES_LATE, late_looks, looked_until
from diagnose.view import View, area_of
from tiles.records.derived import shows
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord


def sound_too_early(
    others: "Sequence[TileRecord]", record: "TileRecord", area: int, defect: str
) -> tuple[int, int, int]:
    """How many own tiles of the glaze are sound, where a look was too early for all of them.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles.
    record : TileRecord
        The tile to be fired.
    area : int
        Which of its areas.
    defect : str
        One word of the defect list.

    Returns
    -------
    tuple of (int, int, int)
        The tiles on its clay, on any where there are none, how many days after the firing the last
        of them was looked at, and from how many on a look tells; 0s where one tells, or own tiles
        of whatever glaze showed the fault at unloading.
    """
    glaze = View(record, area_of(record, area)).glaze_name
    if defect not in COMES_LATE or glaze is None:
        return 0, 0, 0
    known = [each for each in others if not same_name(each.mark, record.mark)]
    sound = [each for each in under(glaze, known) if not shows(*each, defect)]
    here = [each for each in sound if same_name(each[0].body.name, record.body.name)] or sound
    late = late_looks(looked_at(known), defect)
    if any(late.tells(*each) for each in here):
        return 0, 0, 0
    days = {each.mark: looked_until(each) for each, _ in here}
    if not days:
        return 0, 0, 0
    return len(days), max(1, *days.values()), late.needed_on(here[0][0].body.name)


def early_of_all(records: "Sequence[TileRecord]", defect: str) -> tuple[int, int, str]:
    """How many of all own sound tiles were looked at too early to tell of a fault, and of how many.

    And from how many days after the firing on a look tells.

    Parameters
    ----------
    records : sequence of TileRecord
        Own tiles.
    defect : str
        One word of the defect list; 0, 0 and "" of one that does not come late.
    """
    if defect not in COMES_LATE:
        return 0, 0, ""
    areas = list(looked_at(records))
    late = late_looks(areas, defect)
    failed = {record.mark for record, area in areas if shows(record, area, defect)}
    sound = [each for each in areas if each[0].mark not in failed]
    early = {record.mark for record, area in sound if not late.tells(record, area)}
    return len(early), len({record.mark for record, _ in sound}), late.within

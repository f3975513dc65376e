"""A chance that rests on sound tiles which were all looked at too early to tell of the fault."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.own_tiles.areas import looked_at, under
from diagnose.own_tiles.late_looks import COMES_LATE, late_looks, looked_until
from tiles.records.derived import shows
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.forecasts.of_tile import Forecast
    from diagnose.view import View
    from tiles.records.forms import TileRecord


def with_early(found: "Forecast", others: "Sequence[TileRecord]", view: "View") -> "Forecast":
    """With the sound tiles of the glaze that were all looked at too early: no sign of less."""
    many, within, until = sound_too_early(others, view)
    leans = "as usual" if many and found.leans == "less" else found.leans
    return replace(found, leans=leans, early_sound=many, early_within=within, early_until=until)


def sound_too_early(others: "Sequence[TileRecord]", view: "View") -> tuple[int, int, int]:
    """How many own tiles of the glaze are sound, where a look was too early for all of them.

    Returns
    -------
    tuple of (int, int, int)
        The tiles on its clay, on any where there are none, how many days after the firing the last
        of them was looked at, and from how many on a look tells; 0s where one tells, or own tiles
        of whatever glaze showed the fault at unloading.
    """
    record, glaze, defect = view.record, view.glaze_name, view.defect
    if defect not in COMES_LATE or glaze is None:
        return 0, 0, 0
    known = [each for each in others if not same_name(each.mark, record.mark)]
    sound = [each for each in under(glaze, known) if not shows(*each, defect)]
    here = [each for each in sound if same_name(each[0].body.name, record.body.name)] or sound
    late = late_looks(looked_at(known), defect)
    if not here or any(late.tells(*each) for each in here):
        return 0, 0, 0
    days = {each.mark: looked_until(each) for each, _ in here}
    return len(days), max(1, *days.values()), late.needed_on(here[0][0].body.name)


def early_of_all(records: "Sequence[TileRecord]", defect: str) -> tuple[int, int, str]:
    """How many of all own sound tiles were looked at too early to tell of a fault, and of how many.

    And from how many days after the firing on a look tells; 0, 0 and "" of a fault that does not
    come late.
    """
    if defect not in COMES_LATE:
        return 0, 0, ""
    areas = list(looked_at(records))
    late = late_looks(areas, defect)
    failed = {record.mark for record, area in areas if shows(record, area, defect)}
    sound = [each for each in areas if each[0].mark not in failed]
    early = {record.mark for record, area in sound if not late.tells(record, area)}
    return len(early), len({record.mark for record, _ in sound}), late.within

"""How own tiles of a glaze did in one firing and in all others: told, and weighed nowhere."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.exact_test import two_groups
from diagnose.own_tiles.areas import failed_by_mark, judged_as
from diagnose.own_tiles.cut import LEAST_FAILED, TELLING
from diagnose.view import View
from tiles.records.derived import firing_key
from tiles.records.words import OTHER_FAULT

if TYPE_CHECKING:
    from diagnose.case import Case
    from tiles.records.forms import TileRecord


def firing_count(case: "Case", others: "Sequence[TileRecord]") -> str:
    """Where a fault without a word of its own came in one firing and hardly in others; else "".

    Its causes rest on few facts that a record holds, so that the firing is what tells most often.

    Parameters
    ----------
    case : Case
        The failed tile; it counts for its own firing.
    others : sequence of TileRecord
        Own tiles.
    """
    glaze, firing = View(case.record, case.area).glaze_name, firing_key(case.record)
    if case.defect != OTHER_FAULT or not firing or glaze is None:
        return ""
    alike = judged_as(glaze, others, case.defect)
    own, rest = (
        failed_by_mark([each for each in alike if is_own(firing_key(each[0]))], case.defect)
        for is_own in (lambda name: name == firing, lambda name: name not in ("", firing))
    )
    own |= {case.record.mark: True}
    sides = [(sum(of.values()), len(of)) for of in (own, rest)]
    (here, many), (there, whole) = sides
    is_worse = here >= LEAST_FAILED and here * whole > there * many
    if not is_worse or two_groups([sides]) > TELLING:
        return ""
    name = case.record.firing.name
    counts = f"{here} of {many} have it, with this one; other firings: {there} of {whole}."
    return f"firing {name}: {counts}"

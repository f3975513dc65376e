"""The question on which shelf a tile stood, where its firing was read by shelf or others say."""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose import fields
from diagnose.view import View
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

SHELF = "shelf"
MOST = 4
"""So many shelves are tried as an answer."""


def shelves(record: "TileRecord", others: "Sequence[TileRecord]" = ()) -> list[str]:
    """Where it may have stood: shelves read in its firing, then those used most in its kiln.

    Of any kiln where its own is not on record.
    """
    firing, kiln = record.firing, View(record).kiln
    read = [each.shelf for each in firing.witness_cones if each.shelf] if firing else []
    beside = [each for each in others if kiln is None or same_name(View(each).kiln, kiln)]
    used = Counter(each.shelf for each in beside if each.shelf)
    found: dict[str, str] = {}
    for name in (*read, *(name for name, _ in used.most_common())):
        found.setdefault(name_key(name), name)
    return list(found.values())[:MOST]


def weighed_on(case: "Case", shelf: str, others: "Sequence[TileRecord]") -> "tuple[Weighed, ...]":
    """The causes had it stood there: the cone read there counts, and own tiles by shelf."""
    from diagnose.case import weigh_case
    from diagnose.report import why

    record = fields.filled(case.record, case.area_number, SHELF, shelf)
    if not others:
        return weigh_case(record, case.defect).rows
    return why(record, case.defect, others, case.count_of)[0].case.rows

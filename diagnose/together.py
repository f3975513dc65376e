"""Several defects on one tile: a cause that would explain more than one of them rises."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.case import Case, weigh_case

if TYPE_CHECKING:
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

EXPLAINS_ALL = 0.7
"""Log-odds added to a cause that could explain every further defect of the tile; a part of them
adds a part of it. exp(0.7) is about 2: it then counts as twice as likely beforehand (estimate)."""


def weigh_all(record: "TileRecord", defects: Iterable[str]) -> dict[str, Case]:
    """Weigh every defect of a tile in the light of the others.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    defects : iterable of str
        Words of the defect list, in any order: the answer to each is the same.

    Returns
    -------
    dict[str, Case]
        By defect, in the given order.
    """
    alone = {defect: weigh_case(record, defect) for defect in defects}
    if len(alone) < 2:
        return alone
    able = {
        defect: frozenset(row.name for row in case.rows if _is_able(row))
        for defect, case in alone.items()
    }
    return {
        defect: replace(case, rows=case.weighed(case.facts, _bonuses(defect, able)))
        for defect, case in alone.items()
    }


def _is_able(row: "Weighed") -> bool:
    """Whether a cause can share in an explanation: a real fault, not ruled out by the record."""
    return (
        row.cause is not None
        and row.cause.is_fault
        and not row.cause.right_name
        and not row.is_ruled_out
    )


def _bonuses(defect: str, able: dict[str, frozenset[str]]) -> dict[str, float]:
    others = [names for name, names in able.items() if name != defect]
    found = {}
    for cause in able[defect]:
        explained = sum(cause in names for names in others)
        if explained:
            found[cause] = EXPLAINS_ALL * explained / len(others)
    return found


def explained_by(case: Case, cases: dict[str, Case]) -> list[str]:
    """The further defects of the tile that the first cause of this one could explain.

    Only where it is a leading cause of them too: among their first three, not ruled out, and with
    no count of own tiles against it.
    """
    if not _may_share(case, case.first):
        return []
    name = case.first.cause.name
    return [
        defect
        for defect, other in cases.items()
        if defect != case.defect
        and any(row.name == name and _may_share(other, row) for row in other.rows[:3])
    ]


def _may_share(case: Case, row: "Weighed") -> bool:
    is_against = case.own is not None and case.own.is_against(row, case.facts)
    return _is_able(row) and not is_against


def share_without(rows: "Sequence[Weighed]", *parts: str) -> float:
    """What the first cause would hold had some parts of the log odds not been added.

    Whether an answer can be given rests on what was recorded for it. What its facts do in general
    (``expected``) orders the causes and is no evidence of its own; nor is it that a cause could
    explain the other defects of the tile too (``bonus``) where nothing was recorded against it.

    Parameters
    ----------
    rows : sequence of Weighed
        The likeliest first.
    parts : str
        Names of fields of `Weighed`.
    """
    odds = [math.exp(row.log_odds - sum(getattr(row, part) for part in parts)) for row in rows]
    return odds[0] / sum(odds)

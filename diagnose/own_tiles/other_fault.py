"""Another fault that own tiles of a glaze show on a clay which is advised against one."""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.own_tiles.areas import under
from tiles.records.derived import defects_on
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

LEAST_SEEN, OFTEN = 2, 0.25
"""On so many tiles, and on so large a part of them, it is no mere chance (estimates)."""


def other_fault(others: "Sequence[TileRecord]", glaze: str | None, body: str, defect: str) -> str:
    """The commonest other fault there with its count; empty where there is none to speak of.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles.
    glaze, body : str
        The uppermost glaze, and the clay that it would be put on.
    defect : str
        The fault that is to be mended.
    """
    seen: dict[str, set[str]] = {}
    for record, area in under(glaze, others) if glaze else ():
        if same_name(record.body.name, body):
            shown = {each.defect for each in defects_on(record, area)}
            seen[record.mark] = seen.get(record.mark, set()) | shown
    counts = Counter(each for shown in seen.values() for each in shown - {defect})
    most, many = next(iter(counts.most_common(1)), ("", 0))
    if many < LEAST_SEEN or many < OFTEN * len(seen):
        return ""
    return f"On {body} {many} of your {len(seen)} tiles of {glaze} had another fault: {most}."

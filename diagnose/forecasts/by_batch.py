"""That a fault hangs on the batch, where none is named and own tiles of the glaze show it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.exact_test import fails_more, two_groups
from diagnose.own_tiles.areas import under
from diagnose.own_tiles.lift import VERY_CLEAR
from diagnose.own_tiles.same_age import same_age
from diagnose.view import View
from diagnose.wording import DID
from tiles.records.words import OTHER_FAULT, name_key

if TYPE_CHECKING:
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import TileRecord

LEAST_TILES = 3
"""Of a batch, and of all others, before it is told."""


def from_batches(others: "Sequence[TileRecord]", view: View) -> "list[TileRecord]":
    """The own tiles of the glaze from any batch on record: all that `by_batch` counts.

    None where it has nothing to tell.
    """
    if view.glaze_name is None or view.batch is not None:
        return []
    areas = under(view.glaze_name, others, OTHER_FAULT)
    return [*{each[0].mark: each[0] for each in areas if View(*each).batch}.values()]


def by_batch(others: "Sequence[TileRecord]", view: View) -> str:
    """The count of the batch that fails most clearly more often than the others; else empty."""
    if view.glaze_name is None or view.batch is not None:
        return ""
    defect = view.defect
    areas = [each for each in under(view.glaze_name, others, defect) if View(*each).batch]
    at = same_age(areas, defect, lambda *each: name_key(View(*each).batch))
    of_batch: dict[str, list[Looked]] = {}
    for each in areas:
        of_batch.setdefault(name_key(View(*each).batch), []).append(each)
    found = {name: at.by_mark(own) for name, own in of_batch.items()}
    counted = {name: (sum(own.values()), len(own)) for name, own in found.items() if own}
    whole = tuple(map(sum, zip(*counted.values(), strict=True))) or (0, 0)
    clear = []
    for name, (failed, many) in counted.items():
        there = whole[0] - failed, whole[1] - many
        if min(many, there[1]) >= LEAST_TILES and fails_more((failed, many), there):
            clear.append((two_groups([[(failed, many), there]]), name, failed, many, *there))
    if not clear or min(clear)[0] * len(counted) > VERY_CLEAR:
        return ""
    _, name, failed, many, there_failed, there_all = min(clear)
    batch, did = View(*of_batch[name][0]).batch, DID.get(defect, "failed")
    when = f" ({at.when})" if at.by_day else ""
    return (
        f"of {many} tiles from batch {batch} {failed} {did}, of {there_all} from other batches "
        f"{there_failed or 'none'}{when}: name the batch of this one."
    )

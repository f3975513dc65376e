"""A glaze firing set far hotter than its kiln knows: cone 5 for 05, most often.

What the labels make of it is told where it is stored (`tell_cone_of_no_jar` of the commands).
"""

from collections.abc import Iterable, Sequence

from tiles.chemistry import cones
from tiles.records.forms import FiringRecord
from tiles.records.kiln_habit import FEWEST_FIRINGS, USUAL_SHARE
from tiles.records.questions import EARTHENWARE_TOP, FAR_OUTSIDE_STEPS, spoken_cone
from tiles.records.words import name_key


def target_questions(record: FiringRecord, others: Iterable[FiringRecord]) -> list[str]:
    """One sentence where a firing is aimed at a cone that its kiln has no use for so far.

    Parameters
    ----------
    record : FiringRecord
        As it would be stored; one of a bisque raises none here.
    others : iterable of FiringRecord
        All other firings. Its kiln's glaze firings count; of one without a kiln, all.
    """
    target = record.target_cone
    if record.kind == "bisque" or not target or not _is_far(EARTHENWARE_TOP, target):
        return []
    fired = [cone for each in others if _is_beside(each, record) and (cone := _cone(each))]
    if len(fired) < FEWEST_FIRINGS:
        return []
    of = f"{len(fired)} glaze firings {f'of {record.kiln}' if record.kiln else 'on record'}"
    return _above(target, fired, of) or _for_usual(target, fired, of)


def _is_beside(other: FiringRecord, record: FiringRecord) -> bool:
    is_of_kiln = not record.kiln or name_key(other.kiln or "") == name_key(record.kiln)
    is_other = name_key(other.name) != name_key(record.name)
    return is_of_kiln and is_other and other.kind != "bisque"


def _cone(firing: FiringRecord) -> str | None:
    """What it was set for, else its hottest witness cone."""
    read = max((each.cone for each in firing.witness_cones), key=cones.step, default=None)
    return firing.target_cone or read


def _is_far(below: str, cone: str) -> bool:
    return cones.steps_between(below, cone) >= FAR_OUTSIDE_STEPS


def _above(target: str, fired: Sequence[str], of: str) -> list[str]:
    hottest = max(fired, key=cones.step)
    if not _is_far(hottest, target):
        return []
    said = spoken_cone("target cone", target)
    return [f"{said} is far above {spoken_cone('cone', hottest)}, the hottest of {of}."]


def _for_usual(target: str, fired: Sequence[str], of: str) -> list[str]:
    """A cone that was never set, where the one with the other zero is what is set."""
    other = cones.with_other_zero(target)
    usual = fired.count(other)
    if target in fired or usual < USUAL_SHARE * len(fired):
        return []
    said = spoken_cone("target cone", target)
    return [f"{said} was never set before, {spoken_cone('cone', other)} in {usual} of {of}."]

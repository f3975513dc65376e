"""A glaze firing set far hotter than most of its kiln: cone 5 for 05, most often.

What the labels make of it is told where it is stored (`tell_cone_of_no_jar` of the commands).
"""

from collections.abc import Iterable

from tiles.chemistry import cones
from tiles.records.forms import FiringRecord
from tiles.records.kiln_habit import FEWEST_FIRINGS
from tiles.records.questions import EARTHENWARE_TOP, FAR_OUTSIDE_STEPS, spoken_cone
from tiles.records.words import name_key

MOST = 0.5
"""A kiln knows low fire where more of its glaze firings than this are far below the target: a few
of mid range do not end the question, for a load that melts costs more than an answer."""


def target_questions(record: FiringRecord, others: Iterable[FiringRecord]) -> list[str]:
    """One sentence where a firing is aimed at a cone that its kiln has little use for so far.

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
    low = [cone for cone in fired if _is_far(cone, target)]
    if len(fired) < FEWEST_FIRINGS or len(low) <= MOST * len(fired):
        return []
    many = len(low) if len(low) == len(fired) else f"{len(low)} of {len(fired)}"
    of = f"{many} glaze firings {f'of {record.kiln}' if record.kiln else 'on record'}"
    said, hottest = spoken_cone("target cone", target), max(low, key=cones.step)
    return [f"{said} is far above {spoken_cone('cone', hottest)}, the hottest of {of}."]


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

"""A glaze firing far hotter than most of its kiln, or far from every label: cone 5 for 05, often.

It is judged by what it is set for, else by its hottest witness cone.
"""

from collections.abc import Iterable, Sequence

from tiles.chemistry import cones
from tiles.records.derived import set_or_read
from tiles.records.far_labels import EARTHENWARE_TOP, FAR_OUTSIDE_STEPS, spoken_cone
from tiles.records.forms import FiringRecord
from tiles.records.kiln_habit import FEWEST_FIRINGS
from tiles.records.words import name_key

MOST = 0.5
"""A kiln knows low fire where more of its glaze firings than this are far below the target: a few
of mid range do not end the question, for a load that melts costs more than an answer; the same
cone once more than was confirmed and read does."""


def target_questions(record: FiringRecord, others: Iterable[FiringRecord]) -> list[str]:
    """One sentence where a firing is aimed at a cone that its kiln has little use for so far.

    None where its kiln was fired so before, see `confirmed_by`.

    Parameters
    ----------
    record : FiringRecord
        As it would be stored; one of a bisque raises none here.
    others : iterable of FiringRecord
        All other firings, as they came on record. Its kiln's glaze firings count; of one without
        a kiln, all.
    """
    known = list(others)
    asked = _far_above_usual(record, known)
    return [] if asked and confirmed_by(record, known) else asked


def confirmed_by(record: FiringRecord, others: Sequence[FiringRecord]) -> str | None:
    """The last firing of its kiln for the same cone that was confirmed and got there; else None.

    One that is as far above those on record before it was asked about when it was put there, and
    stands all the same; its witness cones must bear it out, for a slip is as easily confirmed as
    typed. Half a cone is the same one, any other is asked about by itself: of 4 and 6 the one is a
    slip for 04 all the same.
    """
    cone = set_or_read(record)[1]
    for at in range(len(others) - 1, -1, -1):
        each = others[at]
        target = set_or_read(each)[1]
        if not (record.kiln and cone and target and _is_beside(each, record)):
            continue
        read = [witness.cone for witness in each.witness_cones]
        is_borne_out = bool(read) and not any(_is_far(one, target) for one in read)
        is_same = abs(cones.steps_between(cone, target)) < 1
        if is_same and is_borne_out and _far_above_usual(each, others[:at]):
            return each.name
    return None


def said_of_confirmed(record: FiringRecord, others: Sequence[FiringRecord]) -> str:
    """What is not asked again of a firing, and by which one that was confirmed; else empty."""
    asked = _far_above_usual(record, others)
    by = confirmed_by(record, others) if asked else None
    return f"{asked[0].removesuffix('.')}; not asked again, as {by} got there." if by else ""


def _far_above_usual(record: FiringRecord, others: Iterable[FiringRecord]) -> list[str]:
    what, target = set_or_read(record)
    if record.kind == "bisque" or not target or not _is_far(EARTHENWARE_TOP, target):
        return []
    fired = [cone for each in others if _is_beside(each, record) and (cone := set_or_read(each)[1])]
    low = [cone for cone in fired if _is_far(cone, target)]
    if len(fired) < FEWEST_FIRINGS or len(low) <= MOST * len(fired):
        return []
    many = len(low) if len(low) == len(fired) else f"{len(low)} of {len(fired)}"
    of = f"{many} glaze firings {f'of {record.kiln}' if record.kiln else 'on record'}"
    said, hottest = spoken_cone(what, target), max(low, key=cones.step)
    return [f"{said} is far above {spoken_cone('cone', hottest)}, the hottest of {of}."]


def label_questions(record: FiringRecord, glazes: list[tuple], clays: list[tuple]) -> list[str]:
    """One sentence for a cone far from every label in use, where its other zero would suit one.

    Nobody is led to a hotter firing that a clay in use would not stand, or none is known to.

    Parameters
    ----------
    glazes, clays : list of tuple
        The coolest and the hottest cone of each label in use.
    """
    what, cone = set_or_read(record)
    other = cone and cones.with_other_zero(cone)
    if record.kind == "bisque" or not other:
        return []
    if all(_is_far_outside(other, each) for each in glazes):
        return []
    stood = [cones.steps_outside(other, *each) <= 0 for each in clays]
    if cones.steps_between(cone, other) > 0 and not (stood and all(stood)):
        return []
    if not all(_is_far_outside(cone, each) for each in glazes):
        return []
    said = spoken_cone(what, cone)
    return [f"{said} is far outside the label of every glaze in use, and cone {other} is not."]


def _is_beside(other: FiringRecord, record: FiringRecord) -> bool:
    is_of_kiln = not record.kiln or name_key(other.kiln or "") == name_key(record.kiln)
    is_other = name_key(other.name) != name_key(record.name)
    return is_of_kiln and is_other and other.kind != "bisque"


def _is_far(below: str, cone: str) -> bool:
    return cones.steps_between(below, cone) >= FAR_OUTSIDE_STEPS


def _is_far_outside(cone: str, label: tuple[str, str]) -> bool:
    return abs(cones.steps_outside(cone, *label)) >= FAR_OUTSIDE_STEPS

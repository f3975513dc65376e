"""All trials that count for a failed tile: its own, those of its sisters, those made once more.

`tiles why`, `fix` and `next` all weigh and tell what is found here, as `Case.tried`.
"""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.factors import FACTORS
from diagnose.fixes.shapes import NOT_RECORDED
from diagnose.measures.of_area import choose_area
from diagnose.trials.changes import FIRED, all_differences, apart
from diagnose.trials.clues import by_hand
from diagnose.trials.controls import sets_of
from diagnose.trials.outcome import change_tested
from diagnose.trials.tried import is_control, trials_of
from diagnose.view import View
from tiles.records.derived import shows
from tiles.records.gone import telling_looks
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from datetime import date

    from diagnose.case import Case
    from tiles.records.forms import AreaRecord, TileRecord

_NEVER_BLANK = ("coats", "bisque cone")
"""In what a tile made alike is alike only where both are known, or neither is."""
_MADE = ("body", "glaze", "coats", "coats under", "under put on", "bisque cone", "beneath",
         "batch", "recipe")  # fmt: skip
"""What a change may show in on the record of a trial, but for how it was fired."""


def all_trials(case: "Case", others: "Sequence[TileRecord]") -> "list[TileRecord]":
    """The trials that count for a failed tile, its own last; of others those that were looked at.

    A trial for a sister, made alike and with the same fault, counts as one for this tile. One for
    another tile of the same glaze on the same clay counts where it repeats a change that was tried
    already, and a tile that nobody planned as a trial where it was made and fired like one later:
    it is given with the same change, as a trial of no tile. What any of these differ in is judged
    as it is of its own.

    Parameters
    ----------
    case : Case
        The failed tile.
    others : sequence of TileRecord
        Own tiles, the trials for any of them among these.
    """
    trials = trials_of(case, others)
    trials = [*_of_sisters(case, trials, others), *trials]
    return [*_made_once_more(case, trials, others), *trials]


def sisters_of(view: View, others: "Sequence[TileRecord]") -> list[str]:
    """The marks of the other tiles with the fault that are made alike, as far as is recorded.

    Parameters
    ----------
    view : View
        The failed tile, as seen from the area with the fault.
    others : sequence of TileRecord
        Own tiles.
    """
    own, found = {*sets_of(view.record)}, []
    for each in others:
        if each.mark in own or not each.inspections:
            continue
        area = choose_area(each, None, view.defect)  # as which its trials are made
        if area and shows(each, area, view.defect) and _are_alike(each, area, view):
            found.append(each.mark)
    return found


def _are_alike(other: "TileRecord", area: "AreaRecord", own: View) -> bool:
    """Whether an area is made like one, as far as both records say it.

    Coats and bisque must be known of both or of neither: of a blank one may think anything.
    """
    if own.area is None or _unseen(other) != _unseen(own.record):
        return False
    seen = View(other, area)
    if [each.glaze.name for each in seen.layers] != [each.glaze.name for each in own.layers]:
        return False
    of_both = ((FACTORS[name].read(seen), FACTORS[name].read(own)) for name in _NEVER_BLANK)
    if any((here is None) is not (there is None) for here, there in of_both):
        return False
    here, there = by_hand(seen), by_hand(own)
    if any(here[name] != there[name] for name in here.keys() & there.keys()):
        return False
    # The change of a trial is told apart from what it was made of.
    alone = other.model_copy(update={"areas": [area], "trial_change": None})
    return not all_differences(alone, own)


def _unseen(record: "TileRecord") -> str | None:
    """The change of a trial that no field of its record shows, such as stirring."""
    change = record.trial_change
    return change if change and change.endswith(NOT_RECORDED) else None


def _of_sisters(
    case: "Case", trials: "Sequence[TileRecord]", others: "Sequence[TileRecord]"
) -> "list[TileRecord]":
    """The trials for tiles of the same glaze on the same clay that count for this one as well."""
    akin = {*alike_with_trials(case.record, case.defect, others)} - {*sets_of(case.record)}
    own = {case.record.mark, *(each.mark for each in trials)}
    theirs = [
        each
        for each in others
        if each.trial_of in akin and each.trial_defect == case.defect and each.mark not in own
        and telling_looks(each) and each.areas
    ]  # fmt: skip
    if not theirs:
        return []
    sisters = {*sisters_of(case.view, others)}
    counted = [each for each in theirs if each.trial_of in sisters]
    tested = {change_tested(case, each) for each in _looked_at([*trials, *counted])} - {None}
    rest = (each for each in theirs if each.trial_of not in sisters)
    return [*counted, *(each for each in rest if change_tested(case, each) in tested)]


def alike_with_trials(
    record: "TileRecord", defect: str, others: "Sequence[TileRecord]"
) -> Iterator[str]:
    """The marks of the other tiles of its glaze on its clay with trials that were looked at."""
    trials = (each for each in others if each.trial_defect == defect and each.inspections)
    of = {each.trial_of for each in trials} - {record.mark}
    return (each.mark for each in others if each.mark in of and _is_alike(each, record))


def _is_alike(one: "TileRecord", other: "TileRecord") -> bool:
    """Whether some area of two tiles has the same layers, on the same clay."""
    return same_name(one.body.name, other.body.name) and bool(_glazed(one) & _glazed(other))


def _glazed(record: "TileRecord") -> set[tuple]:
    """What lies on each glazed area, from the clay up: the glazes and their recipes' versions."""
    return {
        tuple((name_key(of.glaze.name), of.recipe and of.recipe.version) for of in area.layers)
        for area in record.areas
        if area.layers
    }


def _made_once_more(
    case: "Case", trials: "Sequence[TileRecord]", others: "Sequence[TileRecord]"
) -> "list[TileRecord]":
    """The tiles that were made and fired like a trial with a change, with that change.

    Only those first looked at after that trial was: what was sound before may be why it was fired.
    """
    changed = [each for each in _looked_at(trials) if not is_control(each)]
    marks = {each.mark for each in trials}
    plain = [each for each in others if not each.trial_of and each.mark not in marks]
    found = []
    for each in _looked_at(plain) if changed else ():
        if same_name(each.mark, case.record.mark) or len(each.areas) > 1:
            continue
        like = next((t for t in changed if _is_once_more(each, t, case.view)), None)
        if like:
            told = {"trial_of": "", "trial_defect": case.defect, "trial_change": like.trial_change}
            found.append(each.model_copy(update=told))
    return found


def _is_once_more(record: "TileRecord", trial: "TileRecord", failed: View) -> bool:
    """Whether a tile was made like a trial and fired later; what was changed must be on record."""
    seen, tried = View(record, record.areas[0]), View(trial, trial.areas[0])
    if _day(record) <= _day(trial) or not _are_alike(record, seen.area, tried):
        return False
    if tried.cone_reached and not seen.cone_reached:  # perhaps it was fired otherwise
        return False
    changed = apart(tried, failed, _MADE) or apart(tried, failed, FIRED)
    is_known = all(FACTORS[name].read(seen) is not None for name in changed)
    return bool(changed) and is_known and not apart(seen, tried, [*changed])


def _looked_at(trials: "Sequence[TileRecord]") -> Iterator["TileRecord"]:
    return (each for each in trials if telling_looks(each) and each.areas)


def _day(record: "TileRecord") -> "date":
    """The day of its first look."""
    return min(look.inspected_on for look in record.inspections)

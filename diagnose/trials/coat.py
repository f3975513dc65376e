"""The coat of a trial in own words: coats and their dry thickness are one thing, changed as one."""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.fixes.bench import Step
from diagnose.fixes.shapes import COATS, DRY_COAT, NOT_RECORDED, OF_BUCKET, VERSION, Change
from diagnose.next_tiles.changes import Candidate
from diagnose.view import View, spoken_coats
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import LayerRecord, TileRecord

KEY = "coat"
"""Of the step that changes coats and their thickness as one."""
CLEARLY = 0.25
"""A coat thinner or thicker by so large a part is another one: brushes differ (estimate)."""
LEAST_APART_MM = 0.1
_WRITTEN = re.compile(rf"{DRY_COAT} (\d[\d.]*) -> (\d[\d.]*) mm(?:; {COATS} (\d+) -> (\d+))?")
_WITH_A_COAT = ("body", "glaze", "batch", "bisque cone", VERSION, *OF_BUCKET)
"""Changes after which a coat goes on otherwise of itself."""


def coat_changes(trial: "TileRecord", view: View) -> list[Change]:
    """The dry coat, and the coats where they differ too; empty where it is not clearly another.

    Nor where either was not measured, or the glaze is another.
    """
    now, then = view.top, View(trial, trial.areas[0]).top if trial.areas else None
    if now is None or then is None or not same_name(now.glaze.name, then.glaze.name):
        return []
    if NOT_RECORDED in (trial.trial_change or "") or not (now.thickness_mm and then.thickness_mm):
        return []
    before, after = now.thickness_mm, then.thickness_mm
    if abs(after - before) <= max(LEAST_APART_MM, CLEARLY * max(after, before)):
        return []
    found = [Change(DRY_COAT, round(before, 2), round(after, 2), "mm")]
    is_other = now.coats and then.coats and now.coats != then.coats
    return [*found, Change(COATS, now.coats, then.coats)] if is_other else found


def written_coat(trial: "TileRecord") -> list[Change]:
    """The coat of a trial that was planned with its thickness, its coats if changed too; else none.

    As `tiles next` writes it; nobody need have measured it again. Empty too where somebody did, or
    where the trial has other coats on record.
    """
    said = _WRITTEN.fullmatch(trial.trial_change or "")
    if not said or not trial.areas:
        return []
    before, after, *coats = (each and float(each) for each in said.groups())
    found = [Change(DRY_COAT, before, after, "mm")]
    found += [Change(COATS, *map(int, coats))] if all(coats) else []
    top = View(trial, trial.areas[0]).top
    if top is None or top.thickness_mm:
        return []
    return [] if all(coats) and top.coats not in (None, found[-1].after) else found


def of_coat(changes: Sequence[Change], found: Sequence[Candidate]) -> Candidate:
    """The coat as one change; it acts on what a coat changed the same way acts on."""
    alike = [each for each in found if _goes(each.step.changes[0], changes[0])]
    coats = {each.what: each.after for each in changes}.get(COATS)
    edit = {"coats": coats} if coats else {}
    acts_on, eases = (
        frozenset().union(*(getattr(each, how) for each in alike)) for how in ("acts_on", "eases")
    )
    return Candidate(DRY_COAT, Step(KEY, "", list(changes), edit=edit), acts_on, eases - acts_on)


def said_of(found: Candidate) -> str:
    """The change that a trial tests; a coat with all that is known of it."""
    changes = found.step.changes if found.step.key == KEY else found.step.changes[:1]
    return ", ".join(each.said for each in changes)


def is_coat_too(change: Change, coat: Sequence[Change]) -> bool:
    """Whether one change accounts for how the coat differs as well."""
    return not coat or change.what in _WITH_A_COAT or _goes(change, coat[0])


def _goes(change: Change, coat: Change) -> bool:
    """Whether a change takes the coat the same way, thinner or thicker."""
    is_of_coat = change.what in (COATS, DRY_COAT) and change.before is not None
    return is_of_coat and (change.after > change.before) is (coat.after > coat.before)


def spoken_change(coat: Sequence[Change], view: View, trial: "TileRecord") -> str:
    """The coat before and after: "coat: 2 coats of 1.7 mm -> 3 coats of 0.9 mm in all"."""
    if len(coat) == 1:
        return f"{DRY_COAT}: {coat[0].before:g} -> {coat[0].after:g} mm"
    then = View(trial, trial.areas[0]).top
    return f"coat: {_spoken(view.top)} -> {_spoken(then)} in all"


def _spoken(layer: "LayerRecord") -> str:
    return f"{spoken_coats(layer.coats)} of {layer.thickness_mm:g} mm"

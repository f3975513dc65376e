"""Changes that the own record already answers: made so, it failed; or another fault comes."""

from typing import TYPE_CHECKING

from diagnose.comparing.counted import Counted
from diagnose.fixes.bench import Bench
from diagnose.fixes.shapes import BISQUE_CONE
from diagnose.own_tiles.areas import looked_at
from diagnose.own_tiles.failing_coats import is_clear
from diagnose.own_tiles.failures import OwnTiles, made_so_ever
from diagnose.own_tiles.other_areas import sound_so
from diagnose.view import View, area_of
from diagnose.wording import DID
from tiles.chemistry.cones import step
from tiles.records.derived import defects_on

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.case import Case
    from diagnose.next_tiles.changes import Candidate, Owned
    from tiles.records.forms import TileRecord

LEAST_SPOILED, HALF, MUCH_LESS = 2, 0.5, 0.25
"""Another fault comes of a bisque where half of a glaze's areas so fired have it, two at least, and
of those bisqued like the failed tile a quarter as many (estimates)."""


def in_vain(
    own: OwnTiles, case: "Case", candidate: "Candidate", owned: "Owned", then: "TileRecord"
) -> str:
    """Why own tiles make a change not worth a tile; empty where they do not.

    Parameters
    ----------
    own : OwnTiles
        What they tell of the changes of the failed tile.
    case : Case
        The failed tile.
    candidate : Candidate
        The change.
    owned : Owned
        What is on record to change to.
    then : TileRecord
        The tile as it would be.
    """
    did = DID.get(case.defect, "failed")
    bench = Bench(case.view, "", case.setting)
    failed, every = made_so_ever(own, bench, candidate.step, candidate.kind, owned)
    if failed:
        return f"{failed} of your {every} tiles made so {did}"
    told = _on_the_failing_side(case, candidate, then)
    if told and not sound_so(bench, candidate.step):
        return told
    return _spoils(own, case, candidate) if candidate.kind == BISQUE_CONE else ""


def _on_the_failing_side(case: "Case", candidate: "Candidate", then: "TileRecord") -> str:
    """A clear count of own tiles of the glaze, on the failing side of which the change stays."""
    if case.own is None or case.area is None or candidate.kind == "glaze":
        return ""
    now, made = (
        Counted(record, area_of(record, case.area_number), failed=True).values
        for record in (case.record, then)
    )
    for lesson in case.own.lessons:
        before, after = (values.get(lesson.measure) for values in (now, made))
        is_changed = after not in (None, before)
        if is_changed and is_clear(lesson) and lesson.holds_with(after):
            return lesson.say.removesuffix(".")
    return ""


def _spoils(own: OwnTiles, case: "Case", candidate: "Candidate") -> str:
    """Another fault that a glaze has on such a bisque, and hardly on one like the failed tile's.

    Not asked where a cause in question is mended so: then it is the lesser evil.
    """
    if candidate.acts_on or candidate.eases or not case.view.bisque_cone:
        return ""
    after, now = (step(cone) for cone in (candidate.step.changes[0].after, case.view.bisque_cone))
    here, there = _bisqued(own.every, after), _bisqued(own.every, now)
    for glaze in sorted(here.keys() & there.keys()):
        for defect in sorted({each for seen in here[glaze] for each in seen} - {case.defect}):
            bad, before = (sum(defect in seen for seen in of[glaze]) for of in (here, there))
            share = bad / len(here[glaze])
            is_rare = before <= MUCH_LESS * share * len(there[glaze])
            if bad >= LEAST_SPOILED and share >= HALF and is_rare:
                did = DID.get(defect, "failed")
                return f"{bad} of {len(here[glaze])} areas of {glaze} bisqued so {did}"
    return ""


def _bisqued(records: "Sequence[TileRecord]", at: float) -> dict[str, list[set[str]]]:
    """The faults of each inspected area with that bisque cone, by its uppermost glaze."""
    found: dict[str, list[set[str]]] = {}
    for record, area in looked_at(records):
        view = View(record, area)
        if view.glaze_name and view.bisque_cone and step(view.bisque_cone) == at:
            seen = {each.defect for each in defects_on(record, area)}
            found.setdefault(view.glaze_name, []).append(seen)
    return found

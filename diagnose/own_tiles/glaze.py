"""What other tiles of the same glaze tell of its jar and its coat, as facts of the failed tile.

A jar from which a tile came out sound, fired no hotter, holds no glaze for a hotter cone. Where
the usual coat is dry on nearly all tiles fired as hot, a thin one is not what made this tile dry;
nor is too little heat where nearly all that were fired hotter, as the label says, are dry as well.
Where the same glaze mostly stays sound on the same clay, that clay alone is not why. Where a tile
from the jar, fired as hot, kept its look, or a cooler one of the same firing lost it as well, the
heat is not what took it.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.measures.of_area import Measure, measures
from diagnose.measures.usual_coat import usual_coat
from diagnose.own_tiles.areas import failed_by_mark, under
from diagnose.own_tiles.jar import LEAST_TILES, NEARLY_ALL, OF_JAR, SHORT, at_its_label
from diagnose.view import View
from diagnose.wording import listed
from tiles.chemistry.cones import steps_between
from tiles.records.derived import firing_key
from tiles.records.words import OTHER_FAULT, same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import TileRecord

SOUND, USUAL_COAT = "sound_from_jar", "usual_coat_fails_too"
SOUND_ON_CLAY, OF_CLAY = "sound_on_this_clay", "cloudiness"
"""The measure, and the fault of which a cause lies in every piece of a clay."""
MOST_FAILED_ON_CLAY = 0.25
LEAST_ON_CLAY = 4
"""Mostly sound: no larger part of so many other tiles failed (estimates)."""
AT_LABEL = "label_cone_fails_too"
SOUND_AS_HOT, COOLER_FAILS = "sound_as_hot", "cooler_fails_too"
OF_JAR_AND_COAT = (SOUND, USUAL_COAT, AT_LABEL)
"""Told of the glaze by its other tiles: they hold as long as the glaze and its batch stay."""
AS_HOT = 0.5
"""Tiles that differ by no more are as hot as each other. [cones]"""
LEAST_USUAL = 2
"""So many other tiles with a usual coat tell that the coat is not why (estimate)."""
MOST_MARKS = 3


def as_glaze_did(case: "Case", others: "Sequence[TileRecord]") -> "Case":
    """The case with what other tiles of its uppermost glaze tell of the jar and of its coat.

    Parameters
    ----------
    case : Case
        As common practice weighs the tile alone.
    others : sequence of TileRecord
        Own tiles.
    """
    glaze = case.view.glaze_name
    found: tuple[Measure | None, ...] = ()
    if glaze is not None and case.defect == OF_CLAY:
        found = (_sound_on_clay(case, under(glaze, others)),)
    elif glaze is not None and case.defect == OF_JAR and case.view.cone:
        alike = [each for each in under(glaze, others) if _is_of_jar(case, each)]
        found = (_sound(case, alike), _usual(case, alike), _at_label(case, others, glaze))
    elif glaze is not None and case.defect == OTHER_FAULT and case.view.cone:
        alike = [each for each in under(glaze, others) if _is_of_jar(case, each)]
        found = (_sound_as_hot(case, alike), _cooler_fails(case, alike))
    told = {each.name: each for each in found if each}
    if not told:
        return case
    facts = told | dict(case.facts)
    return replace(case, facts=facts, rows=case.weighed(facts))


def _is_of_jar(case: "Case", looked: "Looked") -> bool:
    """Whether another tile has this glaze alone on it, from a batch that may be the same."""
    if same_name(looked[0].mark, case.record.mark) or len(View(*looked).glazes) != 1:
        return False
    own, other = case.view.batch, View(*looked).batch
    is_same = own is None or other is None or same_name(own, other)
    return is_same and View(*looked).cone is not None


def _hotter(case: "Case", looked: "Looked") -> float:
    """By how many steps another tile was fired hotter. [cones]."""
    return steps_between(case.view.cone, View(*looked).cone)


def _marks(case: "Case", looked: "Sequence[Looked]") -> tuple[set[str], set[str]]:
    """The marks of the tiles with the fault on one of these areas, and of all of them."""
    found = failed_by_mark(looked, case.defect)
    return {mark for mark, failed in found.items() if failed}, set(found)


def _sound(case: "Case", alike: "Sequence[Looked]") -> Measure | None:
    """How many tiles from the jar came out without the fault, fired no hotter than this one."""
    failed, every = _marks(case, [each for each in alike if _hotter(case, each) <= AS_HOT])
    marks = every - failed
    if not marks:
        return None
    said = f"{_which(marks)}, fired no hotter, came out without it"
    return Measure(SOUND, float(len(marks)), "tiles", said)


def _which(marks: set[str]) -> str:
    named = sorted(marks)[:MOST_MARKS]
    more = [f"{len(marks) - len(named)} more"] if len(marks) > len(named) else []
    return f"{listed([*named, *more])} of the same jar"


def _sound_as_hot(case: "Case", alike: "Sequence[Looked]") -> Measure | None:
    """That most tiles from the jar, fired as hot in another firing, came out without the fault.

    What failed beside it may have failed by what befell that firing.
    """
    own = firing_key(case.record)
    hot = [each for each in alike if _hotter(case, each) >= 0 and firing_key(each[0]) != own]
    failed, every = _marks(case, hot)
    sound = every - failed
    if len(sound) <= len(failed):
        return None
    return Measure(SOUND_AS_HOT, "yes", "", f"{_which(sound)}, fired as hot, came out without it")


def _cooler_fails(case: "Case", alike: "Sequence[Looked]") -> Measure | None:
    """That tiles from the jar have it as well which the same firing took no hotter than the label.

    None where a label is not known: nobody can tell what it stands.
    """
    own = firing_key(case.record)
    beside = [each for each in alike if own and firing_key(each[0]) == own]
    cool = [each for each in beside if _hotter(case, each) < -AS_HOT and _is_in_label(each)]
    failed, _ = _marks(case, cool)
    if not failed:
        return None
    have = "has" if len(failed) == 1 else "have"
    said = f"{_which(failed)}, cooler in the same firing, {have} it too"
    return Measure(COOLER_FAILS, "yes", "", said)


def _is_in_label(looked: "Looked") -> bool:
    over = measures(looked[0], looked[1].number).get("cones_over_label")
    return over is not None and over.value < AS_HOT


def _sound_on_clay(case: "Case", looked: "Sequence[Looked]") -> Measure | None:
    """That the glaze mostly came out sound on the same clay."""
    body = case.view.body_name
    here = [
        each
        for each in looked
        if body and same_name(View(*each).body_name, body) and each[0].mark != case.record.mark
    ]
    failed, marks = _marks(case, here)
    if len(marks) < LEAST_ON_CLAY or len(failed) > MOST_FAILED_ON_CLAY * len(marks):
        return None
    sound = len(marks) - len(failed)
    said = f"of {len(marks)} other tiles of {case.view.glaze_name} on {body} {sound} are without it"
    return Measure(SOUND_ON_CLAY, "yes", "", said)


def _usual(case: "Case", alike: "Sequence[Looked]") -> Measure | None:
    """That a usual coat fails as well, on nearly all tiles that were fired as hot or hotter."""
    usual = [each for each in alike if _hotter(case, each) >= -AS_HOT and usual_coat(View(*each))]
    failed, marks = _marks(case, usual)
    if len(marks) < LEAST_USUAL or len(failed) < NEARLY_ALL * len(marks):
        return None
    said = f"of {len(marks)} other tiles with a usual coat, fired as hot, {len(failed)} have it too"
    return Measure(USUAL_COAT, "yes", "", said)


def _at_label(case: "Case", others: "Sequence[TileRecord]", glaze: str) -> Measure | None:
    """That hotter tiles, fired as the label says, fail as well, where this one fell short."""
    known = (case.facts.get(name) for name in ("cones_over_label", "cones_over_target"))
    if not any(over.value < SHORT for over in known if over):
        return None
    asked = at_its_label(others, case.record, glaze)
    enough = [each for each in asked if _hotter(case, each) > -SHORT]
    failed, marks = _marks(case, enough)
    if len(marks) < LEAST_TILES or len(failed) < NEARLY_ALL * len(marks):
        return None
    told = f"of {len(marks)} other tiles fired hotter, as its label says, {len(failed)} have it too"
    return Measure(AT_LABEL, "yes", "", told)

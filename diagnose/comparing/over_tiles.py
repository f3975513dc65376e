"""Tiles of one glaze, or of all, side by side: what the failing share that the sound lack."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.comparing.by_version import by_version
from diagnose.comparing.compared import TOO_FEW, compared, looked_for
from diagnose.comparing.counted import Counted
from diagnose.comparing.pooled import Pooled, against, pooled
from diagnose.comparing.set_apart import (
    ASKED_FIRST,
    ASKED_OF_ALL,
    Difference,
    clear_facts,
    differences,
)
from diagnose.comparing.set_apart_pairs import together_surely
from diagnose.comparing.weighed import clear_count
from diagnose.comparing.within import side_of_all
from diagnose.own_tiles.areas import with_layer
from diagnose.own_tiles.late_looks import LateLooks
from diagnose.own_tiles.other_words import meant_by
from diagnose.own_tiles.same_age import SameAge
from diagnose.view import at_worst
from diagnose.wording import listed, sentence
from tiles.records.derived import bisque_cone, defects_on, own_words
from tiles.records.words import OTHER_FAULT, name_key

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

NEARLY_ALL = 0.75
"""So large a part of the faults without a word of their own is told as one fault (estimate)."""


@dataclass(frozen=True)
class OverTiles:
    """What the tiles of one glaze, or of all where it is None, tell about one defect.

    ``early`` counts areas that are left out, not being looked at at the age of all, ``at``:
    sound ones too early to tell, or such as were not about then looked at first. ``ever`` are
    all areas that showed the fault, also later than that; ``alike``
    says of the failing ones on how many clays and in how many firings they failed. ``together``
    are two facts that tell more than either does, in a sentence; else "". ``tiles`` counts those
    with one of the areas. ``of_jar`` says how other glazes did beside it, where it failed always
    and they hardly did; else "". ``versions`` counts by version of the recipe, in words. ``within``
    is what all failing ones share, where the further differences are counted among such alone.
    ``against`` says that a count speaks against the first cause, where one does; else "".
    ``is_weighed``: the clear difference that tells most is in the shares of the causes.
    """

    glaze: str | None
    defect: str
    failing: int
    sound: int
    differences: list[Difference]
    causes: list[Pooled]
    early: int = 0
    at: SameAge = SameAge(LateLooks(""))
    ever: int = 0
    alike: str = ""
    together: str = ""
    tiles: int = 0
    of_jar: str = ""
    versions: str = ""
    within: str = ""
    against: str = ""
    is_weighed: bool = False

    @property
    def asked_first(self) -> tuple[str, ...]:
        """The questions that are judged among themselves."""
        return ASKED_FIRST if self.glaze else ASKED_OF_ALL

    @property
    def unit(self) -> str:
        """What they are counted in: plain tiles where no two areas are of one."""
        return "tile" if self.tiles == self.failing + self.sound else "area"

    @property
    def is_too_few(self) -> bool:
        """Whether of either kind there are too few to compare."""
        return min(self.failing, self.sound) < TOO_FEW

    @property
    def say(self) -> str:
        """The answer in a sentence or two, leading with what differs most."""
        return f"{self._counted}{self.of_jar}"

    @property
    def _counted(self) -> str:
        is_other = self.defect == OTHER_FAULT
        fault, none = ("another fault", "other fault") if is_other else (self.defect, self.defect)
        counts, areas = self._counts(sentence(fault).removesuffix("."))
        if not self.failing:
            return f"No {none} on {areas}: nothing to explain."
        if not self.sound:
            return f"{counts} There is no sound one to compare with.{self.alike}"
        best = next(iter(self.differences), None)
        if self.is_too_few:
            if best is not None and (best.is_firm or best.is_hint):
                return f"{counts} Too few to be sure: the first below is no more than a hint."
            return f"{counts} Too few to compare: any difference may be chance."
        if best is not None and best.is_firm:
            return f"{counts} {sentence(best.say)}{also_alike(best.along)}"
        if best is not None and best.is_hint:
            return f"{counts} No difference is clear beyond chance; the first below is a hint."
        return f"{counts} No single difference is larger than chance would make it."

    def _counts(self, fault: str) -> tuple[str, str]:
        """How many failed of all, at which age; and those all, in words."""
        by_first = bool(self.at.by_day)
        every = self.failing + self.sound + (self.early if by_first else 0)
        areas = f"{every} {self.unit}{'' if every == 1 else 's'}{self._of_glaze}"
        counts = f"{fault} on {self.ever if by_first else self.failing} of {areas} that "
        counts += f"{'was' if every == 1 else 'were'} looked at"
        if by_first:
            counts += f", by the first look on {self.failing} of {self.failing + self.sound}"
        elif self.early:
            counts += " late enough"
        return f"{counts}. {self.at.left_out(self.early, self.unit)}".rstrip(), areas

    @property
    def _of_glaze(self) -> str:
        return f" of {self.glaze}" if self.glaze else ""

    def as_dict(self) -> dict:
        """The documented JSON shape."""
        return {
            "glaze": self.glaze,
            "defect": self.defect,
            "failing": self.failing,
            "sound": self.sound,
            "early": self.early,
            "by_day": self.at.by_day or None,
            "ever": self.ever,
            "tiles": self.tiles,
            "say": self.say,
            "differences": [vars(each) for each in self.differences],
            "together": self.together,
            "of_jar": self.of_jar,
            "versions": self.versions,
            "within": self.within,
            "against": self.against,
            "is_weighed": self.is_weighed,
            "causes": [vars(each) for each in self.causes],
        }


def also_alike(along: Sequence[str]) -> str:
    """What else parts the tiles as a difference does that is told before it."""
    if not along:
        return ""
    return f" The failing ones differ alike in this: {listed(along)}; either may be why."


def over_tiles(
    records: "Sequence[TileRecord]",
    glaze: str | None,
    defect: str,
    beside: "Sequence[TileRecord]" = (),
) -> OverTiles:
    """Compare the failing with the sound areas of one glaze, or of all.

    Parameters
    ----------
    records : sequence of TileRecord
        Tiles, of which those inspected and with the glaze on them count. They are only read.
    glaze : str or None
        Name of a glaze; None for whatever is glazed.
    defect : str
        One word of the defect list.
    beside : sequence of TileRecord
        Tiles of other glazes in the firings of these.

    Returns
    -------
    OverTiles
        Differences with the most telling first, and the causes of the rules pooled over the
        failing tiles.
    """
    found = compared(records, glaze, defect)
    areas, with_early, ever = found.areas, found.with_early, found.showing
    failing = list({each.record.mark: each.record for each in ever}.values())
    asked_first = ASKED_FIRST if glaze else ASKED_OF_ALL
    parted = differences(areas, defect, asked_first, with_early)
    clear = next(iter(clear_facts(parted)), None)
    within = side_of_all(areas, clear) if clear and not glaze else None
    if within:
        inside, early = within.of(areas), within.of(with_early)
        parted = [clear, *differences(inside, defect, asked_first, early)]
    failed, sound = found.counts
    count = None if found.is_too_few else clear_count(clear, areas, defect)
    shown = {each.record.mark: each for each in reversed(ever)}
    shown = [shown[record.mark] for record in failing]
    causes, of_jar, is_weighed = pooled(shown, defect, records, beside, count)
    told = OverTiles(
        glaze=glaze,
        defect=defect,
        failing=failed,
        sound=sound,
        differences=parted,
        causes=causes,
        early=found.left_out,
        at=found.at,
        ever=len(ever),
        alike=_alike(failing, areas),
        tiles=len({each.record.mark for each in areas}),
        of_jar=of_jar,
        versions=by_version(areas, defect, clear) if glaze and failed else "",
        within=within.said if within else "",
        against=against(parted, causes, defect, areas),
        is_weighed=is_weighed,
    )
    if found.is_too_few:
        return told
    pair = together_surely(areas, with_early, asked_first, defect, clear)
    return replace(told, together=pair.say if pair else "")


def faults_of(records: "Sequence[TileRecord]", glaze: str) -> dict[str, int]:
    """How many areas with a glaze show each fault: the commonest first, of equals the worst.

    What has no word of its own comes last, as it may be many faults; where the words written of
    nearly all of it mean the same, it counts by these.
    """
    areas: Counter[str] = Counter()
    grade: Counter[str] = Counter()
    meant: Counter[str] = Counter()
    for record, area in with_layer(glaze, records, OTHER_FAULT):
        seen = defects_on(record, area)
        meant.update({meant_by(record, each) for each in seen if each.defect == OTHER_FAULT})
        for defect, worst in at_worst(seen).items():
            areas[defect] += 1
            grade[defect] += worst
    most = max((many for said, many in meant.items() if said), default=0)
    is_one = most >= NEARLY_ALL * areas[OTHER_FAULT]
    alike = areas | ({OTHER_FAULT: most if is_one else 0} if OTHER_FAULT in areas else {})
    ranked = sorted(alike, key=lambda each: (-alike[each], -grade[each], each))
    return {defect: areas[defect] for defect in ranked}


def other_words(records: "Sequence[TileRecord]", glaze: str | None) -> dict[str, int]:
    """What was written of faults without a word of their own, and on how many areas, most first."""
    found: Counter[str] = Counter()
    spelt: dict[str, str] = {}
    for record, area in looked_for(records, glaze, OTHER_FAULT):
        said = (own_words(each) for each in defects_on(record, area))
        found.update({name_key(spelt.setdefault(name_key(each), each)) for each in said if each})
    return {spelt[key]: many for key, many in found.most_common()}


def _alike(failing: "list[TileRecord]", areas: "Sequence[Counted]") -> str:
    """Over which coats, clays, bisque cones and firings they failed, where there are several."""
    coats = sorted({each.values.get("coats") for each in areas if each.failed} - {None})
    bisques = (bisque_cone(record) for record in failing)
    different = {
        "clays": {record.body.name for record in failing},
        "bisque cones": {known.cone for known in bisques if known},
        "firings": {record.firing.name for record in failing if record.firing},
    }
    told = [f"{coats[0]:g} to {coats[-1]:g} coats"] if len(coats) > 1 else []
    told += [f"{len(each)} {what}" for what, each in different.items() if len(each) > 1]
    return f" It came alike over {listed(told)}." if told else ""

"""All tiles of one glaze side by side: what the failing ones share that the sound ones lack."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose import exact_test
from diagnose.counted import Counted, Fact, facts_of, is_of_tile
from diagnose.report import why
from diagnose.rules import has_rules
from diagnose.wording import sentence
from tiles.records.derived import shows

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord

UNLIKELY_CHANCE = 0.05
"""Below this a difference is called more than chance, after allowing for all that was looked at."""
LEAST_CHANCE = 1e-3
"""No smaller chance is told: the records are not that sure."""
TOO_FEW = 3
"""With fewer failing or fewer sound areas nothing can be told from the counts."""
VERBS = {
    "crazing": "crazed",
    "shivering": "shivered",
    "crawling": "crawled",
    "blisters": "blistered",
    "running": "ran",
    "bloating": "bloated",
    "dunting": "cracked",
}
"""What the failing ones did; "failed" for the rest."""
_ANOTHER = "with another "
_PLAIN = {
    "bisque cone against glaze cone": "a bisque hotter than the glaze firing by",
    "cone reached against the cone set": "a firing over the cone set by",
    "coats of colour under the glaze": "colour under the glaze,",
}
_ONE = re.compile(r"\b(1 (?:cone|coat|day|glaze))s\b")


@dataclass(frozen=True)
class Difference:
    """One fact that splits the areas (or tiles) in two, and how many failed on either side.

    ``p_value``: how often chance alone would split them at least as unevenly (Fisher's exact
    test, two-sided). ``p_value_of_best`` allows for having looked at many facts and taken the most
    uneven (Šidák); it is the honest one.
    """

    fact: str
    unit_of_count: str
    with_failed: int
    with_all: int
    without_failed: int
    without_all: int
    p_value: float
    p_value_of_best: float
    say: str

    @property
    def is_firm(self) -> bool:
        """Whether it is larger than chance would make it."""
        return self.p_value_of_best < UNLIKELY_CHANCE


@dataclass(frozen=True)
class Pooled:
    """One cause over the failing tiles: its mean share, and on how many it comes first."""

    title: str
    mean_share: float
    first_on: int
    tiles: int


@dataclass(frozen=True)
class OverTiles:
    """What the tiles of one glaze tell about one defect."""

    glaze: str
    defect: str
    failing: int
    sound: int
    differences: list[Difference]
    causes: list[Pooled]

    @property
    def say(self) -> str:
        """The answer in a sentence or two, leading with what differs most."""
        counts = (
            f"{self.defect.capitalize()} on {self.failing} of {self.failing + self.sound} areas"
        )
        counts += f" of {self.glaze} that were looked at."
        if not self.failing:
            return f"No {self.defect} on {self.sound} areas of {self.glaze}: nothing to explain."
        if min(self.failing, self.sound) < TOO_FEW:
            return f"{counts} Too few to compare: the counts below may be chance."
        best = next((each for each in self.differences if each.is_firm), None)
        if best is None:
            return f"{counts} No single difference is larger than chance would make it."
        return f"{counts} {sentence(best.say)}"

    def as_dict(self) -> dict:
        """The documented JSON shape."""
        return {
            "glaze": self.glaze,
            "defect": self.defect,
            "failing": self.failing,
            "sound": self.sound,
            "say": self.say,
            "differences": [vars(each) for each in self.differences],
            "causes": [vars(each) for each in self.causes],
        }


def over_tiles(records: "Sequence[TileRecord]", glaze: str, defect: str) -> OverTiles:
    """Compare the failing with the sound areas of one glaze.

    Parameters
    ----------
    records : sequence of TileRecord
        Tiles, of which those inspected and with the glaze on them count. They are only read.
    glaze : str
        Name of a glaze.
    defect : str
        One word of the defect list.

    Returns
    -------
    OverTiles
        Differences with the most uneven first, and the causes of the rules pooled over the
        failing tiles. Facts of the tile (body, kiln, firing) are counted in tiles, facts of the
        coat in areas, for areas of one tile do not tell of two firings.
    """
    looked_at = [record for record in records if record.inspections]
    areas = [
        Counted(record, area, shows(record, area, defect))
        for record in looked_at
        for area in record.areas
        if _has(area, glaze)
    ]
    tiles = _by_tile(areas)
    differences = _differences(areas, tiles, defect)
    failing = [each.record for each in tiles if each.failed]
    return OverTiles(
        glaze=glaze,
        defect=defect,
        failing=sum(each.failed for each in areas),
        sound=sum(not each.failed for each in areas),
        differences=differences,
        causes=_pooled(failing, defect) if has_rules(defect) else [],
    )


def _has(area: "AreaRecord", glaze: str) -> bool:
    return any(layer.glaze.name.casefold() == glaze.casefold() for layer in area.layers)


def _by_tile(areas: list[Counted]) -> list[Counted]:
    """One entry for each tile: it failed if any of its areas did."""
    found: dict[str, Counted] = {}
    for each in areas:
        known = found.get(each.record.mark)
        failed = each.failed or bool(known and known.failed)
        found[each.record.mark] = Counted(each.record, each.area, failed)
    return list(found.values())


def _differences(areas: list[Counted], tiles: list[Counted], defect: str) -> list[Difference]:
    splits = [*_splits(areas, "areas"), *_splits(tiles, "tiles")]
    looked_at = len(splits)
    verb = VERBS.get(defect, "failed")
    found = [_difference(*split, verb, looked_at) for split in splits]
    best: dict[str, Difference] = {}
    for each in sorted(found, key=lambda d: (d.p_value, d.fact)):
        # One fact can be cut in many places: only its most uneven cut is told.
        best.setdefault(each.fact.partition(" (")[0], each)
    return [each for each in best.values() if each.p_value < 1]


def _splits(units: list[Counted], unit: str):
    """Every fact that some have and others lack, with who has it; who is not known is left out."""
    for name, cuts in facts_of(units, is_of_tile if unit == "tiles" else _is_of_area).items():
        for cut in cuts:
            with_ = [each for each in units if cut.holds(each)]
            without = [each for each in units if cut.holds(each) is False]
            if with_ and without:
                yield name, cut, with_, without, unit


def _is_of_area(name: str) -> bool:
    return not is_of_tile(name)


def _difference(
    name: str,
    cut: Fact,
    with_: list[Counted],
    without: list[Counted],
    unit: str,
    verb: str,
    looked_at: int,
) -> Difference:
    a, c = sum(each.failed for each in with_), sum(each.failed for each in without)
    p_value = exact_test.two_groups([[(a, len(with_)), (c, len(without))]])
    of_best = 1 - (1 - p_value) ** looked_at
    counts = (f"{a} of {len(with_)}", f"{c} of {len(without)}")
    say = f"{_side_by_side(cut, counts, f'{unit} {verb}')} ({_chance(of_best)})."
    return Difference(
        f"{name} ({cut.said})", unit, a, len(with_), c, len(without), p_value, of_best, say
    )


def _side_by_side(cut: Fact, counts: tuple[str, str], what: str) -> str:
    """Both sides with their counts: ``with 2 coats or fewer: 0 of 9 areas crawled; ...``."""
    with_, without = counts
    label = cut.otherwise.removeprefix(_ANOTHER)
    if label != cut.otherwise:
        return f"{cut.said.removeprefix('with ')}: {with_} {what}; all others: {without}"
    return f"{_plain(cut.otherwise)}: {without} {what}; {_plain(cut.said)}: {with_}"


def _plain(side: str) -> str:
    for label, plain in _PLAIN.items():
        side = side.replace(label, plain)
    return _ONE.sub(r"\1", side)


def _chance(p_value: float) -> str:
    if p_value < LEAST_CHANCE:
        return f"chance would do this less than 1 time in {1 / LEAST_CHANCE:.0f}"
    if p_value < UNLIKELY_CHANCE:
        return f"chance would do this about 1 time in {1 / p_value:.0f}"
    return "this may be chance"


def _pooled(failing: "list[TileRecord]", defect: str) -> list[Pooled]:
    shares: dict[str, list[float]] = {}
    firsts: dict[str, int] = {}
    for record in failing:
        causes = why(record, defect)[0].causes
        firsts[causes[0].title] = firsts.get(causes[0].title, 0) + 1
        for cause in causes:
            shares.setdefault(cause.title, []).append(cause.share)
    found = [
        Pooled(title, sum(each) / len(failing), firsts.get(title, 0), len(failing))
        for title, each in shares.items()
    ]
    return sorted(found, key=lambda each: -each.mean_share)

"""The answer to "why did it fail": per defect seen, the causes in order and what they rest on."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose import wording
from diagnose.measures import choose_area, measures
from diagnose.rules import OTHER, has_rules, load, weigh
from diagnose.view import View, setting, severity_step, sightings
from diagnose.vocabulary import one_of_each_kind
from tiles.errors import TilesError

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping
    from datetime import date

    from diagnose.measures import Measure
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

ENOUGH_SHARE = 0.40
"""The first cause must hold this share ..."""
ENOUGH_SUPPORT = 1.0
"""... and rest on this much recorded evidence (log-odds; one medium sign in full) ..."""
ENOUGH_BY_ELIMINATION = 0.60
"""... or hold this share because the record speaks against the others. All three are estimates."""
GAIN_BY_ELIMINATION = 0.25
"""What the share must then have gained over the prior."""
RULED_OUT = 1.0
"""A cause is ruled out when what speaks against it outweighs its support by this (log-odds)."""
MOST_MISSING = 4
ROUNDING = 1e-9


@dataclass(frozen=True)
class CauseReport:
    """One cause as the reader sees it; sentences carry the tile's own figures.

    A cause that the record rules out keeps its evidence, but no fix is advised for it.
    """

    name: str
    title: str
    share: float
    for_: list[str]
    against: list[str]
    not_recorded: list[str]
    confirm: list[str]
    fixes: list[str]
    cautions: list[str]
    basis: str
    is_ruled_out: bool = False

    def as_dict(self) -> dict:
        """The documented JSON shape of one cause."""
        return {
            "title": self.title,
            "share": round(self.share, 3),
            "for": self.for_,
            "against": self.against,
            "not_recorded": self.not_recorded,
            "confirm": self.confirm,
            "fixes": self.fixes,
            "cautions": self.cautions,
            "basis": self.basis,
        }


@dataclass(frozen=True)
class Diagnosis:
    """One defect of one tile, explained as far as the record allows."""

    defect: str
    severity: str | None
    areas: list[int]
    first_seen: "date"
    enough_to_tell: bool
    say: str
    causes: list[CauseReport]

    def as_dict(self) -> dict:
        """The documented JSON shape of one diagnosis."""
        return {
            "defect": self.defect,
            "severity": self.severity,
            "areas": self.areas,
            "first_seen": self.first_seen.isoformat(),
            "enough_to_tell": self.enough_to_tell,
            "say": self.say,
            "causes": [cause.as_dict() for cause in self.causes],
        }


def why(record: "TileRecord", defect: str | None = None) -> list[Diagnosis]:
    """Explain the defects seen on a tile, the worst first.

    Parameters
    ----------
    record : TileRecord
        The tile, as the database or a JSON file gives it. It is only read.
    defect : str, optional
        One word of the defect list; without it, every defect seen.

    Returns
    -------
    list[Diagnosis]
        One per defect. Where the record does not say enough, ``enough_to_tell`` is false and
        ``say`` names what to measure.

    Raises
    ------
    TilesError
        The tile is not inspected, is clean, or never showed the defect asked for.
    """
    seen = _defects_seen(record)
    if not record.inspections:
        raise TilesError(
            f"{record.mark} is not inspected, so there is nothing to explain yet.",
            "look at the fired tile and record what you see, clean or not.",
            field="mark",
            value=record.mark,
        )
    if not seen:
        last = max(look.inspected_on for look in record.inspections)
        raise TilesError(
            f"{record.mark} is clean: no inspection saw a fault (last look {last}), "
            "so there is nothing to explain.",
            "a tile with a fault; if you see one on this tile, record it first.",
            field="mark",
            value=record.mark,
        )
    if defect is not None and defect not in seen:
        raise TilesError(
            f"No inspection of {record.mark} saw {defect}.",
            f"one of the faults seen: {', '.join(seen)}.",
            field="defect",
            value=defect,
        )
    return [_diagnose(record, each) for each in ([defect] if defect else seen)]


def _defects_seen(record: "TileRecord") -> list[str]:
    """Every defect seen, the worst first, then in the order of the inspections."""
    worst: dict[str, int] = {}
    for look in sorted(record.inspections, key=lambda each: each.inspected_on):
        for seen in look.defects:
            worst[seen.defect] = max(worst.get(seen.defect, 0), severity_step(seen) or 0)
    return sorted(worst, key=lambda name: -worst[name])


def _diagnose(record: "TileRecord", defect: str) -> Diagnosis:
    seen = sightings(record, defect)
    worst = max(seen, key=lambda each: severity_step(each) or 0)
    areas = {each.area for each in seen}
    numbers = [a.number for a in record.areas] if None in areas else sorted(areas)
    first = min(
        look.inspected_on
        for look in record.inspections
        if any(each.defect == defect for each in look.defects)
    )
    head = (defect, worst.severity, sorted(numbers), first)
    if not has_rules(defect):
        return Diagnosis(*head, False, wording.no_rules(defect), [])
    area = choose_area(record, None, defect)
    found = measures(record, area.number if area else None, defect)
    where = setting(View(record, area, defect))
    rows = weigh(load(defect), found, where)
    enough = is_enough(rows)
    if enough:
        say = wording.lead(defect, rows[0])
    else:
        say = wording.not_enough(defect, rows[0], most_telling(rows, found))
    return Diagnosis(*head, enough, say, [_cause_report(row, found, where) for row in rows])


def is_enough(rows: "list[Weighed]") -> bool:
    """Whether the first cause holds enough share and rests on recorded evidence."""
    first = rows[0]
    if first.cause is None:
        return False
    has_support = first.share >= ENOUGH_SHARE and first.support > ENOUGH_SUPPORT - ROUNDING
    gained = first.share - first.prior >= GAIN_BY_ELIMINATION
    return has_support or (first.share >= ENOUGH_BY_ELIMINATION and gained)


def most_telling(rows: "list[Weighed]", known: "Collection[str]", how_many: int = 3) -> list[str]:
    """The unrecorded measures and clues that could move the shares most, by name."""
    worth: dict[str, float] = {}
    for row in rows:
        for sign in row.missing:
            gain = row.share * max(sign.weight_for, sign.weight_against)
            worth[sign.measure] = worth.get(sign.measure, 0.0) + gain
    wanted = sorted(worth, key=lambda name: -worth[name])
    return one_of_each_kind(wanted, known)[:how_many]


def _cause_report(row: "Weighed", known: "Mapping[str, Measure]", where: str) -> CauseReport:
    cause = row.cause
    if cause is None:
        return CauseReport("other", OTHER, row.share, [], [], [], [], [], [], "estimate")
    kind = known["glaze_kind"].value if "glaze_kind" in known else None
    is_ruled_out = row.opposition - row.support >= RULED_OUT
    return CauseReport(
        name=cause.name,
        title=cause.title,
        share=row.share,
        for_=[wording.argument(each) for each in row.for_],
        against=[wording.argument(each) for each in row.against],
        not_recorded=[wording.missing(name) for name in _missing_names(row, known)],
        confirm=list(cause.confirm),
        fixes=[] if is_ruled_out else wording.fixes(cause.fixes, kind, where),
        cautions=list(cause.cautions),
        basis=cause.basis,
        is_ruled_out=is_ruled_out,
    )


def _missing_names(row: "Weighed", known: "Collection[str]") -> list[str]:
    """What would settle this cause, the weightiest first, one of each kind."""
    weights = {sign.measure: max(sign.weight_for, sign.weight_against) for sign in row.missing}
    return one_of_each_kind(sorted(weights, key=lambda name: -weights[name]), known)[:MOST_MISSING]

"""How likely a fault comes again on a changed tile, for each cause it may have.

A cause that the change leaves alone shows the fault again as often as own tiles like the failed
one did, 85 in 100 where there are none. It is less where the change takes away what speaks for the
cause (the same signs and weights as `tiles why`) or is its known remedy. Own tiles made like the
changed one tell how likely the fault is there, and nothing of why it came: they are told apart from
these chances (`diagnose.next_tiles.of_tile`). Of planned trials that were fired the same chances
tell what each outcome is worth (`diagnose.trials.tried`).
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import BENEATH, COOLING, KILN, ORDER, OVER, PLACE, SHELF, UNDER, VERSION
from diagnose.fixes.steps_fire import COOLED_SLOWLY
from diagnose.measures.of_area import Measure
from diagnose.own_tiles.areas import failed_by_mark, looked_at, under
from diagnose.own_tiles.fit import FIT_CAUSES
from diagnose.own_tiles.glaze import OF_JAR_AND_COAT
from diagnose.own_tiles.late_looks import LateLooks, late_looks, looked_until
from diagnose.own_tiles.right_shelf import OF_KILN
from diagnose.own_tiles.sisters import WHEN_SEEN
from diagnose.view import View, area_of
from tiles.chemistry.cones import step, steps_between
from tiles.records.derived import is_of_recipe
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.next_tiles.changes import Candidate
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import AreaRecord, RecipeRecord, TileRecord

REPEATS = 0.85
"""Chance that a cause left alone shows the defect again, before own tiles tell (estimate) ..."""
REPEATS_OTHER = 0.88
"""... of which one that is not in the list shows so much (estimate) ..."""
REPEATS_MENDED = 0.20
"""... that a cause whose first remedy was taken still shows it ..."""
REPEATS_EASED = 0.50
"""... or one that goes after it ..."""
REPEATS_PAIR = 0.50
"""... that a fault of fit, or of the clay, comes on another body, or a fault of both on another
glaze: each is another pair, of which nothing is known ..."""
REPEATS_UNDER_OTHER = 0.75
"""... or one that lies in clay, bisque or firing under another glaze, which shares all three. One
that lies in the glaze alone is mended by another glaze."""
OF_GLAZE, OF_GLAZE_OR_COAT = frozenset({"recipe", "slip"}), {"recipe", "slip", "application"}
"""Where a cause lies (`Cause.seats`) that lies in the glaze alone, or in how it was put on."""
OF_HANDLING = {"handling"}
"""What lies neither in the glaze nor in the clay: another clay tells nothing of it."""
LEAST, MOST = 0.03, 0.97
"""No outcome is more certain than this."""
BELIEVED = 2.0
"""An estimate counts as much as so many own tiles."""
NEAR_CONES = 1
"""Tiles whose cones lie this far apart or further are not alike. [cone steps]"""
AS_IT_WAS = ""
"""In place of a kind of change: the tile once more, with nothing changed."""
COUNTED = (AS_IT_WAS, "body", "glaze", "batch", VERSION, UNDER, OVER, "coats", "bisque cone",
           KILN, SHELF, BENEATH, COOLING, ORDER)  # fmt: skip
"""Kinds of changes that show on a record, so that own tiles made that way can be counted."""
SWAPS = ("body", "glaze", "batch", UNDER)
"""Those of which tiles of another pair tell as well."""
OTHER_JAR = ("glaze", "batch")
"""Those that take the glaze from another jar."""


@dataclass(frozen=True)
class Like:
    """Own tiles like one that is asked about: so many of them failed.

    A trial that differs in more than its change is a part of a tile.
    ``of`` names their glaze and clay where nothing else was asked to be alike. ``early`` more are
    sound so far, looked at too early to tell; together they are worth ``early_worth`` sound ones.
    """

    failed: float = 0
    tiles: float = 0
    of: str = ""
    early: int = 0
    early_worth: float = 0.0

    @property
    def worth(self) -> float:
        """How many tiles that tell these all are worth."""
        return self.tiles + self.early_worth

    @property
    def is_told(self) -> bool:
        """Whether there are any such tiles."""
        return bool(self.tiles or self.early)

    def but(self, some: "Like") -> "Like":
        """These without some of them."""
        early = self.early - some.early, self.early_worth - some.early_worth
        return Like(self.failed - some.failed, self.tiles - some.tiles, "", *early)

    def chance(self, believed: float, part: float = 1.0) -> float:
        """The chance of failing: what was believed before, moved by these tiles."""
        return (part * self.failed + BELIEVED * believed) / (part * self.worth + BELIEVED)


NONE = Like()


class Inspected(dict[tuple[str, ...], list["Looked"]]):
    """Inspected areas by their clay and the names of their layers from the clay upwards.

    ``late`` says which of them were looked at too early to tell of the fault; None: none was.
    """

    def __init__(self, late: LateLooks | None = None) -> None:
        super().__init__()
        self.late = late

    def tells(self, record: "TileRecord", area: "AreaRecord") -> bool:
        """Whether one of the areas failed, or was looked at late enough to be called sound."""
        return self.late is None or self.late.tells(record, area)


def inspected(others: "Iterable[TileRecord]", late: LateLooks | None = None) -> Inspected:
    """The areas that were looked at, in groups of the same clay and layers."""
    found = Inspected(late)
    for each in looked_at(others, late and late.defect):
        found.setdefault(layers_of(*each), []).append(each)
    return found


def late_on(case: "Case", others: "Iterable[TileRecord]") -> LateLooks:
    """How late the fault came on the failed tile and on own tiles of its uppermost glaze."""
    glaze = case.view.glaze_name
    alike = under(glaze, others) if glaze else []
    return late_looks([*alike, (case.record, case.area)], case.defect)


def like(others: Inspected, record: "TileRecord", area: int | None, defect: str, kind: str) -> Like:
    """Count the inspected tiles of the same clay, layers, recipes and coats, fired about as hot.

    Parameters
    ----------
    others : Inspected
        Own tiles, from `inspected`; the one asked about does not count itself.
    record : TileRecord
        The tile, as it is or as it would be.
    area : int or None
        Which of its areas; None where it has none.
    defect : str
        One word of the defect list.
    kind : str
        What was changed on it, or AS_IT_WAS. Of a change that no record shows, such as stirring,
        none are counted; a bisque, batch, kiln, shelf or cooling that was changed must be on record
        to be alike. On which shelf the others stood matters only where it is what was changed.
    """
    return counted(made_like(others, record, area, kind), record, defect, others.late)


def made_like(
    others: Inspected, record: "TileRecord", area: int | None, kind: str
) -> "list[tuple[TileRecord, AreaRecord]]":
    """The areas that `like` counts."""
    here = area_of(record, area)
    if kind not in COUNTED or here is None or not here.layers:
        return []
    own = _made(record, here)
    return [
        (other, each)
        for other, each in others.get(layers_of(record, here), ())
        if _are_alike(own, _made(other, each), kind) and _are_of_recipe(here, each)
    ]


def _are_of_recipe(one: "AreaRecord", other: "AreaRecord") -> bool:
    """Whether no layer is known to be of another version of its recipe, with other lines."""
    pairs = [
        (own.recipe, its.recipe)
        for own, its in zip(one.layers, other.layers, strict=True)
        if its.recipe is not None
    ]
    return all(is_of_recipe(own, its) for own, its in pairs)


def counted(
    areas: "Iterable[Looked]", record: "TileRecord", defect: str, late: LateLooks | None
) -> Like:
    """The tiles of some areas, and how many of them failed; the tile itself does not count.

    A sound one that was looked at too early is worth what part of the failing showed it by then.
    """
    others = [each for each in areas if not same_name(each[0].mark, record.mark)]
    telling = [each for each in others if late is None or late.tells(*each)]
    failed = failed_by_mark(telling, defect)
    early = {each.mark: each for each, _ in others if each.mark not in failed}
    worth = sum(late.seen_by(looked_until(each)) for each in early.values()) if late else 0.0
    return Like(sum(failed.values()), len(failed), "", len(early), worth)


def layers_of(record: "TileRecord", area: "AreaRecord") -> tuple[str, ...]:
    """Its clay and the names of its layers from the clay upwards."""
    names = (name_key(layer.glaze.name) for layer in area.layers)
    return (name_key(record.body.name), *names)


@dataclass(frozen=True)
class _Made:
    """How an area was made and fired, as far as a change shows on it; None where not known."""

    coats: int | None
    recipe: "RecipeRecord | None"
    batch: str | None
    kiln: str | None
    shelf: str | None
    bisque: str | None
    cone: str | None
    cooled_slowly: str | None
    method: str | None
    beneath: str | None


def _made(record: "TileRecord", area: "AreaRecord") -> _Made:
    view = View(record, area)
    top = view.top
    coats, recipe, method = (top.coats, top.recipe, top.method) if top else (None, None, None)
    places = (each and name_key(each) for each in (view.kiln, record.shelf))
    slow = view.clues.get(COOLED_SLOWLY)
    fired = view.bisque_cone, view.cone, slow
    return _Made(coats, recipe, batch_of(area), *places, *fired, method, view.state_beneath)


def batch_of(area: "AreaRecord") -> str | None:
    """The batch of its uppermost glaze; capitals do not matter."""
    batch = View(None, area).batch
    return batch and name_key(batch)


def _are_alike(own: _Made, other: _Made, kind: str) -> bool:
    must_be_known = (
        (kind == "bisque cone", other.bisque),
        (kind == VERSION, other.recipe),
        (kind == BENEATH, other.beneath),
    )
    if any(is_changed and not known for is_changed, known in must_be_known):
        return False
    if own.coats and own.coats != other.coats or kind == SHELF and own.shelf != other.shelf:
        return False
    for what, here, there in (
        ("batch", own.batch, other.batch),
        (KILN, own.kiln, other.kiln),
        (COOLING, own.cooled_slowly, other.cooled_slowly),
    ):
        if here and here != there and (there or kind == what):
            return False
    differ = own.method != other.method and own.method and other.method
    if differ or own.beneath and other.beneath and own.beneath != other.beneath:
        return False
    if own.bisque and other.bisque and step(own.bisque) != step(other.bisque):
        return False
    return not (own.cone and other.cone) or abs(steps_between(own.cone, other.cone)) < NEAR_CONES


def chances(
    case: "Case",
    candidate: "Candidate",
    facts: Mapping[str, Measure],
    as_it_was: Like,
    before: Like = NONE,
) -> tuple[float, ...]:
    """Chance that the defect comes again, by cause in the order of the case.

    Parameters
    ----------
    case : Case
        The failed tile.
    candidate : Candidate
        What is changed.
    facts : Mapping[str, Measure]
        Measures of the changed tile.
    as_it_was : Like
        Own tiles like the failed one.
    before : Like
        Earlier trials of the same change: for a cause that it leaves alone they are more of those.
    """
    now = _log_odds(case, _as_seen(case, facts, candidate.kind))
    again, sound = (
        _log_odds(case, case.facts, clues) for clues in (candidate.if_repeats, candidate.if_sound)
    )
    repeats = as_it_was.chance(REPEATS)
    alone = Like(as_it_was.failed + before.failed, as_it_was.tiles + before.tiles).chance(REPEATS)
    found = []
    for row in case.rows:
        chance = _of_cause(row, candidate, repeats, now, again, sound)
        if chance is None:
            chance = alone * (1 if row.cause else REPEATS_OTHER)
        else:
            chance = before.chance(chance)
        found.append(min(MOST, max(LEAST, chance)))
    return tuple(found)


def _of_cause(row, candidate: "Candidate", repeats: float, now, again, sound) -> float | None:
    """Chance that a cause still shows the defect; None where the change leaves it alone."""
    if row.cause is None:
        return repeats * REPEATS_MENDED / REPEATS if row.name in candidate.acts_on else None
    name, seats = row.cause.name, set(row.cause.seats)
    if candidate.kind == PLACE and name == OF_KILN and name not in candidate.acts_on:
        return None  # what the whole kiln does, it does on every shelf
    by = min(0.0, now[name] - row.log_odds) + again[name] - sound[name]
    if candidate.kind == "body" and seats <= OF_HANDLING:
        by = 0.0
    chance = _chance(_logit(repeats) + by)
    if name in candidate.acts_on:
        chance = min(chance, repeats * REPEATS_MENDED / REPEATS)
    if name in candidate.eases:
        chance = min(chance, repeats * REPEATS_EASED / REPEATS)
    if candidate.kind == "glaze":
        chance = min(chance, repeats * _under_other(seats, again[name] > row.log_odds) / REPEATS)
    if candidate.kind == "body" and (name in FIT_CAUSES or "body" in seats):
        chance = min(chance, repeats * REPEATS_PAIR / REPEATS)
    return None if math.isclose(chance, repeats) else chance


def _under_other(seats: set[str], is_shared: bool) -> float:
    """How likely a cause shows under another glaze; ``is_shared``: a sign of it is that it does."""
    if seats <= OF_GLAZE:
        return REPEATS_MENDED
    return REPEATS_UNDER_OTHER if is_shared or not seats & OF_GLAZE_OR_COAT else REPEATS_PAIR


def _as_seen(case: "Case", facts: Mapping[str, Measure], kind: str) -> dict[str, Measure]:
    """The facts of a changed tile, with what notes say and how soon the fault was seen.

    The day may be that of a sister: no change takes back what was seen, nor what other tiles tell
    of a jar, but another jar.
    """
    notes = {name: fact for name, fact in case.facts.items() if fact.note and name not in facts}
    kept = WHEN_SEEN if kind in OTHER_JAR else (*WHEN_SEEN, *OF_JAR_AND_COAT)
    seen = {name: case.facts[name] for name in kept if name in case.facts}
    made = {name: fact for name, fact in facts.items() if name not in WHEN_SEEN}
    return {**made, **notes, **seen}


def _log_odds(
    case: "Case", facts: Mapping[str, Measure], clues: Mapping[str, str] | None = None
) -> dict[str, float]:
    """Log odds of each cause under some facts; a clue that is recorded already stays."""
    added = {
        name: Measure(name, answer, "", "")
        for name, answer in (clues or {}).items()
        if name not in facts
    }
    return {row.name: row.log_odds for row in case.weighed({**facts, **added})}


def _logit(chance: float) -> float:
    return math.log(chance / (1 - chance))


def _chance(log_odds: float) -> float:
    return 1 / (1 + math.exp(-log_odds))

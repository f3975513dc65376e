"""Another version of its own recipe with which own tiles of a glaze stayed sound on this clay."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.fixes.aims import AIMS
from diagnose.fixes.bench import Step
from diagnose.fixes.shapes import VERSION, Change
from diagnose.own_tiles.areas import under
from diagnose.own_tiles.late_looks import COMES_LATE, late_looks, later_looks
from diagnose.view import View
from diagnose.wording import DID, sentence
from tiles.records.derived import is_of_recipe, shows
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import RecipeRecord, TileRecord

LEAST_SOUND = 2
"""One sound tile may be luck (as with trials of one change)."""
OWN_VERSION = "own_version"
"""The step to it."""


@dataclass(frozen=True)
class SoundVersion:
    """The recipe, the marks of its tiles, none with the fault, and how they are told."""

    recipe: "RecipeRecord"
    before: int
    marks: tuple[str, ...]
    how: str

    @property
    def say(self) -> str:
        """As a fix."""
        return sentence(f"use version {self.recipe.version} of it: {self.how}")

    @property
    def step(self) -> Step:
        """As the one change of a trial."""
        changes = [Change(VERSION, self.before, self.recipe.version)]
        title = f"Your own version {self.recipe.version} ({self.how})"
        return Step(OWN_VERSION, title, changes, edit={"recipe": self.recipe})

    def mends(self, defect: str, cause: str) -> bool:
        """Whether the cause lies in the recipe, so that another one can mend it."""
        return (defect, cause) in AIMS


def sound_version(others: "Sequence[TileRecord]", own: View) -> SoundVersion | None:
    """The version with the most sound tiles on the clay of the failed one, if none of them failed.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles; those looked at too early for the fault to show are left out.
    own : View
        The failed area, with its defect.
    """
    now = own.top.recipe if own.top else None
    if now is None or now.version is None or own.body_name is None:
        return None
    areas = under(own.glaze_name, others)
    late = late_looks([*areas, (own.record, own.area)], own.defect)
    found: dict[int, list[tuple[TileRecord, bool, RecipeRecord]]] = {}
    for record, area in areas:
        recipe = View(record, area).top.recipe
        is_other = recipe is not None and recipe.version and not is_of_recipe(now, recipe)
        if is_other and same_name(record.body.name, own.body_name) and late.tells(record, area):
            told = record, shows(record, area, own.defect), recipe
            found.setdefault(recipe.version, []).append(told)
    sound = [tiles for tiles in found.values() if not any(failed for _, failed, _ in tiles)]
    best = max(sound, key=lambda tiles: len({each.mark for each, *_ in tiles}), default=[])
    records = {record.mark: record for record, *_ in best}
    if len(records) < LEAST_SOUND:
        return None
    many = f"none of your {len(records)} tiles of it on {own.body_name}"
    until = later_looks(list(records.values())) if own.defect in COMES_LATE else ""
    did = f"{many} {DID.get(own.defect, 'failed')}"
    how = ", ".join(each for each in (did, until) if each)
    return SoundVersion(best[0][2], now.version, tuple(records), how)

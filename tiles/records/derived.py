"""What follows from a record: its stage, whether it is clean, the cone it reached.

Nothing here is stored, so nothing here can disagree with the record.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from tiles.chemistry.cones import MEDIUM_RATE_C_PER_H, end_points, step
from tiles.errors import TilesError
from tiles.records.forms import (
    AreaRecord,
    BodyRecord,
    DefectSeen,
    FiringRecord,
    GlazeRecord,
    LayerRecord,
    RecipeRecord,
    TileRecord,
)
from tiles.records.words import COLOUR_ROLES, OTHER_FAULT, name_key, tidy_name

if TYPE_CHECKING:
    from tiles.chemistry.materials import Material

CLIMB_C = 500.0
"""A climb at one rate from so far below the peak: what came before collects nothing. [C]."""
TARGET = "target"
"""Said by a bisque that has no witness cone."""


@dataclass(frozen=True)
class ConeReached:
    """The cone a tile reached, and which record says so ("tile" or "witness cone").

    Of a bisque also `TARGET`, the cone it was set for.
    """

    cone: str
    said_by: str


def cone_reached(record: TileRecord) -> ConeReached | None:
    """The cone at the tile's place: its own reading, else the witness cone of its shelf.

    A witness cone without a shelf speaks for the whole load, where its own shelf has none. The
    target cone of the firing never counts: it is what was hoped for.
    """
    if record.cone_reached:
        return ConeReached(record.cone_reached, "tile")
    cone = witness_cone(record.firing, record.shelf)
    return ConeReached(cone, "witness cone") if cone else None


def cone_near_peak(firing: FiringRecord | None) -> str | None:
    """The cone nearest to a peak at the medium rate, where no cone was read or set.

    Rate, hold and thermocouple move it by a step or two, so that only one far off tells.
    """
    if not (firing and firing.peak_c):
        return None
    peak_c = firing.peak_c
    return min(end_points(), key=lambda each: abs(each.temperature_c - peak_c)).cone


def cone_of_peak(firing: FiringRecord) -> str | None:
    """The whole or half cone that a peak brings down at the rate and hold on record.

    At the medium rate and without a hold where none is; None off the chart.
    """
    from tiles.chemistry import heatwork  # seldom asked: most tiles have a cone

    rate = firing.rate_c_per_h or MEDIUM_RATE_C_PER_H
    log = [(0.0, firing.peak_c - CLIMB_C), (CLIMB_C / rate, firing.peak_c)]
    if firing.hold_min:
        log.append((log[-1][0] + firing.hold_min / 60, firing.peak_c))
    try:
        return heatwork.cone_reached(log).nearest
    except TilesError:
        return None


def bisque_peak(record: TileRecord) -> tuple[float, str | None] | None:
    """Peak and about which cone that is, of a bisque of which no cone is on record. [C]."""
    firing = record.bisque_firing
    if not (firing and firing.peak_c) or record.bisque_cone or set_or_read(firing)[1]:
        return None
    return firing.peak_c, cone_of_peak(firing)


def set_or_read(firing: FiringRecord) -> tuple[str, str | None]:
    """What a firing was set for, else its hottest witness cone, and which of the two that is."""
    read = max((each.cone for each in firing.witness_cones), key=step, default=None)
    return ("target cone", firing.target_cone) if firing.target_cone else ("witness cone", read)


def bisque_cone(record: TileRecord) -> ConeReached | None:
    """The bisque cone: the tile's own, else the one cone read of the bisque, else the target.

    Bisque is seldom fired with a witness cone, so that what it was set for counts where none was
    read. Where its shelves read several, none counts: nothing tells on which a tile stood, see
    `bisque_by_shelf`; nor whether the tile's own was read or planned, see `bisque_read_otherwise`.
    """
    firing = record.bisque_firing
    if record.bisque_cone:
        return ConeReached(record.bisque_cone, "tile")
    if read := bisque_read(firing):
        return ConeReached(read[0], "witness cone") if read[0] == read[1] else None
    return ConeReached(firing.target_cone, TARGET) if firing and firing.target_cone else None


def bisque_read(firing: FiringRecord | None) -> tuple[str, str] | None:
    """The coolest and the hottest cone read of a bisque: of the whole load, else of its shelves."""
    if of_load := witness_cone(firing, None):
        return of_load, of_load
    cones = sorted({read.cone for read in firing.witness_cones} if firing else (), key=step)
    return (cones[0], cones[-1]) if cones else None


def bisque_by_shelf(record: TileRecord) -> str | None:
    """The cones of its bisque as "06 to 04", where its shelves differ and no single one counts."""
    read = bisque_read(record.bisque_firing)
    return " to ".join(read) if read and read[0] != read[1] and not record.bisque_cone else None


def bisque_read_otherwise(record: TileRecord) -> str | None:
    """What was read of the bisque, where the tile's own bisque cone is outside it, and counts."""
    read, own = bisque_read(record.bisque_firing), record.bisque_cone
    if not read or not own or step(read[0]) <= step(own) <= step(read[1]):
        return None
    return " to ".join(dict.fromkeys(read))


def witness_cone(firing: FiringRecord | None, shelf: str | None) -> str | None:
    """The witness cone of that shelf, whatever its capitals, else that of the whole load."""
    cones = firing.witness_cones if firing else []
    by_shelf = {read.shelf and name_key(read.shelf): read.cone for read in cones}
    return by_shelf.get(shelf and name_key(shelf)) or by_shelf.get(None)


def recipe_key(recipe: RecipeRecord) -> list[tuple[str, float, bool]]:
    """The same for two versions with the same lines, in whatever order and capitals."""
    # As near as `formula.moved_parts` tells two amounts apart.
    lines = recipe.lines
    return sorted((name_key(x.material), round(x.parts, 9), x.is_addition) for x in lines)


def is_of_recipe(own: RecipeRecord | None, its: RecipeRecord | None) -> bool:
    """Whether another layer of a glaze may stand for one: any where its recipe is not recorded.

    Versions are apart unless they have the same lines.
    """
    if own is None or its is None:
        return own is None
    return recipe_key(own) == recipe_key(its)


def analysed(record: TileRecord, own: "tuple[Material, ...]") -> TileRecord:
    """The record itself, its recipes from now on with the user's own analyses."""
    for layer in layers_of(record):
        if layer.recipe:
            layer.recipe.analysed(own)
    return record


def firing_key(record: TileRecord) -> str:
    """The name of a tile's glaze firing as names are compared; "" where none is on record."""
    return name_key(record.firing.name) if record.firing and record.firing.name else ""


def label_range(one: BodyRecord | GlazeRecord | None) -> tuple[str, str] | None:
    """The cooler and the hotter cone on a bag or a label; None where it gives none.

    One end alone is that one cone, as ``--cones 06`` stores it for both ends: a jar that says
    "cone 06" leaves the other end blank in a table. Were it "06 and up", a firing to cone 6 would
    pass for one within the label, and that slip is the one most worth finding.
    """
    if one is None or not (one.cone_low or one.cone_high):
        return None
    return one.cone_low or one.cone_high, one.cone_high or one.cone_low


def main_layer(roles: Sequence[str | None]) -> int | None:
    """Place of the topmost glaze, else of the topmost layer, by their roles from the clay up.

    A layer without a role is taken for a glaze. None where there is no layer.
    """
    glazes = [place for place, role in enumerate(roles) if role not in COLOUR_ROLES]
    return (glazes or range(len(roles)))[-1] if roles else None


def layers_of(record: TileRecord) -> list[LayerRecord]:
    """Every layer on a tile, area by area, from the clay up."""
    return [layer for area in record.areas for layer in area.layers]


def all_seen(record: TileRecord) -> list[DefectSeen]:
    """Every defect that any inspection saw, look by look."""
    return [seen for look in record.inspections for seen in look.defects]


def stage(record: TileRecord) -> str:
    """Planned, glazed, loaded, fired or inspected, according to what is recorded."""
    if record.inspections:
        return "inspected"
    if cone_reached(record) or (record.firing and _was_fired(record.firing)):
        return "fired"
    if record.firing:
        return "loaded"
    layers = layers_of(record)
    # Of a trial, the batch and how the glaze is to go on are part of what is planned.
    is_done = any(each.batch or each.method or each.applied_on for each in layers)
    is_measured = any(each.thickness_mm or each.fired_thickness_mm for each in layers)
    if record.glazed_on or is_measured or (is_done and not record.trial_of):
        return "glazed"
    return "planned"


def _was_fired(firing: FiringRecord) -> bool:
    return any((firing.fired_on, firing.witness_cones, firing.peak_c, firing.opened_c))


def day_of(record: TileRecord) -> date | None:
    """The day that places a tile in time: of its firing, else first looked at, else glazed or made.

    Where no firing day is on record, the first look is most often that at unloading.
    """
    if record.firing and record.firing.fired_on:
        return record.firing.fired_on
    looks = (look.inspected_on for look in record.inspections)
    return min(looks, default=record.glazed_on or record.made_on)


def defects_on(record: TileRecord, area: AreaRecord) -> list[DefectSeen]:
    """Every defect any inspection saw on the area, or on the whole tile."""
    return [
        seen
        for look in record.inspections
        for seen in look.defects
        if seen.area is None or seen.area == area.number
    ]


def own_words(seen: DefectSeen) -> str:
    """What was written of a fault that has no word of its own; "" of one that has."""
    return tidy_name(seen.note or "") if seen.defect == OTHER_FAULT else ""


def shows(record: TileRecord, area: AreaRecord, defect: str) -> bool:
    """Whether any inspection saw the defect on the area, or on the whole tile."""
    return any(seen.defect == defect for seen in defects_on(record, area))


def is_clean(record: TileRecord, area: AreaRecord) -> bool | None:
    """Whether an area is clean; None when the tile was never inspected."""
    if not record.inspections:
        return None
    return not defects_on(record, area)


def summary(record: TileRecord) -> dict:
    """The worked-out facts that ``tiles show --json`` adds to a record as ``derived``."""
    reached = cone_reached(record)
    by_area = {area.number: is_clean(record, area) for area in record.areas}
    return {
        "stage": stage(record),
        "clean": None if None in by_area.values() else all(by_area.values()),
        "clean_areas": [number for number, clean in by_area.items() if clean],
        "cone_reached": reached.cone if reached else None,
        "cone_reached_said_by": reached.said_by if reached else None,
    }

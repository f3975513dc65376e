"""A firing hotter than a label allows, by a step or more: people test so, so it is only told.

Four steps and more are questioned (`questions.far_outside`).
"""

from collections.abc import Iterable

from tiles.chemistry.cones import steps_outside
from tiles.records.derived import cone_reached, label_range, layers_of
from tiles.records.forms import TileRecord
from tiles.records.spoken import spoken_range


def over_labels(records: Iterable[TileRecord]) -> dict[str, dict[str, str]]:
    """By the cone that tiles of one firing reached or are set for: each name, and its label."""
    found: dict[str, dict[str, str]] = {}
    for record in records:
        cone = _cone(record)
        named = [*(layer.glaze for layer in layers_of(record)), record.body]
        for each in named if cone else ():
            label = label_range(each)
            if label and steps_outside(cone, *label) > 0:
                found.setdefault(cone, {})[each.name] = spoken_range(label)
    return found


def _cone(record: TileRecord) -> str | None:
    reached = cone_reached(record)
    return reached.cone if reached else record.firing and record.firing.target_cone

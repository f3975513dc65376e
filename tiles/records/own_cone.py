"""A tile that says another cone of itself than its firing does: a slip in one of the two, perhaps.

The tile's own counts (`derived.cone_reached`), so that nothing else would show the other.
"""

from tiles.chemistry.cones import steps_between
from tiles.records.derived import witness_cone
from tiles.records.far_labels import FAR_OUTSIDE_STEPS
from tiles.records.forms import TileRecord
from tiles.records.spoken import whose_cone

OF_TARGET = "the target cone"
"""What says another cone where no witness cone was read for the tile."""
FROM_WITNESS_STEPS = 2
"""Within a shelf a kiln is uneven by a cone or so (common practice, no source)."""


def read_otherwise(record: TileRecord) -> tuple[str, str] | None:
    """What of its firing says another cone, and that cone; None where the two agree.

    Examples
    --------
    >>> firing = {"name": "G1", "witness_cones": [{"cone": "04", "shelf": "top"}]}
    >>> values = {"mark": "T-4", "body": "red", "firing": firing, "shelf": "top"}
    >>> read_otherwise(TileRecord.model_validate(values | {"cone_reached": "4"}))
    ("its shelf's witness cone", '04')
    """
    own, firing = record.cone_reached, record.firing
    read = witness_cone(firing, record.shelf)
    cone, least = read or (firing and firing.target_cone), FROM_WITNESS_STEPS
    if not read:  # a load may miss what it was set for by more than a shelf differs
        least = FAR_OUTSIDE_STEPS
    if not own or not cone or abs(steps_between(cone, own)) < least:
        return None
    return (whose_cone(record) if read else OF_TARGET), cone

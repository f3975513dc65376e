"""What is possible but unlikely of a label itself: its zeros lost, most often."""

from collections.abc import Collection

from tiles.chemistry import cones
from tiles.errors import Questioned
from tiles.records.derived import label_range
from tiles.records.far_labels import FAR_OUTSIDE_STEPS
from tiles.records.food_label import cones_named
from tiles.records.forms import BodyRecord, GlazeRecord
from tiles.records.spoken import some, spoken_range

_SLIP = "the other cones if this was a slip (5 is not 05), or --yes if it really is so."


def require_confirmation(
    record: BodyRecord | GlazeRecord,
    before: BodyRecord | GlazeRecord | None = None,
    of_tiles: Collection[tuple[str, str]] = (),
) -> None:
    """Ask before storing a label that is possible but unlikely.

    Parameters
    ----------
    record, before : BodyRecord or GlazeRecord
        As it would be stored, and as it stands on record.
    of_tiles : collection of tuple
        Mark and question of each tile for which the change raises one.

    Raises
    ------
    Questioned
        With what the label says otherwise, how many tiles are far outside, and one question.
    """
    told = _food_question(record)
    told = "" if before and told == _food_question(before) else told
    if of_tiles:
        marks = sorted({mark for mark, _asked in of_tiles})
        count = f"{len(marks)} tile{'s' * (len(marks) > 1)}"
        outside = f"{count} on record would be far outside its label ({some(marks)})"
        told = f"{told} {outside}: {min(of_tiles)[1]}".strip()
    if told:
        raise Questioned(f"{record.name}: {told}", _SLIP, field="cone")


def _food_question(record: BodyRecord | GlazeRecord) -> str:
    """A food label that names cones far from those the jar is for; else empty."""
    label, own = getattr(record, "food_label", None), label_range(record)
    named = cones_named(label) if label else None
    if not (own and named):
        return ""
    above = cones.step(own[0]) - cones.step(named[1])
    below = cones.step(named[0]) - cones.step(own[1])
    if max(above, below) < FAR_OUTSIDE_STEPS:
        return ""
    side = "above" if above > 0 else "below"
    return (
        f"its range, {spoken_range(own)}, is far {side} the cones its food label names, {label!r}."
    )

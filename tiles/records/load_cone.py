"""A cone read for the whole load that is none of those read on its shelves: one is a slip, perhaps.

Nearer to the tile a reading is better evidence, so that a shelf's own counts for what stood there.
"""

from tiles.chemistry.cones import step
from tiles.records.forms import FiringRecord
from tiles.records.spoken import some, spoken_steps, spoken_witness

FEWEST_ASKED = 2
"""Beside one shelf alone the load's cone is how the others fired, most often."""


def load_against_shelves(record: FiringRecord) -> str | None:
    """One sentence where all shelves read other cones than the load; else None.

    Examples
    --------
    >>> read = [{"cone": "03"}, {"cone": "06", "shelf": "top"}]
    >>> load_against_shelves(FiringRecord(name="F2", witness_cones=read))
    'witness cone 03 of the whole load differs from that of every shelf (top 06), and counts for \
tiles on no shelf or on another.'
    """
    of_load = next((each.cone for each in record.witness_cones if not each.shelf), None)
    shelves = _shelves(record)
    if not of_load or not shelves or of_load in (each.cone for each in shelves):
        return None
    read = some([f"{each.shelf} {each.cone}" for each in shelves])
    tiles = "all tiles of it" if record.kind == "bisque" else "tiles on no shelf or on another"
    return (
        f"witness cone {of_load} of the whole load differs from that of every shelf ({read}), "
        f"and counts for {tiles}."
    )


def off_target(record: FiringRecord) -> str | None:
    """One sentence where a witness cone tells a whole cone or more off the target; else None.

    That softer bisque takes up more glaze is common practice, no source.

    Examples
    --------
    >>> read = [{"cone": "06"}]
    >>> off_target(FiringRecord(name="B1", kind="bisque", target_cone="04", witness_cones=read))
    'witness cone 06 is 2 cones short of the 04 aimed at: softer bisque, that takes up more glaze.'
    """
    if record.target_cone is None or not record.witness_cones:
        return None
    aim = step(record.target_cone)
    read = max(record.witness_cones, key=lambda each: abs(step(each.cone) - aim))
    cones = step(read.cone) - aim
    if abs(cones) < 1:
        return None
    many = f"{spoken_steps(cones)} {'short of' if cones < 0 else 'over'}"
    so = (
        ": softer bisque, that takes up more glaze" if cones < 0 and record.kind == "bisque" else ""
    )
    return f"witness cone {spoken_witness(read)} is {many} the {record.target_cone} aimed at{so}."


def load_questions(record: FiringRecord) -> list[str]:
    """The same where so many shelves were read that one of the readings is a slip."""
    said = load_against_shelves(record)
    return [said] if said and len(_shelves(record)) >= FEWEST_ASKED else []


def _shelves(record: FiringRecord) -> list:
    return [each for each in record.witness_cones if each.shelf]

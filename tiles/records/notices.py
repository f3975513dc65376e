"""What is worth saying once of a record that is stored as it stands: nothing in it is refused."""

from datetime import date

from tiles.records.forms import FiringRecord

LONG_AGO_DAYS = 60
"""Tiles are looked at within weeks of unloading; a first look so much later is rare (estimate)."""


def days_since_long_ago(firing: FiringRecord | None, today: date | None = None) -> int | None:
    """Days since a firing of long ago; None where it is recent, or its day is not recorded."""
    if firing is None or firing.fired_on is None:
        return None
    days = ((today or date.today()) - firing.fired_on).days
    return days if days > LONG_AGO_DAYS else None

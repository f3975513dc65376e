"""What is said once of a record that is stored as it stands."""

from datetime import date

import pytest

from tiles.records import notices
from tiles.records.forms import FiringRecord

FIRED = date(2026, 1, 1)


@pytest.mark.parametrize(
    ("firing", "today", "days"),
    [
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 1, 8), None),
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 3, 2), None),  # 60 days
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 3, 3), 61),
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 11, 15), 318),
        (FiringRecord(name="F1"), date(2026, 11, 15), None),
        (None, date(2026, 11, 15), None),
    ],
)
def test_a_firing_of_more_than_two_months_ago_is_long_ago(firing, today, days):
    assert notices.days_since_long_ago(firing, today) == days

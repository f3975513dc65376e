"""What a forecast blames for a fault that own tiles showed weeks after the firing."""

import pytest

from diagnose.forecasts.feared import seen_late, with_late
from diagnose.forecasts.of_tile import Forecast
from diagnose.learning.model import LEARNED
from diagnose.report import why
from diagnose.view import seen_from
from tests.unit.diagnose.test_next_tiles import WHITE
from tests.unit.diagnose.test_sisters import LATE, SOONER, crazed
from tiles.cli.forecast_text import _one

PLANNED = LATE.model_copy(update={"mark": "T-9", "inspections": []})
CRAZED = seen_from(PLANNED, 1, "crazing")
FEARED = Forecast("crazing", LEARNED, 30, 9, "more", 0.7, 0.3, 0.9, 0.1, feared=["poor fit"])


def test_the_cause_is_the_one_that_why_would_name_of_those_tiles():
    late, rows = seen_late([LATE], CRAZED)
    assert late.seen_after == 152
    (told,) = why(LATE)
    assert rows[0].cause.title == told.causes[0].title
    found = with_late(FEARED, [LATE], CRAZED)
    assert (found.late_after, found.feared[0]) == (152, told.causes[0].title)


@pytest.mark.parametrize(
    ("others", "defect"),
    [
        ([], "crazing"),
        ([SOONER], "crazing"),  # at unloading
        ([crazed("T-3", "2024-06-01")], "crazing"),  # nobody looked before
        ([crazed("T-3", "2024-01-02", "2024-06-01", body=WHITE)], "crazing"),
        ([LATE], "crawling"),
    ],
    ids=["none", "at unloading", "unknown", "another clay", "another fault"],
)
def test_otherwise_common_practice_is_left_as_it_is(others, defect):
    late, rows = seen_late(others, seen_from(PLANNED, 1, defect))
    assert (late.seen_after, rows) == (0, ())
    assert defect != FEARED.defect or with_late(FEARED, others, CRAZED) == FEARED


def test_a_person_reads_when_to_look_again():
    told = " ".join(" ".join(_one(with_late(FEARED, [LATE], CRAZED), 120)).split())
    assert (
        "on your tiles it was seen on half by 152 days after the firing; on T-1 it came between 1 "
        "and 152 days after the firing: it may come later, look again 152 days after it"
    ) in told
    assert "look again" not in " ".join(_one(FEARED, 120))

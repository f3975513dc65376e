"""Where failures alone are on record that is said."""

from tests.unit.diagnose.test_comparison import tile
from tiles.records.failures_only import failures_only, said


def test_a_record_without_or_with_hardly_a_clean_tile_is_said_to_hold_failures_alone():
    assert said(10, 0).startswith("Of 10 tiles looked at none is clean: failures alone are on rec")
    assert said(11, 1).startswith("Of 11 tiles looked at only 1 is clean: failures alone")
    assert said(40, 4).startswith("Of 40 tiles looked at only 4 are clean: failures alone")
    assert said(40, 5) == ""
    assert said(9, 0) == ""


def test_tiles_that_nobody_looked_at_count_for_neither():
    failed = [tile(number, defects=["crawling"]) for number in range(10)]
    planned = tile(10).model_copy(update={"inspections": []})
    assert failures_only([*failed, planned]) == said(10, 0)
    assert failures_only([*failed, tile(11), tile(12)]) == ""

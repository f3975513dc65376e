"""What ``tiles log`` takes for one area of a tile."""

import pytest

from tests.cli.records import assert_one_line_error, counts
from tests.cli.test_log import with_options


@pytest.mark.parametrize(
    ("options", "what"),
    [
        ({"glaze": "pond green@0", "coats": None, "thickness_mm": None}, "glaze 'pond green@0'"),
        ({"defect": "crawling@00"}, "defect 'crawling@00'"),
        ({"clue": "pools_only=yes@0"}, "clue 'pools_only=yes@0'"),
    ],
)
def test_nothing_stands_on_an_area_before_the_first(sample, tiles, options, what):
    before = counts(sample)
    assert_one_line_error(tiles("log", *with_options(**options)), what, "count from 1")
    assert counts(sample) == before


@pytest.mark.parametrize(
    ("options", "what"),
    [
        ({"defect": "severe crawling@overlap"}, "'severe crawling@overlap'"),
        ({"clue": "pools_only=yes@lower alone"}, "'pools_only=yes@lower alone'"),
    ],
)
def test_the_label_of_an_area_in_place_of_its_number_is_told(sample, tiles, options, what):
    told = what, "an area is given by its number, not as", "@2; 'tiles show MARK' has"
    assert_one_line_error(tiles("log", *with_options(**options)), *told)

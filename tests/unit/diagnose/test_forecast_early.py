"""A chance that rests on sound tiles which were all looked at too early."""

from dataclasses import replace

import pytest

from diagnose.forecasts.early import early_of_all, sound_too_early, with_early
from diagnose.forecasts.of_tile import Forecast
from diagnose.learning.model import LEARNED
from diagnose.view import seen_from
from tests.unit.diagnose.test_late_looks import LATE, UNLOADED, late_crazing, tile
from tiles.cli.forecast_areas import OfArea
from tiles.cli.forecast_text import _area
from tiles.cli.learn_text import Found

RED, WHITE = late_crazing()
ON_WHITE = tile(90, body="white").model_copy(update={"mark": "new"})
LESS = Forecast("crazing", LEARNED, 30, 3, "less", 0.05, 0.01, 0.2, 0.1)


def thawless(number, *looks):
    """A tile of another glaze on red clay."""
    areas = tile(1).model_dump()["areas"]
    areas[0]["layers"][0]["glaze"]["name"] = "sand"
    return tile(number, *looks, areas=areas)


SAND = seen_from(thawless(91), 1, "crazing")


def test_sound_tiles_of_a_glaze_looked_at_too_early_are_no_sign_of_less():
    assert sound_too_early([*RED, *WHITE], seen_from(ON_WHITE, 1, "crazing")) == (8, 2, 90)
    same_day = [*RED, thawless(92, "2025-01-01")]
    assert sound_too_early(same_day, SAND)[:2] == (1, 1), "within a day"
    found = with_early(LESS, [*RED, thawless(92, UNLOADED)], SAND)
    assert (found.leans, found.early_sound, found.early_within) == ("as usual", 1, 2)
    told = " ".join(" ".join(_area(OfArea(1, [found, found], [], 40, []), False)).split())
    assert "Less likely" not in told and "About as likely" not in told
    assert (
        "No telling yet of crazing (1 in 20 so far): 1 tile of this glaze without it was looked at "
        "within 2 days (a look tells from 90 on): crazing can come later." in told
    )


@pytest.mark.parametrize(
    ("others", "defect"),
    [
        ([*RED, thawless(92, UNLOADED), thawless(93, UNLOADED, LATE)], "crazing"),
        ([*RED, thawless(92, UNLOADED)], "crawling"),
        ([tile(1, f"{UNLOADED}!"), thawless(92, UNLOADED)], "crazing"),
        (RED, "crazing"),
    ],
    ids=["one looked at late", "another fault", "at unloading", "no tile of it"],
)
def test_otherwise_a_chance_may_be_less_than_usual(others, defect):
    found = replace(LESS, defect=defect)
    assert with_early(found, others, replace(SAND, defect=defect)) == found


def test_learn_says_where_most_sound_tiles_could_not_tell_of_a_late_fault():
    assert early_of_all([*RED, *WHITE], "crazing") == (12, 13, "90")
    assert early_of_all([*RED, *WHITE], "crawling") == (0, 0, "")
    early = {"crazing": (12, 13, "90"), "shivering": (6, 13, "90")}
    found = Found(16, None, {}, {}, {}, [], early=early)
    said = (
        "12 of 13 sound tiles were looked at too early to tell (a look tells from 90 days on): "
        "chances may be too small"
    )
    assert [found.too_early(each) for each in ("crazing", "shivering", "specks")] == [said, "", ""]

"""What the computed fit says beside a chance by own tiles that is far less."""

import pytest

from diagnose.forecasts.by_cone import either
from diagnose.forecasts.by_fit import by_fit, with_fit
from diagnose.forecasts.of_tile import Forecast
from diagnose.learning.model import LEARNED
from diagnose.view import seen_from
from tests.unit.diagnose.test_own_fit import series, tile
from tiles.cli.forecast_areas import OfArea
from tiles.cli.forecast_several import _area as in_a_line
from tiles.cli.forecast_text import _area


def told(feldspar, others, defect="crazing", chance=0.2):
    found = Forecast(defect, LEARNED, 30, 3, "as usual", chance)
    return by_fit(found, others, seen_from(tile("new", feldspar), 1))


def test_a_recipe_beyond_what_the_clay_bears_is_told_beside_a_small_chance():
    said = told(80, series(50))
    assert said.startswith("by its recipe it shrinks more than this clay bears (")
    assert "porcelain crazes above" in said and said.endswith("crazing more than 9 in 10")
    low = Forecast("crazing", LEARNED, 30, 3, "as usual", 0.2, 0.1, 0.4, 0.2, by_fit=said)
    of_area = OfArea(1, [low, low], [], 120, [])
    assert "shrinks more" in " ".join(" ".join(_area(of_area, False)).split())
    assert f"crazing 1 in 5, but {said}" in list(in_a_line(of_area, None))


@pytest.mark.parametrize(
    ("feldspar", "others", "defect", "chance"),
    [
        (30, series(50), "crazing", 0.2),
        (80, series(50), "crazing", 0.9),
        (80, series(50), "crawling", 0.2),
        (80, series(50, body="buff"), "crazing", 0.2),
        (80, series(50)[:4], "crazing", 0.2),
    ],
    ids=["it fits", "told already", "no fault of fit", "another clay", "too few"],
)
def test_otherwise_the_recipe_adds_nothing(feldspar, others, defect, chance):
    assert told(feldspar, others, defect, chance) == ""


def test_of_a_shelf_that_may_reach_two_cones_the_fit_is_held_against_the_chance_told():
    hot = Forecast("crazing", LEARNED, 30, 3, "more", 0.9, 0.8, 0.95, 0.2)
    cool = Forecast("crazing", LEARNED, 30, 3, "less", 0.1, 0.05, 0.2, 0.2)
    asked = series(50), seen_from(tile("new", 80), 1)
    (both,) = with_fit(either([(0.5, "5", [hot]), (0.5, "6", [cool])]), *asked)
    (alone,) = with_fit(either([(1.0, "5", [hot])]), *asked)
    assert "shrinks more" in both.by_fit and not alone.by_fit

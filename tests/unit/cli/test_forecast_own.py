"""What own tiles of the very layers say before the chances."""

import pytest

from diagnose.forecasts.of_tile import Forecast
from diagnose.own_tiles.pair import PairCount
from tiles.cli.forecast_areas import OfArea
from tiles.cli.forecast_own import chance_said, own_first


def _told(*forecasts):
    return " ".join(" ".join(own_first(OfArea(1, list(forecasts), [], 100, []))).split())


def test_a_pair_that_always_ran_goes_before_its_chance_and_asks_for_a_tray():
    ran = Forecast("running", "learned", 100, 4, "as usual", 0.08, 0.01, 0.4, 0.04,
                   pair=PairCount(4, 4, "in either order"))  # fmt: skip
    rare = Forecast("specks", "learned", 100, 4, "as usual", 0.08, 0.01, 0.4, 0.04,
                    pair=PairCount(0, 4))  # fmt: skip
    told = _told(ran, rare)
    assert (
        "running: 4 of 4 ran (in either order). The chance told, 1 in 12, is far from that" in told
    )
    assert "catch tray" in told
    assert "specks" not in told
    assert ran.as_dict()["pair"]["is_far"]
    assert _told(rare) == ""


def test_a_fault_without_a_chance_is_told_by_the_counts_of_the_pair_alone():
    crawled = Forecast("crawling", "seen too rarely", 15, 2, "as usual", pair=PairCount(2, 2))
    assert _told(crawled).endswith("crawling: 2 of 2 crawled.")


@pytest.mark.parametrize(
    ("chance", "tiles", "said"),
    [
        (0.31, 60, "1 in 3"), (0.31, 160, "1 in 3"), (0.05, 60, "1 in 20"), (0.05, 160, "1 in 20"),
        (0.035, 160, "1 in 30"), (0.001, 60, "under 1 in 50"), (0.008, 160, "1 in 100"),
        (0.0, 160, "under 1 in 100"), (1.0, 60, "9 in 10"), (1.0, 160, "19 in 20"),
    ],
)  # fmt: skip
def test_a_chance_is_told_in_the_same_way_in_a_small_studio_and_a_large_one(chance, tiles, said):
    assert chance_said(chance, tiles) == said

"""What own tiles of the very layers say before the chances."""

from diagnose.forecast import Forecast
from diagnose.own_pair import PairCount
from tiles.cli.forecast_areas import OfArea
from tiles.cli.forecast_own import own_first


def _told(*forecasts):
    return " ".join(" ".join(own_first(OfArea(1, list(forecasts), [], 100, []))).split())


def test_a_pair_that_always_ran_goes_before_its_chance_and_asks_for_a_tray():
    ran = Forecast("running", "learned", 100, 4, "as usual", 0.08, 0.01, 0.4, 0.04,
                   pair=PairCount(4, 4, "in either order"))  # fmt: skip
    rare = Forecast("specks", "learned", 100, 4, "as usual", 0.08, 0.01, 0.4, 0.04,
                    pair=PairCount(0, 4))  # fmt: skip
    told = _told(ran, rare)
    assert "running: 4 of 4 ran (in either order). The chance told, 8%, is far from that" in told
    assert "catch tray" in told
    assert "specks" not in told
    assert ran.as_dict()["pair"]["is_far"]
    assert _told(rare) == ""


def test_a_fault_without_a_chance_is_told_by_the_counts_of_the_pair_alone():
    crawled = Forecast("crawling", "seen too rarely", 15, 2, "as usual", pair=PairCount(2, 2))
    assert _told(crawled).endswith("crawling: 2 of 2 crawled.")

"""What own tiles of the very layers say before the chances."""

from dataclasses import replace

import pytest

from diagnose.forecasts.of_tile import Forecast
from diagnose.own_tiles.pair import PairCount
from tests.unit.diagnose.test_comparison import tile
from tiles.cli import forecast_text
from tiles.cli.forecast_areas import OfArea
from tiles.cli.forecast_counts import alike
from tiles.cli.forecast_own import chance_said, own_first
from tiles.cli.forecast_several import screen


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


def test_the_nearest_tiles_in_other_coats_stand_beside_the_chance():
    near = {"near": "3 of 4 ran with leaf x2 + amber x1", "near_seen": 3, "near_tiles": 4}
    ran = Forecast("running", "learned", 100, 4, "as usual", 0.05, 0.01, 0.4, 0.04,
                   pair=PairCount(**near))  # fmt: skip
    said = f"none of your tiles is made and fired just so; the nearest: {near['near']}"
    for each in (ran, replace(ran, chance=None, state="seen too rarely")):
        told = " ".join(
            " ".join(forecast_text._area(OfArea(1, [each, each], [], 100, []), False)).split()
        )
        assert said in told
    line = " ".join(screen([(tile(1), [OfArea(1, [ran], [], 100, [])])], defect=None)[:4])
    assert "running 1 in 20 (nearest: 3 of 4 ran with leaf x2 + amber x1)." in " ".join(
        line.split()
    )
    assert "just so" not in " ".join(alike(replace(ran, pair=PairCount()), 100))


def test_a_line_for_each_of_several_tiles_tells_stops_own_counts_and_fears():
    ran = Forecast("running", "learned", 100, 4, "as usual", 0.08, 0.01, 0.4, 0.04,
                   pair=PairCount(4, 4))  # fmt: skip
    usual = Forecast("specks", "learned", 100, 4, "as usual", 0.04, 0.01, 0.1, 0.04)
    feared = Forecast("bloating", "seen too rarely", 100, 0, "more", feared=["fired too hot"])
    found = [
        (tile(1, coats=2), [OfArea(1, [ran, usual, feared], [], 100, [])]),
        (tile(2, coats=2), [OfArea(1, [usual], [], 100, [])]),
        (tile(3, coats=2), [OfArea(1, [ran], [], 100, ["Cone 5 is far over its range.", "So."])]),
    ]
    first, second, third, catch = " ".join(screen(found, defect=None)).split("T-")[1:5]
    assert first.split(": ", 1)[1].split() == (
        "running 1 in 12 (your tiles, running: 4 of 4 ran); feared: bloating.".split()
    )
    assert second.rstrip().endswith(": nothing stands out.")
    assert third.rstrip().endswith(": stop: Cone 5 is far over its range.")
    assert catch.startswith("1: ") and "catch tray" in catch


@pytest.mark.parametrize(("seen", "areas"), [(1, 1), (1, 2), (1, 9), (0, 9)])
def test_no_line_of_several_says_that_nothing_stands_out_where_the_page_tells_of_a_fault(
    seen, areas
):
    counted = {"alike_seen": seen, "alike_areas": areas, "alike_tiles": areas}
    crazed = Forecast("crazing", "too few tiles inspected", 15, 1, "as usual", **counted)
    of_area = OfArea(1, [crazed, replace(crazed, defect="specks", alike_seen=0)], [], 15, [])
    page = " ".join(forecast_text._area(of_area, show_all=False))
    line = " ".join(screen([(tile(1), [of_area])], defect=None)[:2])
    assert ("crazing: on" in page) is (seen > 0)
    assert (f"came on tiles like it: crazing {seen} of {areas}." in line) is (seen > 0)
    assert ("nothing stands out" in line) is (seen == 0)
    assert "specks" not in line


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

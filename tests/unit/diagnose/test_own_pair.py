"""Own tiles with the very layers of one to be fired, in this order or the other."""

import pytest

from diagnose.forecasts.of_tile import Forecast
from diagnose.own_tiles.pair import PairCount, own_pair
from diagnose.view import View, area_of
from tests.unit.diagnose.test_comparison import tile


def _laid(number, *names, coats=2, defects=(), **values):
    layers = [{"glaze": {"name": name}, "coats": coats} for name in names]
    return tile(number, areas=[{"number": 1, "layers": layers}], defects=defects, **values)


def _count(others, record, defect="running"):
    return own_pair(others, View(record, area_of(record, 1))).count(defect)


def test_a_pair_that_ran_in_either_order_and_on_any_clay_is_counted_together():
    ran = {"defects": ["running"]}
    others = [
        _laid(1, "amber", "leaf", **ran),
        _laid(2, "leaf", "amber", **ran),
        _laid(3, "leaf", "amber", body="raku clay", **ran),
        _laid(4, "leaf"),
        _laid(5, "amber", "amber"),
        _laid(6, "amber", "leaf", coats=1),
        _laid(7, "amber", "leaf", cone_reached="1"),
    ]
    asked = _laid(9, "amber", "leaf", cone_reached="05")
    assert _count(others, asked) == PairCount(3, 3, "in either order, on any body")
    new_clay = _laid(9, "amber", "leaf", body="new", cone_reached="05")
    assert _count(others, new_clay).on_other_bodies
    assert not _count(others, _laid(9, "amber", "amber")).tiles, "one glaze over itself is no pair"


def test_where_the_order_matters_each_order_is_told_by_itself():
    others = [_laid(n, "white", "blue", defects=["crawling"]) for n in range(3)]
    others += [_laid(10 + n, "blue", "white") for n in range(2)]
    so = _count(others, _laid(20, "white", "blue"), "crawling")
    assert so == PairCount(3, 3, "laid so; the other way round none of 2")
    turned = _count(others[:3], _laid(20, "blue", "white"), "crawling")
    assert turned == PairCount(3, 3, "laid the other way round")


@pytest.mark.parametrize(
    ("seen", "tiles", "chance", "away", "is_far"),
    [
        (4, 4, 0.08, True, True),
        (1, 1, 0.02, False, False),
        (2, 3, 0.5, False, False),
        (0, 6, 0.6, False, True),
        (0, 6, 0.6, True, False),
        (0, 0, 0.6, False, False),
    ],
)
def test_a_chance_is_far_where_tiles_would_hardly_come_out_so(seen, tiles, chance, away, is_far):
    assert PairCount(seen, tiles, "", away).is_far_from(chance) is is_far


@pytest.mark.parametrize(
    ("asked", "seen"),
    [
        ({"cone_reached": "03"}, 3),
        ({"coats": 3}, 3),
        ({"coats": 1}, 0),
        ({"cone_reached": "07"}, 0),
        ({"coats": 3, "cone_reached": "03"}, 3),
    ],
)
def test_a_pair_that_ran_thinner_or_less_hot_runs_the_more(asked, seen):
    fired = {"cone_reached": "05"}
    others = [_laid(n, "leaf", "amber", defects=["running"], **fired) for n in range(3)]
    found = _count(others, _laid(9, "amber", "leaf", **{**fired, **asked}))
    how = "in no more coats and no hotter than here" if seen else ""
    assert (found.seen, found.tiles, found.how) == (seen, seen, how)
    assert _count(others, _laid(9, "amber", "leaf", **{**fired, **asked}), "crawling").tiles == 0
    sound = [_laid(20 + n, "leaf", "amber", **fired) for n in range(4)]
    assert not _count([*others, *sound], _laid(9, "amber", "leaf", cone_reached="03")).tiles


def test_of_a_pair_in_fewer_coats_than_ever_the_nearest_tiles_are_told_with_their_coats():
    def laid(number, lower, upper, **values):
        layers = [{"glaze": {"name": "leaf"}, "coats": lower},
                  {"glaze": {"name": "amber"}, "coats": upper}]  # fmt: skip
        return tile(number, areas=[{"number": 1, "layers": layers}], **values)

    ran = {"defects": ["running"]}
    others = [laid(n, 2, 1, **ran) for n in range(3)] + [laid(3, 2, 1), laid(4, 1, 2)]
    others += [laid(5, 3, 3, **ran), laid(6, 1, None, **ran), laid(7, 2, 1, cone_reached="1")]
    found = _count(others, laid(9, 1, 1, cone_reached="05"))
    assert (found.tiles, found.near_seen, found.near_tiles) == (0, 3, 5)
    assert (
        found.near
        == "3 of 4 ran with leaf x2 + amber x1; none of 1 (T-4) ran with leaf x1 + amber x2"
    )
    away = _count(others[:1], laid(9, 1, 1, body="raku clay"))
    assert away.near.endswith("with leaf x2 + amber x1 on other bodies")
    made_so = _count([*others, laid(8, 1, 1)], laid(9, 1, 1))
    assert (made_so.tiles, made_so.near) == (1, "")


def test_a_tile_made_just_so_at_another_cone_is_nearer_than_other_coats_on_another_clay():
    made = [
        _laid(1, "leaf", "clear", cone_reached="06"),
        _laid(2, "leaf", "clear", cone_reached="03"),
    ]
    made += [_laid(3, "leaf", "clear", coats=1, body="raku clay", cone_reached="05")]
    asked = _laid(9, "leaf", "clear", cone_reached="05")
    found = _count(made, asked)
    assert found.near == "none of 1 (T-1) ran with leaf x2 + clear x2 at cone 06"
    here = _laid(4, "leaf", "clear", coats=1, defects=["running"], cone_reached="05")
    assert _count([*made, here], asked).near.endswith("; 1 of 1 (T-4) ran with leaf x1 + clear x1")
    away = _laid(1, "leaf", "clear", body="raku clay", cone_reached="06")
    assert _count([away], asked).near.endswith("at cone 06 on other bodies")


@pytest.mark.parametrize(("defect", "how"), [("crazing", ""), ("crawling", "on any body")])
def test_in_a_fault_of_fit_tiles_on_another_clay_do_not_join_those_of_its_own(defect, how):
    here = [_laid(n, "ink", "clear") for n in range(3)]
    made = {"body": "raku"}
    away = [_laid(10 + n, "ink", "clear", defects=[defect] * (n < 3), **made) for n in range(15)]
    turned = _laid(30, "clear", "ink", **made)
    counted = _count([*here, *away, turned], _laid(40, "ink", "clear"), defect)
    assert (counted.tiles, counted.how) == ((3, "") if not how else (19, f"in either order, {how}"))
    assert _count([*away, turned], _laid(40, "ink", "clear"), defect).on_other_bodies
    of_its_clay = _count([*here, *away, turned], _laid(40, "clear", "ink"), defect)
    assert of_its_clay.how.startswith("laid the other way round") or how


@pytest.mark.parametrize(("defect", "is_far"), [("crazing", False), ("crawling", True)])
def test_no_chance_of_a_fault_of_fit_is_far_from_tiles_on_another_clay(defect, is_far):
    pair = PairCount(5, 6, "on other bodies", on_other_bodies=True)
    assert Forecast(defect, "", 9, 1, "", 0.05, pair=pair).is_far_from_own is is_far

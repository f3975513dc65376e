"""What parts own tiles of a glaze is told of those like the one asked about alone."""

import pytest

from diagnose.forecasts.of_tile import Forecast
from diagnose.forecasts.own_count import counted, own_count
from diagnose.own_tiles.made_alike import made_alike
from diagnose.view import View, seen_from
from tests.unit.diagnose.test_comparison import tile


def _clear(number, below, coats, *, failed=False, under=3, defect="blisters", **values):
    layers = [{"glaze": {"name": below, "role": "underglaze"}, "coats": under}] if below else []
    areas = [{"number": 1, "layers": [*layers, {"glaze": "clear", "coats": coats}]}]
    return tile(number, areas=areas, defects=[defect] * failed, **values)


OVER_CORAL = [_clear(n, "coral", 2, failed=True) for n in range(7)]
THIN = [_clear(10 + n, "coral", 1) for n in range(4)]
BARE = [_clear(20 + n, None, 1 + n % 2) for n in range(14)]
HEAD = ("blisters", "learned", 25, 7, "more", 0.25, 0.02, 0.7, 0.1)


def _blistered(record):
    return seen_from(record, 1, "blisters")


@pytest.mark.parametrize(("thin", "is_told"), [(4, False), (2, True), (0, True)])
def test_what_came_over_a_colour_is_not_told_where_the_same_coats_over_it_came_out_sound(
    thin, is_told
):
    asked, found = _clear(99, "coral", 1), Forecast(*HEAD)
    others = [*OVER_CORAL, *THIN[:thin], *BARE]
    lesson, likest = own_count(others, _blistered(asked))
    assert (lesson is not None) is is_told
    assert likest == ((0, thin) if is_told else (0, 0))
    assert counted(found, lesson, likest).own_count_is_far is (thin == 0)


def test_where_the_very_same_layers_came_out_sound_no_chance_is_far_from_all_on_this_clay():
    failed = [_clear(n, "coral", 2, failed=True, cone_reached="05") for n in range(6)]
    sound = [_clear(10 + n, "coral", 1, cone_reached="06", body="white clay") for n in range(2)]
    asked = _clear(99, "coral", 1)
    for others, is_told in ((failed, False), ([*failed, *sound], True)):
        found = made_alike(others, View(asked, asked.areas[0])).counts("blisters")
        assert found["layers_gainsay"] is is_told
    crazed = [_clear(n, "coral", 2, failed=True, defect="crazing") for n in range(6)]
    found = made_alike([*crazed, *sound], View(asked, asked.areas[0])).counts("crazing")
    assert not found["layers_gainsay"], "of fit another clay says nothing"
    far = {"alike_seen": 6, "alike_areas": 6, "alike_tiles": 6}
    far |= {"closest_seen": 1, "closest_areas": 1}
    assert Forecast(*HEAD, **far).alike_is_far
    assert not Forecast(*HEAD, **far, layers_gainsay=True).alike_is_far
    assert not Forecast(*HEAD, **far, alike_early=30).alike_is_far, "with them it holds no more"


@pytest.mark.parametrize(("below", "many"), [("leaf", 3), ("leaf", 0), ("coral", 0)])
def test_what_came_over_one_colour_alone_is_no_count_of_tiles_over_another(below, many):
    over_leaf = [_clear(30 + n, "leaf", 1) for n in range(many)]
    others = [*OVER_CORAL, *over_leaf, *BARE]
    asked = _clear(99, below, 2)
    lesson, _ = own_count(others, _blistered(asked))
    assert (lesson is None) is bool(many), "of leaf nothing is known where none was fired"
    counts = made_alike(others, View(asked, asked.areas[0])).counts("blisters")
    told = counts["alike_seen"], counts["alike_areas"], counts["alike_over"]
    assert told == ((0, 3, "leaf") if many else (7, 7, "an underglaze"))
    assert counts["closest_areas"] == (0 if many else 7)
    fit = made_alike(others, View(asked, asked.areas[0])).counts("crazing")
    assert fit["alike_areas"] == 7 + many, "fit does not hang on the colour"


@pytest.mark.parametrize(("below", "is_told"), [("coral", False), ("ink", True)])
def test_that_fewer_coats_of_colour_were_sound_is_not_told_of_the_colour_that_failed(
    below, is_told
):
    thick = [_clear(30 + n, "moss", 2, failed=True) for n in range(5)]
    thin = [_clear(40 + n, "ink", 2, under=2) for n in range(6)]
    asked = _clear(99, below, 2, under=2)
    lesson, _ = own_count([*OVER_CORAL, *thick, *thin, *BARE], _blistered(asked))
    assert (lesson is not None and lesson.here_failed == 0) is is_told
    if is_told:  # also where more coats of that very colour failed
        thick += [_clear(50 + n, "ink", 2, failed=True) for n in range(2)]
        assert own_count([*OVER_CORAL, *thick, *thin, *BARE], _blistered(asked))[0]


def test_a_count_whose_failures_are_all_glazed_otherwise_is_not_told():
    dusty = {"clues": {"bisque_dusty": "yes"}}
    others = [tile(n, defects=["crawling"], shelf="top", **dusty) for n in range(6)]
    others += [tile(10 + n, shelf="low") for n in range(10)]
    for clues, is_told in (({}, True), ({"bisque_dusty": "no"}, False)):
        asked = tile(99, shelf="top", clues=clues)
        lesson, _ = own_count(others, seen_from(asked, 1, "crawling"))
        assert (lesson is not None) is is_told

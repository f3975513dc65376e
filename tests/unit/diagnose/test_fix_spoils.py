"""What a change may spoil agrees with the numbers printed above it."""

import pytest

from diagnose.fixes import spoils as told
from diagnose.fixes.aims import AIMS, Body
from diagnose.fixes.glass import Figures, per_hundred
from diagnose.fixes.recipe import Desk
from diagnose.fixes.search import search
from diagnose.fixes.spoils import spoils
from tests.outside.crazing_recipes import TEN
from tiles.chemistry import cones
from tiles.chemistry.formula import analyse

RAW_ZINC = {"soda feldspar": 40, "kaolin": 30, "zinc oxide": 12, "whiting": 10, "silica": 8}
CLAY_MATT = {"potash feldspar": 30, "whiting": 15, "kaolin": 45, "silica": 10}


def _figures(recipe, cone="6", **extras):
    made_of = analyse(recipe, extras=extras or ())
    return Figures(per_hundred(made_of), cones.temperature_c(cone), cones.band(cone) == "low fire")


def _moved(recipe, **by):
    now = _figures(recipe)
    return now, _figures({k: v + by.get(k, 0) for k, v in recipe.items()})


def test_kaolin_out_and_silica_in_is_told_as_stiffer_where_it_is():
    now, after = _moved(CLAY_MATT, kaolin=-12, silica=12)
    assert after.viscosity > now.viscosity
    assert told.STIFFER in spoils(now, after, ()) and told.MORE_FLUID not in spoils(now, after, ())


def test_raw_clay_that_stays_plenty_is_no_settling():
    now, after = _moved(RAW_ZINC, kaolin=-10, silica=10)
    assert told.LESS_CLAY not in spoils(now, after, ())
    now, after = _moved(RAW_ZINC, kaolin=-25, silica=25)
    assert told.LESS_CLAY in spoils(now, after, ())


@pytest.mark.parametrize("name", TEN)
def test_every_sentence_agrees_with_the_prediction_beside_it(name):
    recipe, cone, body = TEN[name]
    now = _figures(recipe, cone)
    desk = Desk(now, "", cone, Body("clay", body), "low_fire" if now.counts_boron else "mid_range")
    for each in desk.fixes("crazing", "poor_fit")[0]:
        by = {p.quantity.split(" at ")[0]: p.change for p in each.predictions}
        assert (told.STIFFER in each.spoils) == (by["melt viscosity"] >= 0.05)
        assert (told.MORE_FLUID in each.spoils) == (by["melt viscosity"] <= -0.05)
        assert (told.MORE_CLAY in each.spoils) == (by["raw clay"] >= 1.0)


def test_copper_is_spoken_of_only_where_there_is_some():
    recipe, cone, body = TEN["alkaline turquoise"]
    aim = AIMS["crazing", "poor_fit"][0]
    for extras, is_told in (({}, False), ({"copper carbonate": 2}, True)):
        now = _figures(recipe, cone, **extras)
        found = search(now, aim(now, Body("clay", body)).aim, "low_fire")
        swaps = [each.swap for one in found for each in one.swaps]
        assert any("copper" in text for text in spoils(now, found[0].after, swaps)) == is_told

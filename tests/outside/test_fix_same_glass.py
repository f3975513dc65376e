"""A raw clay changed for its calcined form: the same glass, less raw clay, found by the search.

Every expected number is computed by hand from the oxide analyses: kaolinite Al2O3·2SiO2·2H2O holds
39.496 Al2O3, 46.548 SiO2 and 13.957 water in 100 (molar masses 101.961, 2 x 60.084, 2 x 18.015);
fired it is 45.902 Al2O3 and 54.098 SiO2. The recipes are invented.
"""

import pytest

from diagnose.fixes.aims import Body, less_gas, less_raw_clay
from diagnose.fixes.glass import Figures, per_hundred
from diagnose.fixes.materials import calcined_form
from diagnose.fixes.recipe import Desk
from diagnose.fixes.search import search
from tiles.chemistry.formula import analyse
from tiles.chemistry.materials import from_analysis

BODY = Body("the clay")
WHITE = {
    "nepheline syenite": 30,
    "whiting": 12,
    "zinc oxide": 6,
    "kaolin": 20,
    "ball clay": 12,
    "silica": 20,
}
ZIRCON = {"zirconium silicate": 10}
GASSY = {"soda feldspar": 38, "whiting": 28, "kaolin": 12, "silica": 22}


def _figures(recipe, extras=(), own=()):
    made_of = analyse(recipe, extras=dict(extras), own=own)
    return Figures(per_hundred(made_of, own), 1222.0, counts_boron=False)


def _found(recipe, extras=(), own=(), aimed=less_raw_clay):
    now = _figures(recipe, extras, own)
    return now, search(now, aimed(now, BODY).aim, "mid_range")


def test_fifteen_kaolin_out_and_twelve_point_nine_calcined_in_is_the_same_glass():
    """15 kaolin: 5.924 Al2O3 and 6.982 SiO2; 12.9 calcined: 5.921 and 6.979.

    Raw clay before (20 + 12) / 110 = 29.09 %, after (5 + 12) / 107.9 = 15.76 %; the water gone is
    15 x 0.13957 = 2.09 of the loss.
    """
    before = analyse(WHITE, extras=ZIRCON)
    after = analyse(WHITE | {"kaolin": 5, "calcined kaolin": 12.9}, extras=ZIRCON)
    for oxide, moles in before.unity.items():
        assert after.unity[oxide] == pytest.approx(moles, abs=0.001)
    assert before.raw_clay_percent == pytest.approx(29.09, abs=0.005)
    assert after.raw_clay_percent == pytest.approx(15.76, abs=0.005)
    lost = before.loss_on_ignition_percent * 1.10 - after.loss_on_ignition_percent * 1.079
    assert lost == pytest.approx(2.09, abs=0.01)


def test_raw_clay_goes_down_first_by_calcined_clay_of_the_same_chemistry():
    """Aim 15 %: (32 - x) / (110 - 0.14 x), so 15.5 out leaves 15.30 and 16 out 14.85 %."""
    now, found = _found(WHITE, ZIRCON)
    first = found[0]
    assert first.moves == pytest.approx({"kaolin": -16.0, "calcined kaolin": 13.76})
    assert first.after.raw_clay == pytest.approx(14.85, abs=0.005)
    assert first.reaches and first.keeps_glass
    for oxide, moles in now.unity.items():
        assert first.after.unity[oxide] == pytest.approx(moles, abs=0.001)


def test_a_change_of_the_gloss_comes_after_it():
    """The same with less to move: silica for kaolin gets there as well, with another gloss."""
    _now, found = _found({"soda feldspar": 40, "whiting": 18, "kaolin": 20, "silica": 22})
    assert found[0].keeps_glass and found[0].main.swap.name == "calcined_for_raw_clay"
    assert len(found) > 1 and not any(each.keeps_glass for each in found[1:])


def test_it_is_told_as_the_same_glass():
    desk = Desk(_figures(WHITE, ZIRCON), "", "6", BODY, "mid_range")
    fixes, said = desk.fixes("crawling", "coat_shrinks")
    assert fixes[0].title == "16 kaolin out, 13.76 calcined kaolin in"
    assert "Seger formula stays as it was" in fixes[0].spoils[0]
    assert not any("does not get there" in each for each in said)


@pytest.mark.parametrize("clay", ["calcined", ""], ids=["noted as calcined", "noted as no clay"])
def test_of_two_analyses_of_your_own_the_losses_on_ignition_give_the_weight(clay):
    """Loss 12.0 raw and 0.5 calcined: 1 raw leaves .88 / .995 = 0.884 of the calcined."""
    raw = from_analysis(
        "lake kaolin",
        {"SiO2": 47.6, "Al2O3": 38.7, "K2O": 1.3, "Fe2O3": 0.4},
        loss_on_ignition_percent=12.0,
        clay="raw",
    )
    burnt = from_analysis(
        "burnt lake kaolin",
        {"SiO2": 53.8, "Al2O3": 43.8, "K2O": 1.4, "Fe2O3": 0.5},
        loss_on_ignition_percent=0.5,
        clay=clay,
    )
    recipe = {"soda feldspar": 38, "whiting": 16, "lake kaolin": 28, "silica": 18}
    _now, found = _found(recipe, own=(raw, burnt))
    gone, come = found[0].moves["lake kaolin"], found[0].moves["burnt lake kaolin"]
    assert come == pytest.approx(-0.884 * gone, abs=0.001)
    assert found[0].keeps_glass


def test_the_calcined_form_is_told_by_the_analyses():
    """Kaolinite leaves 86.04 of 100. A ball clay's 53.6 SiO2 of 89.5 is 5.8 more than in it."""
    recipe = _figures(WHITE).recipe
    assert calcined_form("kaolin", recipe) == ("calcined kaolin", 0.86)
    assert calcined_form("ball clay", recipe) is None


def test_more_than_fifteen_parts_may_move_where_the_glass_stays():
    """28 whiting lose 43.97 % of their weight: the loss of 14 % comes down with wollastonite.

    CaCO3 + SiO2 = CaSiO3: of 1 whiting and 0.6 silica 0.44 leave as gas. 4 less of 100 needs about
    9.5 whiting, so with the silica over 15 parts move.
    """
    _now, found = _found(GASSY, aimed=less_gas)
    first = found[0]
    assert first.main.swap.name == "wollastonite_for_whiting"
    assert first.reaches and first.keeps_glass and first.parts_moved > 15

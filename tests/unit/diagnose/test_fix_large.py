"""Where no small change is enough: what stops it is said, and no step too small to show.

The recipes are invented; their numbers are computed again here by the recipe arithmetic itself.
"""

import pytest

from diagnose.fixes.aims import Body
from diagnose.fixes.glass import Figures, per_hundred
from diagnose.fixes.large import LEAST_TO_SHOW, WORTH_SHOWING
from diagnose.fixes.recipe import Desk
from tiles.chemistry import cones, expansion, melt
from tiles.chemistry.formula import analyse

CLAY_MATT = {"potash feldspar": 30, "whiting": 15, "kaolin": 45, "silica": 10}
RUNNER = {"high alkali frit": 70, "kaolin": 4, "whiting": 10, "zinc oxide": 16}
FAR_ABOVE = {"nepheline syenite": 60, "whiting": 15, "silica": 15, "kaolin": 10}
NO_WAY_DOWN = {"high alkali frit": 90, "kaolin": 10}


def _work(recipe, defect, cause, body=None, cone="6"):
    low_fire = cones.band(cone) == "low fire"
    now = Figures(per_hundred(analyse(recipe)), cones.temperature_c(cone), low_fire)
    desk = Desk(now, "", cone, Body("the clay", body), "mid_range")
    fixes, said = desk.fixes(defect, cause)
    return fixes, " ".join(said)


def _after(fix):
    return analyse(fix.blend[-1].parts)


def test_a_clay_matt_is_offered_another_glaze_that_gets_there():
    """A recipe with 45 % kaolin: silica to alumina 3.8; Stull 1912 (M) has gloss from about 5."""
    fixes, said = _work(CLAY_MATT, "unwanted matt", "alumina_high")
    (large,) = fixes
    assert large.title.startswith("Another glaze to test, the far end of the line: ")
    assert _after(large).silica_to_alumina >= 1.4 * analyse(CLAY_MATT).silica_to_alumina
    assert "does not get there: the melt would be stiffer" in said


def test_a_runny_recipe_is_offered_a_melt_twice_as_stiff():
    fixes, said = _work(RUNNER, "running", "fluid_recipe")

    def thick(recipe):
        return melt.estimate(recipe.mole_percent, cones.temperature_c("6")).value

    assert thick(_after(fixes[-1])) - thick(analyse(RUNNER)) >= 0.3
    assert "does not get there: " in said and "alumina" in said


def test_a_glaze_far_above_its_clay_reaches_the_limit_or_asks_for_another_clay():
    fixes, said = _work(FAR_ABOVE, "crazing", "poor_fit", body=5.8)
    assert expansion.estimate(_after(fixes[-1]).mole_percent).value <= 5.3 + 1e-6
    assert fixes[-1].reaches
    assert "a clay whose own expansion is 7.8 or more" in said


def test_what_cannot_be_reached_at_all_says_so_and_names_the_clay():
    fixes, said = _work(NO_WAY_DOWN, "crazing", "poor_fit", body=5.5)
    assert all(not each.reaches for each in fixes)
    assert "only part of the way" in said or "start from another recipe" in said
    assert "a clay whose own expansion is" in said


@pytest.mark.parametrize("recipe", [CLAY_MATT, RUNNER, FAR_ABOVE, NO_WAY_DOWN], ids=min)
def test_no_change_too_small_to_show_is_offered(recipe):
    for defect, cause, name in (
        ("crazing", "poor_fit", "expansion"),
        ("running", "fluid_recipe", "melt"),
    ):
        for each in _work(recipe, defect, cause, body=5.8)[0]:
            moved = next(p for p in each.predictions if p.quantity.startswith(name))
            key = "viscosity" if name == "melt" else name
            assert each.reaches or abs(moved.change) >= LEAST_TO_SHOW[key]
    assert 0 < WORTH_SHOWING < 1


def test_a_lithium_glaze_that_shivers_loses_lithium():
    """Part of the lithium source changed for soda: Hamer, Rhodes (from memory)."""
    recipe = {"petalite": 50, "whiting": 15, "kaolin": 10, "silica": 5, "calcium borate frit": 20}
    fixes, said = _work(recipe, "shivering", "lithium_rich")
    assert fixes and said.startswith("Part of the lithium out")
    for each in fixes:
        assert _after(each).unity["Li2O"] < analyse(recipe).unity["Li2O"]


def test_lithium_that_hardly_moves_the_expansion_is_told_and_another_way_taken():
    recipe = {"spodumene": 40, "silica": 30, "kaolin": 15, "low expansion frit": 15}
    half = {**recipe, "spodumene": 20, "soda feldspar": 20}
    moved = expansion.difference(analyse(recipe).mole_percent, analyse(half).mole_percent)
    assert moved.value < LEAST_TO_SHOW["expansion"]
    fixes, said = _work(recipe, "shivering", "lithium_rich", body=6.8)
    assert "hardly moves the expansion" in said and fixes


def test_zinc_beside_chromium_is_changed_for_as_much_lime():
    """ZnO 81.38 and CaCO3 100.09 g/mol: 1.23 whiting for 1 zinc oxide."""
    recipe = {"soda feldspar": 45, "zinc oxide": 6, "whiting": 12, "kaolin": 12, "silica": 25}
    fixes, said = _work(recipe, "colour shift", "zinc_chrome_brown")
    assert "Zinc oxide 6 -> 0 parts" in said
    after = _after(fixes[-1])
    assert after.unity.get("ZnO", 0) == pytest.approx(0, abs=1e-6)
    before = analyse(recipe).unity
    assert after.unity["CaO"] == pytest.approx(before["CaO"] + before["ZnO"], abs=0.01)


def test_a_boron_cloud_is_given_kaolin():
    """3 to 6 parts more kaolin: common practice, no source."""
    recipe = {"calcium borate frit": 60, "whiting": 10, "kaolin": 6, "silica": 24}
    fixes, _said = _work(recipe, "cloudiness", "boron_crystals", cone="05")
    assert fixes[0].blend[-1].parts["kaolin"] > 6
    assert _after(fixes[0]).unity["Al2O3"] > analyse(recipe).unity["Al2O3"]

"""Laws the arithmetic of recipes must keep, whatever the recipe."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tiles.chemistry import formula, materials, oxides

EVERY_NAME = [each.name for each in materials.shipped()]
DERIVED = [each.name for each in materials.shipped() if each.kind == "derived"]
FLUXED = ["whiting", "potash feldspar", "nepheline syenite", "dolomite", "calcium borate frit"]

parts = st.floats(min_value=0.1, max_value=100)
any_recipe = st.dictionaries(st.sampled_from(EVERY_NAME), parts, min_size=1, max_size=8)
fluxed_recipe = st.tuples(any_recipe, st.sampled_from(FLUXED), parts).map(
    lambda drawn: drawn[0] | {drawn[1]: drawn[2]}
)


@given(st.dictionaries(st.sampled_from(DERIVED), parts, min_size=1, max_size=8))
def test_what_goes_in_comes_out_as_oxides_or_as_loss(recipe):
    found = formula.analyse(recipe)
    lost = found.total_parts * found.loss_on_ignition_percent / 100
    assert sum(found.fired_mass.values()) + lost == pytest.approx(found.total_parts, rel=2e-4)


@given(fluxed_recipe, st.randoms())
def test_the_order_of_lines_does_not_matter(recipe, random):
    lines = list(recipe.items())
    random.shuffle(lines)
    found, shuffled = formula.analyse(recipe), formula.analyse(lines)
    assert list(found.unity) == list(shuffled.unity)
    assert found.unity == pytest.approx(shuffled.unity, rel=1e-9)


@given(fluxed_recipe, st.floats(min_value=0.01, max_value=1000))
def test_scaling_a_batch_changes_nothing(recipe, times):
    found = formula.analyse(recipe)
    larger = formula.analyse({name: value * times for name, value in recipe.items()})
    assert larger.unity == pytest.approx(found.unity, rel=1e-9)
    assert larger.weight_percent == pytest.approx(found.weight_percent, rel=1e-9)
    assert larger.loss_on_ignition_percent == pytest.approx(found.loss_on_ignition_percent)


@given(fluxed_recipe)
def test_fluxes_add_up_to_one_and_percentages_to_a_hundred(recipe):
    found = formula.analyse(recipe)
    fluxes = oxides.with_role("flux")
    assert sum(found.unity.get(each, 0) for each in fluxes) == pytest.approx(1)
    assert sum(found.mole_percent.values()) == pytest.approx(100)
    assert sum(found.weight_percent.values()) == pytest.approx(100)


INDEPENDENT = ["potash feldspar", "whiting", "kaolin", "silica", "talc", "zinc oxide"]


@given(st.lists(parts, min_size=len(INDEPENDENT), max_size=len(INDEPENDENT)))
def test_recipe_to_formula_to_recipe_comes_back(amounts):
    recipe = dict(zip(INDEPENDENT, amounts, strict=True))
    fitted = formula.recipe_for(formula.analyse(recipe).unity, INDEPENDENT)
    expected = {name: 100 * value / sum(amounts) for name, value in recipe.items()}
    for name, value in expected.items():
        assert fitted.parts.get(name, 0.0) == pytest.approx(value, abs=1e-5)
    assert abs(fitted.worst[1]) < 1e-6

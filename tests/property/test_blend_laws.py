"""A blend is linear in the oxides of its raw mix, and not in the Seger formula."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tiles.chemistry import blends, formula, materials

NAMES = [each.name for each in materials.shipped()]
parts = st.floats(min_value=0.1, max_value=100)
recipe = st.dictionaries(st.sampled_from(NAMES), parts, min_size=1, max_size=6)
steps = st.integers(min_value=1, max_value=6)


def per_100_raw(found):
    return {oxide: 100 * moles / found.total_parts for oxide, moles in found.moles.items()}


def assert_linear(mixes, recipes):
    ends = [per_100_raw(formula.analyse(each)) for each in recipes]
    for mix in mixes:
        found = per_100_raw(formula.analyse(mix.recipe))
        shares = list(mix.shares.values())
        for oxide in {each for end in ends for each in end}:
            mean = sum(share * end.get(oxide, 0) for share, end in zip(shares, ends, strict=True))
            assert found.get(oxide, 0) == pytest.approx(mean, rel=1e-9, abs=1e-12)


@given(recipe, recipe, steps)
def test_a_line_is_linear_in_the_oxides_of_the_raw_mix(first, second, count):
    assert_linear(blends.line(("A", first), ("B", second), count), [first, second])


@given(recipe, recipe, recipe, st.integers(min_value=1, max_value=4))
def test_a_triaxial_is_linear_in_the_oxides_of_the_raw_mix(first, second, third, count):
    mixes = blends.triaxial(("A", first), ("B", second), ("C", third), count)
    assert_linear(mixes, [first, second, third])


@given(recipe, recipe, recipe, recipe)
def test_a_grid_is_linear_in_the_oxides_of_the_raw_mix(first, second, third, fourth):
    recipes = [first, second, third, fourth]
    named = list(zip("ABCD", recipes, strict=True))
    assert_linear(blends.grid(*named, columns=3, rows=2), recipes)


@given(st.floats(min_value=1, max_value=50), st.floats(min_value=1, max_value=50))
def test_a_blend_is_not_linear_in_the_seger_formula(low, more):
    # Two glazes of different flux content per weight: the middle always leans to the richer one.
    poor = {"silica": 100, "whiting": low}
    rich = {"silica": 100, "whiting": low + more}
    middle = blends.line(("poor", poor), ("rich", rich), 2)[1]
    silica = [formula.analyse(each).unity["SiO2"] for each in (poor, middle.recipe, rich)]
    mean = (silica[0] + silica[2]) / 2
    assert silica[1] < mean * (1 - 1e-6) or mean == pytest.approx(silica[0], rel=1e-3)


@given(recipe, recipe, st.floats(min_value=1, max_value=5000))
def test_what_is_weighed_out_adds_up_to_what_was_asked(first, second, mass_g):
    for mix in blends.line(("A", first), ("B", second), 3):
        assert sum(mix.weighed_g(mass_g).values()) == pytest.approx(mass_g)

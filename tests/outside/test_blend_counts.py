"""Blends against the counting rules of the trade and a worked example."""

import pytest

from tiles.chemistry import blends, formula

# The recipe printed by L. Krakowski (glaze course part 3) and the limestone glaze of D. Shearer.
KRAKOWSKI = {"whiting": 32, "zinc oxide": 12, "dolomite": 15, "kaolin": 24, "flint": 17}
LIMESTONE = {"potash feldspar (ideal)": 40, "china clay": 10, "whiting": 20, "silica": 30}


def corners(count):
    names = ("whiting", "kaolin", "silica", "talc")
    return [(name, {name: 1}) for name in names[:count]]


def test_a_line_in_steps_of_ten_per_cent_has_eleven_mixes():
    # C: n + 1.
    assert len(blends.line(*corners(2), 10)) == 11


@pytest.mark.parametrize("steps,count", [(2, 6), (3, 10), (4, 15), (5, 21), (10, 66)])
def test_a_triaxial_has_the_triangular_number_of_mixes(steps, count):
    # C: (n + 1)(n + 2) / 2.
    assert len(blends.triaxial(*corners(3), steps)) == count


def test_a_grid_of_five_by_five_has_twenty_five_mixes():
    assert len(blends.grid(*corners(4), columns=5, rows=5)) == 25


def test_half_and_half_is_not_the_mean_of_the_seger_formulas():
    # C: Al2O3 = (.0930 + .1106) / (.6311 + .2717) = .2255, not the mean of .1475 and .4071 (.2773).
    middle = blends.line(("K", KRAKOWSKI), ("L", LIMESTONE), 2)[1]
    alumina = formula.analyse(middle.recipe).unity["Al2O3"]
    assert alumina == pytest.approx(0.2255, abs=0.0005)
    ends = [formula.analyse(each).unity["Al2O3"] for each in (KRAKOWSKI, LIMESTONE)]
    assert sum(ends) / 2 == pytest.approx(0.2773, abs=0.0005)

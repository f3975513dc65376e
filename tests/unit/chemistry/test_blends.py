import pytest

from tiles.chemistry import blends
from tiles.errors import InvalidValue

A = ("A", {"whiting": 32, "zinc oxide": 12, "dolomite": 15, "kaolin": 24, "flint": 17})
B = ("B", {"potash feldspar": 80, "china clay": 20, "whiting": 40, "silica": 60})
C = ("C", {"calcium borate frit": 70, "kaolin": 20, "silica": 10})
D = ("D", {"nepheline syenite": 100})


@pytest.mark.parametrize("steps", [1, 2, 5, 10])
def test_a_line_of_n_steps_makes_n_plus_1_mixes_from_one_end_to_the_other(steps):
    mixes = blends.line(A, B, steps)
    assert len(mixes) == steps + 1
    assert mixes[0].shares == {"A": 1.0, "B": 0.0}
    assert mixes[-1].shares == {"A": 0.0, "B": 1.0}
    assert [mix.number for mix in mixes] == list(range(1, steps + 2))


@pytest.mark.parametrize("mixes", [blends.triaxial(A, B, C, 5), blends.grid(A, B, C, D, 4, 3)])
def test_every_mix_is_whole_and_no_two_are_the_same(mixes):
    for mix in mixes:
        assert sum(mix.shares.values()) == pytest.approx(1)
        assert sum(mix.recipe.values()) == pytest.approx(100)
    shares = {tuple(round(each, 9) for each in mix.shares.values()) for mix in mixes}
    assert len(shares) == len(mixes)


def test_each_corner_of_a_triaxial_and_a_grid_is_pure():
    for mixes, corners in ((blends.triaxial(A, B, C, 4), 3), (blends.grid(A, B, C, D, 5, 5), 4)):
        assert sum(max(mix.shares.values()) == 1 for mix in mixes) == corners


def test_one_material_under_two_names_becomes_one_line():
    recipe = blends.line(A, B, 2)[1].recipe
    assert "flint" not in recipe and "china clay" not in recipe
    assert recipe["silica"] == pytest.approx((17 + 30) / 2)
    assert recipe["kaolin"] == pytest.approx((24 + 10) / 2)


def test_each_corner_counts_by_its_dry_weight_not_its_parts():
    small = ("small", {"whiting": 1})
    large = ("large", {"silica": 500})
    assert blends.line(small, large, 2)[1].recipe == {"whiting": 50.0, "silica": 50.0}


def test_a_mix_is_weighed_out_in_full():
    weighed = blends.triaxial(A, B, C, 3)[4].weighed_g(200)
    assert sum(weighed.values()) == pytest.approx(200)


def test_a_material_nobody_knows_is_still_weighed():
    mix = blends.line(A, ("shop", {"clear powder": 10}), 1)[1]
    assert mix.recipe == {"clear powder": 100.0}


@pytest.mark.parametrize("steps", [0, -1, 2.5, True, "3", None, 10**9])
def test_steps_that_cannot_be_right_are_refused(steps):
    with pytest.raises(InvalidValue, match="steps"):
        blends.line(A, B, steps)


def test_a_grid_of_one_row_is_refused():
    with pytest.raises(InvalidValue, match="rows 1"):
        blends.grid(A, B, C, D, columns=3, rows=1)


def test_a_blend_of_thousands_is_refused():
    with pytest.raises(InvalidValue, match="mixtures"):
        blends.triaxial(A, B, C, 200)


def test_two_corners_of_one_name_are_refused():
    with pytest.raises(InvalidValue, match="named 'A'"):
        blends.line(A, ("A", {"silica": 1}), 2)


def test_a_corner_that_cannot_be_right_is_refused():
    with pytest.raises(InvalidValue, match="whiting"):
        blends.line(A, ("bad", {"whiting": -3}), 2)

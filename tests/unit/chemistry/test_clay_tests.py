import pytest

from tiles.chemistry import clay_tests
from tiles.errors import InvalidValue


def test_total_shrinkage_is_the_product_of_both():
    drying = clay_tests.drying_shrinkage_percent(102.0, 96.9) / 100
    firing = clay_tests.firing_shrinkage_percent(96.9, 90.1) / 100
    total = clay_tests.total_shrinkage_percent(102.0, 90.1) / 100
    assert 1 - total == pytest.approx((1 - drying) * (1 - firing))


def test_a_wet_size_shrinks_to_the_size_wanted():
    wet = clay_tests.wet_size_mm(150, 12.5)
    assert clay_tests.total_shrinkage_percent(wet, 150) == pytest.approx(12.5)


def test_lengths_the_wrong_way_round_are_refused():
    with pytest.raises(InvalidValue, match="longer"):
        clay_tests.total_shrinkage_percent(88, 100)


@pytest.mark.parametrize("bad", [0, -1, None, "100", True, float("nan")])
def test_a_length_that_cannot_be_right_is_refused(bad):
    with pytest.raises(InvalidValue):
        clay_tests.drying_shrinkage_percent(100, bad)


@pytest.mark.parametrize("bad", [100, -1, None, "12"])
def test_a_shrinkage_that_cannot_be_right_is_refused(bad):
    with pytest.raises(InvalidValue):
        clay_tests.wet_size_mm(150, bad)


def test_absorption_is_porosity_over_bulk_density():
    found = clay_tests.absorption(87.3, 51.9, 92.4)
    by_identity = found.apparent_porosity_percent / found.bulk_density_g_per_ml
    assert found.absorption_percent == pytest.approx(by_identity)


@pytest.mark.parametrize("weights", [(100, 60, 99), (60, 100, 106), (100, 100, 106)])
def test_weighings_that_cannot_belong_together_are_refused(weights):
    with pytest.raises(InvalidValue, match="belong together"):
        clay_tests.absorption(*weights)

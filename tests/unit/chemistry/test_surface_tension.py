import pytest

from tiles.chemistry import surface_tension
from tiles.errors import OutOfRange

CLEAR = {"SiO2": 66, "Al2O3": 7, "B2O3": 5, "Na2O": 8, "CaO": 14}


def test_it_falls_by_4_for_each_100_c():
    cool, hot = (surface_tension.estimate(CLEAR, each).value for each in (1100, 1400))
    assert cool - hot == pytest.approx(12)


def test_oxides_without_a_factor_widen_the_interval_and_are_named():
    plain, zinc = (surface_tension.estimate(CLEAR | {"ZnO": each}) for each in (0, 8))
    assert zinc.high - zinc.low > 1.5 * (plain.high - plain.low)
    assert "no published factor" in zinc.remarks[-1]


def test_a_temperature_outside_the_range_is_refused():
    with pytest.raises(OutOfRange, match="not at 1600 C"):
        surface_tension.estimate(CLEAR, 1600)

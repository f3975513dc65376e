import pandas as pd
import pytest

from tiles.chemistry import surface_tension
from tiles.errors import InvalidValue, OutOfRange

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


@pytest.mark.parametrize("temperature_c", ["1000", None, True, float("nan"), [1000]])
def test_a_temperature_that_is_no_number_is_refused(temperature_c):
    with pytest.raises(InvalidValue, match="not a number"):
        surface_tension.estimate(CLEAR, temperature_c)


def test_a_frame_takes_one_temperature_for_each_row():
    found = surface_tension.estimate(pd.DataFrame([CLEAR, CLEAR]), [1100, 1400])
    single = [surface_tension.estimate(CLEAR, each) for each in (1100, 1400)]
    for end in ("value", "low", "high"):
        assert found[end].tolist() == pytest.approx([getattr(each, end) for each in single])

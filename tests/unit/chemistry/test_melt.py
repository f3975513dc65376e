import subprocess
import sys

import pandas as pd
import pytest

from tiles.chemistry import melt
from tiles.chemistry._answer import Estimate
from tiles.errors import InvalidValue, OutOfRange

CLEAR = {"SiO2": 66, "Al2O3": 7, "B2O3": 5, "Na2O": 8, "CaO": 14}


@pytest.mark.parametrize(
    ("log10_viscosity", "word"),
    [
        *((5.0, "stiff"), (4.0, "stiff"), (3.99, "healing"), (3.0, "healing")),
        *((2.99, "fluid"), (2.25, "fluid"), (2.24, "runny"), (-1.0, "runny")),
    ],
)
def test_each_word_starts_at_its_documented_limit(log10_viscosity, word):
    assert melt.word(log10_viscosity) == word


def test_limits_of_the_words_follow_from_draining_and_levelling():
    """Draining film and Orchard's levelling time, for 20 minutes and 0.3 mm."""
    seconds, thick_m, density, tension = 1200, 0.3e-3, 2500, 0.3
    ran_m = {
        limit: density * 9.81 * thick_m**2 / (3 * 10**limit) * seconds for limit in (2.25, 3.0)
    }
    assert ran_m[2.25] == pytest.approx(5e-3, rel=0.1)
    assert ran_m[3.0] == pytest.approx(1e-3, rel=0.2)
    fade_s = 3 * 10**4.0 * 5e-3**4 / (16 * 3.14159**4 * tension * thick_m**3)
    assert fade_s == pytest.approx(seconds, rel=0.3)


def test_words_within_an_interval_run_from_stiff_to_runny():
    assert melt.words_within(Estimate(3.0, 2.0, 4.2, "")) == ("stiff", "healing", "fluid", "runny")
    assert melt.words_within(Estimate(3.4, 3.1, 3.9, "")) == ("healing",)


def test_a_viscosity_that_is_no_number_has_no_word():
    with pytest.raises(InvalidValue, match="not a number"):
        melt.word(float("nan"))


@pytest.mark.parametrize("temperature_c", [1940, 599, -5])
def test_a_temperature_outside_the_range_is_refused(temperature_c):
    with pytest.raises(OutOfRange, match=f"not at {temperature_c}"):
        melt.estimate(CLEAR, temperature_c)


@pytest.mark.parametrize("temperature_c", ["hot", None, float("nan")])
def test_a_temperature_that_is_no_number_is_refused(temperature_c):
    with pytest.raises(InvalidValue, match="not a number"):
        melt.estimate(CLEAR, temperature_c)


def test_a_frame_takes_one_temperature_or_one_for_each_row():
    frame = pd.DataFrame([CLEAR, CLEAR])
    each = melt.estimate(frame, [1000, 1200])
    assert each["value"].tolist() == pytest.approx(
        [melt.estimate(CLEAR, 1000).value, melt.estimate(CLEAR, 1200).value]
    )
    assert melt.estimate(frame, 1000)["value"].nunique() == 1
    with pytest.raises(InvalidValue, match="3 temperatures for 2 glasses"):
        melt.estimate(frame, [1000, 1100, 1200])


def test_difference_of_like_melts_is_surer_than_either():
    found = melt.difference(CLEAR, CLEAR | {"B2O3": 8}, 1100)
    alone = melt.estimate(CLEAR, 1100)
    assert found.high < 0
    assert found.high - found.low < 0.9 * (alone.high - alone.low)


def test_one_glass_is_estimated_without_loading_numpy_or_pandas():
    code = (
        "import sys; from tiles.chemistry import expansion, melt, surface_tension as s;"
        "g = {'SiO2': 7, 'CaO': 2, 'K2O': 1};"
        "expansion.estimate(g), expansion.appen(g), melt.estimate(g, 1000), s.estimate(g);"
        "assert not {'numpy', 'pandas'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)

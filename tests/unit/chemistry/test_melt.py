import subprocess
import sys

import numpy as np
import pandas as pd
import pytest

from tiles.chemistry import melt, surface_tension
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
    for none in (float("nan"), float("inf"), "stiff"):
        with pytest.raises(InvalidValue, match="not a number"):
            melt.word(none)


@pytest.mark.parametrize("temperature_c", [1940, 599, -5])
def test_a_temperature_outside_the_range_is_refused(temperature_c):
    with pytest.raises(OutOfRange, match=f"not at {temperature_c}"):
        melt.estimate(CLEAR, temperature_c)


NO_NUMBER = ["hot", "1000", None, True, np.bool_(True), float("nan"), float("inf"), np.array("a")]


@pytest.mark.parametrize("temperature_c", [*NO_NUMBER, [1000, 1100], np.full((9, 9), 1000)])
def test_a_temperature_that_is_no_number_is_refused_in_one_line(temperature_c):
    with pytest.raises(InvalidValue, match="not a number") as caught:
        melt.estimate(CLEAR, temperature_c)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("temperature_c", NO_NUMBER)
def test_a_temperature_of_a_row_that_is_no_number_is_named(temperature_c):
    frame = pd.DataFrame([CLEAR, CLEAR], index=["A", "B"])
    with pytest.raises(InvalidValue, match="of row B is not a number"):
        melt.estimate(frame, [1000, temperature_c])
    with pytest.raises(InvalidValue, match="temperature is not a number"):
        melt.estimate(frame, temperature_c)
    with pytest.raises(OutOfRange, match="not at 1940 C in row B"):
        melt.estimate(frame, [1000, 1940])


@pytest.mark.parametrize("number", [np.array(1100), np.float32(1100), np.int64(1100), 1100])
def test_numpy_numbers_are_numbers(number):
    assert melt.estimate(CLEAR, number) == melt.estimate(CLEAR, 1100.0)
    frame = pd.DataFrame([CLEAR, CLEAR])
    assert melt.estimate(frame, number).equals(melt.estimate(frame, 1100.0))
    assert surface_tension.estimate(CLEAR, number) == surface_tension.estimate(CLEAR, 1100.0)


def test_temperatures_of_a_series_go_by_its_index_and_those_of_a_list_by_position():
    frame = pd.DataFrame([CLEAR, CLEAR | {"B2O3": 9}], index=["A", "B"])
    wanted = melt.estimate(frame, [1000, 1200])
    assert melt.estimate(frame, pd.Series([1200, 1000], index=["B", "A"])).equals(wanted)
    assert melt.estimate(frame, pd.Series([1000, 1200], index=["A", "B"])).equals(wanted)
    assert melt.estimate(frame, np.array([1000, 1200])).equals(wanted)
    assert melt.estimate(frame, pd.Series([1000, 1200]).to_numpy()).equals(wanted)


def test_labels_twice_are_no_hindrance_in_the_order_of_the_frame():
    frame = pd.DataFrame([CLEAR, CLEAR], index=["A", "A"])
    found = melt.estimate(frame, pd.Series([1000, 1200], index=["A", "A"]))
    assert found["value"].tolist() == melt.estimate(frame, [1000, 1200])["value"].tolist()


@pytest.mark.parametrize(
    ("index", "labels", "told"),
    [
        (["A", "B"], ["A", "C"], "no row B"),
        (["A", "B"], [0, 1], "no row A"),
        (["A", "B", "B"], ["B", "A", "B"], "twice"),
    ],
)
def test_a_series_that_cannot_be_matched_to_the_glasses_is_refused(index, labels, told):
    frame = pd.DataFrame([CLEAR] * len(index), index=index)
    with pytest.raises(InvalidValue, match=told) as caught:
        melt.estimate(frame, pd.Series([1000.0] * len(labels), index=labels))
    assert "to_numpy() to go by position" in str(caught.value)


@pytest.mark.parametrize(
    "temperature_c",
    [pd.DataFrame({"t": [1000, 1200]}), {"A": 1000, "B": 1200}, np.full((2, 2), 1000)],
)
def test_temperatures_that_are_no_single_column_are_refused(temperature_c):
    frame = pd.DataFrame([CLEAR, CLEAR], index=["A", "B"])
    with pytest.raises(InvalidValue, match="per row"):
        melt.estimate(frame, temperature_c)


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

import pandas as pd
import pytest

from tiles.chemistry import expansion
from tiles.errors import InvalidValue, UnknownName

CLEAR = {"SiO2": 66, "Al2O3": 7, "B2O3": 5, "Na2O": 8, "CaO": 14}


def test_difference_of_a_glass_with_itself_is_nothing():
    found = expansion.difference(CLEAR, CLEAR)
    assert (found.value, found.low, found.high) == (0, 0, 0)


def test_difference_of_like_glazes_is_surer_than_either():
    found = expansion.difference(CLEAR, CLEAR | {"SiO2": 68})
    alone = expansion.estimate(CLEAR)
    assert found.value < 0
    assert found.high - found.low < 0.5 * (alone.high - alone.low)


def test_an_ordinary_clear_glaze_needs_no_remark():
    assert expansion.estimate(CLEAR).remarks == ()


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"CoO": 1.5}, "colourants (CoO)"),
        ({"Fe2O3": 5}, "colourants (Fe2O3)"),
        ({"V2O5": 2}, "no measured glass had"),
        ({"PbO": 20}, "leaded"),
        ({"SnO2": 4}, "opacified"),
        ({"MgO": 18}, "matt"),
        ({"PbO": 20}, "far from the measured"),
    ],
)
def test_remarks_say_what_the_fit_does_not_cover(more, words):
    assert any(words in remark for remark in expansion.estimate(CLEAR | more).remarks)


def test_scarce_oxides_widen_the_interval():
    plain, coloured = expansion.estimate(CLEAR), expansion.estimate(CLEAR | {"CuO": 3})
    assert coloured.high - coloured.low > 1.1 * (plain.high - plain.low)


def test_iron_may_be_given_in_either_form():
    assert expansion.estimate(CLEAR | {"FeO": 4}).value == pytest.approx(
        expansion.estimate(CLEAR | {"Fe2O3": 2}).value
    )


def test_volatile_parts_of_an_analysis_are_left_out():
    assert expansion.estimate(CLEAR | {"H2O": 9, "CO2": 20}) == expansion.estimate(CLEAR)


@pytest.mark.parametrize(
    ("oxides", "error", "words"),
    [
        ({}, InvalidValue, "empty"),
        ({"SiO2": 0, "CaO": 0}, InvalidValue, "empty"),
        ({"CaO": 50, "Al2O3": 50}, InvalidValue, "no SiO2"),
        ({"SiO2": 70, "CaO": -1}, InvalidValue, "CaO is -1"),
        ({"SiO2": 70, "CaO": float("nan")}, InvalidValue, "CaO is nan"),
        ({"SiO2": 70, "CaO": "ten"}, InvalidValue, "'ten'"),
        ({"SiO2": 70, "Na20": 5}, UnknownName, "Try: Na2O"),
        ([70, 20, 10], InvalidValue, "list"),
    ],
)
def test_nonsense_is_refused_in_one_line(oxides, error, words):
    with pytest.raises(error) as caught:
        expansion.estimate(oxides)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_bad_cell_of_a_frame_is_named_by_row_and_oxide():
    frame = pd.DataFrame({"SiO2": [70, 70], "CaO": [30, -2]}, index=["A", "B"])
    with pytest.raises(InvalidValue, match="CaO in row B"):
        expansion.estimate(frame)
    with pytest.raises(InvalidValue, match="in row B has no SiO2"):
        expansion.estimate(frame.assign(SiO2=[70, 0], CaO=[30, 2]))
    with pytest.raises(UnknownName, match="'glaze' is not an oxide"):
        expansion.estimate(frame.assign(CaO=1, glaze=["a", "b"]))


def test_an_empty_frame_gives_an_empty_answer():
    assert expansion.estimate(pd.DataFrame({"SiO2": [], "CaO": []})).empty

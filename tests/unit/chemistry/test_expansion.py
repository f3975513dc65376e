import pandas as pd
import pytest

from tiles.chemistry import expansion
from tiles.chemistry.formula import analyse
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
        ({"Fe2O3": 1.5, "CoO": 0.3}, "colourants (Fe2O3, CoO)"),
        ({"V2O5": 2}, "no measured glass had V2O5"),
        ({"PbO": 20}, "leaded"),
        ({"SnO2": 4}, "opacified"),
        ({"MgO": 18}, "matt"),
        ({"PbO": 20}, "far from the measured"),
    ],
)
def test_remarks_say_what_the_fit_does_not_cover(more, words):
    assert any(words in remark for remark in expansion.estimate(CLEAR | more).remarks)


USUAL_ADDITIONS = {
    # Parts to 100 of a base for a full colour or an opaque white (common practice, no source).
    "colourants (Cr2O3)": {"chromium oxide": 1},
    "colourants (CoO)": {"cobalt carbonate": 1},
    "colourants (CuO)": {"copper carbonate": 3},
    "colourants (MnO)": {"manganese dioxide": 2},
    "colourants (NiO)": {"nickel oxide": 1},
    "colourants (Fe2O3)": {"red iron oxide": 8},
    "no measured glass had V2O5": {"vanadium pentoxide": 2},
}
OPAQUE = {"tin oxide": 5, "zirconium silicate": 8, "titanium dioxide": 6, "rutile": 6}


@pytest.mark.parametrize(
    ("words", "extras"),
    [*USUAL_ADDITIONS.items(), *(("opacified", {name: parts}) for name, parts in OPAQUE.items())],
)
def test_a_usual_addition_of_each_colourant_and_opacifier_is_remarked(words, extras):
    base = {"soda borate frit": 58, "calcium borate frit": 26, "kaolin": 12, "silica": 4}
    made_of = analyse(base, extras=extras, strict=True)
    remarks = expansion.estimate(made_of.mole_percent).remarks
    assert any(words in remark for remark in remarks), remarks


def test_traces_of_a_colourant_need_no_remark():
    assert expansion.estimate(CLEAR | {"Fe2O3": 0.3, "TiO2": 0.2, "Cr2O3": 0.02}).remarks == ()


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
        ({"SiO2": 70, "CaO": float("nan")}, InvalidValue, "CaO is not a number: nan"),
        ({"SiO2": 70, "CaO": float("inf")}, InvalidValue, "CaO is not a number: inf"),
        ({"SiO2": 70, "CaO": None}, InvalidValue, "CaO is not a number: None"),
        ({"SiO2": 70, "CaO": True}, InvalidValue, "CaO is not a number: True"),
        ({"SiO2": 70, "CaO": [1] * 99}, InvalidValue, "CaO is not a number: [1, 1"),
        ({"SiO2": 70, "sio2": 5}, InvalidValue, "SiO2 twice"),
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


def test_a_row_of_a_frame_is_one_glass():
    frame = pd.DataFrame([CLEAR, CLEAR | {"B2O3": 9}], index=["A", "B"])
    assert expansion.estimate(frame.iloc[1]) == expansion.estimate(CLEAR | {"B2O3": 9})
    assert expansion.appen(frame.iloc[0]) == pytest.approx(expansion.appen(CLEAR))
    assert expansion.difference(frame.iloc[0], frame.iloc[1]) == expansion.difference(
        CLEAR, CLEAR | {"B2O3": 9}
    )


def test_a_row_with_a_label_that_is_no_oxide_is_refused_as_the_frame_is():
    frame = pd.DataFrame([CLEAR]).assign(glaze="A")
    for given in (frame, frame.iloc[0]):
        with pytest.raises(UnknownName, match="'glaze' is not an oxide"):
            expansion.estimate(given)


@pytest.mark.parametrize("second", ["SiO2", "sio2"])
def test_a_column_that_comes_twice_is_refused_in_one_line(second):
    frame = pd.DataFrame([[66, 20, 14]], columns=["SiO2", second, "CaO"])
    for given in (frame, frame.iloc[0]):
        with pytest.raises(InvalidValue, match="SiO2 twice") as caught:
            expansion.estimate(given)
        assert "\n" not in str(caught.value)


@pytest.mark.parametrize("cell", [None, pd.NA, float("inf"), "ten", True])
def test_a_cell_that_is_no_number_is_named_by_row(cell):
    frame = pd.DataFrame({"SiO2": [70, 70], "CaO": [30, cell]}, index=["A", "B"], dtype=object)
    with pytest.raises(InvalidValue, match="CaO in row B is not a number"):
        expansion.estimate(frame)


def test_columns_that_can_hold_missing_values_are_read_like_others():
    plain = pd.DataFrame([CLEAR, CLEAR])
    told = expansion.estimate(plain.astype("Float64"))
    assert told.equals(expansion.estimate(plain))
    assert expansion.estimate(plain.astype(object)).equals(told)


def test_a_difference_between_frames_is_refused_in_one_line():
    frame = pd.DataFrame([CLEAR, CLEAR])
    with pytest.raises(InvalidValue, match="between two glasses"):
        expansion.difference(frame, frame)


@pytest.mark.parametrize("amount", [1e308, 1e-310])
def test_amounts_whose_sum_would_overflow_are_refused(amount):
    glass = {"SiO2": amount, "CaO": amount}
    for given in (glass, pd.DataFrame([glass])):
        with pytest.raises(InvalidValue, match="cannot be right|is empty"):
            expansion.estimate(given)

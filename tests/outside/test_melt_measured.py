"""Melt viscosity against measured melts (SciGlass, ODbL 1.0), a standard glass and other models."""

import time
import tomllib

import numpy as np
import pandas as pd
import pytest

from tests.fitting import _measured as data
from tests.fitting import melt as fitting
from tests.outside import giordano_2008
from tiles.chemistry import melt, oxides
from tiles.chemistry._glass import MEASURED

CONTAINER = {"SiO2": 74.42, "Al2O3": 0.75, "MgO": 0.30, "CaO": 11.27, "Na2O": 12.9, "K2O": 0.19}
FLOAT = {"SiO2": 71.86, "Al2O3": 0.08, "MgO": 5.64, "CaO": 9.23, "Na2O": 13.13, "K2O": 0.02}
NBS_710 = oxides.moles({"SiO2": 70.5, "Na2O": 8.7, "K2O": 7.7, "CaO": 11.6})
"""Soda-lime-silica standard; wt % from memory."""


@pytest.fixture(scope="module")
def held_out():
    return fitting.held_out(count=8, seed=20)


@pytest.fixture(scope="module")
def scores(held_out):
    return fitting.scores(held_out)


@pytest.mark.slow
def test_error_on_groups_left_out_stays_small(scores):
    """Target 0.25; seen 0.202 to 0.208."""
    assert scores["mae"] <= 0.225
    assert scores["mae without suspect"] <= 0.215


@pytest.mark.slow
def test_nine_of_ten_measurements_fall_in_the_interval(scores):
    assert 0.88 <= scores["coverage"] <= 0.92
    for region in data.REGIONS:
        assert scores[f"coverage {region}"] >= 0.85, region


@pytest.mark.slow
def test_the_interval_holds_for_stiff_melts_and_at_low_fire_too(scores):
    """Seen 0.86 to 0.89; one width for all melts held 0.71 of those at 10^4 to 10^6 Pa.s."""
    assert scores["coverage stiff"] >= 0.82
    assert scores["coverage cool"] >= 0.84


@pytest.mark.slow
def test_nine_of_ten_measured_differences_fall_in_the_interval_of_a_difference(held_out):
    coverage = fitting.difference_coverage(held_out)
    assert all(0.85 <= share <= 0.95 for share in coverage.values()), coverage


def test_shipped_coefficients_are_those_of_a_fresh_fit():
    shipped = tomllib.loads(fitting.FILE.read_text(encoding="utf-8"))
    fresh = tomllib.loads(fitting.as_text(fitting.fit()))
    for table, digits in fitting.DIGITS.items():
        assert shipped[table] == pytest.approx(fresh[table], abs=1.01 * 10**-digits), table


def test_coefficient_file_is_small_and_carries_the_notice():
    text = fitting.FILE.read_text(encoding="utf-8")
    assert len(text.encode()) <= 2048
    assert data.NOTICE.strip("# \n") in text


@pytest.mark.parametrize(("temperature_c", "log10_viscosity"), [(1181.7, 2.0), (1019.0, 3.0)])
def test_standard_glass_at_its_certified_points(temperature_c, log10_viscosity):
    """NBS 710 certificate: 10^2 Pa.s at 1181.7 C and 10^3 at 1019 C."""
    found = melt.estimate(NBS_710, temperature_c)
    assert found.low < log10_viscosity < found.high
    assert found.value == pytest.approx(log10_viscosity, abs=0.25)


@pytest.mark.parametrize(
    ("glass", "temperature_c", "log10_viscosity", "within"),
    [
        (CONTAINER, 1207, 2.0, 0.15),
        (FLOAT, 1193, 2.0, 0.15),
        (CONTAINER, 734, 6.6, 0.6),
        (FLOAT, 725, 6.6, 0.6),
    ],
)
def test_agrees_with_lakatos_on_everyday_glasses(glass, temperature_c, log10_viscosity, within):
    """Lakatos, Johansson and Simmingskold 1972; coefficients from memory, good to about 0.1."""
    found = melt.estimate(glass, temperature_c)
    assert found.low < log10_viscosity < found.high
    assert found.value == pytest.approx(log10_viscosity, abs=within)


def test_giordano_equation_gives_its_worked_value():
    """Published input at 1200 C, wet and dry."""
    given = {"SiO2": 50.42, "TiO2": 1.53, "Al2O3": 15.13, "FeO": 9.81, "MgO": 7.76, "CaO": 11.35}
    for water, expected in ((1.0, 1.0553), (0.0, 1.7577)):
        moles = oxides.moles(given | {"Na2O": 2.83, "K2O": 0.14, "H2O": water})
        row = np.array([moles.get(oxide, 0.0) for oxide in giordano_2008.OXIDES])
        found = giordano_2008.log10_viscosity([100 * row / row.sum()], 1200)[0]
        assert found == pytest.approx(expected, abs=0.0005)


@pytest.mark.slow
def test_beats_giordano_on_melts_without_boron(held_out):
    """Second opinion. Its mean error there, 0.443 on 544 points, was calculated independently."""
    table = data.viscosity()
    strange = table[["B2O3", "Li2O", "ZnO", "BaO", "SrO", "ZrO2", "SnO2", "F"]]
    plain = fitting.in_range(table) & (strange.max(axis=1) <= 0.5) & (table["B2O3"] <= 0.1)
    rows = table[plain].assign(FeO=2 * table["Fe2O3"], H2O=0.0)
    amounts = rows[list(giordano_2008.OXIDES)].to_numpy()
    amounts = 100 * amounts / amounts.sum(axis=1, keepdims=True)
    theirs = giordano_2008.log10_viscosity(amounts, rows["temperature_C"].to_numpy())
    ours, measured = held_out["value"][plain], rows[data.VISCOSITY]
    assert len(rows) > 400
    assert np.abs(theirs - measured).mean() == pytest.approx(0.443, abs=0.03)
    assert (ours - measured).abs().mean() < 0.6 * np.abs(theirs - measured).mean()
    assert np.corrcoef(ours, theirs)[0, 1] > 0.8


def test_a_lead_glaze_is_answered_with_a_wide_interval():
    """Lead silicates of this kind are near 10^2 Pa.s at 1000 C (from memory)."""
    found = melt.estimate({"SiO2": 60, "Al2O3": 8, "PbO": 32}, 1000)
    assert found.low < 2.0 < found.high
    assert found.high - found.low > 3
    assert any("leaded" in remark for remark in found.remarks)


def test_viscosity_falls_with_heat_for_every_measured_glass():
    table = data.viscosity().drop_duplicates("id")[list(MEASURED)]
    curves = [melt.estimate(table, each)["value"] for each in range(600, 1501, 100)]
    assert all((hot < cool).all() for cool, hot in zip(curves, curves[1:], strict=False))


def test_bounds_of_the_curve_lie_beyond_the_measured_glasses():
    """T0 and B are only held back far outside the data, so no fitted glass is bent by them."""
    from tiles.chemistry._mixture import polynomial, read_coefficients

    glass = data.glass_of(data.viscosity())
    coefficients = read_coefficients("melt")
    assert np.mean(1000 * polynomial(glass, coefficients["t0"]) > melt.HIGHEST_T0_K) < 0.02
    assert np.mean(1000 * polynomial(glass, coefficients["b"]) < melt.LOWEST_B_K) == 0


def test_one_glass_is_estimated_faster_than_a_frame_of_one():
    frame = pd.DataFrame([CONTAINER])
    took = []
    for glass in (CONTAINER, frame):
        melt.estimate(glass, 1200)
        start = time.process_time()
        for _ in range(50):
            melt.estimate(glass, 1200)
        took.append(time.process_time() - start)
    assert took[0] < took[1]

"""Laws the glass-property estimates keep for any composition."""

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tiles.chemistry import expansion, melt, surface_tension
from tiles.chemistry._glass import MEASURED, WINDOW

amount = st.one_of(st.just(0.0), st.floats(0.01, 40))
glasses = st.builds(
    lambda silica, rest: {"SiO2": silica} | rest,
    st.floats(5, 90),
    st.dictionaries(st.sampled_from(MEASURED[1:]), amount, max_size=12),
)
GLAZE = {"SiO2": 65.0, "Al2O3": 7.0, "B2O3": 4.0, "Na2O": 8.0, "K2O": 2.0, "CaO": 12.0, "ZnO": 2.0}
ESTIMATES = [
    expansion.estimate,
    lambda oxides: melt.estimate(oxides, 1100),
    surface_tension.estimate,
]
each_estimate = pytest.mark.parametrize("estimate", ESTIMATES, ids=["expansion", "melt", "tension"])


@given(glass=glasses, cooler=st.floats(600, 1499), step=st.floats(0.5, 400))
def test_viscosity_falls_with_temperature_for_any_composition(glass, cooler, step):
    hotter = min(1500.0, cooler + step)
    assert melt.estimate(glass, hotter).value < melt.estimate(glass, cooler).value


@each_estimate
@settings(max_examples=50)
@given(glass=glasses, share=st.floats(0.001, 1000), seed=st.randoms(use_true_random=False))
def test_neither_order_nor_total_matters(estimate, glass, share, seed):
    keys = list(glass)
    seed.shuffle(keys)
    scaled = {key: glass[key] * share for key in keys if key != "F"}
    scaled |= {"F": glass["F"] * share} if "F" in glass else {}
    one, other = estimate(glass), estimate(scaled)
    assert other.value == pytest.approx(one.value, rel=1e-9, abs=1e-9)
    assert other.low == pytest.approx(one.low, rel=1e-9, abs=1e-9)
    assert other.high == pytest.approx(one.high, rel=1e-9, abs=1e-9)


@each_estimate
@settings(max_examples=50)
@given(glass=glasses)
def test_the_value_lies_inside_its_interval(estimate, glass):
    found = estimate(glass)
    assert found.low < found.value < found.high


@each_estimate
@settings(max_examples=25)
@given(rows=st.lists(glasses, min_size=1, max_size=5))
def test_a_frame_gives_what_each_mapping_gives(estimate, rows):
    names = [f"tile {number}" for number in range(len(rows))]
    frame = pd.DataFrame(rows, index=names).fillna(0.0)
    together = estimate(frame)
    assert list(together.columns) == ["value", "low", "high"]
    assert list(together.index) == names
    for name, row in zip(names, rows, strict=True):
        alone = estimate(row)
        assert tuple(together.loc[name]) == pytest.approx((alone.value, alone.low, alone.high))


@pytest.mark.parametrize("estimate", ESTIMATES[:2], ids=["expansion", "melt"])
@pytest.mark.parametrize("oxide", ["PbO", "B2O3", "ZrO2", "P2O5", "TiO2"])
def test_the_interval_widens_the_further_a_glass_is_from_the_measured_ones(estimate, oxide):
    start = WINDOW[oxide][1] + 1
    widths = []
    for amount_more in (0.0, start, start + 6, start + 15):
        found = estimate(GLAZE | {oxide: amount_more})
        widths.append(found.high - found.low)
    assert widths == sorted(widths)
    assert widths[-1] > 1.2 * widths[0]


@settings(max_examples=50)
@given(first=glasses, second=glasses)
def test_a_difference_turned_round_changes_sign_and_is_never_wider_than_both_errors(first, second):
    forward = expansion.difference(first, second)
    back = expansion.difference(second, first)
    assert forward.value == pytest.approx(-back.value, abs=1e-9)
    assert forward.high - forward.value == pytest.approx(back.high - back.value, abs=1e-9)
    halves = [(e.high - e.low) / 2 for e in (expansion.estimate(first), expansion.estimate(second))]
    assert forward.high - forward.value <= sum(half**2 for half in halves) ** 0.5 + 1e-9

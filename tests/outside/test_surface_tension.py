"""Surface tension by Kucuk, Clare and Jones 1999 (formula read), and two other published sets."""

import pytest

from tiles.chemistry import oxides, surface_tension

CONTAINER = {"SiO2": 74.42, "Al2O3": 0.75, "MgO": 0.30, "CaO": 11.27, "Na2O": 12.9, "K2O": 0.19}
FLOAT = {"SiO2": 71.86, "Al2O3": 0.08, "MgO": 5.64, "CaO": 9.23, "Na2O": 13.13, "K2O": 0.02}
DIETZEL_900_C = {"SiO2": 3.4, "Al2O3": 6.2, "MgO": 6.6, "CaO": 4.8, "Na2O": 1.5, "K2O": 0.1}
"""mN/m for each wt % (Dietzel 1942, from memory)."""


@pytest.mark.parametrize(("glass", "tension"), [(CONTAINER, 311.6), (FLOAT, 313.3)])
def test_everyday_glasses_at_1400_c_by_hand(glass, tension):
    """The published formula worked out by hand on the same two compositions."""
    assert surface_tension.estimate(glass).value == pytest.approx(tension, abs=0.3)


@pytest.mark.parametrize("glass", [CONTAINER, FLOAT])
def test_dietzel_lies_within_the_interval(glass):
    """Less 4 mN/m for each 100 C above 900."""
    wt_percent = oxides.percent(oxides.masses(glass))
    dietzel = sum(DIETZEL_900_C[oxide] * share for oxide, share in wt_percent.items())
    for temperature_c in (900, 1200, 1400):
        found = surface_tension.estimate(glass, temperature_c)
        assert found.low < dietzel - 0.04 * (temperature_c - 900) < found.high


def test_boron_and_potash_lower_it_and_alumina_and_lime_raise_it():
    """Common to every published set (Kucuk read; Dietzel, Lyon and Appen from memory)."""
    base = surface_tension.estimate(CONTAINER).value
    for oxide, sign in (("B2O3", -1), ("K2O", -1), ("Al2O3", 1), ("CaO", 1)):
        changed = surface_tension.estimate(CONTAINER | {oxide: CONTAINER.get(oxide, 0) + 5}).value
        assert sign * (changed - base) > 0, oxide

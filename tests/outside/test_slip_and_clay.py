"""Slip arithmetic, shrinkage and absorption against worked examples printed elsewhere.

Tags: R read on a copy of the page on 2026-11-25; M from memory; C computed by hand.
"""

import pytest

from tiles.chemistry import clay_tests, slip


def test_gtz_dry_content_of_liquid():
    # R: Norsker & Danisch, Forming Techniques for the Self-Reliant Potter (GTZ/GATE 1991): a litre
    # of 1700 g with grain 2.5 holds 1166 g (exact 1166.67); 30 L hold 35 kg.
    assert slip.dry_content_g_per_l(1.700, grain_sg=2.5) == pytest.approx(1166, abs=1)
    assert slip.dry_content_g(30, 1.700, grain_sg=2.5) == pytest.approx(35_000, rel=0.001)


def test_altmann_dry_content_and_water_of_a_litre():
    # R: S. Altmann 1998: 1500 g/L, solids 2500 g/L: 833.3 g dry and 666.7 g water per litre.
    dry = slip.dry_content_g_per_l(1.500, grain_sg=2.5)
    assert dry == pytest.approx(833.3, abs=0.05)
    assert slip.water_for_g(dry, 1.500, grain_sg=2.5) == pytest.approx(666.7, abs=0.05)


def test_grain_by_displacement():
    # R formula: M. Colman 2014, G = dry mass / volume displaced.
    assert slip.grain_specific_gravity(250, 100) == 2.5


def test_imperial_pint():
    # M: W = (P - 20) S / (S - 1); 34 oz with grain 2.5 hold 23.33 oz per imperial pint.
    assert slip.dry_content_oz_per_imperial_pint(34, grain_sg=2.5) == pytest.approx(23.33, abs=0.01)
    # C: in metric 661.5 g per 568.26 mL = 1164 g/L, .2 % under the metric form.
    per_l = 23.3333 * 28.3495 / 0.56826
    assert per_l == pytest.approx(slip.dry_content_g_per_l(1.70, grain_sg=2.5), rel=0.003)


def test_thinning_by_mass_balance():
    # C: 1000 g at 1.60 thinned to 1.45 takes 208.3 g; solids (grain 2.5) stay 625.0 g.
    water = slip.water_to_add_g(0.625, 1.60, 1.45)
    assert water == pytest.approx(208.3, abs=0.05)
    for volume, sg in ((0.625, 1.60), (0.625 + water / 1000, 1.45)):
        assert slip.dry_content_g(volume, sg, grain_sg=2.5) == pytest.approx(625.0, abs=0.05)


def test_hydrometer_scales():
    # C from remembered scale definitions (M): SG 1.70 is 140 Twaddell, SG 1.50 is 48.3 Baume.
    assert slip.degrees_twaddell(1.70) == pytest.approx(140)
    assert slip.degrees_baume(1.50) == pytest.approx(48.3, abs=0.05)


def test_dry_glaze_to_water_by_weight():
    # R: per 454 g of dry glaze 325 mL of water to dip, 236 to spray, 207 to brush.
    # C: SG 1.56, 1.68, 1.73 with grain 2.6.
    for water, sg in ((325, 1.56), (236, 1.68), (207, 1.73)):
        assert slip.water_for_g(454, sg, grain_sg=2.6) == pytest.approx(water, rel=0.02)


def test_total_shrinkage_of_a_ten_centimetre_mark():
    # R: 100 to 88 mm is 12 %; C: to finish at 150 mm make 170.45 mm.
    assert clay_tests.total_shrinkage_percent(100, 88) == pytest.approx(12)
    assert clay_tests.wet_size_mm(150, 12) == pytest.approx(170.45, abs=0.005)


def test_c326_shrinkages():
    # ASTM C326 (equations M), C: 102.0, 96.9, 90.1 mm: 5.00, 7.02, 11.67 %.
    assert clay_tests.drying_shrinkage_percent(102.0, 96.9) == pytest.approx(5.00, abs=0.005)
    assert clay_tests.firing_shrinkage_percent(96.9, 90.1) == pytest.approx(7.02, abs=0.005)
    assert clay_tests.total_shrinkage_percent(102.0, 90.1) == pytest.approx(11.67, abs=0.005)


def test_c373_absorption_and_porosity():
    # ASTM C373 (equations M), C: D 100, S 60, M 106.
    found = clay_tests.absorption(100.00, 60.00, 106.00)
    assert found.exterior_volume_ml == pytest.approx(46.00)
    assert found.absorption_percent == pytest.approx(6.00)
    assert found.apparent_porosity_percent == pytest.approx(13.04, abs=0.005)
    assert found.apparent_specific_gravity == pytest.approx(2.500)
    assert found.bulk_density_g_per_ml == pytest.approx(2.174, abs=0.0005)

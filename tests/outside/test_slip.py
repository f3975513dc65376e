"""Slip arithmetic against worked examples printed elsewhere.

Tags: R read on a copy of the page on 2026-11-25; M from memory; C computed by hand.
"""

import pytest

from tiles.chemistry import slip


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


def test_thinning_by_mass_balance():
    # C: 1000 g at 1.60 thinned to 1.45 takes 208.3 g; solids (grain 2.5) stay 625.0 g.
    water = slip.water_to_add_g(0.625, 1.60, 1.45)
    assert water == pytest.approx(208.3, abs=0.05)
    for volume, sg in ((0.625, 1.60), (0.625 + water / 1000, 1.45)):
        assert slip.dry_content_g(volume, sg, grain_sg=2.5) == pytest.approx(625.0, abs=0.05)


def test_dry_glaze_to_water_by_weight():
    # R: per 454 g of dry glaze 325 mL of water to dip, 236 to spray, 207 to brush.
    # C: SG 1.56, 1.68, 1.73 with grain 2.6.
    for water, sg in ((325, 1.56), (236, 1.68), (207, 1.73)):
        assert slip.water_for_g(454, sg, grain_sg=2.6) == pytest.approx(water, rel=0.02)

import pytest

from tiles.chemistry import slip
from tiles.errors import InvalidValue, OutOfRange
from tiles.records.forms import BatchRecord


@pytest.mark.parametrize(
    "sg,what", [(145, "1.45"), (1450, "1.45"), (0.9, "heavier than water"), (1, "heavier")]
)
def test_a_specific_gravity_that_cannot_be_right_is_refused_with_what_was_meant(sg, what):
    with pytest.raises(InvalidValue, match=what):
        slip.dry_content_g_per_l(sg)


@pytest.mark.parametrize("sg", [0, -1.4, None, "1.45", True, float("nan"), float("inf"), 20000])
def test_what_is_no_specific_gravity_is_refused(sg):
    with pytest.raises(InvalidValue):
        slip.check_specific_gravity(sg)


def test_grain_lighter_than_the_slop_is_refused():
    with pytest.raises(InvalidValue, match="Grain of SG 1.4"):
        slip.dry_content_g_per_l(1.5, grain_sg=1.4)


def test_water_does_not_thicken_a_slop():
    with pytest.raises(OutOfRange, match="take off") as caught:
        slip.water_to_add_g(5, 1.40, 1.50)
    # 7000 g of slop at 1.40: taking x g of water off leaves (7000 - x) / (5000 - x) = 1.5.
    assert "1000 g" in caught.value.hint


def test_taking_water_off_does_not_thin_a_slop():
    with pytest.raises(OutOfRange, match="taking water off") as caught:
        slip.clear_water_g(5, 1.60, 1.45)
    assert f"{slip.water_to_add_g(5, 1.60, 1.45):.0f} g" in caught.value.hint


@pytest.mark.parametrize(("sg", "wanted"), [(145, 1.45), (1.3, 1.0), (1.3, 145), (1.3, None)])
def test_clear_water_is_told_of_possible_slops_only(sg, wanted):
    with pytest.raises(InvalidValue):
        slip.clear_water_g(1, sg, wanted)


def test_a_slop_as_thick_as_a_record_takes_can_be_thinned():
    bucket = BatchRecord(name="thick", specific_gravity=2.4)
    assert slip.water_to_add_g(1, bucket.specific_gravity, 1.45) > 0


def test_thinning_keeps_the_dry_content():
    water = slip.water_to_add_g(5, 1.60, 1.45)
    before = slip.dry_content_g(5, 1.60)
    assert slip.dry_content_g(5 + water / 1000, 1.45) == pytest.approx(before)


def test_a_mix_made_from_dry_has_the_wanted_specific_gravity():
    dry = slip.dry_content_g(5, 1.45)
    water = slip.water_for_g(dry, 1.45)
    assert slip.volume_l(dry, 1.45) == pytest.approx(5)
    assert (dry + water) / 5000 == pytest.approx(1.45)


def test_specific_gravity_of_a_weighed_volume():
    assert slip.specific_gravity(290, 200) == 1.45
    with pytest.raises(InvalidValue):
        slip.specific_gravity(290, 0)
    with pytest.raises(InvalidValue, match="0.725"):
        slip.specific_gravity(145, 200)


def test_a_us_pint_is_refused():
    with pytest.raises(InvalidValue, match="imperial"):
        slip.specific_gravity_from_imperial_pint(16.7)


def test_more_coats_for_a_thinner_slop_and_at_least_one():
    assert slip.brush_coats(0.5, 1.4) > slip.brush_coats(0.5, 1.6)
    assert slip.brush_coats(0.01, 1.6) == 1


def test_three_brushed_coats_dry_to_the_usual_coat():
    # Three coats (walkerceramics.com.au, read) at the brushing gravity of 1.62 to 1.65 (read).
    for sg in (1.62, 1.65):
        assert slip.LEAST_COAT_MM <= 3 * slip.brushed_coat_mm(sg) <= slip.MOST_COAT_MM
        assert slip.brush_coats(slip.USUAL_COAT_MM, sg) == 3


@pytest.mark.parametrize("call", [slip.volume_l, slip.area_covered_m2])
def test_no_dry_mass_makes_no_slop(call):
    with pytest.raises(InvalidValue, match="dry_g"):
        call(0, 1.45)

"""``tiles slip``. Dry content: Norsker & Danisch, GTZ/GATE 1991, "Dry content of liquid" (read)."""

import json

import pytest


def sums(ran) -> dict:
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_dry_content_of_thirty_litres_is_the_handbooks(tiles):
    # Printed there: 1700 g/L and grain of SG 2.5 hold 1166 g dry in a litre; 30 L hold 35 kg.
    found = sums(tiles("slip", "--sg", 1.7, "--grain-sg", 2.5, "--volume-l", 30, "--json"))
    assert found["dry_content_g_per_l"] == pytest.approx(1166, abs=1)
    assert found["dry_in_bucket_g"] == pytest.approx(35_000, abs=50)


def test_thinned_bucket_has_the_wanted_gravity_by_mass_and_volume(tiles):
    found = sums(tiles("slip", "--sg", 1.6, "--volume-l", 5, "--to-sg", 1.45, "--json"))
    water_kg = found["water_to_add_g"] / 1000
    assert (5 * 1.6 + water_kg) / (5 + water_kg) == pytest.approx(1.45, abs=0.001)
    assert found["volume_after_l"] == pytest.approx(5 + water_kg, abs=0.01)


def test_a_dry_bag_makes_its_litres_with_its_water(tiles):
    found = sums(tiles("slip", "--sg", 1.45, "--dry-g", 1000, "--json"))
    mass_g = 1000 + found["water_for_dry_g"]
    assert mass_g / (found["makes_l"] * 1000) == pytest.approx(1.45, rel=0.005)


def test_mixing_dry_glaze_comes_with_the_dust_caution(tiles):
    assert "silica" in tiles("slip", "--sg", 1.45, "--dry-g", 1000).err
    assert "silica" not in tiles("slip", "--sg", 1.45).err


def test_a_weighed_volume_stands_for_the_gravity(tiles):
    found = sums(tiles("slip", "--mass-g", 145, "--measured-ml", 100, "--json"))
    assert found["specific_gravity"] == 1.45


def test_thicker_coats_need_more_coats_and_cover_less(tiles):
    thin, thick = (
        sums(tiles("slip", "--sg", 1.45, "--dry-g", 1000, "--thickness-mm", mm, "--json"))
        for mm in (0.3, 0.9)
    )
    assert thin["brush_coats"] < thick["brush_coats"]
    assert thin["mix_area_m2"] == pytest.approx(3 * thick["mix_area_m2"], abs=0.02)


def test_coats_are_those_of_the_thinned_slop(tiles):
    thinned = tiles("slip", "--sg", 1.6, "--volume-l", 5, "--to-sg", 1.45, "--json")
    alone = sums(tiles("slip", "--sg", 1.45, "--json"))
    for key in ("brush_coats", "brushed_coat_mm"):
        assert sums(thinned)[key] == alone[key]
    assert (
        "one brushed coat at 1.45"
        in tiles("slip", "--sg", 1.6, "--volume-l", 5, "--to-sg", 1.45).out
    )


def test_the_bucket_and_a_dry_bag_each_have_their_own_area(tiles):
    ask = ("slip", "--sg", 1.45, "--dry-g", 1000, "--volume-l", 5)
    both = sums(tiles(*ask, "--json"))
    bag = sums(tiles("slip", "--sg", 1.45, "--dry-g", 1000, "--json"))
    bucket = sums(tiles("slip", "--sg", 1.45, "--volume-l", 5, "--json"))
    assert both["mix_area_m2"] == bag["mix_area_m2"]
    assert both["bucket_area_m2"] == bucket["bucket_area_m2"]
    # The bucket holds 731 g a litre (Brongniart), so 3.66 times the bag.
    assert both["bucket_area_m2"] == pytest.approx(3.656 * both["mix_area_m2"], rel=0.005)
    assert "the bucket covers" in tiles(*ask).out


def test_a_slop_that_is_all_but_water_is_not_told_as_water(tiles):
    found = sums(tiles("slip", "--sg", 1.0001, "--json"))
    assert found["specific_gravity"] == 1.0001
    assert found["brushed_coat_mm"] > 0


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--sg", "145"], "1.45, if 145 was meant so"),
        (["--sg", "0.9"], "not above 1"),
        (["--sg", "1"], "not above 1"),
        (["--sg", "1.4", "--volume-l", "5", "--to-sg", "1.5"], "take off 1000 g"),
        (["--sg", "1.4", "--volume-l", "5", "--to-sg", "140"], "1.4, if 140 was meant so"),
        (["--sg", "1.4", "--to-sg", "1.3"], "--volume-l"),
        (["--sg", "1.4", "--volume-l", "-5"], "above 0"),
        (["--sg", "1.4", "--grain-sg", "1.2"], "Grain of SG 1.2"),
        (["--sg", "1.4", "--grain-sg", "25"], "2.5, if 25 was meant so"),
        (["--sg", "1.4", "--grain-sg", "260"], "2.6, if 260 was meant so"),
        (["--sg", "1.4", "--thickness-mm", "0"], "above 0"),
        (["--sg", "nan"], "sg is not a number: nan"),
        (["--sg", "1.4", "--volume-l", "inf"], "volume_l is not a number: inf"),
        (["--sg", "1.4", "--mass-g", "140"], "not given once"),
        ([], "not given once"),
    ],
)
def test_what_cannot_be_right_is_one_line_and_no_answer(tiles, arguments, told):
    ran = tiles("slip", *arguments)
    assert ran.code == 1
    assert ran.out == ""
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1


def test_two_forms_at_once_are_refused_as_everywhere(tiles):
    ran = tiles("slip", "--sg", 1.45, "--json", "--csv")
    assert ran.code == 1
    assert ran.out == ""
    assert "--json and --csv together" in ran.err

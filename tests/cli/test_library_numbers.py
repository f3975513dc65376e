"""Numbers of bodies, firings and bags: their decimal comma, their unit, their thousands."""

from tests.cli.records import assert_one_line_error, row


def test_a_number_may_have_a_decimal_comma_but_not_one_that_may_be_thousands(sample, tiles):
    assert tiles("firing", "add", "F60", "--hold-min", "7,5", "--rate-c-per-h", "0,125").code == 0
    assert tiles("body", "change", "porcelain", "--expansion-ppm-per-k", "6,5").code == 0
    found = row(tiles, "firing", "F60")
    assert (found["hold_min"], found["rate_c_per_h"]) == (7.5, 0.125)
    assert row(tiles, "body", "porcelain")["expansion_ppm_per_k"] == 6.5
    ran = tiles("firing", "change", "F60", "--peak-c", "1,034")
    assert_one_line_error(ran, "'1,034'", "1034 or 1.034, whichever is meant", code=2)
    ran = tiles("slip", "--sg", "1,450")
    assert_one_line_error(ran, "'--sg': '1,450'", "1450 or 1.45, whichever is meant", code=2)


def test_a_number_may_have_its_unit_behind_it(sample, tiles):
    given = {
        "--peak-c": "960 °C", "--opened-c": "212 F", "--rate-c-per-h": "100 °C/h",
        "--hold-min": "7,5 min",
    }  # fmt: skip
    assert (
        tiles("firing", "add", "F60", *(each for pair in given.items() for each in pair)).code == 0
    )
    found = row(tiles, "firing", "F60")
    told = (found["peak_c"], found["opened_c"], found["rate_c_per_h"], found["hold_min"])
    assert told == (960, 100, 100, 7.5)
    assert tiles("body", "change", "porcelain", "--absorption-pct", "12,5%").code == 0
    assert row(tiles, "body", "porcelain")["absorption_pct"] == 12.5
    assert_one_line_error(tiles("firing", "change", "F60", "--hold-min", "5 h"), "'5 h'")
    mesh = ("batch", "add", "pond green", "B-9", "--sieve-mesh")
    assert_one_line_error(tiles(*mesh, "0,2 mm"), "not its mesh", "80 mesh is about 0.18 mm")
    assert tiles(*mesh, "80 mesh").code == 0


def test_of_grams_a_mark_that_may_part_thousands_is_not_read_in_silence(sample, tiles):
    bag = ("slip", "--sg", "1,45", "--dry-g")
    for typed in ("10.000", "10,000", "10.000 g"):
        assert_one_line_error(tiles(*bag, typed), "10000 or 10, whichever is meant", code=2)
    ran = tiles(*bag, "10.125")
    assert (ran.code, "10.125 is read with a decimal point; for 10125 g" in ran.err) == (0, True)
    line = ("recipe", "add", "house clear", "--line", "kaolin=250", "--line")
    told = "1200 or 1.2, whichever is meant"
    assert_one_line_error(tiles(*line, "potash feldspar=1.200"), "'potash feldspar'", told)
    assert "decimal point" not in tiles("slip", "--sg", "1.450").err

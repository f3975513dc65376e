"""Which cones a label speaks of when it speaks of food, and whether a tile was fired so."""

import pytest

from tiles.records.food_label import cones_named, is_met


@pytest.mark.parametrize(
    ("label", "cones"),
    [
        ("food safe when fired to cone 05", ("05", "05")),
        ("dinnerware safe at cone 06-04", ("06", "04")),
        ("Dinnerware safe, ^06 to ^05", ("06", "05")),
        ("safe for food between cones 5 and 6", ("5", "6")),
        ("food safe at c6", ("6", "6")),
        ("Food safe at cone 05.", ("05", "05")),
        ("fit for food, 05", ("05", "05")),
        ("food safe under a clear, cone 05½", ("05½", "05½")),
        ("food safe from cone 06 to 04", ("06", "04")),
        ("food safe, cone 5 through 6", ("5", "6")),
        ("food safe at cone 05 or hotter", ("05", "14")),
        ("food safe, 05 or above", ("05", "14")),
        ("food safe 05+", ("05", "14")),
        ("food safe at cone 05 +/- half a cone", ("05", "05")),
        ("food safe when fired to at least  cone 05", ("05", "14")),
        ("food safe, minimum cone 5", ("5", "14")),
        ("food safe if fired no cooler than cone 05", ("05", "14")),
        ("food safe at cone 06 to 04 and up", ("06", "14")),
        ("food safe at cone 6 or lower", ("022", "6")),
        ("food safe up to cone 04", ("022", "04")),
        ("food safe, not over cone 04", ("022", "04")),
        ("below 0.5 mg/l lead at cone 05", ("05", "05")),
        ("food safe at cone 05 with 10 min hold", ("05", "05")),
        ("not food safe at cone 06", None),
        ("food safe at cone 05, not at 06", None),
        ("fit for food above cone 05", None),
        ("fit for food over cone 05", None),
        ("food safe from cone 05", None),
        ("food safe, fired a little hotter than cone 05", None),
        ("food safe", None),
        ("not for food", None),
        ("passed 2 of 2 leach tests, cert. 1075", None),
        ("below 0.5 mg/l lead", None),
        ("tested 06/2021", None),
        ("food safe at cone 99", None),
    ],
)
def test_the_cones_of_a_label_are_read(label, cones):
    assert cones_named(label) == cones


def test_another_cone_or_none_does_not_meet_the_condition():
    label = "food safe when fired to cone 06 to 04"
    assert [is_met(label, cone) for cone in ("06", "05½", "04")] == [True, True, True]
    assert [is_met(label, cone) for cone in ("07", "03", "6", None)] == [False] * 4
    open_above = "food safe at cone 05 or hotter"
    assert [is_met(open_above, cone) for cone in ("06", "05", "04", "6", None)] == [
        False, True, True, True, False,
    ]  # fmt: skip
    assert is_met("food safe", None) and is_met("not for food", "05")

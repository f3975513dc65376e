"""A glaze firing aimed far above what its kiln knows is asked about.

Temperatures: cone 5 about 1186 C / 2167 F, 05 about 1031 C / 1888 F, at the medium rate.
"""

import pytest

from tiles.records.forms import FiringRecord, WitnessCone
from tiles.records.usual_target import (
    label_questions,
    said_of_confirmed,
    target_questions,
)


def fired(*cones, kiln="K", kind="glaze"):
    return [
        FiringRecord(name=f"{kiln}{kind}{n}", kiln=kiln, kind=kind, target_cone=cone)
        for n, cone in enumerate(cones)
    ]


def asked(target, others, *, kiln="k", kind="glaze"):
    record = FiringRecord(name="new", kiln=kiln, kind=kind, target_cone=target)
    return target_questions(record, others)


def test_a_target_far_above_all_firings_of_the_kiln_is_told_with_the_hottest():
    assert asked("5", fired("05", "05", "04")) == [
        "target cone 5 (about 1186 C / 2167 F) is far above cone 04 (about 1063 C / 1945 F), the "
        "hottest of 3 glaze firings of k."
    ]
    assert asked("5", fired("05", "05", "04"), kiln=None)[0].endswith(" on record.")


@pytest.mark.parametrize(
    ("target", "others"),
    [
        ("04", fired("06", "06", "06")),
        ("1", fired("06", "06", "06")),  # no slip of a zero: most slips are 4 to 6
        ("5", fired("05", "05", "5", "6")),
        ("5", fired("05", "6", "6", "6")),
        ("5", fired("05", "05")),
        ("5", fired("05", "05", "05", kind="bisque")),
        ("5", fired("05", "05", "05", kiln="other")),
        (None, fired("05", "05", "05")),
    ],
    ids=[
        "low",
        "cone 1",
        "as many hot",
        "mid range",
        "two firings",
        "bisques",
        "another kiln",
        "no target",
    ],
)
def test_what_the_kiln_may_well_be_set_for_is_not_asked_about(target, others):
    assert asked(target, others) == []


def test_a_bisque_is_not_asked_about_here_nor_a_firing_beside_itself():
    assert asked("5", fired("05", "05", "05"), kind="bisque") == []
    again = FiringRecord(name="new", kiln="K", kind="glaze", target_cone="5")
    assert asked("5", [*fired("05", "05"), again]) == []


def test_a_firing_set_for_nothing_counts_by_its_hottest_witness_cone():
    read = [{"cone": "06", "shelf": "top"}, {"cone": "04", "shelf": "low"}]
    bare = [FiringRecord(name=f"B{n}", kiln="K", witness_cones=read) for n in range(3)]
    assert "cone 04 (about" in asked("5", bare)[0]


def test_a_few_firings_of_mid_range_do_not_end_the_question():
    for others in (fired("5", *["05"] * 5), fired(*["05"] * 5, "6"), fired("05", "05", "2")):
        assert asked("5", others)
    assert asked("5", fired("5", "04", "05", "05", "6")) == [
        "target cone 5 (about 1186 C / 2167 F) is far above cone 04 (about 1063 C / 1945 F), the "
        "hottest of 3 of 5 glaze firings of k."
    ]


def test_a_cone_that_was_confirmed_for_the_kiln_is_told_and_not_asked_about_again():
    # The 5 was asked about, as five firings at 05 came before it, and its witness cone went down.
    planned = fired(*["05"] * 5, "5")
    both = [*planned[:5], planned[5].model_copy(update={"witness_cones": [WitnessCone(cone="5")]})]
    assert asked("5", both) == asked("5½", both) == []
    again = FiringRecord(name="new", kiln="K", target_cone="5")
    assert said_of_confirmed(again, both).endswith(
        "the hottest of 5 of 6 glaze firings of K; not asked again, as Kglaze5 got there."
    )
    assert said_of_confirmed(again, both[:5]) == ""
    for other in (asked("4", both), asked("6", both), asked("5", both, kiln=None)):
        assert other
    assert asked("5", [*both[:5], *fired("5", kiln="other")])
    assert asked("5", planned)  # not read yet, it may be a slip as well
    read = both[5].model_copy(update={"witness_cones": [WitnessCone(cone="05")]})
    assert asked("5", [*both[:5], read])  # its witness cone says that the 5 was a slip


@pytest.mark.parametrize(
    ("clays", "is_asked"),
    [([("4", "6")], True), ([("3", "4")], False), ([], False), ([("4", "6"), ("06", "04")], False)],
)
def test_a_hotter_cone_is_named_only_where_every_clay_in_use_stands_it(clays, is_asked):
    set_low = FiringRecord(name="F1", target_cone="05")
    told = label_questions(set_low, [("4", "6")], clays)
    assert [each.endswith("and cone 5 is not.") for each in told] == [True] * is_asked
    assert label_questions(set_low, [("06", "04"), ("4", "6")], clays) == []

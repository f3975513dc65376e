"""When a kiln began to miss its targets otherwise, and what is taken as its habit since."""

import random
from datetime import date, timedelta

import pytest

from diagnose.own_tiles.right_shelf import shelves_that_miss
from tiles.chemistry.cones import cone_at, step
from tiles.records import forms
from tiles.records.kiln_drift import periods
from tiles.records.kiln_habit import (
    habit_of,
    habit_or_why_none,
    mixed_of,
    shelf_misses,
    told_by_period,
)
from tiles.records.kiln_readings import readings

FIRST = date(2024, 1, 7)


def fired(missed, targets=None, days=7, shelves=("top", "low")):
    """A firing a week; each shelf missed its target by so many cones."""
    found = []
    for n, steps in enumerate(missed):
        target = targets[n] if targets else "05"
        steps = steps if isinstance(steps, tuple) else (steps,) * len(shelves)
        cones = [{"shelf": shelf or None, "cone": cone_at(step(target) + off)}
                 for shelf, off in zip(shelves, steps, strict=True)]  # fmt: skip
        values = {"name": f"F{n}", "kind": "glaze", "kiln": "K", "target_cone": target,
                  "fired_on": FIRST + timedelta(days * n) if days is not None else None,
                  "witness_cones": cones}  # fmt: skip
        found.append(forms.read(forms.FiringRecord, values))
    return found


def cuts(firings):
    return [len(each.read) for each in periods(readings("k", (), firings))]


def test_a_kiln_that_was_on_target_and_then_fell_short_is_told_in_two_periods():
    firings = fired([0] * 8 + [-1] * 6)
    now, before = told_by_period("k", (), firings)
    assert now[1] == "since 2024-03-03: 1 cone less than set in 6 of 6 glaze firings"
    assert before[1] == "until 2024-02-25: on target in 8 of 8 glaze firings"
    assert (now[0].since, now[0].until) == (date(2024, 3, 3), None)


def test_its_habit_is_that_since_the_last_change():
    firings = fired([-1] * 10 + [(0, 0)] * 2 + [(0, -1)] * 8)
    assert habit_of("k", (), firings) is None
    low = habit_of("k", (), firings, "low")
    assert low.said() == (
        "Shelf low of k reached 1 cone less than it was set for in 8 of 10 glaze firings since "
        "2024-03-17"
    )
    assert habit_of("k", (), firings, "top") is None
    assert mixed_of("k", (), firings, "top") is None
    assert [each.shelf for each in shelf_misses("k", (), firings)] == ["low"]
    assert habit_or_why_none("k", (), firings)[1].startswith(
        "all that was read on target in 2 of 10"
    )


def test_three_periods_are_told_newest_first_and_shelves_alike_at_once():
    shelves = ("top", "mid", "low")
    firings = fired([0] * 9 + [-1] * 7 + [(0, 0, -1)] * 9, shelves=shelves)
    assert [said for _, said in told_by_period("k", (), firings)] == [
        "since 2024-04-28: shelf low 1 cone less than set in 9 of 9 glaze firings; shelves mid and "
        "top on target in 9 of 9",
        "2024-03-10 to 2024-04-21: 1 cone less than set in 7 of 7 glaze firings",
        "until 2024-03-03: on target in 9 of 9 glaze firings",
    ]


@pytest.mark.parametrize(
    "missed",
    [[0] * 20 + [-1] * 2, [0] * 4 + [-1] * 4, [0, -1] * 12, [0] * 30, [0, 0, 1, -1, 0, -1] * 4],
    ids=["two firings", "four and four", "to and fro", "always right", "wild"],
)
def test_no_change_is_made_of_few_firings_or_of_chance(missed):
    assert cuts(fired(missed)) == [len(missed)]
    assert told_by_period("k", (), fired(missed)) == []


@pytest.mark.parametrize(
    ("missed", "days", "said"),
    [
        (
            [0] * 3 + [-1] * 3,
            7,
            "less than set in 3 (the last 3; luck alone would do that about 1 time in 10)",
        ),
        ([-1] * 3 + [0] * 3, 7, "on target in 3 of 6 glaze firings (the last 3; luck alone"),
        ([1] * 3 + [-1] * 3, 7, "1 cone less than set in 3 (the last 3; luck alone"),
        ([0] * 4 + [-1] * 4, 7, "(the last 4; luck alone would do that about 1 time in 35)"),
        ([0] * 4 + [-1] * 2, 7, ""),
        ([0, 0, -1, 0, -1, -1], 7, ""),
        ([0] * 3 + [-1] * 3, 0, ""),
        ([0] * 3 + [-1] * 3, None, ""),
        ([1, 0, 0, -1, -1, -1], 7, ""),
    ],
)
def test_what_came_last_is_told_of_too_few_firings_with_what_luck_does(missed, days, said):
    firings = fired(missed, days=days)
    told = habit_or_why_none("k", (), firings)[1]
    assert ("the last" in told) is bool(said) and said in told
    assert told_by_period("k", (), firings) == []


def test_what_came_last_is_not_told_where_one_firing_has_no_day_or_another_target():
    parted = fired([0] * 3 + [-1] * 3)
    for more in ({"fired_on": None}, {"target_cone": "06"}):
        firings = [*parted, parted[0].model_copy(update={"name": "F9", **more})]
        assert "the last" not in habit_or_why_none("k", (), firings)[1]


def test_few_kilns_that_only_miss_by_chance_are_said_to_have_changed():
    wild = [random.Random(n) for n in range(60)]
    told = [cuts(fired([rng.choice((-1, 0, 0, 1)) for _ in range(24)])) for rng in wild]
    assert sum(len(each) > 1 for each in told) <= 2


def test_a_kiln_that_misses_one_target_has_not_changed_when_that_is_fired():
    targets = ["05"] * 12 + ["6"] * 12
    assert cuts(fired([0] * 12 + [-1] * 12, targets)) == [24]
    assert cuts(fired([0] * 12 + [-1] * 12, ["05", "6"] * 12)) == [12, 12]


def test_firings_without_a_day_are_left_out_only_where_there_was_a_change():
    undated = [each.model_copy(update={"name": f"U{n}"})
               for n, each in enumerate(fired([0] * 3, days=None))]  # fmt: skip
    assert cuts([*undated, *fired([0] * 9 + [-1] * 9)]) == [9, 9]
    assert cuts([*undated, *fired([0] * 9)]) == [12]
    assert cuts(fired([0] * 9 + [-1] * 9, days=None)) == [18]


def test_firings_of_one_day_are_never_parted():
    assert cuts(fired([0] * 9 + [-1] * 9, days=0)) == [18]


def test_a_change_from_cones_on_no_shelf_to_cones_on_each_is_seen():
    before = fired([-1] * 9, shelves=("",))
    after = [each.model_copy(update={"name": f"L{n}", "fired_on": FIRST + timedelta(100 + n)})
             for n, each in enumerate(fired([0] * 9))]  # fmt: skip
    assert cuts([*before, *after]) == [9, 9]


def test_ware_is_sent_to_the_shelf_that_is_right_now():
    firings = fired([(0, -1)] * 9 + [(-1, 0)] * 7)
    tile = {"mark": "T-1", "body": "red clay", "shelf": "low"}
    records = [
        forms.TileRecord.model_validate(tile | {"mark": f"T-{n}", "firing": firing})
        for n, firing in enumerate(firings)
    ]
    assert shelves_that_miss(records[-1], records[:-1]) == {"top"}

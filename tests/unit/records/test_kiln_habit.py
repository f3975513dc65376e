"""What a kiln does in most of its firings, from the cones that were read."""

import pytest

from tiles.records import forms
from tiles.records.kiln_habit import (
    Miss,
    habit_of,
    habit_or_why_none,
    mixed_of,
    shelf_habits,
    shelf_misses,
)


def tile(mark, firing, target="05", kiln="big kiln", witness=None, reached=None, kind="glaze"):
    cones = [{"cone": witness}] if witness else []
    fired = {"name": firing, "kind": kind, "kiln": kiln, "target_cone": target,
             "witness_cones": cones}  # fmt: skip
    values = {"mark": mark, "body": "red clay", "firing": fired, "cone_reached": reached}
    return forms.read(forms.TileRecord, values)


HOT = [tile("A-1", "F1", witness="04"), tile("A-2", "F2", reached="04"),
       tile("A-3", "F3", target="06", witness="05")]  # fmt: skip


def test_a_kiln_that_always_reaches_a_cone_more_has_the_habit():
    habit = habit_of("Big kiln", HOT)
    assert (habit.cones, habit.alike, habit.read) == (1, 3, 3)
    assert habit.expected("05") == "04"
    assert habit.expected("01") == "1"
    assert habit.expected("14") is None


def test_tiles_of_one_load_are_one_firing_read_by_their_middle():
    load = [tile(f"B-{n}", "F1", reached=cone) for n, cone in enumerate(("04", "04", "03"))]
    assert habit_of("big kiln", load) is None
    assert habit_of("big kiln", [*load, *HOT[1:]]).alike == 3


@pytest.mark.parametrize(
    "records",
    [
        HOT[:2],
        [*HOT, tile("A-4", "F4", witness="05"), tile("A-5", "F5", witness="05")],
        [tile(f"C-{n}", f"F{n}", witness="05") for n in range(5)],
        [tile(f"D-{n}", f"F{n}", target=None, witness="04") for n in range(5)],
        [tile(f"E-{n}", f"F{n}", kiln="other kiln", witness="04") for n in range(5)],
        [tile(f"G-{n}", f"F{n}", kind="bisque", witness="04") for n in range(5)],
        [tile(f"H-{n}", f"F{n}") for n in range(5)],
    ],
    ids=["two", "half", "true", "no target", "another", "bisque", "unread"],
)
def test_no_habit_is_made_of_few_mixed_or_unread_firings(records):
    assert habit_of("big kiln", records) is None


def test_a_cooler_kiln_is_said_so():
    cool = [tile(f"F-{n}", f"F{n}", witness="06½") for n in range(4)]
    assert habit_of("big kiln", cool).said() == (
        "big kiln reached 1.5 cones less than it was set for in 4 of 4 glaze firings"
    )


def test_a_firing_without_tiles_is_read_by_its_witness_cones_and_counts_once():
    empty = [each.firing for each in (*HOT, tile("A-4", "F4", witness="04"))]
    assert habit_of("big kiln", HOT[:2], empty).read == 4
    unread = [each.firing for each in (HOT[0], tile("A-5", "F5"), tile("A-6", "F6"))]
    assert habit_of("big kiln", [], unread) is None


def fired(name, kiln="big kiln", kind="glaze", target=None, **cones):
    read = [{"cone": cone, "shelf": shelf} for shelf, cone in cones.items()]
    values = {"name": name, "kind": kind, "kiln": kiln, "target_cone": target,
              "witness_cones": read}  # fmt: skip
    return forms.read(forms.FiringRecord, values)


def test_a_shelf_that_is_hotter_in_most_firings_is_told_once():
    firings = [fired(f"F{n}", top="05", Bottom="04") for n in range(3)]
    firings += [fired("F4", top="6", bottom="6"), fired("F5", top="6")]
    (habit,) = shelf_habits("Big kiln", firings)
    assert habit.said() == (
        "shelf bottom reached 1 cone more than shelf top in 3 of 4 glaze firings"
    )
    assert shelf_habits("big kiln", firings[:2]) == []


def test_of_three_shelves_those_apart_from_all_others_are_told():
    even = [fired(f"F{n}", top="06", middle="05", bottom="05") for n in range(3)]
    (habit,) = shelf_habits("big kiln", even)
    assert habit.said() == (
        "shelf top reached 1 cone less than the other shelves in 3 of 3 glaze firings"
    )
    steep = [fired(f"F{n}", top="06", middle="05", bottom="03") for n in range(3)]
    assert [(each.shelf, each.cones) for each in shelf_habits("big kiln", steep)] == [
        ("bottom", 2), ("top", -1)
    ]  # fmt: skip


def test_shelves_alike_and_firings_of_another_kiln_or_bisque_give_no_habit():
    firings = [
        fired(f"{n}{kiln}{kind}", kiln, kind, top="05", bottom=bottom)
        for n in range(3)
        for kiln, kind, bottom in (("big kiln", "glaze", "05"), ("other kiln", "glaze", "04"),
                                   ("big kiln", "bisque", "04"))
    ]  # fmt: skip
    assert shelf_habits("big kiln", firings) == []


@pytest.mark.parametrize(
    ("top", "low", "cones"),
    [("05", "06", None), ("04", "05", None), ("04", "05½", None), ("04½", "06", None),
     ("04", "03", 1), ("06", "07", -1)],
    ids=["top right", "low right", "hot and cool", "cool and hot", "both hot", "both cool"],
)  # fmt: skip
def test_no_kiln_has_a_habit_that_is_only_uneven_and_hot_and_cold_are_judged_alike(top, low, cones):
    firings = [fired(f"F{n}", target="05", top=top, low=low) for n in range(4)]
    habit = habit_of("big kiln", [], firings)
    assert (habit and habit.cones) == cones
    on_top = tile("A-1", "F0").model_copy(update={"firing": firings[0], "shelf": "Top"})
    habit = habit_of("big kiln", [on_top], firings)
    assert (habit and habit.cones) == cones


def test_a_shelf_has_the_habit_of_its_own_where_its_cone_was_read_often_enough():
    firings = [fired(f"F{n}", target="05", top="05", low="06") for n in range(4)]
    assert habit_of("big kiln", [], firings, "Low").said() == (
        "Shelf Low of big kiln reached 1 cone less than it was set for in 4 of 4 glaze firings"
    )
    assert habit_of("big kiln", [], firings, "top") is None
    hot = [fired(f"F{n}", target="05", top="04", low="04") for n in range(3)]
    assert habit_of("big kiln", [], hot, "middle").said().startswith("big kiln reached 1 cone more")


def test_a_shelf_that_is_hotter_each_time_by_more_or_less_is_told_with_the_range():
    cones = [("04", "05½"), ("04½", "05½"), ("03½", "05"), ("04½", "05"), ("03", "05")]
    firings = [fired(f"F{n}", top=top, low=low) for n, (top, low) in enumerate(cones)]
    (habit,) = shelf_habits("big kiln", firings)
    assert habit.said() == (
        "shelf top reached half a cone to 2 cones more than shelf low in 5 of 5 glaze firings"
    )
    either = [*firings[:2], fired("F8", top="06", low="05"), fired("F9", top="06", low="05")]
    assert shelf_habits("big kiln", either) == []


@pytest.mark.parametrize(
    ("reached", "said"),
    [
        ([], "takes 3 glaze firings with a target and a cone read, and there are none"),
        (["05"], "takes 3 glaze firings with a target and a cone read, and there is 1"),
        (["05"] * 4, "on target in 4 of 4 glaze firings"),
        (["05", "05", "04", "06"],
         "on target in 2 of 4 glaze firings, 1 cone more than set in 1, 1 cone less than set in 1"),
    ],
)  # fmt: skip
def test_why_a_kiln_has_no_habit_is_said(reached, said):
    firings = [
        forms.FiringRecord(name=f"F{n}", kind="glaze", kiln="K", target_cone="05",
                     witness_cones=[{"cone": cone}])
        for n, cone in enumerate(reached)
    ]  # fmt: skip
    habit, why_none = habit_or_why_none("k", [], firings)
    assert habit is None
    assert why_none.endswith(said)


def test_a_kiln_that_misses_one_target_alike_each_time_is_told_by_its_targets():
    def told(*targets_and_reached):
        return habit_or_why_none("K", [], [
            forms.FiringRecord(name=f"F{n}", kind="glaze", kiln="K", target_cone=target,
                               witness_cones=[{"cone": cone}])
            for n, (target, cone) in enumerate(targets_and_reached)
        ])[1]  # fmt: skip

    assert told(("6", "5"), ("05", "05"), ("6", "5")) == (
        "1 cone less than set in 2 of 2 glaze firings for cone 6, on target in 1 of 1 for cone 05"
    )
    assert told(("6", "5"), ("05", "05"), ("6", "6")) == (
        "on target in 2 of 3 glaze firings, 1 cone less than set in 1"
    )
    assert told(("6", "5"), ("05", "05"), ("5", "4")) == (
        "on target in 1 of 3 glaze firings, 1 cone less than set in 2"
    )


def test_a_firing_is_on_target_only_where_every_shelf_was():
    def told(*cones):
        firings = [fired(f"F{n}", target="05", top=top, low=low) for n, (top, low) in
                   enumerate(cones)]  # fmt: skip
        return habit_or_why_none("big kiln", [], firings)[1]

    assert told(("05", "07"), ("05", "07"), ("05", "06"), ("05", "05")) == (
        "all that was read on target in 1 of 4 glaze firings: shelf low 2 cones less than set in "
        "2 of 4, shelf low 1 cone less than set in 1 of 4"
    )
    assert told(("04", "06"), ("04", "06"), ("04", "06")) == (
        "all that was read on target in 0 of 3 glaze firings: shelf low 1 cone less than set in "
        "3 of 3, shelf top 1 cone more than set in 3 of 3"
    )
    assert told(*[("05", "05")] * 3) == "on target in 3 of 3 glaze firings"


def test_a_cone_read_on_no_shelf_is_told_beside_the_shelves():
    firings = [
        fired("F1", target="05", top="05", low="06"),
        fired("F2", target="05", top="05", low="05"),
        forms.FiringRecord(name="F3", kind="glaze", kiln="big kiln", target_cone="05",
                           witness_cones=[{"cone": "06"}]),
    ]  # fmt: skip
    assert habit_or_why_none("big kiln", [], firings)[1] == (
        "all that was read on target in 1 of 3 glaze firings: no shelf noted: 1 cone less than set "
        "in 1 of 1, shelf low 1 cone less than set in 1 of 2 where it was read"
    )


def test_a_habit_needs_no_word_on_why_there_is_none():
    assert habit_or_why_none("big kiln", HOT) == (habit_of("big kiln", HOT), "")


def test_a_shelf_that_misses_now_and_then_is_reckoned_with_for_both_cones():
    def mixed(*lows):
        firings = [fired(f"F{n}", target="05", Top="05", Low=low) for n, low in enumerate(lows)]
        return mixed_of("Big kiln", [], firings, "low")

    half = mixed("06", "05", "06", "05", "05", "06")
    assert half.expected("05") == [(0.5, "06"), (0.5, "05")]
    assert half.expected("6") == [(0.5, "5"), (0.5, "6")]
    assert half.said() == (
        "Shelf low of Big kiln reached 1 cone less than it was set for in 3 of 6 glaze firings, "
        "and what it was set for in 3"
    )
    several = mixed("06", "06", "04", "05")
    assert several.expected("05") == [(0.5, "06"), (0.25, "04"), (0.25, "05")]
    assert several.said() == (
        "Shelf low of Big kiln reached 1 cone less than it was set for in 2 of 4 glaze firings, "
        "1 cone more than it was set for in 1, and what it was set for in 1"
    )
    assert mixed("06", "05") is None, "too few firings"
    assert mixed("06", "05", "05", "05") is None, "one miss may be a slip"
    assert mixed(*["06"] * 2, *["05"] * 7) is None, "less than one in four"


def test_the_shelves_that_missed_are_counted_by_themselves():
    firings = [fired(f"F{n}", target="05", Top="05", Low=low) for n, low in enumerate(
        ("06", "05", "06", "05"))]  # fmt: skip
    assert shelf_misses("big kiln", [], firings) == [Miss("Low", -1, 2, 4)]
    assert shelf_misses("big kiln", [], firings[:2]) == [], "too few firings"
    hot = [fired(f"F{n}", target="05", Top="04", Low="04") for n in range(4)]
    assert shelf_misses("big kiln", [], hot) == [], "the kiln missed, not a shelf"

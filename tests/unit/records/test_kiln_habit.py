"""What a kiln does in most of its firings, from the cones that were read."""

import pytest

from tiles.records import forms
from tiles.records.kiln_habit import habit_of


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

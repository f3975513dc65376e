"""What own tiles show to be in vain is proposed by no fix."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tiles.records.forms import TileRecord

CHANGE = "coats 3 -> 2"


def tile(mark, coats, firing="F1", *, failed=True, **more):
    seen = [{"defect": "crawling", "severity": "moderate"}] if failed else []
    return TileRecord.model_validate(
        {
            "mark": mark,
            "body": {"name": "red clay", "kind": "earthenware"},
            "bisque_cone": "04",
            "cone_reached": "05",
            "firing": {"name": firing},
            "areas": [{"number": 1, "layers": [{"glaze": {"name": "pond"}, "coats": coats}]}],
            "inspections": [{"inspected_on": "2024-05-01", "defects": seen}],
            **more,
        }
    )


def proposed(*others):
    """The changes of coats that are planned as trials for a tile that crawled."""
    record = tile("T-1", 3, clues={"worst_where_thick": "yes"})
    trials = [trial.tile["trial_change"] for trial in fix(record, others=others)[0].trials]
    return [change for change in trials if change.startswith("coats")]


def test_a_change_of_coats_is_proposed_where_no_tile_speaks_against_it():
    assert proposed() == [CHANGE]


@pytest.mark.parametrize("mark", ["T-2", "t-2"])
def test_what_a_tile_of_the_same_firing_made_in_vain_is_not(mark):
    assert proposed(tile(mark, 2, "f1")) == []


def test_one_that_failed_beside_many_sound_ones_of_its_firing_speaks_against_nothing():
    sound = [tile(f"S-{n}", 2, failed=False) for n in range(9)]
    assert proposed(tile("T-2", 2), *sound) == [CHANGE]
    assert proposed(tile("T-2", 2), tile("T-3", 2), tile("T-4", 2), sound[0]) == []


def test_nor_what_most_tiles_of_other_firings_made_in_vain():
    others = [tile(f"T-{n}", 2, f"F{n}") for n in (2, 3, 4)]
    assert proposed(*others[:2]) == [CHANGE]
    assert proposed(*others) == []
    assert proposed(*others, *(tile(f"S-{n}", 2, f"F{n}", failed=False) for n in (2, 3))) == [
        CHANGE
    ]


def test_a_tile_made_otherwise_speaks_against_nothing():
    assert proposed(tile("T-2", 1)) == [CHANGE]
    assert proposed(tile("T-2", 2, bisque_cone="06")) == [CHANGE]


@pytest.mark.parametrize(("looks", "is_planned"), [([True], False), ([True, False], True)])
def test_another_clay_on_which_all_own_tiles_failed_is_planned_by_neither_fix_nor_next(
    looks, is_planned
):
    white = {"name": "white clay", "kind": "earthenware", "cone_low": "06", "cone_high": "03"}
    crazed = [{"defect": "crazing"}]
    look = {"inspected_on": "2024-05-01", "defects": crazed}
    record = tile("T-1", 3, inspections=[look])
    others = [
        tile(f"W-{at}", 3, f"W{at}", body=white,
             inspections=[look | {"defects": crazed if failed else []}])
        for at, failed in enumerate(looks)
    ]  # fmt: skip
    bodies, change = [others[0].body], "body red clay -> white clay"
    planned = [each.change for each in fix(record, bodies=bodies, others=others)[0].trials]
    found = next_tiles(why(record, None, others)[0], Owned(bodies), others=others)
    assert (change in planned) is is_planned
    assert any(each.startswith(change) for each in found.made) is not is_planned


def test_the_tile_itself_does_not_count():
    assert proposed(tile("T-1", 2)) == [CHANGE]

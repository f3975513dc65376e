"""Faults that come months later: a tile looked at for the last time at unloading is no proof."""

import pytest

from diagnose.comparing.comparison import compare
from diagnose.comparing.over_tiles import over_tiles
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.own_tiles.bodies import sound_body
from diagnose.own_tiles.late_looks import late_looks, later_looks
from diagnose.own_tiles.say import your_tiles_say
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OWNED
from tiles.cli.next_text import look_again
from tiles.records import forms

UNLOADED, LATE = "2025-01-03", "2025-07-01"


def tile(number, *looks, body="red", defect="crazing", **more):
    """A tile fired on New Year's Day; a look with an ``!`` saw the fault."""
    seen = [
        {"inspected_on": day.rstrip("!"), "defects": [{"defect": defect}] * day.endswith("!")}
        for day in looks
    ]
    values = {
        "mark": f"T-{number}",
        "body": {"name": body, "kind": "earthenware", "cone_low": "06", "cone_high": "02"},
        "firing": {"name": "F1", "fired_on": "2025-01-01", "target_cone": "05"},
        "cone_reached": "05",
        "bisque_cone": "06",
        "areas": [{"number": 1, "layers": [{"glaze": {"name": "thaw", "role": "glaze",
                   "kind": "jar", "cone_low": "06", "cone_high": "04"}, "coats": 2}]}],
        "inspections": seen,
    }  # fmt: skip
    return forms.TileRecord.model_validate(values | more)


def late_crazing(defect="crazing"):
    """Three of red clay crazed by July, one did not; of white clay nobody looked again."""
    failed = [tile(n, UNLOADED, f"{LATE}!", defect=defect) for n in range(3)]
    red = [*failed, tile(3, UNLOADED, LATE), *(tile(n, UNLOADED) for n in range(4, 8))]
    return red, [tile(n, UNLOADED, body="white") for n in range(10, 18)]


def areas(records):
    return [(each, each.areas[0]) for each in records]


def test_a_look_must_be_about_as_late_as_the_fault_was_seen():
    red, white = late_crazing()
    late = late_looks(areas(red), "crazing")
    assert (late.seen_after, late.within, late.look_after_days("red")) == (181, "90", 181)
    assert [late.tells(*each) for each in areas(red)] == [True] * 4 + [False] * 4
    assert not any(late.tells(*each) for each in areas(white))


@pytest.mark.parametrize("looks", [(UNLOADED, LATE), (LATE, UNLOADED)])
def test_a_tile_counts_by_the_first_of_its_areas_that_showed_it(looks):
    looks = [
        {"inspected_on": day, "defects": [{"defect": "crazing", "area": area}]}
        for area, day in enumerate(looks, start=1)
    ]
    record = tile(1, areas=[{"number": 1}, {"number": 2}], inspections=looks)
    assert late_looks([(record, each) for each in record.areas], "crazing").seen_after == 0


@pytest.mark.parametrize("looks", [(f"{UNLOADED}!",), (f"{UNLOADED}!", LATE)])
def test_a_fault_that_is_there_at_unloading_counts_every_look(looks):
    late = late_looks(areas([tile(1, *looks), tile(2, UNLOADED)]), "crazing")
    assert (late.seen_after, late.on) == (0, {})
    assert late.tells(*areas([tile(3, UNLOADED)])[0])


def test_other_faults_do_not_come_late():
    red, _ = late_crazing("crawling")
    assert late_looks(areas(red), "crawling").seen_after == 0


def late_on_white():
    """On red clay it is there at once; on white it came late on those that were looked at again."""
    red = [tile(n, f"{UNLOADED}!") for n in range(8)] + [tile(n, UNLOADED) for n in range(8, 20)]
    white = [tile(30 + n, UNLOADED, LATE + "!" * (n < 4), body="White") for n in range(5)]
    return red, [*white, *(tile(40 + n, UNLOADED, body="white") for n in range(25))]


def test_what_is_there_at_once_on_one_clay_may_come_late_on_another():
    red, white = late_on_white()
    late = late_looks(areas([*red, *white]), "crazing")
    assert (late.seen_after, late.on) == (0, {"White": 181})
    assert (late.look_after_days("white"), late.look_after_days("red")) == (181, 90)
    assert all(late.tells(*each) for each in areas(red))
    assert [late.tells(*each) for each in areas(white)] == [True] * 5 + [False] * 25
    assert late.left_out(25) == (
        "Half of the crazing on White was seen by 181 days after the firing: 25 sound tiles, "
        "last looked at within 90 days, are left out."
    )


def under_ash(record):
    """The same under another glaze."""
    record.areas[0].layers[0].glaze.name = "ash"
    return record


@pytest.mark.parametrize("is_dated", [True, False])
def test_one_tile_of_a_clay_that_has_other_glazes_is_no_rule_for_it(is_dated):
    """On red it is there at once; of white one tile showed it late, as of one glaze may well be."""
    red = [tile(n, f"{UNLOADED}!") for n in range(4)]
    fired = {} if is_dated else {"firing": {"name": "F2"}}
    late = tile(30, UNLOADED, f"{LATE}!", body="white", **fired)
    white = [late, *(tile(40 + n, UNLOADED, body="white") for n in range(5))]
    found = late_looks(areas([*red, *white]), "crazing")
    assert found.on == {"white": 181 if is_dated else 179} and not found.alone
    assert found.left_out(5).startswith("The only crazing on white was seen by")
    white[-1] = under_ash(white[-1])
    found = late_looks(areas([*red, *white]), "crazing")
    assert not found.on and all(found.tells(*each) for each in areas(white))
    when = "181 days after the firing" if is_dated else "179 days after its first look"
    assert found.left_out(0) == (
        f"On white T-30 alone crazed late, seen {when}: one tile, no rule for the clay."
    )
    assert found.left_out(0) in over_tiles([*red, *white], None, "crazing").say
    second = tile(31, UNLOADED, f"{LATE}!", body="white")
    found = late_looks(areas([*red, *white, second]), "crazing")
    assert list(found.on) == ["white"] and not found.alone and found.only is None


def test_later_on_one_clay_than_on_most_is_said_of_both():
    red, _ = late_crazing()
    buff = [tile(50 + n, UNLOADED, "2025-12-20!", body="buff") for n in range(2)]
    late = late_looks(areas([*red, *buff]), "crazing")
    assert (late.seen_after, late.on, late.within) == (181, {"buff": 353}, "90 or 176")
    assert late.said == (
        "half of the crazing was seen by 181 days after the firing, on buff by 353 days"
    )


def by_day_4(*more):
    """Three of red clay that had it at their first look, and others."""
    return late_looks(areas([*(tile(n, "2025-01-05!") for n in range(3)), *more]), "crazing")


def test_a_first_look_tells_by_when_it_came_and_not_when_to_look_again():
    found = by_day_4()
    assert (found.seen_after, found.look_after_days("red"), found.came_between("red")) == (
        4,
        90,
        "",
    )
    assert found.when_said("red") == (
        "on your tiles it was there by the first look, 4 days after the firing: it may come later, "
        "look again 90 days after it"
    )


def test_the_latest_tile_with_a_clean_look_tells_between_which_days_it_came():
    found = by_day_4(tile(9, "2025-01-05", "2025-02-02!"), tile(8, "2025-01-05", "2025-01-08!"))
    assert (found.seen_after, found.look_after_days("red")) == (4, 32)
    between = "on T-9 it came between 4 and 32 days after the firing"
    assert found.came_between("red") == found.came_between("white") == between
    assert f"by the first look, 4 days after the firing; {between}: it may" in found.when_said(
        "red"
    )
    soon = by_day_4(tile(8, "2025-01-05", "2025-01-08!"))
    assert soon.look_after_days("red") == 90  # two looks in one week tell of no later one


def test_a_difference_that_early_looks_turn_round_is_none():
    red, white = late_on_white()
    found = compare([*red, *white], "body", defect="crazing").outcomes[0]
    assert (found.failed, found.tiles, found.p_value) == ([8, 4], [20, 5], 1.0)
    assert found.say.startswith("crazing: in which it comes more often cannot be told yet.")
    assert found.say.endswith("With them it turns round: 8 of 20 and 4 of 30.")
    more = [tile(60 + n, UNLOADED, f"{LATE}!", body="white") for n in range(3)]
    told = over_tiles([*red, *white, *more], "thaw", "crazing")
    assert (told.failing, told.sound, told.early) == (15, 13, 25)
    (body,) = [each for each in told.differences if each.name == "body"]
    assert body.p_value < 0.05 and body.p_value_of_best == 1.0


def test_a_chance_of_one_by_itself_is_no_turn():
    told = [
        tile(n, UNLOADED, LATE + "!" * (n % 2), body="red" if n < 10 else "white")
        for n in range(20)
    ]
    found = compare([*told, tile(30, UNLOADED)], "body", defect="crazing").outcomes[0]
    assert (found.failed, found.tiles, found.early, found.p_value) == ([5, 5], [10, 10], 1, 1.0)
    assert found.say.startswith("crazing: no difference")


def test_no_clay_is_called_sound_whose_tiles_nobody_looked_at_again():
    red, white = late_crazing()
    assert sound_body([*red, *white], red[0], 1, "crazing") is None
    looked_again = [tile(20 + n, UNLOADED, LATE, body="white") for n in range(8)]
    found = sound_body([*red, *white, *looked_again], red[0], 1, "crazing")
    assert (found.name, found.tiles, found.here_failed, found.here_tiles) == ("white", 8, 3, 4)
    assert found.until == ""
    assert "(3 of 4 on red; 12 sound so far, looked at too early to tell, not counted)" in found.say


@pytest.mark.parametrize(("here", "there"), [("?", "white"), ("red", "?"), ("red", "white")])
def test_a_clay_that_its_name_does_not_tell_is_held_against_no_other(here, there):
    failed = tile(1, f"{UNLOADED}!", defect="crawling", body=here)
    sound = [tile(n, UNLOADED, defect="crawling", body=there) for n in range(10, 14)]
    found = sound_body([failed, *sound], failed, 1, "crawling")
    assert (found is None) is ("?" in (here, there))
    told = "the one tile of thaw on red crawled, of 4 on white none."
    assert found is None or found.count == told


def test_a_clay_sound_at_unloading_is_told_with_how_late_it_was_looked_at():
    red = [tile(n, f"{UNLOADED}!") for n in range(4)]
    white = [tile(n, UNLOADED, body="white") for n in range(10, 18)]
    said = sound_body([*red, *white], red[0], 1, "crazing").say
    assert "none of your 8 tiles of thaw crazed there, none looked at later than 2 days" in said


def test_how_many_were_looked_at_again_is_told():
    early, late = [tile(1, UNLOADED)] * 3, [tile(2, LATE)] * 2
    assert later_looks(late) == later_looks([]) == ""
    assert later_looks(early) == "none looked at later than 2 days after the firing"
    assert later_looks(early + late).startswith("2 of them looked at 90 days after")


def test_the_counts_of_one_glaze_leave_the_early_ones_out_and_say_so():
    red, white = late_crazing()
    found = over_tiles([*red, *white], "thaw", "crazing")
    assert (found.failing, found.sound, found.early) == (3, 1, 12)
    assert "Crazing on 3 of 4 tiles of thaw that were looked at late enough." in found.say
    assert "12 sound tiles, last looked at within 90 days, are left out." in found.say
    assert your_tiles_say([*red, *white], red[0], 1, "crazing").areas == 3


def test_a_comparison_leaves_them_out_of_that_fault_only():
    red, white = late_crazing()
    white[0].inspections[0].defects.append(forms.DefectSeen(defect="specks"))
    found = {each.defect: each for each in compare([*red, *white], "body").outcomes}
    crazing, specks = found["crazing"], found["specks"]
    assert (crazing.failed, crazing.tiles, crazing.early) == ([3, 0], [4, 0], 12)
    assert "12 sound tiles, last looked at within 90 days, are left out." in crazing.say
    assert (specks.failed, specks.tiles, specks.early) == ([0, 1], [8, 8], 0)


def test_a_clay_whose_tiles_nobody_looked_at_again_does_not_silence_the_others():
    red, white = late_crazing()
    red += [tile(n, f"{LATE}!") for n in range(20, 24)]
    buff = [tile(n, LATE, body="buff") for n in range(30, 39)]
    (crazing,) = compare([*red, *white, *buff], "body").outcomes
    assert (crazing.failed, crazing.tiles) == ([0, 7, 0], [9, 8, 0])
    assert crazing.say.startswith("crazing: more often with red; ")
    assert "No tile of white was looked at late enough to compare crazing." in crazing.say
    (alone,) = compare([*red, *buff], "body").outcomes
    assert crazing.p_value == alone.p_value


def test_a_clay_whose_tiles_nobody_looked_at_again_is_not_compared():
    red, white = late_crazing()
    (crazing,) = [each for each in compare([*red, *white], "body").outcomes]
    assert crazing.p_value is None
    assert crazing.say.startswith("No tile of white was looked at late enough to compare crazing.")


def test_who_was_looked_at_again_makes_no_difference_between_clays():
    """The same on both clays, 6 of 12 at once and 7 more later; only one was looked at again."""
    both = []
    for body, first in (("red", 0), ("white", 100)):
        both += [tile(first + n, f"{UNLOADED}!", body=body) for n in range(6)]
        both += [tile(first + n, UNLOADED, f"{LATE}!", body=body) for n in range(6, 13)]
        sound = (UNLOADED,) if body == "red" else (UNLOADED, LATE)
        both += [tile(first + n, *sound, body=body) for n in range(13, 19)]
    (crazing,) = compare(both, "body").outcomes
    assert (crazing.failed, crazing.tiles) == ([13, 13], [13, 19])
    assert crazing.p_value == 1.0
    said = "are left out. The chance counts them in as sound: 13 of 19 and 13 of 19."
    assert crazing.say.endswith(said)
    pooled = over_tiles(both, "thaw", "crazing")
    (body,) = [each for each in pooled.differences if each.name == "body"]
    assert (body.with_failed, body.with_all, body.p_value_of_best) == (13, 13, 1.0)
    assert "13 of 13 tiles crazed; body white: 13 of 19; with the early looks 13 of 19 and" in (
        body.say
    )
    assert "body" not in [
        each.measure for each in your_tiles_say(both, both[0], 1, "crazing").lessons
    ]


def test_next_says_when_to_look_again_and_counts_no_early_tile():
    red, white = late_crazing()
    diagnosis = why(red[0], "crazing", [*red[1:], *white])[0]
    found = next_tiles(diagnosis, OWNED, others=[*red, *white])
    assert found.look_after_days == 181
    between = "on T-2 it came between 2 and 181 days after the firing"
    assert f"look again 181 days after the firing, in slanting light ({between})." in look_again(
        found
    )
    assert all(each.like.tiles <= 3 for each in found.tiles)


def test_a_trial_without_the_fault_so_far_moves_nothing():
    red, _ = late_crazing()
    trial = {"trial_of": "T-0", "trial_defect": "crazing", "trial_change": "bisque cone 06 -> 04",
             "bisque_cone": "04"}  # fmt: skip

    def tried(*looks):
        (told,) = why(red[0], "crazing", [*red[1:], tile(30, *looks, **trial)])[0].case.tried
        return told

    early, late = tried(UNLOADED), tried(UNLOADED, LATE)
    assert (early.is_early, early.moves) == (True, {})
    assert (late.is_early, bool(late.moves)) == (False, True)

"""Where hardly a sound tile was looked at late, all are compared as they were at the first look."""

import pytest

from diagnose.comparing.comparison import compare
from diagnose.comparing.of_studio import clear_counts
from diagnose.comparing.over_tiles import over_tiles
from diagnose.next_tiles.odds import Like, inspected, like
from diagnose.next_tiles.open_faults import open_faults
from diagnose.own_tiles.bodies import sound_body
from diagnose.own_tiles.late_looks import late_looks
from diagnose.own_tiles.same_age import same_age
from diagnose.own_tiles.say import your_tiles_say
from tests.unit.diagnose.test_late_looks import LATE, areas, tile
from tiles.cli.next_text import like_told
from tiles.records.forms import BatchRecord

WEEK, DAY_2, DAY_20 = "2025-01-08", "2025-01-03", "2025-01-21"


def by_clay():
    """White crazed, some by the first week, more by July; red was looked at in that week alone."""
    white = [tile(n, f"{WEEK}!", body="white") for n in range(5)]
    white += [tile(n, WEEK, f"{LATE}!", body="white") for n in range(5, 12)]
    white += [tile(n, WEEK, body="white") for n in range(12, 18)]
    return white, [tile(n, WEEK) for n in range(20, 50)]


def test_late_failures_are_held_against_no_early_look():
    white, red = by_clay()
    at = same_age(areas([*white, *red, tile(99)]), "crazing")  # the last is not fired yet
    assert (at.from_day, at.by_day) == (4, 14)
    found = at.by_mark(areas([*white, *red]))
    assert (sum(found.values()), len(found)) == (5, 48)
    assert at.when == "by the first look, within 14 days"


@pytest.mark.parametrize(
    ("record", "tells"),
    [
        (tile(60, f"{WEEK}!"), True),
        (tile(60, f"{DAY_20}!"), False),  # it may have been there before
        (tile(60, DAY_2), False),  # it may have come in that week
        (tile(60, f"{DAY_2}!"), False),  # as that would have been left out
        (tile(60, DAY_20), False),  # as those that failed by then are
        (tile(60, WEEK, f"{DAY_20}!"), True),
        (tile(60, DAY_20, WEEK), True),  # whichever was stored first
        (tile(60, DAY_2, f"{LATE}!"), False),
        (tile(60, WEEK, firing={"name": "F1", "target_cone": "05"}), False),  # at whatever age
    ],
)
def test_a_tile_tells_by_a_look_at_about_that_age(record, tells):
    white, red = by_clay()
    at = same_age(areas([*white, *red]), "crazing")
    assert at.by_day == 14
    assert at.tells(record, record.areas[0]) is tells


@pytest.mark.parametrize("day", [DAY_2, DAY_20])
def test_a_clay_looked_at_sooner_or_later_than_the_others_is_not_compared(day):
    """Two crazed by then: kept without the sound ones, or these without them, it would mislead."""
    white, red = by_clay()
    buff = [tile(60 + n, f"{day}{'!' * (n < 2)}", body="buff") for n in range(12)]
    (crazing,) = compare([*white, *red, *buff], "body").outcomes
    assert (crazing.failed, crazing.tiles, crazing.early) == ([0, 0, 5], [0, 30, 18], 12)
    assert "No tile of buff was first looked at about then to compare crazing." in crazing.say
    assert "12 were first looked at much earlier or later." in crazing.say


def test_first_looks_within_days_of_the_unloading_are_of_one_age():
    white = [tile(n, f"2025-01-0{1 + n % 4}!", body="white") for n in range(6)]
    red = [tile(20 + n, f"2025-01-0{1 + n % 4}") for n in range(12)]
    later = [tile(40 + n, "2025-01-04", f"{LATE}!") for n in range(8)]
    at = same_age(areas([*white, *red, *later]), "crazing")
    assert (at.from_day, at.by_day) == (0, 4) and len(at.by_mark(areas(red))) == 12


def test_looks_that_tell_late_go_before_those_at_first():
    white, red = by_clay()
    again = [tile(n, WEEK, LATE) for n in range(20, 23)]
    two, three = [*again[:2], *red[3:]], [*again, *red[3:]]
    assert same_age(areas([*white, *two]), "crazing").by_day == 14
    assert same_age(areas([*white, *three]), "crazing").by_day == 0
    other = [tile(n, WEEK, LATE, body="white") for n in range(70, 73)]
    records = [*white, *other, *red]
    assert same_age(areas(records), "crazing").by_day == 0
    by_body = same_age(areas(records), "crazing", lambda record, _area: record.body.name)
    assert by_body.by_day == 14, "of two clays one has no late look"
    late = same_age(
        areas([*white, *other, *three]), "crazing", lambda record, _area: _white_or_none(record)
    )
    assert late.by_day == 14, "those of neither side are no side"


def _white_or_none(record):
    return record.body.name if record.body.name == "white" else None


def test_too_few_that_failed_at_first_are_no_side_either():
    white, red = by_clay()
    assert same_age(areas([*white[3:], *red]), "crazing").by_day == 0
    assert same_age(areas([*white, *red]), "crawling").by_day == 0


def test_every_count_compares_alike_with_alike_and_says_when():
    white, red = by_clay()
    records = [*white, *red]
    found = over_tiles(records, "thaw", "crazing")
    assert (found.failing, found.sound, found.early, found.ever) == (5, 43, 0, 12)
    assert found.say.startswith(
        "Crazing on 12 of 48 tiles of thaw that were looked at, by the first look on 5 of 48. All "
        "are compared as they were by the first look, within 14 days of the firing: hardly a sound "
        "one was looked at late enough (half of the crazing was seen by 181 days after the firing; "
        "a look tells from 90 days on). Body red: 0 of 30 tiles crazed; body white: 5 of 18 (chance"
    )
    assert found.causes[0].tiles == 12, "the causes are of all that ever crazed"
    (crazing,) = compare(records, "body").outcomes
    assert (crazing.failed, crazing.tiles, crazing.by_day) == ([0, 5], [30, 18], 14)
    assert crazing.p_value < 0.01
    assert "by the first look, within 14 days of the firing" in crazing.say
    assert (
        clear_counts(records, "crazing")
        .counts[0]
        .say.endswith(" (by the first look, within 14 days).")
    )
    assert your_tiles_say(records, white[0], 1, "crazing").areas == 47
    body = sound_body(records, white[0], 1, "crazing")
    assert body.say == (
        "Use it on red: none of your 30 tiles of thaw crazed there, none looked at later than 7 "
        "days after the firing (5 of 18 on white by the first look, within 14 days)."
    )
    (fault,) = open_faults(records)
    assert (len(fault.failed), fault.tiles, fault.early) == (12, 12, 36)


def test_a_clay_on_which_it_came_later_is_not_called_sound():
    white, red = by_clay()
    red[0] = tile(20, WEEK, f"{LATE}!")
    assert same_age(areas([*white, *red]), "crazing").by_day == 14
    assert sound_body([*white, *red], white[0], 1, "crazing") is None


@pytest.mark.parametrize(
    ("later", "is_told"), [((WEEK,), True), ((WEEK, f"{LATE}!"), False), ((f"{LATE}!",), False)]
)
def test_a_batch_of_which_one_failed_later_is_not_told_as_sound(later, is_told):
    """Also where that one was first looked at so late that it is not compared."""

    def of_batch(number, name, *looks):
        record = tile(number, *looks)
        record.areas[0].layers[0].batch = BatchRecord(name=name)
        return record

    old = [of_batch(n, "B1", f"{WEEK}!") for n in range(20)]
    old += [of_batch(n, "B1", WEEK, f"{LATE}!") for n in range(20, 60)]
    new = [of_batch(n, "B2", WEEK) for n in range(60, 90)]
    records = [*old, *new, of_batch(99, "B2", *later)]
    assert same_age(areas(records), "crazing").by_day == 14
    (batch,) = (
        each
        for each in your_tiles_say(records, old[0], 1, "crazing").lessons
        if each.measure == "batch"
    )
    assert batch.lift > 0 and bool(batch.sound_on) is is_told


def test_a_sound_tile_looked_at_early_counts_as_far_as_the_fault_was_seen_by_then():
    white, red = by_clay()
    late = late_looks(areas([*white, *red]), "crazing")
    made = like(inspected([*white, *red], late), tile(90), 1, "crazing", "")
    assert (made.failed, made.tiles, made.early) == (0, 0, 30)
    assert made.worth == pytest.approx(30 * 5 / 12)
    assert made.chance(0.85) == pytest.approx(2 * 0.85 / (30 * 5 / 12 + 2))


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (Like(1, 1, early=1), "; your one tile like it did, one more is sound so far, looked at"),
        (Like(2, 3, early=8), "; 2 of your 3 tiles like it did, 8 more are sound so far, looked"),
        (Like(0, 0, "x on y", 25), "; 25 tiles of x on y are sound so far, looked at early"),
        (Like(), ""),
    ],
)
def test_next_names_the_tiles_that_are_sound_so_far(made, said):
    assert like_told(made).startswith(said)

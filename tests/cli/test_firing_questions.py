"""A firing that is added or changed is held against its target and the tiles in it."""

import json
from datetime import date, timedelta

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown


@pytest.fixture
def loaded(sample, tiles):
    """A low-fire tile, looked at, in a firing of its own."""
    assert tiles("firing", "add", "W1", "--target-cone", "05", "--fired-on", "2026-01-10").code == 0
    ran = tiles("log", "--mark", "Q-1", "--body", "red earthenware", "--glaze", "pond green",
                "--firing", "W1", "--shelf", "top", "--clean",
                "--inspected-on", "2026-01-12")  # fmt: skip
    assert ran.code == 0, ran.err
    return sample


def test_a_witness_cone_far_from_the_target_is_questioned(sample, tiles):
    given = ("firing", "add", "W2", "--target-cone", "05", "--witness-cone", "5")
    assert_one_line_error(tiles(*given), "witness cone 5", "1186 C", "1031 C")
    assert tiles("firing", "show", "W2").code == 1
    assert tiles(*given, "--yes").code == 0


def test_a_peak_far_from_the_target_is_questioned(sample, tiles):
    given = ("firing", "add", "W2", "--target-cone", "05")
    assert_one_line_error(tiles(*given, "--peak-c", "1186"), "peak 1186 C / 2167 F", "1031 C")
    assert tiles(*given, "--peak-c", "1040").code == 0
    change = ("firing", "change", "W2", "--peak-c", "1186")
    assert_one_line_error(tiles(*change), "the target")
    assert tiles(*change, "--yes").code == 0
    assert tiles("firing", "change", "W2", "--remark", "the mix-up").code == 0
    ran = tiles("log", "--mark", "Q-2", "--body", "red earthenware", "--firing", "W2")
    assert (ran.code, ran.err) == (0, "")


def test_a_day_to_come_is_asked_about_once_a_cone_is_read(sample, tiles):
    to_come = date.today() + timedelta(days=30)
    planned = ("firing", "add", "W2", "--target-cone", "05", "--fired-on", str(to_come))
    assert tiles(*planned).code == 0
    change = ("firing", "change", "W2", "--witness-cone", "05")
    said = f"firing W2: fired on {to_come}, a day to come, but its witness cone is read already."
    assert_one_line_error(tiles(*change), said, "Try: the day it was fired, or --yes")
    assert tiles(*change, "--yes").code == 0
    assert tiles("firing", "change", "W2", "--remark", "so").code == 0
    body = ("--body", "red earthenware", "--firing", "W2")
    assert tiles("log", "--mark", "Q-7", *body).code == 0
    assert "tiles firing change W2 --fired-on YYYY-MM-DD" in tiles("find", "--doubtful").out
    far = ("firing", "add", "W3", "--fired-on", str(to_come + timedelta(days=400)))
    assert_one_line_error(tiles(*far), "a day to come by more than a year")


def test_a_day_may_be_typed_as_a_letter_has_it_and_is_told(sample, tiles):
    day = ("firing", "add", "W2", "--fired-on")
    for wrong in ("5/11/2025", "31.02.2026", "05.11.25"):
        told = "a day is year-month-day, such as 2026-03-01"
        assert_one_line_error(tiles(*day, wrong), f"'{wrong}'", told)
    ran = tiles(*day, "05.11.2025")
    assert (ran.code, ran.err) == (0, "05.11.2025 is read as 5 November 2025.\n")
    assert "2025-11-05" in tiles("firing", "show", "W2").out
    assert tiles("firing", "change", "W2", "--fired-on", "6 Nov 2025").code == 0
    assert "2025-11-06" in tiles("firing", "show", "W2").out
    assert tiles("firing", "change", "W2", "--fired-on", "").code == 0
    assert "2025" not in tiles("firing", "show", "W2").out
    assert tiles("find", "--since", "05.11.2025", "--until", "1 January 2030").code == 0


def test_a_peak_alone_is_held_against_the_labels(sample, tiles):
    assert tiles("firing", "add", "P1", "--peak-c", "1040").code == 0
    log = ("log", "--mark", "Q-3", "--body", "red earthenware", "--firing", "P1", "--clean")
    ran = tiles(*log, "--glaze", "mid clear")
    assert_one_line_error(ran, "Q-3: peak 1040 C / 1904 F of P1 is far below cone 5", "mid clear")
    assert tiles(*log, "--glaze", "pond green").code == 0
    change = ("firing", "change", "P1", "--peak-c", "1186")
    assert_one_line_error(tiles(*change), "firing P1 holds Q-3: peak 1186 C", "the right peak")
    assert tiles(*change, "--yes").code == 0


def test_every_question_of_a_firing_is_asked_at_once(loaded, tiles):
    unlikely = ("--witness-cone", "5", "--peak-c", "1300")
    ran = tiles("firing", "add", "W2", "--target-cone", "05", *unlikely)
    assert_one_line_error(ran, "firing W2: witness cone 5", "peak 1300 C", "the target.")
    ran = tiles("firing", "change", "W1", *unlikely)
    assert_one_line_error(ran, "firing W1: witness cone 5", "peak 1300 C", "It holds Q-1: cone")


def test_what_was_confirmed_of_a_firing_once_is_not_asked_again(loaded, tiles):
    assert tiles("firing", "change", "W1", "--peak-c", "1300", "--yes").code == 0
    assert tiles("firing", "change", "W1", "--witness-cone", "05@top").code == 0
    assert_one_line_error(tiles("firing", "change", "W1", "--peak-c", "1310"), "peak 1310 C")
    assert_one_line_error(tiles("firing", "change", "W1", "--target-cone", "06"), "cone 06")


@pytest.mark.parametrize("change", [("--witness-cone", "5"), ("--target-cone", "5")])
def test_a_changed_cone_is_held_against_the_tiles_in_the_firing(loaded, tiles, change):
    before = shown(tiles, "Q-1")
    assert_one_line_error(tiles("firing", "change", "W1", *change), "W1")
    assert shown(tiles, "Q-1") == before
    assert tiles("firing", "change", "W1", *change, "--yes").code == 0
    # What was confirmed once is not asked again.
    assert tiles("firing", "change", "W1", "--remark", "the mix-up").code == 0


def test_a_target_that_suits_no_tile_names_the_marks(loaded, tiles):
    assert_one_line_error(tiles("firing", "change", "W1", "--target-cone", "6"), "Q-1")


def test_a_firing_day_after_its_inspections_is_refused(loaded, tiles):
    ran = tiles("firing", "change", "W1", "--fired-on", "2026-02-01")
    assert_one_line_error(ran, "firing W1", "Q-1")
    assert tiles("change", "Q-1", "--note", "still open to change").code == 0


def test_a_shelf_is_the_same_whatever_its_capitals(loaded, tiles):
    assert tiles("firing", "change", "W1", "--witness-cone", "05@Top").code == 0
    assert shown(tiles, "Q-1")["derived"]["cone_reached"] == "05"
    assert "Q-1" in tiles("find", "--firing", "W1", "--cone", "05").out
    both = ("--witness-cone", "05@Top", "--witness-cone", "04@top")
    assert_one_line_error(tiles("firing", "change", "W1", *both), "two witness cone")


def test_a_shelf_is_not_read_and_taken_off_at_once(loaded, tiles):
    assert tiles("firing", "change", "W1", "--witness-cone", "05@Top").code == 0
    before = all_rows(loaded)
    both = ("--witness-cone", "04@Top", "--witness-cone", "@top")
    ran = tiles("firing", "change", "W1", *both)
    assert_one_line_error(ran, "shelf 'top' is read and taken off at once")
    assert all_rows(loaded) == before
    other = ("--witness-cone", "04@low", "--witness-cone", "@top")
    assert tiles("firing", "change", "W1", *other).code == 0


def test_a_path_with_a_question_mark_is_refused(sample, tiles, tmp_path):
    assert_one_line_error(tiles("find", "--db", tmp_path / "what?.db"), "question mark")
    assert not list(tmp_path.glob("what*"))


def test_a_witness_cone_read_later_leaves_no_shelf_out_in_silence(loaded, tiles):
    ran = tiles("firing", "change", "W1", "--witness-cone", "05@tip")
    assert ran.code == 0
    assert "shelf 'top', only for tip" in ran.err and "Q-1" in ran.err
    assert tiles("firing", "change", "W1", "--witness-cone", "05@top").err == ""


def test_log_notes_a_glaze_and_a_clay_that_mature_far_apart_where_no_firing_tells(sample, tiles):
    log = ("log", "--body", "red earthenware", "--glaze", "mid clear", "--mark")
    assert "Note: glaze 'mid clear' (cone 5 to 6) and body 'red" in tiles(*log, "Q-1").err
    assert tiles("firing", "add", "P1", "--target-cone", "05").code == 0
    assert "Note" not in tiles(*log, "Q-2", "--firing", "P1", "--yes").err


def test_a_bisque_of_cone_4_is_asked_about_before_it_or_a_tile_of_it_is_stored(sample, tiles):
    firing = ("firing", "add", "BQ3", "--kind", "bisque", "--target-cone", "4")
    assert_one_line_error(tiles(*firing), "firing BQ3: target cone 4", "bisque (common practice)")
    log = ("log", "--body", "buff stoneware", "--mark", "Q-1")
    assert_one_line_error(tiles(*log, "--bisque-cone", "6"), "bisque cone 06 (^06 in a sheet)")
    assert tiles(*firing, "--yes").code == 0
    # High bisque is real: its firing was asked about once, and each tile is not asked again.
    assert tiles(*log, "--bisque-firing", "BQ3").code == 0
    assert tiles("firing", "change", "BQ3", "--remark", "to be glazed at 05").code == 0


def test_a_firing_of_cone_5_in_a_kiln_of_low_fire_is_asked_about(sample, tiles):
    assert tiles("kiln", "add", "small kiln").code == 0
    for name in ("S0", "S1", "S2", "S3"):
        low = ("--kiln", "small kiln", "--target-cone", "05")
        assert tiles("firing", "add", name, *low).code == 0
    hot = ("firing", "add", "S4", "--kiln", "small kiln", "--target-cone", "5")
    before = all_rows(sample)
    told = ("firing S4: target cone 5", "the hottest of 4 glaze firings of small kiln", "--yes")
    assert_one_line_error(tiles(*hot), *told)
    change = ("firing", "change", "S3", "--target-cone", "5")
    assert_one_line_error(tiles(*change), "firing S3: target cone 5", "of 3 glaze firings")
    assert all_rows(sample) == before
    assert tiles(*hot, "--yes").code == 0
    assert tiles("firing", "change", "S4", "--remark", "a test of mid range").code == 0
    other = ("firing", "change", "S3", "--target-cone", "4")  # a slip for 04 all the same
    assert_one_line_error(tiles(*other), "the hottest of 3 of 4 glaze firings of small kiln")
    assert_one_line_error(tiles(*change), "the hottest of 3 of 4")  # S4 may be a slip as well
    assert tiles("firing", "change", "S4", "--witness-cone", "5@top", "--yes").code == 0
    told = tiles(*change)
    assert told.code == 0
    assert "of small kiln; not asked again, as S4 got there." in told.err
    assert tiles("firing", "change", "S2", "--target-cone", "5").code == 0, "half is of mid range"


def test_in_a_kiln_of_both_ranges_a_load_that_does_not_belong_to_the_cone_is_asked_about(
    sample, tiles
):
    assert tiles("kiln", "add", "small kiln").code == 0
    for name, cone in (("S1", "05"), ("S2", "5"), ("S3", "05"), ("S4", "5")):
        add = ("firing", "add", name, "--kiln", "small kiln", "--target-cone", cone)
        assert tiles(*add, "--yes").code == 0
    assert tiles("firing", "add", "S5", "--kiln", "small kiln", "--target-cone", "5").code == 0
    assert (
        tiles("log", "--mark", "Q-1", "--body", "red earthenware", "--glaze", "pond green").code
        == 0
    )
    assert_one_line_error(tiles("load", "S5", "Q-1"), "target cone 5", "'pond green'")


def _cones(tiles, name):
    return json.loads(tiles("firing", "show", name, "--json").out)["read"]


def test_a_witness_cone_leaves_those_of_other_shelves_and_says_what_it_takes_the_place_of(
    sample, tiles
):
    def change(*texts):
        options = [word for text in texts for word in ("--witness-cone", text)]
        return tiles("firing", "change", "W2", *options)

    assert (
        tiles("firing", "add", "W2", "--target-cone", "6", "--witness-cone", "5@top", "--yes").code
        == 0
    )
    assert change("6@middle").err == ""
    assert _cones(tiles, "W2") == ["5 (top)", "6 (middle)"]
    told = change("5@bottom", "6@Top").err
    assert told.startswith("Read before, and no longer on record: 5 (top).\n")
    assert told.endswith("W2: witness cone 5 (bottom) is 1 cone short of the 6 aimed at.\n")
    assert _cones(tiles, "W2") == ["6 (middle)", "5 (bottom)", "6 (Top)"]
    assert change("@MIDDLE").err == "Read before, and no longer on record: 6 (middle).\n"
    assert_one_line_error(change("@middle"), "no witness cone of shelf 'middle'", "bottom, Top")
    assert _cones(tiles, "W2") == ["5 (bottom)", "6 (Top)"]
    assert change("", "6").err.startswith("Read before, and no longer on record: 5 (bottom), 6")
    assert _cones(tiles, "W2") == ["6"]
    assert change("").code == 0
    assert _cones(tiles, "W2") == []


def test_a_cone_far_from_every_label_is_questioned_where_its_other_zero_is_not(fresh, tiles):
    add = ("firing", "add")
    assert tiles(*add, "F0", "--target-cone", "5").err == ""  # no label says anything yet
    assert tiles("glaze", "add", "snow", "--cones", "06-04").code == 0
    asked = "is far outside the label of every glaze in use, and cone 05 is not"
    assert_one_line_error(tiles(*add, "F1", "--target-cone", "5"), "target cone 5 (", asked)
    # 03 is a step beyond the label, and not far outside
    said = asked.replace("05", "03")
    assert_one_line_error(tiles(*add, "F1", "--witness-cone", "3@top"), "witness cone 3 (", said)
    assert tiles(*add, "F1", "--target-cone", "5", "--yes").code == 0
    assert tiles("firing", "change", "F1", "--witness-cone", "4@top").code == 0  # was answered
    assert tiles(*add, "F2", "--target-cone", "05").err == ""
    assert tiles(*add, "B1", "--kind", "bisque", "--target-cone", "05").err == ""
    assert tiles("glaze", "add", "mid blue", "--cones", "5-6").code == 0
    assert tiles(*add, "F3", "--target-cone", "5").err == ""


def test_nobody_is_led_to_a_hotter_firing_than_every_clay_in_use_stands(fresh, tiles):
    add = ("firing", "add")
    assert tiles("glaze", "add", "mid blue", "--cones", "4-6").code == 0
    assert tiles(*add, "F1", "--target-cone", "05").err == ""  # no clay is known to stand cone 5
    assert tiles("body", "add", "stone", "--cones", "4-6").code == 0
    assert "and cone 5 is not" in tiles(*add, "F2", "--target-cone", "05").err
    assert tiles("body", "add", "red clay", "--cones", "06-04").code == 0
    assert tiles(*add, "F3", "--target-cone", "05").err == ""


def test_a_firing_that_fell_short_is_said_so_as_it_is_written_down(sample, tiles):
    bisque = ("firing", "add", "B77", "--kind", "bisque", "--target-cone", "04")
    told = tiles(*bisque, "--witness-cone", "06").err
    assert "B77: witness cone 06 is 2 cones short of the 04 aimed at: softer bisque" in told
    glaze = ("firing", "add", "F77", "--target-cone", "05")
    assert "aimed at" not in tiles(*glaze, "--witness-cone", "05").err
    told = tiles("firing", "change", "F77", "--witness-cone", "04@top").err
    assert "F77: witness cone 04 (top) is 1 cone over the 05 aimed at." in told


def test_a_tile_that_says_another_cone_than_its_shelf_is_told_as_it_is_logged(loaded, tiles):
    assert tiles("firing", "change", "W1", "--witness-cone", "04@top").code == 0
    log = ("log", "--body", "red earthenware", "--firing", "W1", "--shelf", "top", "--mark")
    assert tiles(*log, "Q-2", "--cone-reached", "05").err == ""
    said = tiles(*log, "Q-3", "--cone-reached", "06").err
    assert "Check: Q-3 says cone 06, but in W1 its shelf's witness cone is 04" in said
    assert 'tiles change Q-3 --cone-reached ""' in said or "--cone-reached ''" in said


@pytest.fixture
def slipped(sample, tiles):
    """A firing set for 5 where 05 was meant, and a tile that says 4 for 04 of itself."""
    given = ("--target-cone", "5", "--witness-cone", "4@top", "--fired-on", "2026-01-10", "--yes")
    assert tiles("firing", "add", "W1", *given).code == 0
    for mark, *own in (("Q-1", "--cone-reached", "4"), ("Q-2",)):
        ran = tiles("log", "--mark", mark, "--body", "red earthenware", "--glaze", "pond green",
                    "--firing", "W1", "--shelf", "top", *own, "--yes")  # fmt: skip
        assert ran.code == 0, ran.err
    return sample


def test_a_firing_is_mended_first_and_tells_of_the_tile_that_says_another_cone(slipped, tiles):
    first = "tiles firing change W1 --target-cone 05 --witness-cone 04@top"
    assert_one_line_error(tiles("change", "Q-1", "--cone-reached", "04"), f"Try: '{first}' first")
    ran = tiles(*first.split()[1:])
    assert ran.code == 0
    assert "Check: Q-1 says cone 4, but in W1 its shelf's witness cone is 04" in ran.err
    assert "cone reached  4 (but its shelf's witness cone 04)" in tiles("show", "Q-1").out
    ran = tiles("change", "Q-1", "--cone-reached", "04")
    assert (ran.code, ran.err) == (0, "")


def test_a_cone_that_the_shelf_says_as_well_may_go_from_the_tile(slipped, tiles):
    assert tiles("change", "Q-1", "--cone-reached", "").code == 0


def test_a_target_far_on_the_other_side_of_a_tiles_own_cone_is_still_questioned(slipped, tiles):
    ran = tiles("firing", "change", "W1", "--target-cone", "10", "--witness-cone", "10@top")
    assert_one_line_error(ran, "cone reached 4", "far below cone 10")


def test_a_target_that_its_witness_cones_gainsay_names_them_with_the_other_zero(slipped, tiles):
    ran = tiles("firing", "change", "W1", "--target-cone", "05")
    assert_one_line_error(ran, "witness cone 4", "slip, --witness-cone 04@top as well if")


def test_a_second_firing_of_a_kiln_and_day_is_told_as_it_is_written_and_where_it_counts(
    fresh, tiles
):
    """An electric kiln is not fired, cooled and fired again within a day (common practice)."""
    assert tiles("kiln", "add", "K").code == 0
    of_day = ("--kiln", "K", "--fired-on", "2026-03-12")
    assert tiles("firing", "add", "F31", *of_day).err == ""
    told = "firings 'the March one' and 'F31' are of one kiln and one day, 2026-03-12"
    ran = tiles("firing", "add", "the March one", *of_day)
    assert (ran.code, ran.out) == (0, "the March one is on record.\n")
    merge = 'tiles firing merge "the March one" F31'
    assert told in ran.err and merge in ran.err
    assert tiles("firing", "change", "the March one", "--fired-on", "2026-03-13").err == ""
    assert "counted twice" not in tiles("kiln", "show", "K").out
    assert told in tiles("firing", "change", "the March one", "--fired-on", "2026-03-12").err
    (pair,) = json.loads(tiles("kiln", "show", "K", "--json").out)["perhaps_one"]
    assert (pair["firings"], pair["mend"]) == (["the March one", "F31"], merge)
    shown = tiles("kiln", "show", "K").out
    assert told in " ".join(shown.split())
    assert shown.endswith(f" If they are one: {merge}\n")


def test_the_list_shows_the_peak_of_a_firing_of_which_no_cone_is_known(sample, tiles):
    for name, known in (("P1", ()), ("P2", ("--target-cone", "04"))):
        assert tiles("firing", "add", name, "--peak-c", "1061", *known).code == 0
    told = [line for line in tiles("firing", "list").out.splitlines() if line.startswith("P")]
    assert ["peak 1061 C" in line for line in told] == [True, False]
    assert '"read": []' in tiles("firing", "show", "P1", "--json").out

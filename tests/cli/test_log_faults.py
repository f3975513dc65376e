"""What ``--defect`` of ``tiles log`` takes for a fault and how bad it was."""

import pytest

from tests.cli.log_options import with_options
from tests.cli.records import assert_one_line_error, shown
from tiles.cli import entry
from tiles.exchange.flat_faults import read_faults


@pytest.mark.parametrize(
    ("typed", "stored"),
    [
        ("severe crawling", ("crawling", "severe", None)),
        ("Crawled severely", ("crawling", "severe", None)),
        ("slightly pinholed@1", ("pinholes", "slight", 1)),
        ("unwanted matt (moderate)", ("unwanted matt", "moderate", None)),
    ],
)
def test_how_bad_a_fault_was_may_stand_beside_it(sample, tiles, typed, stored):
    for command in (("log", *with_options(defect=typed)), ("inspect", "N-41", "--defect", typed)):
        ran = tiles(*command)
        assert ran.code == 0, ran.err
    for look in shown(tiles, "N-41")["inspections"]:
        (seen,) = look["defects"]
        assert (seen["defect"], seen["severity"], seen["area"]) == stored


@pytest.mark.parametrize(
    ("typed", "known"),
    [
        ("severe", "'severe' is not a known defect"),
        ("crawling running", "is not a known defect"),
        ("crawling and severe", "'severe' is not a known defect"),
        ("slight to severe crawling", "is not a known defect"),
        ("severe crawling:slight", "'severe crawling' is not a known defect"),
    ],
)
def test_what_stands_beside_a_fault_and_is_no_severity_is_refused(sample, tiles, typed, known):
    assert_one_line_error(tiles("log", *with_options(defect=typed)), known)


def test_words_for_a_fault_that_is_none_of_the_list_can_be_kept(sample, tiles):
    ran = tiles("inspect", "M-41", "--defect", "a greenish halo at one edge")
    assert_one_line_error(ran, "'other (a greenish halo at one edge)' keeps these words.")
    assert tiles("inspect", "M-41", "--defect", "other (a greenish halo at one edge)").code == 0
    (seen,) = shown(tiles, "M-41")["inspections"][-1]["defects"]
    assert (seen["defect"], seen["note"]) == ("other", "a greenish halo at one edge")
    ran = tiles("inspect", "M-41", "--defect", "metalic sheen at one edge")
    assert_one_line_error(ran, "Try: other (metalic sheen at one edge); all are")
    assert "keeps" not in tiles("inspect", "M-41", "--defect", "halo").err


@pytest.mark.parametrize("words", ["no longer matt", "it is boring", "was dust, not matt"])
def test_words_kept_as_another_fault_are_kept_as_they_are(sample, tiles, words):
    assert tiles("inspect", "M-41", "--defect", f"severe other ({words})").code == 0
    (seen,) = shown(tiles, "M-41")["inspections"][-1]["defects"]
    assert (seen["defect"], seen["severity"], seen["note"]) == ("other", "severe", words)


@pytest.mark.parametrize("words", ["not seen", "none", "not crawling", "cloudy white"])
def test_another_fault_that_was_none_or_is_on_the_list_is_refused_in_no_circle(
    sample, tiles, words
):
    ran = tiles("inspect", "M-41", "--defect", f"other ({words})")
    assert_one_line_error(ran, "is not a known defect")
    assert "keeps these words" not in ran.err


@pytest.mark.parametrize(
    ("words", "fault"), [("milky", "cloudiness"), ("too pale", "colour shift")]
)
def test_words_that_mean_a_fault_of_the_list_are_asked_about_before_they_are_kept(
    sample, tiles, words, fault
):
    kept = ("--defect", f"other ({words})")
    for command in (("inspect", "M-41", *kept), ("log", *with_options(), *kept)):
        ran = tiles(*command)
        assert_one_line_error(ran, f"'{fault} ({words})', or --yes if it is none of the list.")
        assert tiles(*command, "--yes").code == 0
    assert tiles("inspect", "M-41", "--defect", f"{fault} ({words})").code == 0


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("other (looks odd):slight", ("other", "slight", "looks odd")),
        ("other:slight (looks odd)", ("other", "slight", "looks odd")),
        ("Cloudiness (milky): severe", ("cloudiness", "severe", "milky")),
        ("cloudiness (not quite clear)", ("cloudiness", None, "not quite clear")),
        ("other (no longer matt)", ("other", None, "no longer matt")),
    ],
)
def test_a_severity_and_words_are_read_in_either_order_also_from_a_sheet(typed, read):
    seen = entry.read_defect(typed)
    assert (seen["defect"], seen["severity"], seen["note"]) == read
    defect, level, words = read
    cells = read_faults(typed)
    assert cells[f"defect_{defect}"] == (level or "seen")
    assert cells["faults"] == ((defect, words),)


def test_of_a_fault_that_is_denied_the_opposite_is_not_proposed(sample, tiles):
    ran = tiles("log", *with_options(defect="no crawling"))
    assert_one_line_error(ran, "Try: leave out what is not there; else one of crazing")


def test_log_takes_several_defects_in_one_word(sample, tiles):
    options = with_options(defect="pinholes:slight, crawling", thickness_mm="1,3 mm")
    assert tiles("log", *options).code == 0
    record = shown(tiles, "N-41")
    seen = [(each["defect"], each["severity"]) for each in record["inspections"][0]["defects"]]
    assert seen == [("pinholes", "slight"), ("crawling", None)]
    assert record["areas"][0]["layers"][0]["thickness_mm"] == 1.3


def test_the_same_look_sent_twice_is_one_look_and_that_is_said(sample, tiles):
    made = ("--body", "red earthenware", "--glaze", "pond green", "--firing", "F12")
    assert tiles("log", "--mark", "N-1", *made).code == 0
    day = ("--inspected-on", "2026-01-17")
    look = ("inspect", "N-1", "--defect", "severe crawling", "--defect", "pinholes", *day)
    assert "already" not in tiles(*look).err
    turned = ("inspect", "N-1", "--defect", "pinholes", "--defect", "severe crawling", *day)
    for again in (look, turned):
        ran = tiles(*again, "--clue", "worst_where_thick=yes")
        told = "N-1: that look of 2026-01-17 was on record already, and is one.\n"
        assert ran.code == 0, ran.err
        assert told in ran.err
    record = shown(tiles, "N-1")
    assert (len(record["inspections"]), record["clues"]) == (1, {"worst_where_thick": "yes"})
    for other in ((*look, "--note", "in the sun"), (*look[:-1], "2026-01-18")):
        assert "already" not in tiles(*other).err
    assert len(shown(tiles, "N-1")["inspections"]) == 3

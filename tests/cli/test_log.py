"""``tiles log`` with options: what is stored, and that a refused tile leaves nothing behind."""

from datetime import date, timedelta
from inspect import signature

import pytest

from tests.cli.log_options import with_options
from tests.cli.records import all_rows, assert_one_line_error, counts, shown
from tiles.cli.log import log
from tiles.errors import DatabaseProblem


def test_a_new_glaze_that_reads_as_two_layers_is_asked_about(fresh, tiles):
    given = "log", "--mark", "N-1", "--body", "red", "--add-missing", "--glaze", "matt over leaf x3"
    told = "glaze 'matt over leaf x3' reads as 2 layers: from the clay up leaf=3 + matt. Try: each"
    assert_one_line_error(tiles(*given), told)
    assert tiles("show", "N-1").code == 1
    assert tiles(*given, "--yes").code == 0


def test_what_nobody_knows_is_no_mark_and_no_clay(fresh, tiles):
    ran = tiles("log", "--mark", "?", "--body", "red", "--add-missing")
    assert_one_line_error(ran, "'?' is no mark. Try: the mark on its back")
    ran = tiles("log", "--mark", "N-1", "--body", "?", "--add-missing")
    assert_one_line_error(ran, "'?' is no body. Try: a name for it, such as unknown clay 1")
    assert_one_line_error(tiles("body", "add", "?"), "'?' is no body. Try: a name for it")
    ran = tiles("log", "--mark", "N-1", "--body", "red", "--glaze", "unknown=2", "--add-missing")
    assert_one_line_error(ran, "'unknown' is no glaze. Try: a name for it, such as unknown glaze 1")
    unknown = ("log", "--mark", "N-1", "--body", "Unknown", "--add-missing")
    assert_one_line_error(tiles(*unknown), "'Unknown' is no body.", "or --yes if it is the name")
    assert tiles(*unknown, "--yes").code == 0
    assert tiles("log", "--mark", "N-2", "--body", "unknown").code == 0


def test_log_stores_what_the_options_say(sample, tiles):
    ran = tiles("log", *with_options(inspected_on="2024-12-20"), "--defect", "pinholes:slight")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == "N-41 is on record: severe crawling, slight pinholes. Why? tiles why N-41\n"
    record = shown(tiles, "N-41")
    (area,) = record["areas"]
    (layer,) = area["layers"]
    (look,) = record["inspections"]
    assert record["body"]["name"] == "red earthenware"
    assert (layer["glaze"]["name"], layer["coats"]) == ("pond green", 3)
    assert (layer["thickness_mm"], layer["fired_thickness_mm"]) == (0.9, None)
    assert (record["bisque_cone"], record["firing"]["name"]) == ("04", "F12")
    assert (record["cone_reached"], record["note"]) == ("05", "thick at the foot")
    assert [(s["defect"], s["severity"], s["area"]) for s in look["defects"]] == [
        ("crawling", "severe", None),
        ("pinholes", "slight", None),
    ]


def test_log_makes_the_database_and_adds_what_is_missing_when_asked_to(fresh, tiles):
    ran = tiles("log", *with_options(firing=None), "--add-missing")
    assert ran.code == 0
    assert ran.err == "Added clay body red earthenware.\nAdded glaze pond green.\n"
    assert shown(tiles, "N-41")["derived"]["stage"] == "inspected"


def test_log_writes_three_areas_with_the_defect_on_one(sample, tiles):
    options = with_options(coats="1,2,3", thickness_mm="0.3,0.7,1.2", defect="crawling:severe@3")
    assert (
        tiles(
            "log", *options, "--clue", "bisque_wiped=no", "--clue", "bare_edges_rolled=yes@3"
        ).code
        == 0
    )
    record = shown(tiles, "N-41")
    assert [area["layers"][0]["coats"] for area in record["areas"]] == [1, 2, 3]
    assert [area["layers"][0]["thickness_mm"] for area in record["areas"]] == [0.3, 0.7, 1.2]
    assert record["inspections"][0]["defects"][0]["area"] == 3
    assert record["clues"] == {"bisque_wiped": "no"}
    assert [area["clues"] for area in record["areas"]] == [{}, {}, {"bare_edges_rolled": "yes"}]
    assert record["derived"]["clean_areas"] == [1, 2]
    assert record["derived"]["clean"] is False


def test_log_puts_layers_from_the_clay_up(sample, tiles):
    options = with_options(glaze="white slip=2")
    assert tiles("log", *options, "--glaze", "studio clear", "--yes").code == 0
    layers = shown(tiles, "N-41")["areas"][0]["layers"]
    assert [(layer["glaze"]["name"], layer["coats"]) for layer in layers] == [
        ("white slip", 2),
        ("studio clear", 3),
    ]
    assert [layer["thickness_mm"] for layer in layers] == [None, 0.9]


@pytest.mark.parametrize("written", ["^05", "cone 05", "c05", "Cone 05", "05"])
def test_log_reads_a_cone_as_people_write_it(sample, tiles, written):
    assert tiles("log", *with_options(cone_reached=written)).code == 0
    assert shown(tiles, "N-41")["cone_reached"] == "05"


def test_log_never_reads_cone_05_as_5(sample, tiles):
    ran = tiles("log", *with_options(cone_reached="5"))
    assert_one_line_error(ran, "cone reached 5", "--yes")
    assert tiles("log", *with_options(cone_reached="5"), "--yes").code == 0
    assert shown(tiles, "N-41")["cone_reached"] == "5"


def test_log_asks_about_a_coat_of_8_mm_once(sample, tiles):
    ran = tiles("log", *with_options(thickness_mm="8"))
    assert_one_line_error(ran, "dry coat of", "8 mm", "0.8", "--yes")
    assert tiles("log", *with_options(thickness_mm="8"), "--yes").code == 0
    assert tiles("inspect", "N-41", "--defect", "crawling").code == 0
    assert_one_line_error(tiles("change", "N-41", "--thickness-mm", "9"), "9 mm", "--yes")


@pytest.mark.parametrize(("typed", "mm"), [('1/16"', 1.6), ("0.06 in", 1.5), ("1/32 inch", 0.8)])
def test_log_tells_the_mm_of_a_coat_in_inches(sample, tiles, typed, mm):
    ran = tiles("log", *with_options(thickness_mm=typed))
    assert_one_line_error(ran, "thickness", "is in inches", f"it in mm: {mm}")


def test_log_without_what_was_seen_is_fired_but_not_inspected(sample, tiles):
    ran = tiles("log", *with_options(defect=None))
    assert ran.out == "N-41 is on record: fired, not inspected yet\n"
    assert shown(tiles, "N-41")["derived"]["clean"] is None


def test_log_of_a_clean_tile_says_so(sample, tiles):
    ran = tiles("log", *with_options(defect=None), "--clean", "--inspected-on", "2026-06-20")
    assert ran.out == "N-41 is on record: clean\n"
    looks = shown(tiles, "N-41")["inspections"]
    assert looks == [{"inspected_on": "2026-06-20", "defects": [], "note": None}]


# Each with the value and the remedy that its line must name.
FIVE = [
    ({"glaze": "pond gren"}, ["'pond gren'", '"pond green"', "tiles glaze add"]),
    (
        {"cone_reached": "5"},
        [
            "cone reached 5",
            "pond green",
            "1186 C",
            "cone 04",
            "1063 C",
            "2167 F",
            "1945 F",
            "--yes",
        ],
    ),
    ({"thickness_mm": "-1"}, ["thickness_mm", "-1", "more than 0", "correct thickness_mm"]),
    ({"defect": "crawling:very"}, ["'very'", "severity", "slight, moderate, severe"]),
    ({"mark": "M-41"}, ["'M-41'", "already on record", "tiles inspect M-41"]),
]


@pytest.mark.parametrize(
    ("changed", "told"), FIVE, ids=["glaze", "cone", "thickness", "severity", "mark"]
)
def test_log_refuses_in_one_line_and_changes_no_byte(sample, tiles_process, changed, told):
    before = sample.read_bytes()
    ran = tiles_process("log", *with_options(**changed))
    assert_one_line_error(ran, *told)
    assert sample.read_bytes() == before
    assert [file.name for file in sample.parent.iterdir()] == [sample.name]


REFUSED = {
    "unknown body": ({"body": "red earthenwear"}, ["'red earthenwear'", '"red earthenware"']),
    "nothing like it": ({"body": "zzz"}, ["'zzz'", "tiles body add zzz", "tiles body list"]),
    "unknown firing": ({"firing": "F99"}, ["'F99'", "firing"]),
    "bisque for glaze": ({"firing": "F03"}, ["F03 is a bisque firing", "not a glaze firing"]),
    "no body": ({"body": None}, ["body is missing", "--body"]),
    "thickness a word": ({"thickness_mm": "thick"}, ["'thick'", "not a number"]),
    "thickness not finite": ({"thickness_mm": "nan"}, ["thickness_mm", "nan"]),
    "no coat": ({"coats": "0"}, ["coats", "0", "at least 1"]),
    "thickness of a unit alone": ({"thickness_mm": "mm"}, ["thickness 'mm' holds no number"]),
    "a unit alone for an area": (
        {"coats": "1,2", "thickness_mm": "0.4 mm, mm"},
        ["thickness '0.4 mm, mm' holds no number"],
    ),
    "a fault named twice": (
        {"defect": "crawling:severe,Crawling:slight"},
        ["crawling is named twice", "one severity"],
    ),
    "thickness in words": ({"thickness_mm": "thin"}, ["thickness 'thin' is not a number"]),
    "half a coat": ({"coats": "1.5"}, ["'1.5'", "whole number"]),
    "no such cone": ({"cone_reached": "055"}, ["'055'"]),
    "a temperature": ({"cone_reached": "1046"}, ["1046"]),
    "no such defect": ({"defect": "crawlingg"}, ["'crawlingg'", "'crawling'"]),
    "area not there": ({"defect": "crawling@2"}, ["crawling is on area 2", "area 1 only"]),
    "area unsaid": ({"defect": "crawling@"}, ["'crawling@'", "@2 for area 2"]),
    "areas do not match": (
        {"coats": "1,2,3", "thickness_mm": "0.3,0.5"},
        ["coats has 3", "thickness has 2"],
    ),
    "one thickness for one coat and three": (
        {"coats": "1,2,3", "thickness_mm": "0.5"},
        ["thickness 0.5 mm cannot hold for 1, 2 and 3 coats", "such as ,,0.5"],
    ),
    "unknown method": ({"method": "rolled"}, ["'rolled'", "brush, dip"]),
    "method and coats": ({"method": "dipped twice"}, ["Try: 'dip', and how often in coats: 2; "]),
    "unknown batch": ({"batch": "no such"}, ["'no such'", "batch"]),
    "not a day": ({"glazed_on": "2026-02-30"}, ["glazed_on", "2026-02-30"]),
    "glazed after the firing": ({"glazed_on": "2026-01-05"}, ["2024-12-13", "2026-01-05"]),
    "empty mark": ({"mark": "  "}, ["mark"]),
    "mark in other capitals": ({"mark": "m-41"}, ["'M-41'", "already on record"]),
    "a look to come": ({"inspected_on": "2062-01-02"}, ["2062-01-02", "to come", "today"]),
    "no day for a look": ({"inspected_on": "someday"}, ["inspected_on", "someday"]),
    "unknown clue": ({"clue": "bisque_wipd=no"}, ["'bisque_wipd'", "'bisque_wiped'"]),
    "clue unanswered": ({"clue": "bisque_wiped"}, ["'bisque_wiped'", "=yes"]),
    "clue neither": ({"clue": "bisque_wiped=perhaps"}, ["'perhaps'", "neither yes nor no"]),
    "clue on no area": ({"clue": "bare_edges_rolled=yes@4"}, ["no area 4"]),
    "coats without glaze": ({"glaze": None}, ["without a glaze"]),
}


@pytest.mark.parametrize(("changed", "told"), REFUSED.values(), ids=REFUSED)
def test_log_refuses_what_cannot_be(sample, tiles, changed, told):
    before = all_rows(sample)
    assert_one_line_error(tiles("log", *with_options(**changed)), *told)
    assert all_rows(sample) == before


def test_log_refuses_clean_and_a_defect_at_once(sample, tiles):
    before = all_rows(sample)
    assert_one_line_error(tiles("log", *with_options(), "--clean"), "--clean", "defect")
    assert all_rows(sample) == before


def test_log_stores_nothing_of_what_it_would_have_added_to_a_refused_tile(sample, tiles):
    before = counts(sample)
    ran = tiles("log", *with_options(body="new body", batch="no such"), "--add-missing")
    assert ran.code == 0  # a new batch is added, too
    assert counts(sample)["clay_body"] == before["clay_body"] + 1
    before = all_rows(sample)
    options = with_options(mark="N-42", body="newer body", glaze="newer glaze", firing="F03")
    assert_one_line_error(tiles("log", *options, "--add-missing"), "F03 is a bisque firing")
    assert all_rows(sample) == before


def test_log_refuses_a_label_far_from_the_firing_in_both_directions(sample, tiles):
    mid_range = with_options(glaze="mid clear", firing=None)
    assert_one_line_error(
        tiles("log", *mid_range), "'mid clear'", "below", "1031 C", "1186 C", "--yes"
    )


@pytest.mark.parametrize(
    ("coats", "typed", "thicknesses"),
    [
        ("3", "1,2", [1.2]),
        ("3", "0,4", [0.4]),
        ("2,2", "0,4", [0.4, 0.4]),
        ("2,2", "1,05", [1.05, 1.05]),
        ("2,2", "1,25 mm", [1.25, 1.25]),
        ("1,2", "0.3,0.6", [0.3, 0.6]),
        ("1,2", "1.0,2.0", [1.0, 2.0]),
        ("1,2", "0,8; 1,2", [0.8, 1.2]),
        ("1,2", "1; 2", [1.0, 2.0]),
        ("1,2", "1, 2", [1.0, 2.0]),
        ("1,2,3", "1,2,3", [1.0, 2.0, 3.0]),
    ],
)
def test_a_decimal_comma_is_one_where_it_cannot_part_areas(
    sample, tiles, coats, typed, thicknesses
):
    given = ("--body", "red earthenware", "--glaze", "pond green", "--coats", coats)
    assert tiles("log", "--mark", "Q-1", *given, "--thickness-mm", typed).code == 0
    layers = [area["layers"][0] for area in shown(tiles, "Q-1")["areas"]]
    assert [layer["thickness_mm"] for layer in layers] == thicknesses


def test_a_comma_that_may_be_of_either_kind_is_not_guessed_at(sample, tiles):
    given = ("--body", "red earthenware", "--glaze", "pond green", "--coats", "2,2")
    told = "1.2 for both, or 1.0,2.0 for one each"
    assert tiles("log", "--mark", "Q-2", *given).code == 0
    for mm in ("--thickness-mm", "--fired-thickness-mm"):
        assert_one_line_error(tiles("log", "--mark", "Q-1", *given, mm, "1,2"), "'1,2'", told)
        assert_one_line_error(tiles("change", "Q-2", mm, "1,2"), "'1,2'", told)


def test_a_list_of_thicknesses_makes_no_area(sample, tiles):
    given = ("--mark", "Q-1", "--body", "red earthenware", "--glaze", "pond green", "--coats", "3")
    assert_one_line_error(tiles("log", *given, "--thickness-mm", "0.3,1.2"), "a point")
    assert tiles("show", "Q-1").code == 1


def test_coats_given_twice_are_refused(sample, tiles):
    given = ("--body", "red earthenware", "--glaze", "pond green=2")
    assert_one_line_error(tiles("log", "--mark", "Q-1", *given, "--coats", "3"), "not both")


OPTIONS = signature(log).parameters.keys() - {"mark", "db"}
FLAGS = {"clean", "add_missing", "yes"}


@pytest.mark.parametrize("name", sorted(OPTIONS))
def test_no_option_without_a_mark_is_dropped_in_silence(sample, tiles, name):
    given = [f"--{name.replace('_', '-')}"] + ["1"] * (name not in FLAGS)
    assert_one_line_error(tiles("log", *given), "the mark is missing")


def test_a_recipe_glaze_is_logged_with_its_newest_version_or_the_one_named(sample, tiles):
    given = ("--body", "red earthenware", "--glaze", "house clear", "--coats", "2")
    assert tiles("log", "--mark", "Q-1", *given).code == 0
    assert tiles("log", "--mark", "Q-2", *given, "--recipe-version", "1").code == 0
    versions = [
        shown(tiles, mark)["areas"][0]["layers"][0]["recipe"]["version"] for mark in ("Q-1", "Q-2")
    ]
    assert versions == [2, 1]


def test_a_witness_cone_far_from_the_label_is_questioned_too(sample, tiles):
    added = ("firing", "add", "W1", "--target-cone", "05", "--witness-cone", "5", "--yes")
    assert tiles(*added).code == 0
    given = ("--body", "red earthenware", "--glaze", "pond green", "--firing", "W1")
    assert_one_line_error(tiles("log", "--mark", "Q-1", *given), "witness cone of W1")
    assert tiles("log", "--mark", "Q-1", *given, "--yes").code == 0


def test_a_look_without_a_day_long_after_the_firing_is_told_with_the_command_to_date_it(
    sample, tiles
):
    ran = tiles("log", *with_options(mark="N 41"))
    days = (date.today() - date(2024, 12, 13)).days
    assert ran.err == (
        f"The look is dated today, {days} days after the firing. "
        'If it was earlier: tiles change "N 41" --inspected-on YYYY-MM-DD\n'
    )
    assert tiles("change", "N 41", "--inspected-on", "2024-12-20").code == 0
    assert shown(tiles, "N 41")["inspections"][0]["inspected_on"] == "2024-12-20"


def test_no_day_is_asked_for_where_the_firing_is_recent_or_nothing_was_seen(sample, tiles):
    recent = date.today() - timedelta(days=30)
    assert tiles("firing", "add", "W1", "--fired-on", str(recent)).code == 0
    assert tiles("log", *with_options(firing="W1")).err == ""
    assert tiles("log", *with_options(mark="N-42", defect=None)).err == ""


def test_a_look_may_be_of_tomorrow_where_the_day_begins_earlier(sample, tiles):
    tomorrow = str(date.today() + timedelta(days=1))
    assert tiles("log", *with_options(inspected_on=tomorrow)).code == 0


def test_a_misspelled_shelf_is_told_and_stored(sample, tiles):
    given = with_options(shelf="botom", cone_reached=None, inspected_on="2024-12-20")
    ran = tiles("log", *given)
    assert (ran.code, ran.err.count("\n")) == (0, 1)
    assert "F12 has no witness cone for shelf 'botom', only for" in ran.err
    assert "for N-41. Did you mean 'bottom'?" in ran.err
    assert shown(tiles, "N-41")["shelf"] == "botom"
    ran = tiles("change", "N-41", "--note", "seen twice")
    assert ran.err == ""
    assert "'botton'" in tiles("change", "N-41", "--shelf", "botton").err
    assert tiles("change", "N-41", "--shelf", "bottom").err == ""
    assert "F12 has no witness cone" not in tiles("log", *with_options(mark="N-42", shelf="x")).err


def test_a_look_at_a_tile_of_no_firing_is_stored_and_said_to_be_out_of_reach_by_cone(sample, tiles):
    ran = tiles("log", *with_options(mark="N 41", firing=None, shelf=None, cone_reached=None))
    assert ran.code == 0
    assert "No firing and no cone on record" in ran.err
    assert 'tiles change "N 41" --firing NAME' in ran.err
    ran = tiles("log", *with_options(mark="N-42", firing=None, shelf=None, cone_reached="05"))
    assert "No firing" not in ran.err


def test_a_server_that_goes_away_once_the_tile_is_stored_does_not_say_it_is_not(
    sample, tiles, monkeypatch
):
    def gone(_records, _db):
        raise DatabaseProblem("the database cannot be used.", "that the server is running.")

    monkeypatch.setattr("tiles.cli.notices.tell_retired", gone)
    ran = tiles("log", "--mark", "N-1", "--body", "red earthenware")
    assert (ran.code, "N-1 is stored, but not compared" in ran.err) == (0, True)
    assert shown(tiles, "N-1")["mark"] == "N-1"

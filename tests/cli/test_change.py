"""``tiles change``: correcting tiles, one or several at once."""

import re

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.cli import change_told
from tiles.records.clues import clues


@pytest.fixture
def tile(tile_of_two_areas):
    return tile_of_two_areas


def differing(before, after):
    return {key for key in before if before[key] != after[key]} - {"derived"}


@pytest.mark.parametrize(
    ("options", "field", "value"),
    [
        (["--shelf", "middle"], "shelf", "middle"),
        (["--note", "other words"], "note", "other words"),
        (["--note", ""], "note", None),
        (["--cone-reached", "^04"], "cone_reached", "04"),
        (["--cone-reached", ""], "cone_reached", None),
        (["--form", "Angle"], "form", "angle"),
        (["--stood", "upright"], "stood", "upright"),
        (["--bisque-cone", "06"], "bisque_cone", "06"),
        (["--made-on", "2024-09-01"], "made_on", "2024-09-01"),
        (["--glazed-on", "2024-12-01"], "glazed_on", "2024-12-01"),
        (["--clue", "bisque_wiped=yes"], "clues", {"bisque_wiped": "yes"}),
        (["--clue", "bisque_wiped="], "clues", {}),
        (["--forget-inspection", "2026-01-05"], "inspections", []),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_change_changes_what_is_named_and_nothing_else(tile, tiles, options, field, value):
    before = shown(tiles, "N-1")
    ran = tiles("change", "n-1", *options)
    assert (ran.code, ran.out.splitlines()[0]) == (0, "N-1 is changed.")
    after = shown(tiles, "N-1")
    assert differing(before, after) == {field}
    assert after[field] == value


def test_change_of_body_and_firing_goes_by_name(tile, tiles):
    assert tiles("change", "N-1", "--body", "White Earthenware", "--firing", "f26").code == 0
    record = shown(tiles, "N-1")
    assert (record["body"]["name"], record["firing"]["name"]) == ("white earthenware", "F26")


def test_change_says_what_follows_from_another_firing(sample, tiles):
    for number, day in ((1, "02"), (2, "12")):
        of = ("--fired-on", f"2026-03-{day}", "--witness-cone", f"0{number + 4}")
        assert tiles("firing", "add", f"Z{number}", *of).code == 0
    seen = ("--firing", "Z1", "--clean", "--inspected-on", "2026-03-14")
    assert tiles("log", "--mark", "N-1", "--body", "red earthenware", *seen).code == 0
    said = tiles("change", "N-1", "--firing", "Z2").out
    assert said.startswith("N-1 is changed.\n  firing: Z1, 2026-03-02 -> Z2, 2026-03-12\n")
    whose = "(the witness cone of the whole load)"
    assert f"cone reached: 05 {whose} -> 06 {whose}" in " ".join(said.split())
    assert said.endswith("  last look, days after the firing: 12 -> 2\n")


def test_change_says_that_the_body_is_retired(tile, tiles):
    assert tiles("body", "retire", "white earthenware").code == 0
    ran = tiles("change", "N-1", "--body", "white earthenware")
    assert (ran.code, ran.err) == (0, "Note: 'white earthenware' is retired.\n")


def test_a_tile_gets_another_mark_and_the_trials_for_it_follow(tile, tiles):
    trial = ("--trial-of", "n-1", "--trial-defect", "crawling", "--trial-change", "coats 3 -> 2")
    assert tiles("plan", "--body", "porcelain", "--glaze", "pond green", *trial).code == 0
    before = shown(tiles, "N-1")
    ran = tiles("change", "n-1", "--mark", "N-01", "--shelf", "middle")
    assert ran.code == 0
    assert ran.out == "N-1 is now N-01.\n  shelf: top -> middle\n"
    assert differing(before, shown(tiles, "N-01")) == {"mark", "shelf"}
    assert shown(tiles, "N-2")["trial_of"] == "N-01"
    assert_one_line_error(tiles("show", "N-1"), "no tile is marked 'N-1'")
    assert tiles("change", "N-01", "--mark", "n-01").out == "N-01 is now n-01.\n"


def test_a_run_of_tiles_is_changed_at_once_all_or_none(tile, tiles):
    for mark in ("N-2", "N-3"):
        assert tiles("log", "--mark", mark, "--body", "porcelain", "--bisque-cone", "08").code == 0
    before = all_rows(tile)
    cold = ("--bisque-cone", "08")
    assert_one_line_error(tiles("change", "N-1..N-4", *cold), "no tile is marked 'N-4'")
    assert_one_line_error(tiles("change", "N-2..N-3", *cold), "nothing of N-2, N-3 would change")
    assert_one_line_error(tiles("change", "N-2", "N-3", "--mark", "N-9"), "cannot all be 'N-9'")
    assert all_rows(tile) == before
    ran = tiles("change", "N-1..N-3", "--bisque-cone", "06", "--note", "second bisque")
    assert (ran.code, ran.out.splitlines()) == (
        0,
        [
            "N-1, N-2, N-3 are changed.",
            "  N-1: bisque: not recorded -> cone 06",
            "  N-1: note: first words -> second bisque",
            "  N-2..N-3: bisque: cone 08 -> cone 06",
            "  N-2..N-3: note: not recorded -> second bisque",
        ],
    )
    assert [shown(tiles, f"N-{number}")["bisque_cone"] for number in (1, 2, 3)] == ["06"] * 3
    assert tiles("change", "N-2", "--bisque-cone", "04").code == 0
    ran = tiles("change", "n-1..n-3", "--bisque-cone", "06")
    told = "N-2 is changed.\n  bisque: cone 04 -> cone 06\n"
    assert (ran.out, ran.err) == (told, "N-1, N-3 were so already.\n")


def test_what_is_questioned_of_several_tiles_is_asked_once_with_all_marks(tile, tiles):
    for mark, body in {"N-2": "red earthenware", "N-3": "white earthenware"}.items():
        assert tiles("log", "--mark", mark, "--body", body).code == 0
    before = all_rows(tile)
    hot = ("change", "N-1..N-3", "--bisque-cone", "5")
    asked = ("N-1, N-2: bisque cone 5", "for body 'red", "N-3: bisque cone 5", "for body 'white")
    assert_one_line_error(tiles(*hot), *asked, "--yes")
    assert all_rows(tile) == before
    assert tiles(*hot, "--yes").out.startswith("N-1, N-2, N-3 are changed.\n")


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--coats", "1,2"], "N-2: coats '1,2' has 2 numbers for 1 area."),
        (["--clue", "bisque_wiped=no@2"], "N-2: clue 'bisque_wiped=no@2': there is no area 2"),
        (["--forget-inspection", "2026-01-05"], "N-2 was never looked at"),
        (["--made-on", "2024-12-05"], "Error: N-2 would be"),
        (["--batch", "no such"], "N-1: 'pond green' has no batch called 'no such'"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)
def test_what_cannot_be_of_one_tile_of_a_run_names_that_tile(tile, tiles, options, told):
    of = ("--glaze", "pond green=2", "--made-on", "2024-11-01", "--glazed-on", "2024-11-02")
    assert tiles("log", "--mark", "N-2", "--body", "red earthenware", *of).code == 0
    before = all_rows(tile)
    assert_one_line_error(tiles("change", "N-1..N-2", *options), told)
    assert all_rows(tile) == before


def test_a_mark_with_a_zero_too_many_is_told_with_the_command_that_mends_it(tile, tiles):
    ran = tiles("log", "--mark", "N-02", "--body", "porcelain")
    command = "tiles change N-02 --mark N-2"
    assert ran.err == f"Check: a 0 too many or too few? 'N-02' beside 'N-1'. If so: {command}\n"
    ran = tiles(*command.split()[1:])
    assert (ran.out, ran.err) == ("N-02 is now N-2.\n", "")


@pytest.mark.parametrize(("mark", "known"), [("N-0O1", "N-001"), ("N-1", "N-01")])
def test_a_new_mark_that_is_anothers_but_for_a_slip_names_no_mark_that_is_taken(
    sample, tiles, mark, known
):
    for each in (known, "N-4"):
        assert tiles("log", "--mark", each, "--body", "red earthenware").code == 0
    ran = tiles("change", "N-4", "--mark", mark)
    assert ran.code == 0
    assert f"Check: {known!r} is on record: is {mark!r} the same tile?" in ran.err
    assert "--mark" not in ran.err
    assert tiles("remove", mark, "--yes").code == 0


@pytest.mark.parametrize(
    ("new", "told"),
    [
        ("m-41", "'M-41' is already on record"),
        ("N-1", "nothing of N-1 would change"),
        ("", "mark '' is not possible"),
        ("x" * 121, "mark"),
    ],
    ids=["taken", "same", "empty", "long"],
)
def test_a_mark_that_cannot_be_changes_nothing(tile, tiles, new, told):
    before = all_rows(tile)
    assert_one_line_error(tiles("change", "N-1", "--mark", new), told)
    assert all_rows(tile) == before


def test_change_of_coats_and_thickness_goes_to_each_area(tile, tiles):
    options = ("--coats", "3,3", "--thickness-mm", "0.8,1.2", "--method", "dip")
    assert tiles("change", "N-1", *options).code == 0
    layers = [area["layers"][0] for area in shown(tiles, "N-1")["areas"]]
    assert [(each["coats"], each["thickness_mm"], each["method"]) for each in layers] == [
        (3, 0.8, "dip"),
        (3, 1.2, "dip"),
    ]


def test_one_thickness_is_not_that_of_one_coat_and_two(tile, tiles):
    glazed = ("--body", "porcelain", "--glaze", "pond green", "--coats", "1,2")
    assert tiles("log", "--mark", "N-2", *glazed).code == 0
    before = all_rows(tile)
    refused = tiles("change", "N-2", "--thickness-mm", "0.5")
    assert_one_line_error(refused, "thickness 0.5 mm cannot hold for 1 and 2 coats", ",0.5")
    assert all_rows(tile) == before
    assert tiles("change", "N-2", "--thickness-mm", ",0.5").code == 0
    layers = [area["layers"][0] for area in shown(tiles, "N-2")["areas"]]
    assert [each["thickness_mm"] for each in layers] == [None, 0.5]


def test_a_decimal_comma_is_read_where_it_cannot_part_areas(tile, tiles):
    assert tiles("change", "N-1", "--thickness-mm", "1.0,2.0").code == 0
    layers = [area["layers"][0] for area in shown(tiles, "N-1")["areas"]]
    assert [each["thickness_mm"] for each in layers] == [1, 2]
    tiles("log", "--mark", "N-2", "--body", "porcelain", "--glaze", "pond green")
    assert tiles("change", "N-2", "--thickness-mm", "1,2").code == 0
    assert shown(tiles, "N-2")["areas"][0]["layers"][0]["thickness_mm"] == 1.2


def test_one_number_never_flattens_areas_that_differ(tile, tiles):
    assert_one_line_error(tiles("change", "N-1", "--coats", "3"), "2 areas that differ")
    layers = [area["layers"][0] for area in shown(tiles, "N-1")["areas"]]
    assert [each["coats"] for each in layers] == [1, 2]


def test_a_clue_can_be_put_on_one_area(tile, tiles):
    assert tiles("change", "N-1", "--clue", "raw_coat_cracked=yes@2").code == 0
    assert [area["clues"] for area in shown(tiles, "N-1")["areas"]] == [
        {},
        {"raw_coat_cracked": "yes"},
    ]


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ([], ["nothing of N-1 would change"]),
        (["--shelf", "top"], ["nothing of N-1 would change"]),
        (["--body", ""], ["body"]),
        (["--body", "no such"], ["'no such'"]),
        (["--coats", "1,2,3"], ["3 numbers for 2 areas"]),
        (["--thickness-mm", "-1"], ["thickness", "-1"]),
        (
            ["--clue", "raw_coat_cracked=yes@3"],
            ["no area 3", "area 1 or 2 (such as raw_coat_cracked=yes@1)"],
        ),
        (["--forget-inspection", "2026-01-06"], ["2026-01-06", "2026-01-05"]),
        (["--cone-reached", "6"], ["cone reached 6", "--yes"]),
        (["--made-on", "2026-06-01"], ["2026-06-01"]),
    ],
    ids=" ".join,
)
def test_change_refuses_in_one_line_and_changes_nothing(tile, tiles, options, told):
    before = all_rows(tile)
    assert_one_line_error(tiles("change", "N-1", *options), *told)
    assert all_rows(tile) == before


@pytest.mark.parametrize("command", ["log", "inspect", "change", "forecast"])
def test_the_clue_a_help_names_is_one_that_is_known(tiles, command):
    (named,) = re.findall(r"(\w+)=(?:yes|no)", tiles(command, "--help").out)
    assert named in clues()


def test_coats_that_differ_leave_no_one_thickness_for_all_areas(tile, tiles):
    given = ("--body", "red earthenware", "--glaze", "pond green", "--coats", "2,2")
    assert tiles("log", "--mark", "N-7", *given, "--thickness-mm", "0.4").code == 0
    before = shown(tiles, "N-7")
    ran = tiles("change", "N-7", "--coats", "1,3")
    assert_one_line_error(ran, "thickness 0.4 mm cannot hold for 1 and 3 coats")
    assert shown(tiles, "N-7") == before
    assert tiles("change", "N-7", "--coats", "1,3", "--thickness-mm", "0.2,0.6").code == 0
    assert tiles("change", "N-7", "--coats", "2,3").code == 0


@pytest.mark.parametrize(
    "options",
    [("--forget-inspection", "2026-01-05"), ("--inspected-on", "2026-01-06", "--note", "so")],
)
def test_several_tiles_changed_at_once_are_put_back_by_the_command_that_is_told(
    tile, tiles, options
):
    log = ("--body", "porcelain", "--clean", "--inspected-on", "2026-01-05")
    assert tiles("log", "--mark", "N-2", *log).code == 0
    before = [shown(tiles, mark) for mark in ("N-1", "N-2")]
    alone = tiles("change", "N-2", "--note", "other", "--inspected-on", "2026-01-05")
    assert (alone.code, alone.err) == (0, "")
    assert tiles("change", "N-2", "--note", "").code == 0
    ran = tiles("change", "N-1..N-2", *options)
    again = re.search(r"^To put back: tiles (import .*-changed-.*json --replace.*)$", ran.err, re.M)
    assert tiles(*again[1].split()).code == 0
    assert [shown(tiles, mark) for mark in ("N-1", "N-2")] == before


def test_of_many_tiles_a_clue_is_told_by_itself_and_no_more_lines_than_a_screen_holds(
    tile, tiles, monkeypatch
):
    assert tiles("change", "N-1", "--clue", "bisque_wiped=yes", "--note", "a").code == 0
    assert tiles("log", "--mark", "N-2", "--body", "porcelain", "--note", "b").code == 0
    ran = tiles("change", "N-1..N-2", "--clue", "bisque_dusty=no")
    assert ran.out == "N-1, N-2 are changed.\n  clue bisque dusty: not recorded -> no\n"
    monkeypatch.setattr(change_told, "MOST_TOLD", 1)
    told = tiles("change", "N-1..N-2", "--note", "c").out
    assert "  N-1: note: a -> c\n  ... and 1 more such line (--all tells each)\n" in told
    told = tiles("change", "N-1..N-2", "--note", "c", "--shelf", "top", "--all").out
    assert "such lines" not in told


def test_what_is_only_added_to_several_tiles_leaves_no_file(tile, tiles):
    assert tiles("log", "--mark", "N-2", "--body", "porcelain").code == 0
    assert tiles("change", "N-1..N-2", "--made-on", "2024-11-01").err == ""
    assert not list(tile.parent.glob("*-changed-*"))

"""``tiles inspect``: a look at a tile, a further one, and the way to take one off again."""

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown


@pytest.fixture
def tile(tile_of_two_areas):
    return tile_of_two_areas


def test_a_look_at_an_area_that_is_not_there_is_told_which_there_are(tile, tiles):
    ran = tiles("inspect", "N-1", "--defect", "crawling:slight@4")
    assert ran.err == (
        "Error: crawling is on area 4, but the tile has areas 1, 2 only (N-1). Try: area 1 or 2 "
        "(such as crawling@1), or no area for the whole tile.\n"
    )


def test_a_second_look_months_later_is_added(tile, tiles):
    options = ("--defect", "crazing:slight@1", "--inspected-on", "2026-05-02", "--note", "with ink")
    ran = tiles("inspect", "N-1", *options)
    seen = "crawling on area 2, slight crazing on area 1"
    assert (ran.code, ran.out) == (0, f"N-1 is on record: {seen}. Why? tiles why N-1\n")
    looks = shown(tiles, "N-1")["inspections"]
    assert [look["inspected_on"] for look in looks] == ["2026-01-05", "2026-05-02"]
    assert looks[1]["note"] == "with ink"
    assert shown(tiles, "N-1")["derived"]["clean_areas"] == []


def test_a_second_look_without_a_day_is_todays_and_can_be_dated(tile, tiles):
    ran = tiles("inspect", "N-1", "--defect", "crazing")
    assert (ran.code, ran.err) == (0, "")
    to_come = tiles("change", "N-1", "--inspected-on", "2062-01-02")
    assert_one_line_error(to_come, "N-1 would be inspected on 2062-01-02, a day to come")
    assert tiles("change", "N-1", "--inspected-on", "2026-05-02").code == 0
    looks = shown(tiles, "N-1")["inspections"]
    assert [look["inspected_on"] for look in looks] == ["2026-01-05", "2026-05-02"]
    assert tiles("change", "N-1", "--forget-inspection", "2026-01-05").code == 0
    assert tiles("change", "N-1", "--forget-inspection", "02.05.2026").code == 0
    ran = tiles("change", "N-1", "--inspected-on", "2026-05-02")
    assert_one_line_error(ran, "N-1 was never looked at")


def test_a_look_that_contradicts_one_of_the_same_day_is_asked_about(tile, tiles):
    before = all_rows(tile)
    ran = tiles("inspect", "N-1", "--clean", "--inspected-on", "2026-01-05")
    told = "one look of 2026-01-05 found it clean, another with crawling."
    assert_one_line_error(ran, "N-1: ", told, "--forget-inspection", "--yes")
    assert all_rows(tile) == before
    assert tiles("inspect", "N-1", "--clean", "--inspected-on", "2026-01-05", "--yes").code == 0
    assert tiles("inspect", "N-1", "--clean", "--inspected-on", "2026-01-05").code == 0
    again = ("inspect", "N-1", "--defect", "crazing", "--inspected-on", "2026-01-05")
    assert tiles(*again).code == 0, "asked about once only"


def test_a_later_clean_look_at_a_tile_that_crazed_is_asked_about(tile, tiles):
    tiles("inspect", "N-1", "--defect", "crazing", "--inspected-on", "2026-03-05")
    later = ("inspect", "N-1", "--inspected-on", "2026-06-09", "--clean")
    told = "crazing was seen on 2026-03-05 and does not heal, but the look of 2026-06-09 found it"
    mend = "'tiles change N-1 --forget-inspection 2026-03-05' takes the first off"
    assert_one_line_error(tiles(*later), f"N-1: {told} clean.", mend, "--yes if both are right")
    assert len(shown(tiles, "N-1")["inspections"]) == 2
    assert tiles("inspect", "N-1", "--defect", "pinholes").code == 0, "only a clean look is odd"
    assert tiles(*later, "--yes").code == 0


def test_the_command_that_takes_the_first_of_several_looks_off_names_it(tile, tiles):
    day = ("--inspected-on", "2026-03-05")
    tiles("inspect", "N-1", "--clean", *day)
    assert tiles("inspect", "N-1", "--defect", "crazing", *day, "--yes").code == 0
    later = tiles("inspect", "N-1", "--inspected-on", "2026-06-09", "--clean")
    mend = "--forget-inspection 2026-03-05:2"
    assert f"'tiles change N-1 {mend}' takes the first off" in later.err
    assert tiles("change", "N-1", *mend.split()).err == "Taken off: 2026-03-05, crazing.\n"


def test_of_several_looks_of_a_day_only_the_one_named_is_taken_off(tile, tiles):
    day = ("--inspected-on", "2026-01-05", "--yes")
    tiles("inspect", "N-1", "--clean", *day)
    tiles("inspect", "N-1", "--defect", "pinholes:slight", "--note", "near the foot", *day)
    before = all_rows(tile)
    for which in ("2026-01-05", "2026-01-05:4", "2026-01-05:last"):
        ran = tiles("change", "N-1", "--forget-inspection", which)
        told = "3 looks of 2026-01-05: 1 crawling; 2 clean; 3 slight pinholes. near the foot."
        assert_one_line_error(ran, told, "--forget-inspection 2026-01-05:3 for the last")
    assert all_rows(tile) == before
    ran = tiles("change", "N-1", "--forget-inspection", "2026-01-05:2")
    assert (ran.code, ran.err) == (0, "Taken off: 2026-01-05, clean.\n")
    looks = shown(tiles, "N-1")["inspections"]
    seen = [[each["defect"] for each in look["defects"]] for look in looks]
    assert seen == [["crawling"], ["pinholes"]]


def test_one_look_names_a_fault_of_one_area_once(tile, tiles):
    look = ("inspect", "N-1", "--inspected-on", "2026-02-05", "--defect")
    assert_one_line_error(tiles(*look, "pinholes:slight@2,pinholes@2"), "twice on area 2", "once")
    assert_one_line_error(tiles(*look, "pinholes,pinholes:slight"), "pinholes is named twice in")
    assert tiles(*look, "pinholes:slight,pinholes:severe@2").code == 0, "the worse place apart"
    assert tiles("log", "--mark", "N-2", "--body", "porcelain", "--cone-reached", "6").code == 0
    look = ("inspect", "N-2", "--defect")
    assert_one_line_error(tiles(*look, "crazing@1,crazing"), "is named twice")


def test_a_later_clean_look_does_not_make_a_faulty_tile_clean_and_the_way_to_is_told(tile, tiles):
    command = "tiles change N-1 --forget-inspection 2026-01-05"
    told = f"The look of 2026-01-05 (crawling) stays. If it was a slip: {command}"
    ran = tiles("inspect", "N-1", "--clean")
    assert (ran.code, ran.err.splitlines()[-1]) == (0, told)
    assert shown(tiles, "N-1")["derived"]["clean"] is False
    ran = tiles("inspect", "N-1", "--clean", "--inspected-on", "2026-01-05", "--yes")
    assert ran.err.splitlines()[-1] == f"{told}:1"
    look = ("inspect", "N-1", "--inspected-on", "2026-02-02", "--defect", "crawling")
    assert tiles(*look).err == ""
    assert tiles("change", "N-1", "--forget-inspection", "2026-01-05:1").code == 0


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ([], ["nothing was said"]),
        (["--clean", "--defect", "crazing"], ["--clean"]),
        (["--defect", "crazing@3"], ["area 3"]),
        (["--clean", "--inspected-on", "2024-01-01"], ["2024-01-01", "2024-12-13"]),
        (["--clean", "--inspected-on", "2062-01-02"], ["2062-01-02", "a day to come"]),
        (["--clean", "--clue", "raw_coat_cracked=yes@1"], ["names an area", "tiles change"]),
    ],
    ids=" ".join,
)
def test_inspect_refuses_in_one_line_and_changes_nothing(tile, tiles, options, told):
    before = all_rows(tile)
    assert_one_line_error(tiles("inspect", "N-1", *options), *told)
    assert all_rows(tile) == before


def test_words_kept_as_other_become_the_fault_that_they_mean(tile, tiles):
    first = ("--defect", "other (milky)@1", "--inspected-on", "2026-02-01", "--yes")
    assert tiles("inspect", "N-1", *first).code == 0
    again = ("--defect", "slight cloudiness@1", "--inspected-on", "2026-02-01")
    assert tiles("inspect", "N-1", *again).err == (
        "'milky' of N-1 stays beside it as other. If that is the same cloudiness: tiles change N-1 "
        "--other-is milky=cloudiness\n"
    )
    wrong = tiles("change", "N-1", "--other-is", "greasy=cloudiness")
    assert_one_line_error(wrong, "N-1 has no fault kept as 'greasy'. Try: the words on record")
    assert_one_line_error(tiles("change", "N-1", "--other-is", "milky"), "does not say which fault")
    ran = tiles("change", "N-1", "--other-is", "Milky=cloudiness")
    assert ran.out == "N-1 is changed.\n  other (Milky) -> cloudiness (Milky)\n"
    looks = shown(tiles, "N-1")["inspections"][1:]
    assert [[(each["defect"], each["note"]) for each in look["defects"]] for look in looks] == [
        [("cloudiness", "milky")], [("cloudiness", None)]
    ]  # fmt: skip
    assert "kept as other" not in tiles("find", "--doubtful").out

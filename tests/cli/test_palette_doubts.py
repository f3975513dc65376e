"""``tiles palette`` where a clean tile is no proof: what stands beside it, and below."""

import json
from functools import partial

import pytest

from tests.cli.records import palette_rows


@pytest.fixture
def rows(tiles):
    return partial(palette_rows, tiles)


def test_a_clean_tile_of_a_glaze_that_crazed_on_its_clay_stands_below_with_that_count(
    fresh, tiles, rows
):
    for mark, coats, body, cone, seen in (
        *(("A-1", "1", "red", "05", "crazing"), ("A-2", "2", "red", "06", "crazing")),
        *(("A-3", "3", "red", "05", ""), ("A-4", "4", "red", "05", "")),
        *(("A-5", "1", "white", "05", ""), ("A-6", "2", "white", "06", "")),
    ):
        log = ("log", "--mark", mark, "--body", body, "--glaze", "snow", "--add-missing")
        look = ("--defect", seen) if seen else ("--clean",)
        ran = tiles(*log, "--coats", coats, "--cone-reached", cone, *look)
        assert ran.code == 0, ran.err
    found = [(*row["clean_marks"], row["others_on_clay"]) for row in rows("--only-clean")]
    doubt = {"defect": "crazing", "failed": 2, "tiles": 3}
    assert found == [("A-5", None), ("A-6", None), ("A-3", doubt), ("A-4", doubt)]
    told = "A-3 others: crazing 2 of 3"
    assert told in " ".join(tiles("palette", "--only-clean").out.split())
    assert "crazing on 2 of 3 others of snow" in tiles("palette", "--csv").out


def test_another_fault_at_another_cone_is_no_reason_to_doubt_a_clean_tile(fresh, tiles, rows):
    for mark, cone, *seen in (
        ("A-1", "06", "--defect", "underfired"),
        ("A-2", "06", "--defect", "underfired"),
        ("A-3", "05", "--clean"),
    ):
        log = ("log", "--mark", mark, "--body", "red", "--glaze", "snow", "--add-missing")
        assert tiles(*log, "--coats", mark[-1], "--cone-reached", cone, *seen).code == 0
    assert [row["others_on_clay"] for row in rows("--only-clean")] == [None]


def test_tiles_looked_at_too_early_to_tell_of_late_crazing_are_named(fresh, tiles):
    made = ("--body", "red", "--glaze", "snow", "--firing", "F1", "--add-missing")
    assert tiles("firing", "add", "F1", "--fired-on", "2025-01-01").code == 0
    for mark, day, *seen in (
        ("T-1", "2025-06-01", "--defect", "crazing"),
        ("T-2", "2025-01-02", "--clean"),
    ):
        log = tiles("log", *made, "--mark", mark, "--inspected-on", day, *seen)
        assert log.code == 0, log.err
    told = " ".join(tiles("palette").out.split())
    assert "Look again at T-2, last looked at 1 day after the firing (a look" in told
    assert "T-2 early; crazing 1" in told
    (row,) = json.loads(tiles("palette", "--json").out)
    assert (row["clean"], row["clean_early"]) == (1, 1)
    later = ("--mark", "T-3", "--inspected-on", "2025-06-02", "--clean")
    assert tiles("log", *made, *later).code == 0
    told = " ".join(tiles("palette").out.split())
    assert "T-2 1 early; crazing 1" in told and "(with a number: so many of them)" in told
    assert "by 151 days after the firing; of 2 on red looked at late enough 1 crazed." in told


def test_tiles_looked_at_too_early_stand_behind_one_that_was_looked_at_late_enough(
    fresh, tiles, rows
):
    assert tiles("firing", "add", "F1", "--fired-on", "2025-01-01").code == 0
    for mark, coats, day, *seen in (
        ("T-1", "3", "2025-06-01", "--defect", "crazing"),
        *((f"T-{n}", "1", "2025-01-02", "--clean") for n in range(2, 6)),
        ("T-7", "2", "2025-06-01", "--clean"),
    ):
        made = ("--body", "red", "--glaze", "snow", "--firing", "F1", "--add-missing")
        log = tiles("log", *made, "--coats", coats, "--mark", mark, "--inspected-on", day, *seen)
        assert log.code == 0, log.err
    assert [(row["clean"], row["clean_early"]) for row in rows()] == [(1, 0), (4, 4), (0, 0)]


@pytest.mark.parametrize("is_one", [False, True])
def test_where_a_clay_showed_crazing_late_early_looks_of_other_glazes_are_flagged_and_stand_behind(
    fresh, tiles, rows, is_one
):
    """One tile alone is no rule for the clay: that is said, and nothing is flagged."""
    assert tiles("firing", "add", "F1", "--fired-on", "2025-01-01").code == 0
    for mark, glaze, body, day, *seen in (
        ("T-1", "snow", "red", "2025-06-01", "--defect", "crazing"),
        ("T-2", "ash", "red", "2025-01-02", "--clean"),
        ("T-3", "ash", "red", "2025-01-02", "--clean"),
        ("T-4", "moss", "red", "2025-06-01", "--clean"),
        ("T-5", "ash", "white", "2025-01-02", "--clean"),
        ("T-6", "reed", "red", "2025-06-01", "--clean" if is_one else "--defect=crazing"),
    ):
        made = ("--body", body, "--glaze", glaze, "--firing", "F1", "--add-missing")
        log = tiles("log", *made, "--mark", mark, "--inspected-on", day, *seen)
        assert log.code == 0, log.err
    found = [(row["glazes"][0], row["body"], row["clean_early"]) for row in rows("--only-clean")]
    palette = " ".join(tiles("palette").out.split())
    clean = " ".join(tiles("find", "--clean").err.split())
    if is_one:
        assert found[0] == ("ash", "red", 0) and "too early" not in palette
        said = (
            "On red T-1 alone crazed late, seen 151 days after the firing: one tile, no rule for "
            "the clay. Of 4 clean tiles there with a day of firing 2 were looked at about as late."
        )
    else:
        assert found == [("moss", "red", 0), ("ash", "red", 2), ("ash", "white", 0)]
        assert "early: its clean tiles were looked at too early to tell of a fault" in palette
        said = (
            "Look again at T-2, T-3, last looked at 1 day after the firing (a look tells from 76 "
            "days on): half of the crazing on red, whatever the glaze, was seen by 151 days after "
            "the firing."
        )
    assert said in palette and said in clean


def test_others_that_are_counted_at_the_same_cone_alone_are_said_to_be_of_it(fresh, tiles):
    for mark, coats, cone, *seen in (
        ("A-1", "2", "05", "--defect", "crawling"),
        ("A-2", "2", "05", "--defect", "crawling"),
        ("A-3", "3", "05", "--clean"),
        ("A-4", "3", "04", "--clean"),
    ):
        log = ("log", "--mark", mark, "--body", "red", "--glaze", "ink", "--add-missing")
        assert tiles(*log, "--coats", coats, "--cone-reached", cone, *seen).code == 0
    told = " ".join(tiles("palette", "--only-clean").out.split())
    assert "A-3 others: crawling 2 of 2" in told and "of another fault at its own. " in told
    out = tiles("palette", "--only-clean", "--csv").out
    assert "crawling on 2 of 2 others of ink on this clay at this cone" in out


def test_what_most_lines_would_say_of_an_early_look_is_said_once_and_the_other_lines_are_marked(
    fresh, tiles
):
    assert tiles("firing", "add", "F1", "--fired-on", "2025-01-01").code == 0
    for mark, coats, day, *seen in (
        ("T-1", "4", "2025-06-01", "--defect", "crazing"),
        *((f"T-{n}", f"{n - 1}", "2025-01-02", "--clean") for n in range(2, 5)),
        ("T-5", "5", "2025-06-01", "--clean"),
        ("T-6", "6", "2025-06-01", "--clean"),
    ):
        fired = () if mark == "T-6" else ("--firing", "F1")
        made = ("--body", "red", "--glaze", "snow", *fired, "--add-missing", "--yes")
        log = tiles("log", *made, "--coats", coats, "--mark", mark, "--inspected-on", day, *seen)
        assert log.code == 0, log.err
    out = tiles("palette").out
    told = "Unless its line says otherwise, each clean tile was looked at too early to tell of a "
    assert " ".join(out.split()).startswith(f"{told}fault that comes late: below. All: body red")
    lines = [line.split("  T-")[1] for line in out.splitlines() if line.startswith("1 of 1")]
    told = ["5 late enough; but x4", "2 but x4", "3 but x4", "4 but x4", "6 not known when; but x4"]
    assert [" ".join(line.split()) for line in lines] == told
    assert "early:" not in out


def test_of_all_cones_together_the_best_are_shown_and_the_others_counted(fresh, tiles, tmp_path):
    lines = ["mark,body,glaze,coats,cone_reached,inspected_on,defect_crawling"]
    for number in range(31):
        lines.append(f"A-{number},red,ash {number},2,{'^05' if number else ''},2026-03-02,none")
    lines.append("A-31,red,lead flint,2,^06,2026-03-02,none")
    (tmp_path / "many.csv").write_text("\n".join(lines), encoding="utf-8")
    assert tiles("import", tmp_path / "many.csv", "--yes").code == 0
    ran = tiles("palette")
    assert (
        "The best 30 of 32 ways of glazing; all: --limit 32. Of the rest 1 holds a poison by "
        "recipe or label. By the cone reached (--cone): 30 at 05, 1 at 06, 1 not known."
    ) in " ".join(ran.out.split())
    assert ran.out.count("1 of 1") == 30 and "lead" not in ran.out
    assert tiles("palette", "--limit", "32").out.count("1 of 1") == 32
    assert len(palette_rows(tiles)) == 32
    assert tiles("palette", "--cone", "06-05").out.count("1 of 1") == 31


def test_equal_lines_stand_by_coats_and_cones_as_they_count_and_not_as_text(fresh, tiles, rows):
    wanted = [("2", "05"), ("2", "5"), ("2", "10"), ("10", "05")]
    for number, (coats, cone) in enumerate(reversed(wanted)):
        log = ("log", "--mark", f"T-{number}", "--body", "red", "--glaze", "snow", "--add-missing")
        assert tiles(*log, "--coats", coats, "--cone-reached", cone, "--clean").code == 0
    found = [(str(row["coats"][0]), row["cone_reached"]) for row in rows()]
    assert found == wanted


def test_a_line_whose_firing_missed_its_cone_says_what_it_was_set_for(fresh, tiles, rows):
    for name, target, reached in (("F1", "06", "07"), ("F2", "06", "06"), ("F3", "04", "^04")):
        assert tiles("firing", "add", name, "--target-cone", target).code == 0
        made = ("--body", "red", "--glaze", "snow", "--coats", "2", "--add-missing")
        ran = tiles("log", "--mark", f"T-{name}", *made, "--firing", name,
                    "--cone-reached", reached, "--clean", "--yes")  # fmt: skip
        assert ran.code == 0, ran.err
    assert {row["clean_marks"][0]: row["set_for"] for row in rows()} == {
        "T-F1": "06", "T-F2": None, "T-F3": None,
    }  # fmt: skip
    table = " ".join(tiles("palette").out.split())
    assert "1 of 1 snow x2 07 T-F1 set for 06" in table and table.count("set for") == 1

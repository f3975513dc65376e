"""``tiles import`` of a flat CSV, ``tiles export``, and the two together."""

import csv
import json
import re
import shlex
from datetime import date

import pytest

from tests.cli.records import assert_one_line_error, shown

HEADER = "mark,area,body,glaze,coats,cone_reached,inspected_on,defect_crawling"
GOOD = "M-1,1,red earthenware,pond green,3,05,2026-03-04,severe"
BAD = "M-2,1,red earthenware,pond green,many,05,2026-03-04,none"


@pytest.fixture
def write(tmp_path):
    """A CSV file of these lines."""

    def lines(*told: str):
        file = tmp_path / "in.csv"
        file.write_text("\n".join(told) + "\n", encoding="utf-8")
        return file

    return lines


def marks(tiles) -> list[str]:
    """The marks on record; none where there is no database."""
    return [row["mark"] for row in json.loads(tiles("find", "--json").out or "[]")]


def test_a_csv_is_stored_with_what_it_names(fresh, tiles, write):
    ran = tiles("import", write(HEADER, GOOD))
    assert (ran.code, ran.out) == (0, "1 of 1 tiles on record: M-1\n")
    assert "Added clay body red earthenware." in ran.err
    record = json.loads(tiles("show", "M-1", "--json").out)
    assert record["areas"][0]["layers"][0]["coats"] == 3
    assert record["inspections"][0]["defects"][0]["severity"] == "severe"


def test_one_bad_row_stores_nothing_and_is_told_in_one_line(fresh, tiles, write):
    ran = tiles("import", write(HEADER, GOOD, BAD))
    assert ran.code == 1
    [line] = ran.err.splitlines()
    assert "coats 'many'" in line and "row 3, column coats" in line and "Try:" in line
    assert marks(tiles) == []


def test_a_refused_import_leaves_no_empty_database(fresh, tiles, write):
    assert tiles("import", write(HEADER, GOOD, BAD)).code == 1
    assert not fresh.exists()
    tiles("body", "add", "red clay")
    assert tiles("import", write(HEADER, GOOD, BAD)).code == 1
    assert fresh.exists()


def test_every_bad_row_is_listed(fresh, tiles, write):
    worse = "M-3,1,red earthenware,pond green,2,hot,2026-03-04,terrible"
    ran = tiles("import", write(HEADER, GOOD, BAD, worse))
    assert ran.code == 1
    told = ran.err.splitlines()
    assert [line.startswith("Refused:") for line in told] == [True, True, True, False]
    assert "3 things are wrong in 2 of 3 rows" in told[-1]


def test_the_same_fault_in_many_rows_is_one_line(fresh, tiles, write):
    rows = [f'T-{n},brown clay,"0,9"' for n in range(30)]
    ran = tiles("import", write("\n".join(["mark,body,thickness_mm", *rows, "X,brown clay,1cm"])))
    lines = ran.err.splitlines()
    assert lines[0] == (
        "Refused: thickness_mm '0,9' (and 1 more) is not a number (in.csv, "
        "rows 2, 3, 4, 5, 6, 7, 8, 9 and 23 more, column thickness_mm). "
        "Try: digits alone, in mm, with a point for decimals."
    )
    assert lines[1].startswith("Error: 1 thing is wrong in 31 of 31 rows, so nothing was stored.")
    assert len(lines) == 2


def test_dates_of_another_form_are_one_line_a_column_that_names_the_form(fresh, tiles, write):
    rows = [f"T-{n},brown clay,{n}.03.2026,{n}.04.2026" for n in range(1, 6)]
    ran = tiles("import", write("mark,body,made_on,glazed_on", *rows))
    made, glazed, last = ran.err.splitlines()
    told = "'1.03.2026' (and 4 more) is not a date (in.csv, rows 2, 3, 4, 5, 6, column made_on)."
    assert made == f"Refused: {told} Try: year-month-day, such as 2026-03-01."
    assert "'1.04.2026'" in glazed and "2 things are wrong in 5 of 5 rows" in last


def test_a_sheet_that_has_grown_names_the_tiles_on_record_once(fresh, tiles, write):
    rows = [f"T-{n},brown clay" for n in range(3)]
    tiles("import", write("mark,body", *rows))
    file = write("mark,body", *rows, "T-9,brown clay")
    told, last = tiles("import", file).err.splitlines()
    assert "a tile marked 'T-0' (and 2 more) is already on record (in.csv, rows 2, 3, 4)" in told
    assert "--skip-refused to store the others" in told and "1 thing is wrong in 3 of 4" in last
    assert tiles("import", file, "--skip-refused").code == 3
    assert "T-9" in marks(tiles)


def test_a_difference_within_the_file_is_not_said_to_be_on_record(fresh, tiles, write):
    rows = "T-1,brown clay,G1,05", "T-2,brown clay,G1,06"
    file = write("mark,body,firing,target_cone", *rows)
    told = "firing 'G1' comes with target_cone '06', but stands earlier in this file with '05'"
    assert_one_line_error(tiles("import", file), told, "row 3", "the same everywhere")
    tiles("import", write("mark,body,firing,target_cone", rows[0]))
    file = write("mark,body,firing,target_cone", rows[1])
    assert_one_line_error(tiles("import", file), "is on record with '05'", "--keep-stored")


def test_a_file_of_headers_alone_is_refused_and_starts_no_database(fresh, tiles, write):
    assert_one_line_error(tiles("import", write("mark,body\n")), "has no tile, only headers")
    assert not fresh.exists()


def test_skip_refused_keeps_the_good_rows_and_hands_back_the_others(fresh, tiles, write, tmp_path):
    ran = tiles("import", write(HEADER, GOOD, BAD), "--skip-refused")
    assert (ran.code, marks(tiles)) == (3, ["M-1"])
    [kept] = tmp_path.glob("in.refused-*.csv")
    with kept.open(encoding="utf-8-sig", newline="") as opened:
        [row] = csv.DictReader(opened)
    assert row["mark"] == "M-2" and "coats 'many'" in row["refused_because"]
    text = kept.read_text(encoding="utf-8-sig").replace(",many,", ",2,")
    kept.write_text(text, encoding="utf-8")
    assert tiles("import", kept).code == 0
    assert marks(tiles) == ["M-1", "M-2"]


@pytest.mark.parametrize("suffix", [".csv", ".json"])
def test_what_was_refused_is_never_written_over_what_was_refused_before(
    fresh, tiles, tmp_path, suffix
):
    file = tmp_path / f"in{suffix}"
    bad = "\n".join([HEADER, BAD]) if suffix == ".csv" else '[{"mark": "M-2"}]'
    file.write_text(bad, encoding="utf-8")
    for _again in range(3):
        ran = tiles("import", file, "--skip-refused")
        assert ran.code == 3
        for kept in tmp_path.glob("in.refused-*"):
            assert (str(kept) in ran.err) == (kept.read_text(encoding="utf-8") != "mine")
            kept.write_text("mine", encoding="utf-8")
    day = f"{date.today():%Y%m%d}"
    assert sorted(kept.stem for kept in tmp_path.glob("in.refused-*")) == [
        f"in.refused-{day}{number}" for number in ("", "-2", "-3")
    ]


def test_where_the_refused_rows_cannot_be_written_nothing_is_stored(fresh, tiles, tmp_path):
    file = tmp_path / f"{'n' * 245}.csv"  # with the ending of the refused, too long a name
    file.write_text("\n".join([HEADER, GOOD, BAD]), encoding="utf-8")
    ran = tiles("import", file, "--skip-refused")
    assert_one_line_error(ran, "refused-", "cannot be written", "nothing was stored")
    assert marks(tiles) == []


def test_the_template_says_where_it_cannot_be_written(tiles, tmp_path):
    ran = tiles("import", "--template", tmp_path / "nowhere" / "new.csv")
    assert_one_line_error(ran, "new.csv cannot be written")


def test_a_glaze_whose_recipe_stands_on_a_later_row_is_stored_as_one(fresh, tiles, write):
    file = write("mark,body,glaze,recipe", "A-1,red clay,pond,", "A-2,red clay,pond,whiting=100")
    tiles("import", str(file))
    assert marks(tiles) == ["A-1", "A-2"]


def test_a_tile_already_on_record_is_refused_with_its_row(fresh, tiles, write):
    file = write(HEADER, GOOD)
    assert tiles("import", file).code == 0
    ran = tiles("import", file)
    assert ran.code == 1
    assert "already on record" in ran.err and "in.csv, row 2" in ran.err
    assert tiles("import", file, "--replace").code == 0


def test_a_cone_a_spreadsheet_turned_into_5_is_questioned(fresh, tiles, write):
    file = write(
        "mark,body,body_cone_low,body_cone_high,cone_reached", "M-1,red,06,04,5", "M-2,red,06,04,05"
    )
    ran = tiles("import", file)
    assert ran.code == 1
    assert "cone reached 5" in ran.err and "row 2" in ran.err
    assert tiles("import", file, "--yes").code == 0


@pytest.mark.filterwarnings("error")
def test_kilns_and_materials_of_refused_rows_are_added_with_the_next(fresh, tiles, write):
    header = "mark,body,body_kind,firing,kiln,cone_reached,glaze,recipe"
    rows = [
        f"M-{number},red,earthenware,L{number},little kiln,{cone},pond,whiting=40; silica=60"
        for number, cone in enumerate(("5", "6", "05"))
    ]
    ran = tiles("import", write(header, *rows), "--skip-refused")
    assert (ran.code, marks(tiles)) == (3, ["M-2"])
    assert "Warning" not in ran.err
    record = json.loads(tiles("show", "M-2", "--json").out)
    assert record["firing"]["kiln"] == "little kiln"


def test_a_slip_in_a_name_is_pointed_out_and_the_commands_told_put_it_right(fresh, tiles, write):
    header = "mark,body,glaze,firing,kiln"
    good = ["M-1,brick clay,pond green,L1,little kiln", "M-2,brick clay,pond green,L2,little kiln"]
    assert "Check" not in tiles("import", write(header, *good)).err
    rows = "M-3,brick cley,pond gren,L3,litle kiln", "M-4,brick clay,fog grey,L4,little kiln"
    file = write(header, *rows)
    told = tiles("import", file).err.splitlines()
    assert [line for line in told if line.startswith("Check")] == [
        "Check: clay body 'brick cley' is very like 'brick clay'.",
        "Check: glaze 'pond gren' is very like 'pond green'.",
        "Check: kiln 'litle kiln' is very like 'little kiln'.",
    ]
    commands = [shlex.split(line)[1:] for line in told if line.startswith("  tiles ")]
    corrected = file.read_text(encoding="utf-8")
    for slip, right in {"cley": "clay", "gren,": "green,", "litle": "little"}.items():
        corrected = corrected.replace(slip, right)
    file.write_text(corrected, encoding="utf-8")
    for command in commands:
        ran = tiles(*command)
        assert (ran.code, "Check" in ran.err) == (0, False), ran.err
    record = json.loads(tiles("show", "M-3", "--json").out)
    found = record["body"], record["areas"][0]["layers"][0]["glaze"]
    assert [each["name"] for each in found] == ["brick clay", "pond green"]
    assert record["firing"]["kiln"] == "little kiln"
    left = {row["name"]: row["retired"] for row in json.loads(tiles("body", "list", "--json").out)}
    assert left == {"brick clay": False, "brick cley": True}


def test_a_slip_in_the_name_of_a_firing_can_be_put_right_and_leaves_it_empty(fresh, tiles, write):
    header = "mark,body,firing"
    assert tiles("import", write(header, "M-1,brick clay,spring load")).code == 0
    told = tiles("import", write(header, "M-2,brick clay,sprnig load")).err
    assert "Check: firing 'sprnig load' is very like 'spring load'.\n" in told
    assert told.endswith("A wrong firing or kiln stays on record, empty; it counts for nothing.\n")
    assert tiles("import", write(header, "M-2,brick clay,spring load"), "--replace").code == 0
    firings = json.loads(tiles("firing", "list", "--json").out)
    assert {row["name"]: row["tiles"] for row in firings} == {"spring load": 2, "sprnig load": 0}


def test_of_many_names_that_are_alike_the_first_are_told_and_where_the_others_stand(
    fresh, tiles, write
):
    good = [f"{letter}{letter}mber glaze" for letter in "bcdfghklmnp"]
    names = [*good, *(name.replace("mber", "mbre") for name in good)]
    rows = [f"M-{number},brick clay,{name}" for number, name in enumerate(names)]
    told = tiles("import", write("mark,body,glaze", *rows)).err
    assert told.count("is very like") == told.count("glaze retire") == 8
    assert "Check: 3 more, too; they stand in 'tiles glaze list'.\n" in told


def test_marks_that_differ_only_by_blanks_are_told_in_one_line(fresh, tiles, write):
    assert tiles("import", write("mark,body", "T06,red", "T07,red", "U 1,red")).code == 0
    ran = tiles("import", write("mark,body", "T 06,red", "T 07,red", "U2,red"))
    assert ran.code == 0
    assert ran.err == (
        "Check: marks that differ only by blanks are two tiles: "
        "'T 06' and 'T06', 'T 07' and 'T07'.\n"
    )


def test_a_shelf_without_a_witness_cone_is_told_once_for_all_its_tiles(fresh, tiles, write):
    header = "mark,body,firing,witness_cones,shelf"
    rows = [f"M-{n},red,L5,top=05; bottom=06,botom" for n in (1, 2)]
    ran = tiles("import", write(header, *rows, "M-3,red,L5,,top"))
    assert ran.code == 0
    assert [line for line in ran.err.splitlines() if "shelf" in line] == [
        "L5 has no witness cone for shelf 'botom', only for top, bottom: no cone reached is known "
        "for M-1, M-2. Did you mean 'bottom'?"
    ]


def test_a_look_of_a_day_to_come_is_refused_with_its_row(fresh, tiles, write):
    ran = tiles("import", write(HEADER, GOOD.replace("2026-03-04", "2062-03-04")))
    assert_one_line_error(ran, "M-1", "2062-03-04", "a day to come", "row 2")
    assert marks(tiles) == []


def test_a_zero_lost_by_a_spreadsheet_is_questioned_without_any_label(fresh, tiles, write):
    """05 has become 5 in target, witness cone and bisque, so that they agree with each other."""
    header = "mark,body,body_kind,bisque_cone,firing,target_cone,peak_c,witness_cones"
    file = write(header, "M-1,red,earthenware,,L1,5,,5", "M-2,red,earthenware,4,,,,")
    ran = tiles("import", file)
    assert ran.code == 1
    assert "M-1: cone reached 5" in ran.err
    assert "M-2: bisque cone 4" in ran.err
    assert marks(tiles) == []
    assert tiles("import", file, "--yes").code == 0


@pytest.mark.parametrize(
    ("row", "is_told"),
    [
        ("M-1,red,6,4,5", True),
        ("M-1,red,06,04,5", False),
        ("M-1,red,,,4", True),
        ("M-1,red,,,04", False),
        ("M-1,,5,6,", False),
    ],
)
def test_a_sheet_whose_zeros_were_lost_is_told_so(fresh, tiles, write, row, is_told):
    header = "mark,body,glaze_cone_low,glaze_cone_high,bisque_cone,glaze"
    ran = tiles("import", write(header, f"{row},pond"))
    assert ("No cone in in.csv has a 0. Cones: type ^06, not 06" in ran.err) is is_told


def test_a_sheet_of_single_digits_is_asked_about_once_where_nothing_tells(fresh, tiles, write):
    rows = "mark,body,firing,target_cone,cone_reached", "A-1,red,F1,6,5", "A-2,red,F1,,6"
    one_cone = write(f"{rows[0]},body_cone_low", "A-1,red,F1,6,6,6")
    assert "No cone in in.csv has a 0 (6)" in tiles("import", one_cone).err
    file = write(*rows)
    assert_one_line_error(tiles("import", file), "No cone in in.csv has a 0 (5, 6)", "--yes")
    assert marks(tiles) == []
    assert tiles("import", file, "--yes").code == 0
    assert tiles("import", file, "--replace").code == 0
    assert tiles("import", write(*rows[:2], "A-2,red,F1,,4"), "--replace").code == 1


@pytest.mark.parametrize(
    "row",
    ["A-1,red,05,,,", "A-1,red,10,,,", "A-1,red,6,stoneware,,", "A-1,red,6,,5,6", "A-1,red,,,,"],
)
def test_a_sheet_that_tells_its_cones_is_not_asked_about(fresh, tiles, write, row):
    header = "mark,body,cone_reached,body_kind,glaze_cone_low,glaze_cone_high,glaze"
    assert tiles("import", write(header, f"{row},pond")).code == 0


def test_a_firing_whose_peak_does_not_suit_its_target_is_questioned_once(fresh, tiles, write):
    header = "mark,body,firing,target_cone,peak_c"
    file = write(header, "M-1,red,L1,05,1186", "M-2,red,L1,,")
    told = tiles("import", file).err.splitlines()
    assert [line for line in told if "peak" in line] == told[:1]
    assert "firing L1: peak 1186 C" in told[0] and "rows 2, 3" in told[0]
    assert marks(tiles) == []
    assert tiles("import", file, "--yes").code == 0


def test_replace_does_not_lose_what_a_csv_cannot_hold(sample, tiles, tmp_path):
    before = tiles("show", "M-4", "--json").out
    out = tmp_path / "all.csv"
    assert tiles("export", out).code == 0
    ran = tiles("import", out, "--replace", "--keep-stored", "--skip-refused")
    assert ran.code == 3
    assert "M-4 would lose where on the tile a defect is" in ran.err
    assert tiles("show", "M-4", "--json").out == before


def test_the_yes_for_an_odd_cone_takes_no_look_away(fresh, tiles, write):
    header = "mark,body,body_cone_low,body_cone_high,cone_reached,inspected_on,defect_crazing"
    file = write(header, "A-1,red clay,06,04,5,2026-01-02,none", "A-2,red clay,06,04,05,,")
    assert tiles("import", file, "--yes").code == 0
    assert tiles("inspect", "A-1", "--defect", "crazing", "--inspected-on", "2026-06-02").code == 0
    assert tiles("inspect", "A-2", "--clean", "--inspected-on", "2026-06-02").code == 0
    ran = tiles("import", file, "--replace", "--yes")
    assert ran.code == 1
    assert "A-1 would lose the 2 looks each by itself" in ran.err
    assert "A-2 would lose the look of 2026-06-02 (clean)" in ran.err
    assert [len(shown(tiles, mark)["inspections"]) for mark in ("A-1", "A-2")] == [2, 1]
    ran = tiles("import", file, "--replace", "--allow-loss")
    assert ran.code == 0
    assert "A-1 lost the 2 looks each by itself" in ran.err
    assert "A-2 lost the look of 2026-06-02 (clean)." in ran.err


def test_an_odd_cone_once_confirmed_is_not_questioned_again(fresh, tiles, write):
    header = "mark,body,body_cone_low,body_cone_high,cone_reached"
    file = write(header, "A-1,red clay,06,04,5")
    assert tiles("import", file).code == 1
    assert tiles("import", file, "--yes").code == 0
    assert tiles("import", file, "--replace").code == 0
    other = tiles("import", write(header, "A-1,red clay,06,04,6"), "--replace")
    assert (other.code, "cone reached 6" in other.err) == (1, True)


def test_the_template_has_every_header_and_its_list_explains_each(tiles, tmp_path):
    file = tmp_path / "new.csv"
    ran = tiles("import", "--template", file)
    assert ran.code == 0
    header = file.read_text(encoding="utf-8-sig").strip().split(",")
    listed = json.loads(tiles("import", "--columns", "--json").out)
    assert header == [each["column"] for each in listed]
    assert all(each["unit"] and each["says"] for each in listed)
    explained = (tmp_path / "new.columns.txt").read_text(encoding="utf-8")
    about_cones, blank, *each = explained.splitlines()
    assert about_cones.startswith("Cones: type ^06, not 06;") and not blank
    assert tiles("import", "--columns").err == f"{about_cones}\n"
    assert [line.split(" [")[0] for line in each] == header
    assert tiles("import", "--template").out == file.read_text(encoding="utf-8-sig")


def test_the_template_never_writes_over_a_file(tiles, write):
    ran = tiles("import", "--template", write("mine"))
    assert ran.code == 1
    assert "already there" in ran.err


def test_import_without_a_file_says_what_to_name(tiles):
    ran = tiles("import")
    assert ran.code == 1
    assert "no file was named" in ran.err


def test_export_and_import_into_an_empty_database_give_equal_rows(
    sample, tiles, tmp_path, monkeypatch
):
    first, second = tmp_path / "first.csv", tmp_path / "second.csv"
    ran = tiles("export", first)
    assert ran.code == 0
    assert "Left out on" in ran.err and "looks each by itself" in ran.err
    assert re.search(r"Left out on \d+ tiles \(\S+, \S+, \S+ and \d+ more\): ", ran.err)
    assert "first.json" in ran.err
    monkeypatch.setenv("TILES_DB", str(tmp_path / "empty.db"))
    ran = tiles("import", first, "--yes")
    assert ran.code == 0, ran.err
    assert tiles("export", second).code == 0
    assert second.read_text(encoding="utf-8-sig") == first.read_text(encoding="utf-8-sig")


def test_one_exported_tile_is_told_as_one(fresh, tiles, tmp_path, write):
    assert tiles("import", write("mark,body", "M-1,red earthenware")).code == 0
    for name, told in (("one.csv", "1 tile in 1 row is in"), ("one.json", "1 tile is in")):
        assert tiles("export", tmp_path / name).out.startswith(told)


def test_export_as_json_comes_back_whole(sample, tiles, tmp_path, monkeypatch):
    out = tmp_path / "all.json"
    assert tiles("export", out).code == 0
    before = {each["mark"]: each for each in json.loads(out.read_text(encoding="utf-8"))}
    monkeypatch.setenv("TILES_DB", str(tmp_path / "empty.db"))
    assert tiles("import", out, "--yes").code == 0
    for mark in ("M-4", "M-6", "M-41"):
        assert json.loads(tiles("show", mark, "--json").out) == before[mark]


def test_export_refuses_a_file_that_is_there_and_an_unknown_ending(sample, tiles, tmp_path, write):
    assert "already there" in tiles("export", write("mine")).err
    ran = tiles("export", tmp_path / "all.xls")
    assert (ran.code, "neither in .csv nor in .json" in ran.err) == (1, True)

"""``tiles import`` of a flat CSV, ``tiles export``, and the two together."""

import csv
import json
import re
from datetime import date

import pytest

from tests.cli.records import all_rows, assert_one_line_error
from tests.cli.sheets import BAD, GOOD, HEADER, marks


def test_a_csv_is_stored_with_what_it_names(fresh, tiles, write):
    ran = tiles("import", write(HEADER, GOOD))
    assert (ran.code, ran.out) == (0, "1 of 1 tile on record: M-1\n")
    assert "Added clay body red earthenware." in ran.err
    record = json.loads(tiles("show", "M-1", "--json").out)
    assert record["areas"][0]["layers"][0]["coats"] == 3
    assert record["inspections"][0]["defects"][0]["severity"] == "severe"


def test_what_a_sheet_adds_is_a_line_for_each_kind_however_much_it_is(fresh, tiles, write):
    ran = tiles("import", write("mark,body,firing", *(f"M-{n},red,F{n}" for n in range(1, 13))))
    assert ran.err.splitlines() == [
        "Added clay body red.",
        "Added firing F1, F2, F3, F4, F5, F6, F7, F8 and 4 more.",
    ]


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
    rows = [f"T-{n},brown clay,0.9-1.1" for n in range(30)]
    ran = tiles("import", write("\n".join(["mark,body,thickness_mm", *rows, "X,brown clay,1cm"])))
    lines = ran.err.splitlines()
    assert lines[0] == (
        "Refused: thickness_mm '0.9-1.1' (also '1cm') is not a number (in.csv, "
        "rows 2, 3, 4, 5, 6, 7, 8, 9 and 23 more, column thickness_mm). "
        "Try: digits alone, in mm, with a point or comma for decimals."
    )
    assert lines[1].startswith("Error: 1 thing is wrong in 31 of 31 rows, so nothing was stored.")
    assert len(lines) == 2


def test_dates_of_another_form_are_one_line_a_column_that_names_the_form(fresh, tiles, write):
    rows = [f"T-{n},brown clay,{n}.03.2026,{n}.04.2026" for n in range(1, 6)]
    ran = tiles("import", write("mark,body,made_on,glazed_on", *rows))
    made, glazed, last = ran.err.splitlines()
    told = (
        "'1.03.2026' (also '2.03.2026', '3.03.2026', '4.03.2026', '5.03.2026') is not a date "
        "(in.csv, rows 2, 3, 4, 5, 6, column made_on)."
    )
    hint = "year-month-day, such as 2026-03-01, or --days dmy (or mdy) where all are written like"
    assert made == f"Refused: {told} Try: {hint} this one."
    assert "'1.04.2026'" in glazed and "2 things are wrong in 5 of 5 rows" in last


def test_a_sheet_that_has_grown_stores_what_is_new_of_it(fresh, tiles, write):
    rows = [f"T-{n},brown clay," for n in range(3)]
    tiles("import", write("mark,body,shelf", *rows))
    rows[1] += "top"
    ran = tiles("import", write("mark,body,shelf", *rows, "T-9,brown clay,"))
    assert ran.out == "4 of 4 tiles on record: 1 stored (T-9), 1 with more (T-1) and 2 as before\n"
    assert ran.err == "T-1 gained shelf.\nSame as on record, left: T-0, T-2.\n"


def test_a_difference_within_the_file_is_not_said_to_be_on_record(fresh, tiles, write):
    rows = "T-1,brown clay,G1,05", "T-2,brown clay,G1,06"
    file = write("mark,body,firing,target_cone", *rows)
    told = "firing 'G1' comes with target_cone '06', but stands earlier in this file with '05'"
    assert_one_line_error(tiles("import", file), told, "row 3", "the same everywhere")
    tiles("import", write("mark,body,firing,target_cone", rows[0]))
    file = write("mark,body,firing,target_cone", rows[1])
    assert_one_line_error(tiles("import", file), "is on record with '05'", "--keep-stored")


def test_a_day_that_differs_is_told_as_it_was_written(fresh, tiles, write):
    rows = [f"T-{n},brown clay,G1,2026-04-{n:02}" for n in (3, 13, 14)]
    ran = tiles("import", write("mark,body,firing,fired_on", *rows))
    assert "firing 'G1' comes with fired_on 2026-04-13 (also 2026-04-14), but stands" in ran.err
    assert "earlier in this file with 2026-04-03 (in.csv, rows 3, 4)" in ran.err


def test_a_file_of_headers_alone_is_refused_and_starts_no_database(fresh, tiles, write):
    assert_one_line_error(tiles("import", write("mark,body\n")), "has no tile, only headers")
    assert not fresh.exists()


def test_skip_refused_keeps_the_good_rows_and_hands_back_the_others(fresh, tiles, write, tmp_path):
    ran = tiles("import", write(HEADER, GOOD, BAD), "--skip-refused")
    assert (ran.code, marks(tiles)) == (3, ["M-1"])
    [kept] = tmp_path.glob("in.refused-*.csv")
    assert f"beside each: 1 row in {kept}.\n" in ran.err
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


def test_a_tile_on_record_otherwise_is_refused_with_its_row(fresh, tiles, write):
    assert tiles("import", write("mark,body,shelf", "M-1,brown clay,top")).code == 0
    file = write("mark,body,shelf", "M-1,brown clay,low")
    told = "already on record with shelf 'top', and comes with 'low' (in.csv, row 2)"
    assert_one_line_error(tiles("import", file), told)
    assert tiles("import", file, "--replace").code == 0


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


def test_a_look_of_a_day_to_come_is_refused_with_its_row(fresh, tiles, write):
    ran = tiles("import", write(HEADER, GOOD.replace("2026-03-04", "2062-03-04")))
    assert_one_line_error(ran, "M-1", "2062-03-04", "a day to come", "row 2")
    assert marks(tiles) == []


def test_replace_does_not_lose_what_a_csv_cannot_hold(sample, tiles, tmp_path):
    before = tiles("show", "M-4", "--json").out
    out = tmp_path / "all.csv"
    assert tiles("export", out).code == 0
    ran = tiles("import", out, "--replace", "--keep-stored", "--skip-refused")
    assert ran.code == 3
    assert "M-4 would lose the words about crawling" in ran.err
    assert tiles("show", "M-4", "--json").out == before


def test_words_beside_a_fault_come_again_with_a_sheet_that_has_grown(fresh, tiles, write):
    header, row = "mark,body,glaze,inspected_on,faults", "A-1,red,moss,2026-03-04,"
    assert tiles("import", write(header, row + "crawled at edge")).code == 0
    assert json.loads(tiles("show", "A-1", "--json").out)["inspections"][0]["defects"][0] == {
        "defect": "crawling", "severity": None, "area": None, "place": None, "note": "at edge"
    }  # fmt: skip
    file = write(header, row + "slight crawling at edge", "A-2,red,moss,2026-03-04,none")
    assert tiles("import", file, "--replace").code == 0
    ran = tiles("import", write(header, row + "slight crawling"), "--replace")
    assert_one_line_error(ran, "A-1 would lose the words about crawling", "--allow-loss")


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
    ran = tiles("import", "--columns")
    assert ran.err == f"{about_cones}\n"
    assert "\ncoats [coats]: number of coats\n" in ran.out
    assert [line.split(" [")[0] for line in each] == [*header, "faults", "fault_words"]
    assert tiles("import", "--template").out == file.read_text(encoding="utf-8-sig")
    assert tiles("import", "--template", "-").out == file.read_text(encoding="utf-8-sig")


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
    assert "Left out on" in ran.err and "words about a defect" in ran.err
    assert re.search(r"Left out on \d+ tiles \(\S+, \S+, \S+ and \d+ more\): ", ran.err)
    assert "first.json" in ran.err
    monkeypatch.setenv("TILES_DB", str(tmp_path / "empty.db"))
    ran = tiles("import", first, "--yes")
    assert ran.code == 0, ran.err
    assert tiles("export", second).code == 0
    assert second.read_text(encoding="utf-8-sig") == first.read_text(encoding="utf-8-sig")


def test_an_export_that_comes_again_untouched_changes_nothing(fresh, tiles, tmp_path):
    """Also of a tile with two looks of one day, faults of the whole tile and too many layers."""
    layers = [each for name in ("a", "b", "c", "d", "e") for each in ("--glaze", name)]
    day = ("--inspected-on", "2026-03-01")
    log = "log", "--mark", "?1", "--body", "red", *layers, "--coats", "1,2", "--add-missing", "-y"
    assert tiles(*log, "--defect", "crazing", *day).code == 0
    assert tiles("inspect", "?1", "--defect", "running + slight crazing", *day).code == 0
    out = tmp_path / "all.csv"
    assert tiles("export", out).code == 0
    before = all_rows(fresh)
    ran = tiles("import", out)
    assert (ran.code, ran.out) == (0, "1 of 1 tile on record as before: nothing was changed\n")
    assert all_rows(fresh) == before
    changed = out.read_text(encoding="utf-8-sig").replace(",e,1,", ",e,3,")
    out.write_text(changed, encoding="utf-8")
    assert "is already on record with" in tiles("import", out).err


def test_one_exported_tile_is_told_as_one(fresh, tiles, tmp_path, write):
    assert tiles("import", write("mark,body", "M-1,red earthenware")).code == 0
    for name, told in (("one.csv", "1 tile in 1 row is in"), ("one.json", "1 tile is in")):
        assert tiles("export", tmp_path / name).out.startswith(told)


def test_export_as_json_comes_back_whole(sample, tiles, tmp_path, monkeypatch):
    out = tmp_path / "all.json"
    assert tiles("export", out).code == 0
    before = {each["mark"]: each for each in json.loads(out.read_text(encoding="utf-8"))["tiles"]}
    monkeypatch.setenv("TILES_DB", str(tmp_path / "empty.db"))
    assert tiles("import", out).code == 0, "what was confirmed once is not asked again"
    for mark in ("M-4", "M-6", "M-41"):
        assert json.loads(tiles("show", mark, "--json").out) == before[mark]


def test_a_csv_does_not_say_what_is_retired_and_takes_nothing_back(fresh, tiles, tmp_path, write):
    tiles("import", write("mark,body,glaze", "M-1,red,pond"))
    tiles("glaze", "retire", "pond")
    ran = tiles("export", tmp_path / "all.csv")
    assert "Left out on 1 tile (M-1): that 'pond' is retired." in ran.err and "all.json" in ran.err
    assert tiles("import", tmp_path / "all.csv", "--replace").code == 0
    record = json.loads(tiles("show", "M-1", "--json").out)
    assert record["areas"][0]["layers"][0]["glaze"]["is_retired"]


def test_export_refuses_a_file_that_is_there_and_an_unknown_ending(sample, tiles, tmp_path, write):
    assert "already there" in tiles("export", write("mine")).err
    ran = tiles("export", tmp_path / "all.xls")
    assert (ran.code, "neither in .csv nor in .json" in ran.err) == (1, True)
    assert_one_line_error(tiles("export", tmp_path / "all.json", "--semicolons"), "is for a CSV")
    assert tiles("export", tmp_path / "all.csv", "--semicolons").code == 0
    assert ";0,6;" in (tmp_path / "all.csv").read_text(encoding="utf-8-sig")


def test_a_sheet_of_ones_own_is_taken_with_its_days_and_faults(fresh, tiles, write):
    file = write("Mark,Body,Glaze,firing,fired_on,faults",
                 "1,red,pond,L1,21/1/26,severe crawling + pinholes",
                 "2,red,pond,L1,,ok")  # fmt: skip
    refused = tiles("import", file)
    assert refused.code == 1 and "--days dmy" in refused.err
    assert tiles("import", file, "--days", "DMY", "--looked-when-fired").code == 0
    assert [row["mark"] for row in json.loads(tiles("find", "--clean", "--json").out)] == ["2"]
    (look,) = json.loads(tiles("show", "1", "--json").out)["inspections"]
    assert look["inspected_on"] == "2026-01-21"
    assert [(each["defect"], each["severity"]) for each in look["defects"]] == [
        ("crawling", "severe"),
        ("pinholes", None),
    ]


def test_a_result_is_of_the_day_of_a_firing_on_record(fresh, tiles, write):
    file = write("mark,body,glaze,firing,faults", "1,red,pond,f1,none")
    assert "or fired_on" in tiles("import", file, "--looked-when-fired").err
    tiles("firing", "add", "F1", "--fired-on", "2026-03-01")
    assert tiles("import", file, "--looked-when-fired").code == 0
    (look,) = json.loads(tiles("show", "1", "--json").out)["inspections"]
    assert look["inspected_on"] == "2026-03-01"


@pytest.mark.parametrize(
    ("given", "told"),
    [(("in.csv", "--days", "ymd"), "'ymd'"), (("in.json", "--days", "dmy"), "for a CSV"),
     (("in.json", "--looked-when-fired"), "for a CSV")],
)  # fmt: skip
def test_how_a_sheet_is_written_is_one_of_two_ways_and_of_no_json(
    fresh, tiles, tmp_path, given, told
):
    assert_one_line_error(tiles("import", tmp_path / given[0], *given[1:]), told)


def test_a_workbook_is_told_as_one_before_its_options_are(fresh, tiles, tmp_path):
    book = tmp_path / "sheet.xlsx"
    book.write_bytes(b"PK\x03\x04\x14")
    assert_one_line_error(tiles("import", book, "--days", "dmy"), "is a workbook, not text")

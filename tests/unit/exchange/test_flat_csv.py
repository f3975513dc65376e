"""The flat form: columns, cells and files. Its shape is ours; no outside standard."""

import csv
from datetime import date

import pytest

from sample_db.read import read_records
from tests.unit.exchange.places import with_one_place
from tiles.errors import InvalidValue, TilesError
from tiles.exchange import flat_cells, flat_csv
from tiles.exchange.flat_columns import by_name, defect_column
from tiles.exchange.flat_spread import spread
from tiles.exchange.json_file import read_values
from tiles.records import forms, words
from tiles.records.clues import clues


def the_tile(file) -> forms.TileRecord:
    reading = flat_csv.read_file(file)
    assert reading.problems == []
    [(_number, record)] = reading.tiles
    return record


def the_problem(file) -> TilesError:
    [problem] = flat_csv.read_file(file).problems
    return problem


def test_every_field_of_a_record_has_a_column_but_the_listed_few():
    left_out = {"areas", "inspections", "photos", "clues", "body", "firing", "bisque_firing"}
    left_out |= {"kind"}  # of a firing: the column it stands in says it
    left_out |= {"is_retired"}  # JSON holds it
    held = {(each.part, each.field) for each in flat_csv.columns()}
    parts = {
        "tile": forms.TileRecord, "body": forms.BodyRecord, "glaze": forms.GlazeRecord,
        "batch": forms.BatchRecord, "recipe": forms.RecipeRecord, "firing": forms.FiringRecord,
        "bisque_firing": forms.FiringRecord,
    }  # fmt: skip
    for part, form in parts.items():
        for name in form.model_fields:
            assert (part, name) in held or name in left_out, (part, name)


def test_every_defect_and_every_clue_has_one_column():
    names = [each.name for each in flat_csv.columns()]
    assert len(set(names)) == len(names)
    assert [n for n in names if n.startswith("defect_")] == list(map(defect_column, words.DEFECTS))
    assert [n.removeprefix("clue_") for n in names if n.startswith("clue_")] == list(clues())


def test_every_column_says_what_it_holds_in_one_line_with_a_unit():
    for each in flat_csv.columns():
        assert each.unit and each.says and "\n" not in each.says, each.name


def test_the_template_is_one_header_line_that_reads_as_an_empty_file(write):
    reading = flat_csv.read_file(write(flat_csv.template().strip()))
    assert (reading.tiles, reading.problems) == ([], [])
    assert reading.header == [each.name for each in flat_csv.columns()]


def test_sample_tiles_come_back_equal_through_a_file(tmp_path):
    records = [r for r in read_records().tiles if not flat_csv.not_carried(r)]
    assert len(records) > 100
    flat_csv.write_file(tmp_path / "all.csv", records)
    reading = flat_csv.read_file(tmp_path / "all.csv")
    assert reading.problems == []
    back = [record for _number, record in reading.tiles]
    assert list(map(with_one_place, back)) == list(map(with_one_place, records))


@pytest.mark.parametrize(
    ("delimiter", "thickness"),
    [(",", "0.9"), (",", '"0,9"'), (";", "0,9"), ("\t", "0,9"), (";", "0.9"), ("|", "0,9")],
)
def test_delimiter_is_found_and_a_decimal_comma_read(write, delimiter, thickness):
    header = delimiter.join(("mark", "body", "glaze", "thickness_mm", "cone_reached"))
    row = delimiter.join(("M-1", "red", "pond green", thickness, "05"))
    record = the_tile(write(header, row))
    assert record.areas[0].layers[0].thickness_mm == 0.9
    assert record.cone_reached == "05"


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_a_file_saved_by_a_spreadsheet_with_byte_order_mark_is_read(write, encoding):
    """As UTF-16 for "Unicode text", or by the > of PowerShell."""
    record = the_tile(write("mark\tbody", "M-1\tTon früh", encoding=encoding))
    assert record.body.name == "Ton früh"


def test_json_sent_into_a_file_by_powershell_is_read(tmp_path):
    file = tmp_path / "M-1.json"
    file.write_text('{"mark": "M-1", "body": "Ton früh"}\n', encoding="utf-16")
    assert read_values(file) == [{"mark": "M-1", "body": "Ton früh"}]


def test_a_file_that_is_not_utf_8_says_so_and_a_workbook_what_to_do(write, tmp_path):
    with pytest.raises(InvalidValue, match="not UTF-8"):
        flat_csv.read_file(write("mark,body", "M-1,früh", encoding="latin-1"))
    workbook = tmp_path / "tiles.xlsx"
    workbook.write_bytes(b"PK\x03\x04\x14\xff")
    for read in (flat_csv.read_file, read_values):
        with pytest.raises(InvalidValue, match="is a workbook, not text. Try: save its sheet as"):
            read(workbook)


def test_blanks_around_a_cell_are_no_other_reading(write):
    reading = flat_csv.read_file(
        write("mark,body,shelf,cone_reached", " M-1 , red, top ,\u00a005 ")
    )
    assert reading.tiles[0][1].mark == "M-1" and not reading.said


def test_three_rows_of_a_mark_are_three_areas_with_their_own_results(write):
    record = the_tile(
        write(
            "mark,area,body,glaze,coats,inspected_on,defect_crawling,clue_bisque_wiped",
            "M-1,1,red,pond green,1,2026-03-04,none,no",
            "M-1,2,red,pond green,2,2026-03-04,seen,no",
            "M-1,3,,pond green,3,,severe,no",
        )
    )
    assert [a.layers[0].coats for a in record.areas] == [1, 2, 3]
    [look] = record.inspections
    assert [(s.defect, s.severity, s.area) for s in look.defects] == [
        ("crawling", None, 2),
        ("crawling", "severe", 3),
    ]
    assert (look.inspected_on, record.clues) == (date(2026, 3, 4), {"bisque_wiped": "no"})


def test_layers_go_from_the_clay_up(write):
    record = the_tile(
        write(
            "mark,body,glaze,over_glaze,over_glaze_role,under_glaze,under_coats,under2_glaze",
            "M-1,red,white,cobalt wash,wash,leaf green,3,slip",
        )
    )
    names = [layer.glaze.name for layer in record.areas[0].layers]
    assert names == ["slip", "leaf green", "white", "cobalt wash"]


def test_recipe_batch_and_witness_cones_are_read_from_one_cell_each(write):
    record = the_tile(
        write(
            "mark,body,glaze,recipe,batch,batch_is_revived,firing,witness_cones",
            "M-1,red,white,whiting=14; silica=20.5; +tin oxide=4,B1,yes,F1,top=05; 06",
        )
    )
    layer = record.areas[0].layers[0]
    assert [(x.material, x.parts, x.is_addition) for x in layer.recipe.lines] == [
        ("whiting", 14, False),
        ("silica", 20.5, False),
        ("tin oxide", 4, True),
    ]
    assert layer.batch.is_revived is True
    assert [(x.shelf, x.cone) for x in record.firing.witness_cones] == [("top", "05"), (None, "06")]


def test_a_looked_at_tile_without_defects_is_clean_and_an_unlooked_at_one_is_not(write):
    header = "mark,body,inspected_on,defect_crazing"
    assert the_tile(write(header, "M-1,red,2026-03-04,none")).inspections[0].defects == []
    assert the_tile(write(header, "M-1,red,,")).inspections == []


@pytest.mark.parametrize(
    ("column", "cell", "told"),
    [
        ("coats", "-1", "coats '-1' is not possible: it must be at least 1 ("),
        ("thickness_mm", "thick", "thickness_mm 'thick' is not a number"),
        ("cone_reached", "0", "There is no cone 0"),
        ("defect_crazing", "very", "'very' is not a known value of defect_crazing"),
        ("clue_bisque_wiped", "maybe", "neither yes nor no"),
        ("fired_on", "1/3/2026", "'1/3/2026' is not a date"),
        ("fired_on", "20260301", "'20260301' is not a date"),
        ("recipe", "whiting 14", "recipe line 'whiting 14'"),
        ("recipe", "whiting=-4", "recipe line 'whiting=-4'"),
        ("recipe", "whiting=1.200", "recipe line 'whiting=1.200' is either of two numbers"),
        ("batch_sieve_mesh", "0.2 mm", "how wide a sieve's openings are, not its mesh"),
        ("witness_cones", "top=hot", "'hot' is not a pyrometric cone"),
        ("witness_cones", "top=05 low=04", "'top=05 low' is no name of a shelf"),
        ("glaze_finish", "glosy", "'glosy' is not a known finish"),
    ],
)
def test_a_wrong_cell_names_row_column_value_and_remedy(write, column, cell, told):
    row = {"mark": "M-2", "body": "red", "glaze": "white", "firing": "F1", column: cell}
    good = {**dict.fromkeys(row, ""), "mark": "M-1", "body": "red"}
    problem = the_problem(write(*(",".join(each) for each in (row, good.values(), row.values()))))
    assert told in problem.message
    assert f"(tiles.csv, row 3, column {column})" in problem.message
    assert (problem.row, problem.field, problem.value) == (3, column, cell)
    assert problem.hint


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("M-1,1,red,,,", "M-1,2,white,,,"), "body is white, but row 2 of M-1 says red"),
        (("M-1,1,red,,,", "M-1,1,red,,,none"), "two rows of M-1 are both area 1"),
        (("M-1,1,red,,,", "M-1,,red,,,"), "this one has no area"),
        (("M-1,1,red,,,", "M-1,1,red,,,"), "M-1 stands twice: row 2 says the same"),
        (("M-1,,red,,,", "M-1,,red,,,"), "M-1 stands twice: row 2 says the same"),
        (("M-1,1,,,,",), "body is blank"),
        ((",1,red,,,",), "mark is blank"),
        (("M-1,1,red,3,,",), "glaze is blank"),
        (("M-1,1,red,,2026-03-04,",), "day of inspection but no result"),
        (("M-1,1,red,,,none",), "inspected_on is blank"),
    ],
)
def test_rows_that_do_not_make_a_tile_are_refused_with_row_and_column(write, lines, told):
    problem = the_problem(write("mark,area,body,coats,inspected_on,defect_crazing", *lines))
    assert told in problem.message
    assert problem.row == len(lines) + 1
    assert f"row {problem.row}, column {problem.field}" in problem.message


@pytest.mark.parametrize(
    ("column", "cell", "told", "remedy"),
    [
        ("cone_reached", "1886", "looks like a temperature", "05; what the controller"),
        ("cone_reached", "1030", "looks like a temperature", "--peak-c 1030 of the firing"),
        ("bisque_cone", "05-04", "is more than one cone", "nearest to"),
        ("coats", "2-3", "is not a number", "one whole number, or blank"),
        ("bisque_peak_c", "1003", "but bisque_firing is blank", "any name for it"),
    ],
)
def test_what_is_wrong_comes_with_what_can_be_done(write, column, cell, told, remedy):
    reading = flat_csv.read_file(write(f"mark,body,glaze,{column}", f"M-1,red,pond,{cell}"))
    (problem,) = reading.problems
    assert told in problem.message
    assert remedy in problem.hint
    assert not reading.has_lost_zeros()


@pytest.mark.parametrize(
    ("lines", "remedy"),
    [
        (("M-1,,red,2", "M-1,,white,2"), "another mark if these are two tiles"),
        (("M-1,,red,2", "M-1,,red,3"), "another mark if these are several tiles"),
        (("M-1,,red,2", "M-1,,red,2"), "strike one of the two out"),
    ],
)
def test_a_mark_used_twice_is_never_answered_with_one_tile_alone(write, lines, remedy):
    assert remedy in the_problem(write("mark,area,body,area_label", *lines)).hint


def test_short_and_long_rows_are_refused_never_dropped(write):
    reading = flat_csv.read_file(write("mark,body,glaze", "M-1,red", "M-2,red,white,more", ""))
    assert [error.row for error in reading.problems] == [2, 3]
    assert "2 cells under 3 headers" in reading.problems[0].message
    assert reading.tiles == []


def test_a_row_that_an_open_quotation_mark_swallowed_says_so(write):
    reading = flat_csv.read_file(write("mark,body,glaze", 'M-1,"red,white', "M-2,red,white"))
    assert "2 cells under 3 headers" in str(reading.problems[0])
    assert "the quotation mark that is not closed" in reading.problems[0].hint


def test_every_bad_cell_is_listed_and_a_tile_falls_with_any_of_its_rows(write):
    reading = flat_csv.read_file(
        write("mark,area,body,coats", "M-1,1,red,x", "M-1,2,red,2", "M-2,0,red,-1", "M-3,1,red,")
    )
    assert [(error.row, error.field) for error in reading.problems] == [
        (2, "coats"),
        (4, "area"),
        (4, "coats"),
        (3, "glaze"),
    ]
    assert [record.mark for _number, record in reading.tiles] == ["M-3"]


@pytest.mark.parametrize(
    ("header", "told"),
    [
        ("mark,body,thicknes_mm", "'thicknes_mm' (perhaps thickness_mm)"),
        ("mark,body,body", "two columns 'body'"),
        ("mark,glaze", "no column 'body'"),
        ("mark,,body", "column 2"),
        (",glaze,", "no header"),
        ("Our tiles,,\nmark,body,glaze", "stand in row 2"),
        (",glaze,\nmark,body,glaze", "stand in row 2"),
    ],
)
def test_a_wrong_header_is_refused_before_any_row(write, header, told):
    with pytest.raises(TilesError) as refused:
        flat_csv.read_file(write(header, "M-1,red,1"))
    assert told in str(refused.value)


def test_refused_rows_are_written_with_their_reasons_and_can_be_read_again(write, tmp_path):
    reading = flat_csv.read_file(
        write("mark;area;body;coats;glaze", "M-1;1;red;x;a", "M-1;2;red;2;a", "M-2;1", "M-3;1;r;;")
    )
    kept = tmp_path / "refused.csv"
    assert flat_csv.write_refused(kept, reading, reading.problems) == 3
    with kept.open(encoding="utf-8-sig", newline="") as opened:
        rows = list(csv.DictReader(opened, delimiter=";"))
    assert [row["mark"] for row in rows] == ["M-1", "M-1", "M-2"]
    assert all(row["refused_because"] for row in rows)
    corrected = (
        kept.read_text(encoding="utf-8-sig").replace(";x;", ";1;").replace("M-2;1;;", "M-2;1;r;")
    )
    kept.write_text(corrected, encoding="utf-8")
    again = flat_csv.read_file(kept)
    assert again.problems == []
    assert [record.mark for _number, record in again.tiles] == ["M-1", "M-2"]


def test_what_a_row_cannot_hold_is_said():
    look = {"inspected_on": "2026-03-04", "defects": [{"defect": "crazing", "place": "rim"}]}
    record = forms.TileRecord(
        mark="M-1",
        body="red",
        areas=[{"number": 1, "layers": [{"glaze": name} for name in "abcd"]}, {"number": 2}],
        inspections=[look, look],
        photos=[{"file": "a.png"}],
    )
    told = " / ".join(flat_csv.not_carried(record))
    for part in ("looks of one day", "words about", "whole tile", "pictures", "layers beyond"):
        assert part in told


def test_the_worst_severity_of_all_looks_stands_in_the_row():
    looks = [
        {"inspected_on": "2026-03-04", "defects": [{"defect": "crazing", "severity": "severe"}]},
        {"inspected_on": "2026-04-04", "defects": [{"defect": "crazing", "severity": "slight"}]},
    ]
    record = forms.TileRecord(mark="M-1", body="red", inspections=looks)
    (row,) = spread(record)
    assert (row["defect_crazing"], row["defect_crawling"]) == ("severe", "none")
    assert row["inspected_on"] == "2026-04-04"


def test_a_number_for_a_cone_is_refused():
    with pytest.raises(InvalidValue, match="as a number 05 and 5 look alike"):
        flat_cells.read_cell(by_name()["cone_reached"], 5)


@pytest.mark.parametrize(
    "yes, no",
    [("TRUE", "FALSE"), (True, False), (1.0, 0.0), ("yes", "no"), ("Ja", "nein"), ("oui", "Non")],
)
def test_a_clue_is_answered_as_a_spreadsheet_or_a_frame_writes_yes_and_no(yes, no):
    clue, fact = by_name()["clue_bisque_dusty"], by_name()["batch_is_revived"]
    assert [flat_cells.read_cell(clue, cell) for cell in (yes, no)] == ["yes", "no"]
    assert [flat_cells.read_cell(fact, cell) for cell in (yes, no)] == [True, False]


@pytest.mark.parametrize(("column", "cell"), [("recipe_version", "1"), ("recipe_note", "old")])
def test_a_recipe_not_recorded_has_no_version_and_no_note(write, column, cell):
    told = f"mark,body,glaze,recipe,{column}"
    problem = the_problem(write(told, f"A,red,pond,not recorded,{cell}"))
    assert f"'not recorded' and a {column} contradict each other" in problem.message
    assert problem.hint == f"its lines, or {column} blank."
    blank = the_problem(write(told, f"A,red,pond,,{cell}"))
    assert "its lines are blank" in blank.message
    assert "the words not recorded" in the_problem(write(told, "A,red,pond,Not recorded.,")).hint


def test_a_recipe_not_recorded_is_written_in_words_where_another_row_tells_it(write, tmp_path):
    kept = tmp_path / "kept.csv"
    told = "mark,body,glaze,recipe"
    read = flat_csv.read_file(write(told, "A,red,pond,chalk=1", "B,red,pond,", "C,red,moss,"))
    flat_csv.write_file(kept, [record for _number, record in read.tiles])
    with kept.open(encoding="utf-8-sig", newline="") as opened:
        assert [row["recipe"] for row in csv.DictReader(opened)] == ["chalk=1", "not recorded", ""]
    again = flat_csv.read_file(kept)
    assert again.problems == [] and [r for _, r in again.tiles] == [r for _, r in read.tiles]
    assert [mark for mark, _layer in again.blank_recipes] == ["C"]
    assert the_problem(write(told, "A,red,pond,;")).field == "recipe"

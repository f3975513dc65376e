"""Headings of a home-made sheet: all told at once, each with what it most often stands for."""

import pytest

from tiles.errors import UnknownName
from tiles.exchange.flat_columns import by_name
from tiles.exchange.flat_csv import read_file
from tiles.exchange.flat_headings import _ELSEWHERE, _MOST, most_often


def test_every_column_that_is_proposed_is_one():
    proposed = [*list(_MOST)[:-3], *list(_ELSEWHERE)[:-2]]  # but for what is said in other words
    assert {each.partition(",")[0] for each in proposed} <= by_name().keys()


@pytest.mark.parametrize(
    ("heading", "meant"),
    [
        ("Clay Body", "body"),
        ("tile no.", "mark"),
        ("thick mm", "thickness_mm"),
        ("Fired to", "cone_reached"),
        ("date fired", "fired_on"),
        ("date looked", "inspected_on"),
        ("Colour shift", "defect_colour_shift"),
        ("student", "none: leave pupils' names out"),
        ("xyzzy", ""),
        ("Cone target", "target_cone"),
        ("Planned cone", "target_cone"),
        ("Target temp", "firing_remark"),
        ("Glaze thickness", "thickness_mm"),
        ("Firing temp (F)", "peak_c, in C"),
        ("Kiln shelf", "shelf"),
        ("Kiln no", "kiln"),
        ("Firing date", "fired_on"),
        ("Date glazed", "glazed_on"),
        ("Bisque firing", "bisque_firing"),
        ("Clay colour", "body_colour"),
        ("Glaze maker", "glaze_maker"),
        ("brand", "glaze_maker, or firing"),
        ("Brand Nr.", "firing"),
        ("Glaze brand", "glaze_maker"),
        ("Remark", "note"),
        ("Bag no", "body, as white clay bag 3"),
        ("Farbe", "glaze_colour"),
        ("four", "kiln"),
        ("Date de cuisson", "fired_on"),
        ("N° de cuisson", "firing"),
        ("Segerkegel", ""),
        ("Finish", "glaze_finish"),
        ("SG", "batch_specific_gravity"),
        ("Bucket", "batch"),
        ("Crawl", "defect_crawling"),
        ("Pin holes", "defect_pinholes"),
        ("No", "mark"),
        ("Looked again", "a further row of that mark with its own inspected_on and faults"),
        ("date looked at again", "a further row of that mark with its own inspected_on and faults"),
        ("Set for", "target_cone"),
        ("Bisque dusty?", "clue_bisque_dusty"),
        ("Student name", "none: leave pupils' names out"),
    ],
)
def test_a_heading_stands_for_what_it_most_often_does(heading, meant):
    assert most_often(heading) == meant


def test_all_strange_headings_are_told_at_once(write):
    file = write("No,Clay,coats,xyzzy", "1,red,2,")
    with pytest.raises(UnknownName) as refused:
        read_file(file)
    assert refused.value.message == (
        "tiles.csv has headings that are not of the flat form: 'No' (perhaps mark), 'Clay' "
        "(perhaps body), 'xyzzy'."
    )


def test_capitals_and_blanks_in_a_heading_do_not_count(write):
    file = write("Mark,BODY,Thickness mm,glaze", "1,red,0.9,clear")
    ((_row, record),) = read_file(file).tiles
    assert record.areas[0].layers[0].thickness_mm == 0.9


def test_two_headings_that_are_one_are_refused(write):
    file = write("mark,body,Body", "1,red,white")
    with pytest.raises(ValueError, match="two columns 'body'"):
        read_file(file)


def test_empty_columns_at_the_end_do_not_count(write):
    reading = read_file(write("mark,body,,", "M-1,red,,", "M-2,red", "M-3,red,,lost"))
    assert [record.mark for _row, record in reading.tiles] == ["M-1", "M-2"]
    (problem,) = reading.problems
    assert "4 cells under 2 headers" in problem.message
    with pytest.raises(ValueError, match="column 2 of tiles.csv has no header"):
        read_file(write("mark,,body", "M-1,,red"))


@pytest.mark.parametrize("above", [["Our tiles 2026,,"], ["Our tiles 2026"], ["Class 3;;", ";;"]])
def test_a_title_above_the_headings_is_told_as_one(write, above):
    row = len(above) + 1
    with pytest.raises(ValueError, match=f"headings of tiles.csv stand in row {row}, not in the"):
        read_file(write(*above, "mark,body,glaze", "M-1,red,sky"))


def test_the_line_that_tells_a_spreadsheet_its_separator_is_no_heading_and_counts_as_a_row(write):
    lines = (
        "sep=;",
        "mark;body;glaze;thickness_mm;coats",
        "M-1;red;sky;0,9;2",
        "M-2;red;sky;0,9;x",
    )
    reading = read_file(write(*lines))
    assert reading.tiles[0][1].areas[0].layers[0].thickness_mm == 0.9
    (problem,) = reading.problems
    assert (problem.row, problem.field) == (4, "coats")
    with pytest.raises(ValueError, match="stand in row 3"):
        read_file(write("sep=;", "Class 3;;", "mark;body;glaze", "M-1;red;sky"))

"""Cells as people write them: read where that is plain and told, else refused with the way out."""

import pytest

from tiles.errors import InvalidValue
from tiles.exchange.flat_columns import by_name
from tiles.exchange.flat_csv import read_file
from tiles.exchange.flat_said import as_meant, lines


@pytest.mark.parametrize(
    ("column", "cell", "meant"),
    [
        ("thickness_mm", "1mm", "1"),
        ("thickness_mm", "ca. 1.5", "1.5"),
        ("thickness_mm", "1 inch", "1 inch"),
        ("thickness_mm", "1 cm", "1 cm"),
        ("thickness_mm", "thin", "thin"),
        ("coats", "1 coat", "1"),
        ("coats", "2x", "2"),
        ("coats", "x3", "3"),
        ("coats", "~2", "2"),
        ("coats", "3 thick", "3 thick"),
        ("coats", "2-3", "2-3"),
        ("hold_min", "10 min", "10"),
        ("hold_min", "1 h", "1 h"),
        ("peak_c", "about 1886 F", "1886 F"),
        ("bisque_cone", "?", ""),
        ("fired_on", "n/a", ""),
        ("shelf", "-", ""),
        ("clue_bisque_wiped", "?", ""),
        ("clue_bisque_wiped", "-", "-"),
        ("defect_crazing", "-", "-"),
        ("recipe", "?", "?"),
        ("shelf", "top", "top"),
        ("note", "?", "?"),
    ],
)
def test_a_cell_is_read_as_its_writer_means_it_where_that_is_plain(column, cell, meant):
    assert as_meant(by_name()[column], cell) == meant


@pytest.mark.parametrize("cell", ["?", "-", "n/a", "??"])
@pytest.mark.parametrize(
    ("column", "hint"),
    [
        ("mark", "one that you write there now"),
        ("body", "such as unknown clay 1"),
        ("glaze", "such as unknown glaze 1"),
        ("under_glaze", "blank for bare clay"),
    ],
)
def test_what_nobody_knows_is_no_mark_and_no_name(column, cell, hint):
    with pytest.raises(InvalidValue, match="is no ") as refused:
        as_meant(by_name()[column], cell)
    assert hint in refused.value.hint


def test_what_was_read_otherwise_than_it_stands_is_told_in_a_line_each(write):
    header = "mark,body,glaze,coats,thickness_mm,bisque_cone,inspected_on,faults"
    reading = read_file(write(
        header, "1,red,moss,ca. 2,1mm,?,2026-03-01,crawled a bit",
        "2,red,moss,2,n/a,?,2026-03-01,nice!!", "3,red,moss,2,0.9,04,2026-03-01,none",
    ))  # fmt: skip
    assert not reading.problems
    assert lines(reading.said) == [
        "Read as not known, so left blank: '?', 'n/a' in bisque_cone, thickness_mm (rows 2, 3).",
        "Read 'ca. 2' as 2, '1mm' as 1 (row 2).",
        "Read 'crawled a bit' as slight crawling, 'nice!!' as none (rows 2, 3).",
    ]
    tile = reading.tiles[0][1]
    assert (tile.areas[0].layers[0].coats, tile.bisque_cone) == (2, None)
    assert tile.inspections[0].defects[0].severity == "slight"


@pytest.mark.parametrize(
    ("column", "cell", "hint"),
    [
        ("coats", "3 thick", "; here 3, and 'thick' in note."),
        ("thickness_mm", "thin", "; here blank, and 'thin' in note."),
        ("thickness_mm", "3 cm", "with a point or comma for decimals."),
        ("fired_on", "Apr 24", "where the day is not known blank, and the words in note."),
    ],
)
def test_what_is_refused_names_the_cell_to_write(write, column, cell, hint):
    file = write(f"mark,body,glaze,firing,{column}", f"1,red,moss,F1,{cell}")
    (problem,) = read_file(file).problems
    assert problem.hint.endswith(hint)


def test_a_name_on_record_by_a_sign_alone_stays(write):
    reading = read_file(write("mark,body", "?,?", "??,?"), kept={"?"})
    assert [record.body.name for _row, record in reading.tiles] == ["?"]
    assert [(each.row, each.field) for each in reading.problems] == [(3, "mark")]


def test_rows_without_a_mark_are_never_one_tile(write):
    reading = read_file(write("mark,body", "?,red", "?,white"))
    assert [(each.row, each.field) for each in reading.problems] == [(2, "mark"), (3, "mark")]

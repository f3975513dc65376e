"""Several looks at one tile: further rows of its mark and area, each with its own day."""

from datetime import date

import pytest

from tiles.exchange import flat_csv
from tiles.exchange.flat_spread import spread
from tiles.records import forms

HEADER = "mark,area,body,glaze,coats,firing,fired_on,inspected_on,faults,inspection_note"
FIRST = "A,,red,pond,2,F1,2026-02-27,2026-03-01,crawling,at unloading"


def looks(file, **how):
    reading = flat_csv.read_file(file, **how)
    assert reading.problems == []
    [(_row, record)] = reading.tiles
    return [
        (look.inspected_on, [(each.defect, each.area) for each in look.defects], look.note)
        for look in record.inspections
    ]


@pytest.mark.parametrize(
    "later",
    ["A,,,,,,,2026-05-01,crawling; crazing,later", "a,1,red,pond,2,F1,,2026-05-01,crawling; "
     "crazing,later"],
)  # fmt: skip
@pytest.mark.parametrize("turned", [False, True])
def test_a_further_row_with_a_day_of_its_own_is_another_look(write, later, turned):
    rows = [later, FIRST] if turned else [FIRST, later]
    assert looks(write(HEADER, *rows)) == [
        (date(2026, 3, 1), [("crawling", None)], "at unloading"),
        (date(2026, 5, 1), [("crazing", None), ("crawling", None)], "later"),
    ]


def test_the_look_at_unloading_may_be_dated_by_the_firing(write):
    file = write(HEADER, "A,,red,pond,2,F1,2026-02-27,,none,", "A,,,,,,,2026-05-01,crazing,")
    assert looks(file, looked_when_fired=True) == [
        (date(2026, 2, 27), [], None),
        (date(2026, 5, 1), [("crazing", None)], None),
    ]


def test_a_tile_with_areas_is_looked_at_again_area_by_area(write):
    rows = ["A,1,red,pond,1,,,2026-03-01,none,", "A,2,,pond,2,,,2026-03-01,crawling,"]
    again = ["A,2,,,,,,2026-05-01,crazing,", "A,1,,,,,,2026-05-01,none,dry shelf"]
    file = write(HEADER, *rows, *again)
    assert looks(file) == [
        (date(2026, 3, 1), [("crawling", 2)], None),
        (date(2026, 5, 1), [("crazing", 2)], "dry shelf"),
    ]
    ((_row, record),) = flat_csv.read_file(file).tiles
    assert [area.layers[0].coats for area in record.areas] == [1, 2]


def test_a_blank_of_the_first_row_is_filled_by_a_later_one(write):
    file = write(HEADER, "A,,red,pond,,,,2026-03-01,none,", "A,,red,pond,3,,,2026-05-01,none,")
    ((_row, record),) = flat_csv.read_file(file).tiles
    assert record.areas[0].layers[0].coats == 3


@pytest.mark.parametrize(
    ("later", "told", "hint"),
    [
        ("A,,,,3,,,2026-05-01,none,", "coats is 3, but row 2 of A says 2", "later look"),
        ("A,,,moss,,,,2026-05-01,none,", "glaze is moss, but row 2 of A says pond", "another"),
        ("A,,white,,,,,2026-05-01,none,", "body is white, but row 2 of A says red", "another"),
        ("A,,,,,,,2026-03-01,none,", "this one has no area", "inspected_on of its own"),
        ("A,,,,,,,,none,", "this one has no area", "inspected_on of its own"),
        ("A,,,,,,,2026-05-01,,", "a day of inspection but no result", "none in faults"),
        (FIRST, "A stands twice: row 2 says the same", "strike"),
    ],
)
def test_a_row_that_gainsays_the_first_one_or_is_no_look_is_refused(write, later, told, hint):
    reading = flat_csv.read_file(write(HEADER, FIRST, later))
    [problem] = reading.problems
    assert reading.tiles == []
    assert told in problem.message and "tiles.csv, row " in problem.message
    assert hint in problem.hint


def test_a_later_look_at_some_areas_only_is_refused(write):
    rows = ["A,1,red,pond,1,,,2026-03-01,none,", "A,2,,pond,2,,,2026-03-01,none,"]
    [problem] = flat_csv.read_file(write(HEADER, *rows, "A,2,,,,,,2026-05-01,crazing,")).problems
    assert "the look of 2026-05-01 at A has no row for area 1" in problem.message
    assert "row 4, column area" in problem.message


def test_a_later_look_is_found_under_its_glaze_and_is_no_second_tile(tmp_path):
    layer = {"glaze": "pond", "coats": 2}
    looks = [{"inspected_on": "2026-03-01"},
             {"inspected_on": "2026-05-01", "defects": [{"defect": "crazing"}]}]  # fmt: skip
    record = forms.read(forms.TileRecord, {
        "mark": "A", "body": "red", "firing": {"name": "F1", "kind": "glaze", "kiln": "big"},
        "cone_reached": "05", "areas": [{"number": 1, "layers": [layer]}], "inspections": looks,
    })  # fmt: skip
    flat_csv.write_file(tmp_path / "out.csv", [record])
    import pandas as pd

    frame = pd.read_csv(tmp_path / "out.csv", dtype=str, encoding="utf-8-sig")
    crazed = frame.groupby(["body", "glaze", "coats", "kiln", "cone_reached"]).defect_crazing
    assert list(crazed.agg(list)) == [["none", "seen"]]
    [(_number, back)] = flat_csv.read_file(tmp_path / "out.csv").tiles
    assert back == record
    assert [row["defect_crazing"] for row in spread(back)] == ["seen"]


def test_each_look_is_written_and_read_again_unchanged(tmp_path):
    crazed = {"defect": "crazing", "severity": "slight"}
    record = forms.read(forms.TileRecord, {
        "mark": "A",
        "body": "red",
        "areas": [{"number": number, "layers": [{"glaze": "pond", "coats": number}]}
                  for number in (1, 2)],
        "inspections": [
            {"inspected_on": "2026-03-01", "defects": [], "note": "at unloading"},
            {"inspected_on": "2026-05-01", "defects": [crazed | {"area": 2}]},
            {"inspected_on": "2026-07-01", "defects": [crazed | {"area": n} for n in (1, 2)]},
        ],
    })  # fmt: skip
    assert flat_csv.not_carried(record) == []
    assert flat_csv.write_file(tmp_path / "out.csv", [record]) == 6
    reading = flat_csv.read_file(tmp_path / "out.csv")
    assert reading.problems == []
    assert [each for _row, each in reading.tiles] == [record]

"""One result as a table, as CSV and as JSON."""

import csv
import io
import json

import pytest

from tiles.cli import common, entry, entry_numbers, output
from tiles.errors import InvalidValue
from tiles.records import forms

ROWS = [
    {"name": "a", "many": ["x", None], "yes": True, "number": 0.5, "of": {"crazing": "slight"}},
    {"name": 'ü, "b"\n', "many": [], "yes": False, "number": None, "of": {}},
]
COLUMNS = {"name": "name", "number": "mm"}


def printed(capsys, found=ROWS, **how):
    how = {"as_json": False, "as_csv": False, "empty": "None."} | how
    output.rows(found, COLUMNS, **how)
    return capsys.readouterr()


def test_json_is_the_rows_themselves_and_nothing_found_is_an_empty_list(capsys):
    assert json.loads(printed(capsys, as_json=True).out) == ROWS
    empty = printed(capsys, [], as_json=True)
    assert (json.loads(empty.out), empty.err) == ([], "")


def test_csv_keeps_every_row_whole(capsys):
    rows = list(csv.DictReader(io.StringIO(printed(capsys, as_csv=True).out)))
    assert rows[0] == {"name": "a", "many": "x + ?", "yes": "yes", "number": "0.5",
                       "of": "crazing slight"}  # fmt: skip
    assert rows[1] == {"name": 'ü, "b"\n', "many": "", "yes": "no", "number": "", "of": ""}


def test_what_is_recorded_of_no_layer_is_blank_in_a_csv():
    assert [output.cell(each) for each in ([None, None], [None, 2])] == ["", "? + 2"]


def test_the_table_has_the_named_columns_and_a_dash_for_nothing(capsys):
    lines = printed(capsys, ROWS[:1] + [{"name": "long name", "number": None}]).out.splitlines()
    assert [line.split("  ") for line in lines][0][0] == "name"
    assert lines[0].split() == ["name", "mm"]
    assert lines[3].split() == ["long", "name", "-"]
    assert len({line.index(word) for line, word in zip(lines[2:], ("0.5", "-"), strict=True)}) == 1


def test_limit_says_how_many_more_and_nothing_says_so(capsys):
    assert "... and 1 more" in printed(capsys, limit=1).err
    nothing = printed(capsys, [])
    assert (nothing.out, nothing.err) == ("", "None.\n")


def test_what_all_rows_say_is_told_once_above_the_table(capsys):
    alike = [{"name": name, "number": 0.5} for name in ("a", "b")]
    lines = printed(capsys, alike, once=["number"], limit=1).out.splitlines()
    assert lines == ["All: mm 0.5", "", "name", "----", "a"]
    for rows in (alike[:1], [*alike, {"name": "c", "number": 1}],
                 [row | {"number": None} for row in alike]):  # fmt: skip
        assert printed(capsys, rows, once=["number"]).out.split()[:2] == ["name", "mm"]
    for how in ({"as_json": True}, {"as_csv": True}):
        assert printed(capsys, alike, once=["number"], **how).out.count("0.5") == 2


def test_json_and_csv_together_are_refused(capsys):
    with pytest.raises(InvalidValue, match="--json and --csv"):
        printed(capsys, as_json=True, as_csv=True)


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("06-04", ("06", "04")),
        ("06 to 04", ("06", "04")),
        ("^06 – cone 04", ("06", "04")),
        ("06..04", ("06", "04")),
        ("05", ("05", "05")),
        ("04-6", ("04", "6")),
        ("05/06", ("06", "05")),
        ("^06 / 05", ("06", "05")),
        ("5/6", ("5", "6")),
    ],
)
def test_a_cone_range_is_read_as_people_write_it(text, ends):
    found = common.cone_range(text)
    assert (found["cone_low"], found["cone_high"]) == ends


@pytest.mark.parametrize("text", ["", "-", "06-", "06-05-04", "low", "06-55", "05/6", "/"])
def test_what_is_no_cone_range_is_refused(text):
    with pytest.raises(InvalidValue):
        common.cone_range(text)


def test_a_label_in_degrees_is_refused_with_the_cones_of_both_ends():
    # CONE-CHART-2016 at 60 C/h: 06 999 C, 05 1031 C, 04 1063 C.
    for text in ("999-1063 °C", "999 °C – 1063 °C", "1830 F to 1945 F"):
        with pytest.raises(InvalidValue, match="is cone 04 at 60 C/h") as refused:
            common.cone_range(text)
        assert refused.value.hint.startswith("06-04, or the cones")
    with pytest.raises(InvalidValue, match="1060 C is about cone 04"):
        common.cone_range("1060 °C")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("crawling", ("crawling", None, None)),
        ("crawling:severe", ("crawling", "severe", None)),
        ("crawling:severe@3", ("crawling", "severe", 3)),
        (" colour shift : slight ", ("colour shift", "slight", None)),
        ("crawling@3", ("crawling", None, 3)),
    ],
)
def test_a_defect_is_read_with_severity_and_area(text, read):
    found = entry.read_defect(text)
    assert (found["defect"], found["severity"], found["area"]) == read


def test_layers_go_from_the_clay_up_and_numbers_to_the_top_one():
    found = entry.areas(["slip=2", "black@2", "clear"], coats="1,3", thickness_mm="0.5,1")
    assert [[layer["glaze"] for layer in area["layers"]] for area in found] == [
        ["slip", "clear"],
        ["slip", "black", "clear"],
    ]
    assert [area["layers"][-1]["coats"] for area in found] == [1, 3]
    assert [area["layers"][-1]["thickness_mm"] for area in found] == [0.5, 1]
    assert all(area["layers"][0] == {"glaze": "slip", "coats": 2} for area in found)


def test_a_blank_between_commas_is_not_recorded():
    assert entry_numbers.numbers("0.3,,0.9", "thickness_mm", float) == [0.3, None, 0.9]


def on_screen(monkeypatch, capsys, columns, found, headings):
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", str(columns))
    output.rows(found, headings, as_json=False, as_csv=False, empty="none")
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= columns
    return lines


def test_on_a_narrow_screen_a_long_cell_goes_on_below_itself(monkeypatch, capsys):
    words = "crazing, shivering, crawling, pinholes, blisters, running"
    found = [{"field": "defect", "words": words}]
    lines = on_screen(monkeypatch, capsys, 40, found, {"field": "field", "words": "words"})
    told = [line[len("defect  ") :] for line in lines[2:]]
    assert " ".join(told) == words
    assert all(line.startswith(" " * len("defect")) for line in lines[3:])


def test_columns_that_find_no_room_go_on_below_the_first_ones(monkeypatch, capsys):
    found = [{"name": f"red earthenware {at}", "kind": "earthenware", "cones": "06 to 02"}
             for at in (1, 2)]  # fmt: skip
    headings = {"name": "body", "kind": "kind", "cones": "cones"}
    lines = on_screen(monkeypatch, capsys, 26, found, headings)
    assert lines == [
        "body",
        "    kind         cones",
        "-----------------",
        "    -----------  --------",
        "red earthenware 1",
        "    earthenware  06 to 02",
        "red earthenware 2",
        "    earthenware  06 to 02",
    ]


def test_the_name_that_is_typed_stays_whole_and_a_heading_is_wrapped_before_a_cell(
    monkeypatch, capsys
):
    found = [{"name": "white earthenware", "colour": "brick red", "percent": "12.5"}]
    headings = {"name": "body", "colour": "colour", "percent": "absorbs %"}
    lines = on_screen(monkeypatch, capsys, 37, found, headings)
    assert lines[-1] == "white earthenware  brick red  12.5"
    assert [line.split()[-1] for line in lines[:3]] == ["absorbs", "%", "-------"]


def test_only_a_word_wider_than_the_screen_is_broken_and_not_cut(monkeypatch, capsys):
    found = [{"name": "M-1", "file": "x" * 50}]
    lines = on_screen(monkeypatch, capsys, 30, found, {"name": "mark", "file": "file"})
    assert "".join(lines).count("x") == 50
    assert lines[4] == "M-1"


def test_the_state_beneath_is_put_where_a_coat_lies_beneath_alone():
    found = entry.areas(["clear"], coats="1,2", shared={"beneath": "damp"})
    assert [area["layers"][-1].get("beneath") for area in found] == [None, "damp"]
    assert entry.left_bare(found).startswith("Area 1 is one coat on bare clay")
    assert entry.areas(["slip", "clear"], shared={"beneath": "dry"})
    with pytest.raises(InvalidValue, match="one coat on bare clay has no layer beneath"):
        entry.areas(["clear=1"], shared={"beneath": "damp"})


@pytest.mark.parametrize(
    ("text", "hint"), [("underfired:2", "underfired@2 for area 2"), ("crwld at rim", "'crawling'")]
)
def test_a_fault_that_is_not_read_is_told_what_was_meant(text, hint):
    with pytest.raises(InvalidValue) as refused:
        forms.read(forms.DefectSeen, entry.read_defect(text))
    assert hint in str(refused.value)


def test_coats_may_be_written_with_a_times_sign():
    coat = entry.read_coat("studio clear=2x@1")
    assert (coat.glaze, coat.coats, coat.area) == ("studio clear", 2, 1)

"""One cell with all that was seen, days as people write them, and degrees in Fahrenheit."""

from datetime import date

import pytest

from tiles.errors import InvalidValue
from tiles.exchange.flat_cells import Style, read_cell
from tiles.exchange.flat_columns import by_name
from tiles.exchange.flat_csv import read_file
from tiles.exchange.flat_faults import read_faults


@pytest.mark.parametrize(
    ("cell", "seen"),
    [
        ("crawling", {"crawling": "seen"}),
        ("Crawled severe + pin holes", {"crawling": "severe", "pinholes": "seen"}),
        ("colour shift (slight) and cloudy", {"colour_shift": "slight", "cloudiness": "seen"}),
        ("crawling:moderate; crazed", {"crawling": "moderate", "crazing": "seen"}),
        ("unwanted matt/specks.", {"unwanted_matt": "seen", "specks": "seen"}),
        ("OK.", {}),
        ("crawling;; pinholes;", {"crawling": "seen", "pinholes": "seen"}),
        ("none", {}),
    ],
)
def test_faults_in_words_fill_every_defect_column(cell, seen):
    found = read_faults(cell)
    assert found.keys() == {name for name in by_name() if name.startswith("defect_")}
    assert {name: value for name, value in found.items() if value != "none"} == {
        f"defect_{name}": value for name, value in seen.items()
    }


@pytest.mark.parametrize(
    ("cell", "told"),
    [
        ("pinholes, lots", "'lots' is no fault"),
        ("kinda bubbly", r"small holes; if not, other \(kinda bubbly\); else none"),
        ("broken", r"--note broken'\); else none"),
        ("-", "may mean two things"),
        ("ran; running", "twice"),
        ("n/a", "'n/a' may mean two things"),
        ("No", "may mean two things"),
        ("pinholes, crawling, severe", "'severe' stands there without a fault"),
        ("crawling severe/moderate", "'moderate' stands there without a fault"),
        ("clean; crawling", "'clean' stands beside a fault"),
        ("no crawling", "'no crawling' does not say that crawling was seen"),
        ("pinholes; crawling?", "'crawling\\?' does not say"),
        ("almost crawling", "does not say that crawling was seen"),
        ("looks like crazing", "does not say that crazing was seen"),
        ("didn't craze", "does not say that crazing was seen"),
        ("crawling (not at the rim)", "does not say that crawling was seen"),
        ("crazing fine", "does not say that crazing was seen"),
        ("crawling where it ran", "names crawling and running in one"),
        ("crawling (pinholes too)", "names crawling and pinholes in one"),
        ("slight to moderate crawling", "leaves the severity open"),
        ("severe other: slight (sticky)", "leaves the severity open"),
        ("crawled at edge and foot", "'foot' is no fault"),
        ("crawling absent", "does not say that crawling was seen"),
        ("lacks crawling", "does not say that crawling was seen"),
        ("crawling nowhere", "does not say that crawling was seen"),
        ("crawling missing", "'missing' beside crawling may mean that it was not seen"),
        ("past crawling", "'past' beside crawling may mean that it was not seen"),
        ("crawlin at edge", "'crawlin at edge' is no fault"),
    ],
)
def test_what_is_no_fault_is_refused(cell, told):
    with pytest.raises(InvalidValue, match=told):
        read_faults(cell)


DENIED = """
crawling 0; 0 crawling; 0% crawling; crawling 0%; 00 crawling; crawling false; crawling: 0
crawling: n; crawling: false; crawling: clear; crawling: -; crawling: ruled out; crawling: passed
crawling (0); crawling (0 of 3); crawling (n); crawling (-); crawling (no); crawling (cleared)
crawling (didnt happen); crawling (dont see any); crawling (all clear); crawling all clear
crawling since cleared; crawling since removed; crawling after refire went away; crawling off
crawling mostly averted; crawling by eye undetectable; crawling down to zilch; crawling over
crawling (none really); crawling (nope); crawling (was dust); crawling (it was only dust)
crawling (thought so); crawling (turned out to be dust); crawling (by mistake); crawling (wrong)
crawling test; crawling tested; test for crawling; check crawling; crawling (imagined)
crawling \u2717; \u2717 crawling; \u2260crawling; !crawling; ~crawling; -crawling; crawling -
"""
DENIED = [each.strip() for each in DENIED.strip().replace("\n", ";").split(";")]


@pytest.mark.parametrize("cell", DENIED)
def test_a_denial_beside_a_fault_or_in_brackets_is_refused_and_no_brackets_proposed(cell):
    with pytest.raises(InvalidValue, match="does not say that crawling was seen") as refused:
        read_faults(cell)
    assert "leave it out (none where nothing was seen)" in refused.value.hint
    assert "crawling (" not in refused.value.hint


ASKED = {
    "crawling partly burnished away": "burnished",
    "crawling to be seen next time": "be",
    "crawling within limits": "limits",
    "crawling as before: 3": "before",
    "crawling: averts": "averts",
    "3 pinholes": "3",
    "pinholes x3": "x3",
    "crawling [rim]": "[",
    "crawling (rim": "(",
    "crawling just over": "over",
    "~ slight crawling": "~",
    "crawling at 0": "0",
}


@pytest.mark.parametrize(("cell", "word"), list(ASKED.items()))
def test_each_word_or_sign_outside_brackets_tells_how_or_where_or_is_asked_about(cell, word):
    with pytest.raises(InvalidValue) as refused:
        read_faults(cell)
    assert str(refused.value).startswith(f"{word!r} beside ")
    assert "words about a fault in brackets" in refused.value.hint


@pytest.mark.parametrize(
    ("cell", "seen"),
    [
        ("crawling: all over", {"crawling": ("seen", "all over")}),
        ("pinholes (3)", {"pinholes": ("seen", "3")}),
        ("crawling - at the rim!", {"crawling": ("seen", "at the rim!")}),
        ("other: 3 odd bumps", {"other": ("seen", "3 odd bumps")}),
        ("crawled at edge", {"crawling": ("seen", "at edge")}),
        ("crawling on the test strip", {"crawling": ("seen", "on the test strip")}),
        ("slight crawling (test tiles only)", {"crawling": ("slight", "test tiles only")}),
        ("crawling (was bad at the rim)", {"crawling": ("seen", "was bad at the rim")}),
        ("crawling (wrong side up)", {"crawling": ("seen", "wrong side up")}),
        ("severe crawling near the Foot", {"crawling": ("severe", "near the Foot")}),
        ("Slight crawling (rim; foot), crazed",
         {"crawling": ("slight", "rim; foot"), "crazing": ("seen", None)}),
        ("crawling at edge (severe)", {"crawling": ("severe", "at edge")}),
        ("fine crazing", {"crazing": ("seen", "fine")}),
        ("slightly crawled", {"crawling": ("slight", None)}),
        ("crawled slightly off centre", {"crawling": ("seen", "slightly off centre")}),
        ("some severe crawling on top", {"crawling": ("severe", "some severe crawling on top")}),
        ("other side crawled", {"crawling": ("seen", "other side")}),
        ("crawling (past the handle)", {"crawling": ("seen", "past the handle")}),
        ("other: grey scum", {"other": ("seen", "grey scum")}),
    ],
)  # fmt: skip
def test_words_beside_a_fault_are_kept_with_it(write, cell, seen):
    file = write("mark,body,inspected_on,faults", f'A,red,2026-04-09,"{cell}"')
    ((_row, record),) = read_file(file).tiles
    (look,) = record.inspections
    told = {each.defect: (each.severity or "seen", each.note) for each in look.defects}
    assert told == seen


HEADER = "mark,body,glaze,firing,fired_on,inspected_on,faults"


def test_a_sheet_of_ones_own_is_read_as_its_writer_says(write):
    file = write(HEADER, "A,red,pond,F1,3/4/26,2026-04-09,crawled", "B,red,pond,F1,,,clean",
                 "C,red,pond,F2,,,")  # fmt: skip
    reading = read_file(file, days="dmy", looked_when_fired=True)
    assert not reading.problems
    records = {record.mark: record for _row, record in reading.tiles}
    assert records["A"].firing.fired_on == date(2026, 4, 3)
    (look,) = records["A"].inspections
    assert (look.inspected_on, [each.defect for each in look.defects]) == (
        date(2026, 4, 9),
        ["crawling"],
    )
    (look,) = records["B"].inspections
    assert (look.inspected_on, look.defects) == (date(2026, 4, 3), [])
    assert records["C"].inspections == []


def test_nobody_knows_how_a_day_is_written_until_it_is_said(write):
    file = write(HEADER, "A,red,pond,F1,3/4/26,2026-04-09,none")
    (problem,) = read_file(file).problems
    assert "'3/4/26' is not a date" in problem.message and "--days dmy" in problem.hint
    ((_row, record),) = read_file(file, days="mdy").tiles
    assert record.firing.fired_on == date(2026, 3, 4)
    (problem,) = read_file(write(HEADER, "A,red,pond,F1,30.4.2026,,"), days="mdy").problems
    assert "read as mdy" in problem.message and "--days dmy" in problem.hint
    (problem,) = read_file(write(HEADER, "A,red,pond,F1,30/13/26,,"), days="dmy").problems
    assert "--days" not in problem.hint


def test_a_result_without_any_day_is_refused_and_the_way_out_told(write):
    file = write(HEADER, "A,red,pond,F1,,,crawling")
    (problem,) = read_file(file).problems
    assert "--looked-when-fired" in problem.hint
    (problem,) = read_file(file, looked_when_fired=True).problems
    assert "fired_on" in problem.hint


@pytest.mark.parametrize("cell", ["pinholes + crazed later", "crazing (after a week)"])
def test_a_fault_that_came_later_is_no_look_of_the_day_of_the_firing(write, cell):
    file = write(HEADER, f"A,red,pond,F1,2026-04-03,,{cell}")
    (problem,) = read_file(file, looked_when_fired=True).problems
    assert "beside crazing is not of the day of the firing" in problem.message
    assert "a further row of this mark for it" in problem.hint
    rows = "A,red,pond,F1,2026-04-03,,pinholes", "A,,,,,2026-05-01,pinholes; crazing (later)"
    ((_row, record),) = read_file(write(HEADER, *rows), looked_when_fired=True).tiles
    assert [len(each.defects) for each in record.inspections] == [1, 2]


@pytest.mark.parametrize(
    ("row", "wrong"),
    [
        ("A,red,pond,,2026-04-03,,crawling", ["firing", "inspected_on"]),
        ("A,,pond,,2026-04-03,,crawling?", ["faults", "body", "firing"]),
        ("A,red,pond,F1,soon,,crawling", ["fired_on"]),
        ("A,red,pond,F1,2026-04-03,soon,crawling", ["inspected_on"]),
        ("A,red,,F1,2026-04-03,,crawling?", ["faults"]),
    ],
)
def test_all_that_is_wrong_is_told_at_once_but_what_hangs_on_a_bad_cell(write, row, wrong):
    reading = read_file(write(HEADER, row, "B,red,pond,F9,2026-04-03,2026-04-09,none"))
    assert [each.field for each in reading.problems] == wrong
    assert [record.mark for _row, record in reading.tiles] == ["B"]


def test_a_day_without_a_result_names_the_column_that_such_a_sheet_has(write):
    (problem,) = read_file(write(HEADER, "A,red,pond,F1,,2026-04-09,")).problems
    assert "none in faults" in problem.hint


def test_words_that_leave_a_fault_open_are_told_where_to_go(write):
    (problem,) = read_file(write(HEADER, "A,red,pond,F1,,2026-04-09,crawling?")).problems
    assert "row 2, column faults" in problem.message
    assert "crawling alone if it was, else leave it out" in problem.hint
    assert "inspection_note" in problem.hint


def test_faults_stand_in_one_column_or_in_many(write):
    with pytest.raises(InvalidValue, match="'faults' and a column 'defect_crazing'"):
        read_file(write("mark,body,faults,defect_crazing", "A,red,none,none"))


@pytest.mark.parametrize(
    ("column", "cell", "value"),
    [
        ("peak_c", "1886 F", 1030.0),
        ("peak_c", "1886°f", 1030.0),
        ("peak_c", "1030", 1030.0),
        ("peak_c", "1030 C", 1030.0),
        ("peak_c", "1030 °C", 1030.0),
        ("peak_c", "1886 deg F", 1030.0),
        ("peak_c", "1886 Fahrenheit", 1030.0),
        ("peak_c", "1828 F", 998.0),
        ("peak_c", "1828.5 F", 998.1),
        ("rate_c_per_h", "108 F/h", 60.0),
        ("rate_c_per_h", "60 C per hour", 60.0),
    ],
)
def test_degrees_may_say_which_they_are(column, cell, value):
    assert read_cell(by_name()[column], cell) == value


@pytest.mark.parametrize("cell", ["1886 F/h", "hot"])
def test_what_is_no_temperature_is_told_that_fahrenheit_is_read(cell):
    with pytest.raises(InvalidValue) as refused:
        read_cell(by_name()["peak_c"], cell)
    assert "in C (or with F behind them)" in refused.value.hint


def test_a_length_is_not_in_fahrenheit():
    with pytest.raises(InvalidValue):
        read_cell(by_name()["thickness_mm"], "1 F", Style())


@pytest.mark.parametrize(
    "cell", ["no crawling", "No crawlin", "didn't craze", "without any specks"]
)
def test_of_a_fault_that_is_denied_the_opposite_is_not_proposed(cell):
    with pytest.raises(InvalidValue) as refused:
        read_faults(cell)
    assert "none where " in refused.value.hint
    for fault in ("crawling (", "crawling alone", "'crawling'", "crazing", "specks"):
        assert fault not in refused.value.hint.replace("such as crawling (rim and foot)", "")

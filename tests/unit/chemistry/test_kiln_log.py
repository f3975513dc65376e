import pytest

from tiles.chemistry.kiln_log import read_log
from tiles.errors import InvalidValue, Questioned


def write(folder, text, name="log.csv", encoding="utf-8"):
    path = folder / name
    path.write_text(text, encoding=encoding)
    return path


def test_hours_and_celsius_are_read(tmp_path):
    file = write(tmp_path, "time_h,temperature_c\n0,20\n1.5,170\n")
    assert read_log(file) == [(0.0, 20.0), (1.5, 170.0)]


def test_a_spreadsheet_file_with_semicolons_and_comma_decimals_is_read(tmp_path):
    file = write(tmp_path, "Time (min);Temp (°C)\n0;20,5\n90;170,25\n", encoding="utf-8-sig")
    assert read_log(file) == [(0.0, 20.5), (1.5, 170.25)]


def test_a_clock_running_over_midnight_is_read(tmp_path):
    file = write(tmp_path, "time,temperature_c\n22:30,20\n00:30,200\n01:00:00,240\n")
    assert read_log(file) == [(0.0, 20.0), (2.0, 200.0), (2.5, 240.0)]


def test_dates_with_times_are_read(tmp_path):
    file = write(tmp_path, "timestamp,temp_c\n2026-03-01 23:00,20\n2026-03-02T01:00,200\n")
    assert read_log(file)[-1] == pytest.approx((2.0, 200.0))


def test_a_column_said_to_be_fahrenheit_is_turned_into_celsius(tmp_path):
    file = write(tmp_path, "time_h,temperature_f\n0,68\n9,1940\n")
    assert read_log(file) == [(0.0, 20.0), (9.0, 1060.0)]


def test_fahrenheit_in_a_celsius_column_is_questioned(tmp_path):
    with pytest.raises(Questioned, match="temperature_f"):
        read_log(write(tmp_path, "time_h,temperature_c\n0,68\n9,1940\n"))


@pytest.mark.parametrize(
    "text,what",
    [
        ("", "empty"),
        ("when,temperature_c\n0,20\n1,30\n", "no column of time"),
        ("time_h,pressure\n0,20\n1,30\n", "no column of temperature"),
        ("time_h,temp,temperature_c\n0,20,20\n1,30,30\n", "more than one column of temperature"),
        ("time_h,temperature_c\n0,warm\n1,30\n", "row 2: temperature 'warm'"),
        ("time_h,temperature_c\n0,20\n1\n", "row 3"),
        ("time,temperature_c\n0.5,20\n1.5,30\n", "no clock time"),
        ("time_h,temperature_c\n0,20\n", "1 reading"),
        ("time_h,temperature_c\n0,1_0\n1,30\n", "row 2: temperature '1_0'"),
        ("time_h,temperature_c\n0,20\n1,nan\n", "row 3: temperature 'nan'"),
        ("time,temp\n18:75,20\n19:30,30\n", "row 2: time '18:75' is no clock time"),
        ("time,temp\n2026-03-01,20\n2026-03-02,30\n", "row 2: time '2026-03-01' is no clock"),
        ("time,temp\n2026-03-01 18:30,20\n19:30,30\n", "row 3: time '19:30' has no date"),
        ("time,temp\n18:30,20\n2026-03-01 19:30,30\n", "row 3: .* no clock time like"),
        ("time,temp\n2026-03-01 18:30,20\n2026-03-01 19:30Z,30\n", "distance from UTC"),
        ("time_h,temperature_c\n1,20\n1,30\n", "does not come after"),
    ],
)
def test_a_file_that_is_no_log_is_refused_with_the_place(tmp_path, text, what):
    with pytest.raises(InvalidValue, match=what):
        read_log(write(tmp_path, text))


CLOCK_FALLS = {
    "two rows swapped": ["14:00", "15:40", "15:00", "20:00"],
    "dates out of order": ["2026-03-02 14:00", "2026-03-01 15:40", "2026-03-02 20:00"],
    "summer time ends, with dates": ["2026-10-25 02:50", "2026-10-25 02:00"],
    "summer time ends, without": ["01:30", "02:50", "02:00"],
}


@pytest.mark.parametrize("times", CLOCK_FALLS.values(), ids=CLOCK_FALLS)
def test_a_clock_that_falls_back_is_refused_and_never_made_the_next_day(tmp_path, times):
    rows = "".join(f"{each},{900 + place}\n" for place, each in enumerate(times))
    with pytest.raises(InvalidValue, match="row \\d: .*the clock was put back") as caught:
        read_log(write(tmp_path, "time,temperature_c\n" + rows))
    assert "UTC" in caught.value.hint
    assert "time_h" in caught.value.hint


def test_times_that_tell_their_distance_from_utc_run_through_a_clock_change(tmp_path):
    rows = "2026-10-25 02:50+02:00,900\n2026-10-25 02:00+01:00,910\n2026-10-25 01:30Z,920\n"
    found = read_log(write(tmp_path, "time,temperature_c\n" + rows))
    assert [round(60 * hours) for hours, _ in found] == [0, 10, 40]


def test_readings_of_one_minute_are_spread_evenly_over_it(tmp_path):
    rows = "18:30,20\n18:31,21\n18:31,22\n18:32,23\n18:32,24\n"
    found = read_log(write(tmp_path, "time,temperature_c\n" + rows))
    assert [round(3600 * hours) for hours, _ in found] == [0, 60, 90, 120, 150]
    dated = read_log(write(tmp_path, "time,temp\n2026-03-01 18:30,20\n2026-03-01 18:30,21\n"))
    assert [round(3600 * hours) for hours, _ in dated] == [0, 30]


def test_a_clock_that_stands_still_is_refused(tmp_path):
    with pytest.raises(InvalidValue, match="61 readings at '18:30'"):
        read_log(write(tmp_path, "time,temperature_c\n" + "18:30,20\n" * 61))
    with pytest.raises(InvalidValue, match="row 3: time .* does not come after"):
        read_log(write(tmp_path, "time,temperature_c\n18:30:05,20\n18:30:05,21\n"))


def test_a_place_in_the_file_is_its_line_even_after_blank_lines(tmp_path):
    with pytest.raises(
        InvalidValue, match=r"log.csv, row 5: time 1 h does not come after"
    ) as caught:
        read_log(write(tmp_path, "time_h,temperature_c\n0,20\n\n1,30\n1,40\n"))
    assert caught.value.row == 5


def heats(folder, *cells, column="temperature_c"):
    rows = "".join(f"{hour}\t{each}\n" for hour, each in enumerate(cells))
    return [heat for _, heat in read_log(write(folder, f"time_h\t{column}\n{rows}"))]


@pytest.mark.parametrize(
    "cells",
    [
        ["20", "995", "1,031", "600"],
        ["20", "995", "1.031", "600"],
        ["20", "1,031"],
        ["1,000", "1,031"],
        ["20", "250", "1,031"],
    ],
)
def test_a_thousand_with_a_mark_is_refused_with_both_readings(tmp_path, cells):
    with pytest.raises(
        InvalidValue, match=r"row \d: temperature '1.0.*1.0\d\d? or 10\d\d"
    ) as caught:
        heats(tmp_path, *cells)
    assert "without a mark" in caught.value.hint


def test_a_thousand_with_a_mark_is_refused_in_f_and_in_quotes(tmp_path):
    with pytest.raises(InvalidValue, match="either 1.888 or 1888"):
        heats(tmp_path, "68", "950", "1,888", column="temperature_f")
    with pytest.raises(InvalidValue, match="row 3: temperature '1,031'"):
        read_log(write(tmp_path, 'time_h,temperature_c\n0,931\n1,"1,031"\n'))


def test_thousands_of_f_with_marks_in_a_column_read_as_c_are_refused(tmp_path):
    with pytest.raises(InvalidValue, match="either 1.430 or 1430"):
        heats(tmp_path, "70", "520", "980", "1,430", "1,888", column="temperature")


def test_three_decimals_are_read_where_they_can_only_be_decimals(tmp_path):
    assert heats(tmp_path, "20,125", "1031,250") == [20.125, 1031.25]
    assert heats(tmp_path, "-1,250", "1,250", "3,500", "900") == [-1.25, 1.25, 3.5, 900]
    assert heats(tmp_path, "995.5", "1,031.5", "1.031,5") == [995.5, 1031.5, 1031.5]


def test_a_thousand_minutes_with_a_mark_is_refused_unless_a_cell_shows_decimals(tmp_path):
    with pytest.raises(InvalidValue, match="time '1,020' is either 1.020 or 1020"):
        read_log(write(tmp_path, "time_min\ttemp\n0\t20\n1,020\t900\n"))
    file = write(tmp_path, "time_min\ttemp\n0,000\t20\n1,020\t25\n")
    assert read_log(file)[1][0] == pytest.approx(1.02 / 60)


def ramp(tmp_path, column, step, change=None):
    """49 readings from 22 to 1030 C, time in steps of ``step``."""
    cells = {at: 22 + 21 * at for at in range(49)} | (change or {})
    lines = [f"{at * step},{heat}" for at, heat in cells.items()]
    return read_log(write(tmp_path, "\n".join([f"{column},temperature_c", *lines]) + "\n"))


def test_one_false_reading_is_refused_with_its_row(tmp_path):
    assert len(ramp(tmp_path, "time_h", 0.25)) == 49
    with pytest.raises(InvalidValue, match="row 22: .* then 1390 C .*no kiln does that"):
        ramp(tmp_path, "time_h", 1 / 60, {20: 1390})
    with pytest.raises(InvalidValue, match="row 42: .* then 0 C .*no kiln does that"):
        ramp(tmp_path, "time_h", 1 / 60, {40: 0})


@pytest.mark.parametrize("column, step", [("time_h", 15), ("time_h", 900), ("time_min", 0.25)])
def test_a_wrong_unit_of_time_is_refused(tmp_path, column, step):
    with pytest.raises(InvalidValue, match="on average, which no kiln does") as caught:
        ramp(tmp_path, column, step)
    assert "unit of time" in caught.value.hint

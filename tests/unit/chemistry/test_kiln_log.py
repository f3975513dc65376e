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
        ("time_h,temperature_c\n1,20\n1,30\n", "does not come after"),
    ],
)
def test_a_file_that_is_no_log_is_refused_with_the_place(tmp_path, text, what):
    with pytest.raises(InvalidValue, match=what):
        read_log(write(tmp_path, text))

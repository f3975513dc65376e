"""``tiles cone``. End points: cone chart, 2016 issue (CONE-CHART-2016 of the chemistry sources)."""

import json

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import assert_one_line_error


def test_a_cone_is_told_at_the_three_published_rates_in_c_and_f(tiles):
    ran = tiles("cone", "05", "--json")
    rows = json.loads(ran.out)
    assert [(row["rate_c_per_h"], row["temperature_c"]) for row in rows] == [
        (15, 1021),  # from memory
        (60, 1031),  # read
        (150, 1044),  # read
    ]
    assert [row["temperature_f"] for row in rows] == [1870, 1888, 1911]
    assert [row["status"] for row in rows] == ["memory", "read", "read"]


def test_what_is_from_memory_says_so_in_the_table(tiles):
    lines = tiles("cone", "^05").out.splitlines()
    assert lines[2].endswith("from memory, to be confirmed")
    assert lines[3].endswith("chart")


def test_a_temperature_is_put_between_its_cones(tiles):
    ran = tiles("cone", "--temperature-c", 1040, "--rate-c-per-h", 60)
    assert ran.code == 0
    assert "between cone 05 (down) and 04 (not yet)" in " ".join(ran.out.split())


def test_f_and_c_give_the_same_answer(tiles):
    in_f = tiles("cone", "--temperature-f", 1888, "--rate-f-per-h", 108, "--json")
    in_c = tiles("cone", "--temperature-c", 1031.1, "--rate-c-per-h", 60, "--json")
    assert json.loads(in_f.out) == json.loads(in_c.out)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--temperature-c", "1940"], "1940 F is 1060 C"),
        (["--temperature-c", "1940", "--rate-f-per-h", "108"], "1940 F is 1060 C"),
        (["05", "--rate-c-per-h", "270"], "270 F/h is 150 C/h"),
        (["--temperature-c", "1040", "--rate-c-per-h", "270"], "270 F/h is 150 C/h"),
    ],
)
def test_fahrenheit_given_as_celsius_is_asked_about(tiles_process, arguments, told):
    ran = tiles_process("cone", *arguments)
    assert ran.code == 1
    assert ran.out == ""
    assert told in ran.err
    assert "if it is in F" in ran.err
    assert len(ran.err.splitlines()) == 1


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--temperature-f", "1040"], "1040 F is 560 C, cooler than any cone; 1040 C is 1904 F."),
        (["05", "--rate-f-per-h", "20"], "20 F/h is 11 C/h, slower than any published; 20 C/h"),
        (["--temperature-f", "1940", "--rate-f-per-h", "20"], "20 C/h is 36 F/h"),
    ],
)
def test_celsius_given_as_fahrenheit_is_asked_about(tiles_process, arguments, told):
    ran = tiles_process("cone", *arguments)
    assert ran.code == 1
    assert ran.out == ""
    assert told in ran.err
    assert "if it is in C" in ran.err
    assert len(ran.err.splitlines()) == 1


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--temperature-f", "3000"], "3000 F is 1649 C"),
        (["--temperature-f", "100"], "100 F is 38 C"),
        (["05", "--rate-f-per-h", "300"], "300 F/h is 167 C/h"),
        (["--rate-f-per-h", "400"], "400 F/h is 222 C/h"),
        (["--temperature-c", "1060", "--rate-f-per-h", "500"], "500 F/h is 278 C/h"),
    ],
)
def test_what_was_given_in_fahrenheit_is_not_asked_about_as_fahrenheit(tiles, arguments, told):
    ran = tiles("cone", *arguments)
    assert ran.code == 1
    assert told in ran.err
    assert "if it is in" not in ran.err
    assert "is it in F" not in ran.err


@pytest.mark.parametrize(
    ("arguments", "question"),
    [
        (("--temperature-c", "1940"), "Did you mean F?"),
        (("--temperature-f", "1060"), "Did you mean C?"),
    ],
)
def test_a_person_who_says_yes_gets_the_answer_in_the_other_unit(arguments, question):
    person = Keyboard("cone", *arguments)
    person.answers(question, "y")
    code, text = person.ends()
    assert code == 0
    assert "1060 C (1940 F)" in text


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["0"], "There is no cone 0"),
        (["1040"], "looks like a temperature"),
        (["05", "--temperature-c", "1040"], "more than one question"),
        (["--temperature-c", "1040", "--temperature-f", "1900"], "in C and in F"),
        (["05", "--rate-c-per-h", "0"], "above 0"),
        (["05", "--rate-c-per-h", "nan"], "rate is not a number: nan"),
        (["05", "--rate-f-per-h", "inf"], "rate is not a number: inf"),
        (["--temperature-c", "nan"], "temperature is not a number: nan"),
        (["--temperature-f", "inf"], "temperature is not a number: inf"),
        (["05", "--rate-c-per-h", "2000"], "outside the published"),
        (["05", "--cone-type", "huge"], "not a type of cone"),
        (["--temperature-c", "20"], "outside the cones"),
        (["--kiln-log", "nowhere.csv"], "cannot be read"),
        (["--kiln-log", "nowhere.csv", "--cone-type", "small"], "self-supporting ones only"),
        (["--rate-c-per-h", "10"], "outside the published 15 to 150 C/h"),
    ],
)
def test_bad_input_is_one_line_and_no_answer(tiles, arguments, told):
    ran = tiles("cone", *arguments)
    assert ran.code == 1
    assert ran.out == ""
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1


def test_a_kiln_log_tells_the_cone_it_should_have_reached(tiles, tmp_path):
    # The last 100 C at 60 C/h up to the end point of cone 05 (chart: 1031 C).
    log = tmp_path / "firing.csv"
    log.write_text("time_h,temperature_c\n0,20\n8,931\n9.66667,1031\n")
    found = json.loads(tiles("cone", "--kiln-log", log, "--json").out)[0]
    assert (found["nearest"], found["peak_c"], round(found["rate_c_per_h"])) == ("05", 1031, 60)
    assert "cone 05" in tiles("cone", "--kiln-log", log).out


def test_a_kiln_log_in_f_called_c_is_asked_about(tiles, tmp_path):
    log = tmp_path / "firing.csv"
    log.write_text("time_h,temperature_c\n0,68\n8,1708\n9.66667,1888\n")
    ran = tiles("cone", "--kiln-log", log)
    assert ran.code == 1
    assert "1031 C" in ran.err
    log.write_text(log.read_text().replace("temperature_c", "temperature_f"))
    assert "cone 05" in tiles("cone", "--kiln-log", log).out


def test_the_whole_chart_is_listed_without_a_cone(tiles):
    ran = tiles("cone", "--csv")
    lines = ran.out.splitlines()
    assert lines[0].startswith("cone,rate_c_per_h,rate_f_per_h,temperature_c,temperature_f,status")
    assert {line.split(",")[0] for line in lines[1:]} >= {"^022", "^05", "^1", "^5", "^10"}


def test_a_published_fahrenheit_value_is_its_own_cone(tiles):
    # The chart prints cone 04 at 60 C/h as 1063 C (1945 F).
    assert "cone 04 exactly" in tiles("cone", "--temperature-f", 1945).out


def test_the_chart_at_a_rate_lists_the_cones_it_has_and_names_the_others(tiles):
    ran = tiles("cone", "--rate-c-per-h", 15, "--csv")
    rows = ran.out.splitlines()[1:]
    assert (ran.code, len(rows), rows[0].split(",")[0]) == (0, 33, "^019")
    assert "Not published at 15 C/h: 022, 021, 020." in tiles("cone", "--rate-c-per-h", 15).err
    assert "Not published" not in tiles("cone", "--rate-f-per-h", 108).err


def test_a_type_of_cone_is_assumed_at_the_rate_it_is_published_at(tiles):
    ran = tiles("cone", "--temperature-c", 1000, "--cone-type", "Small")
    assert (ran.code, "at 300 C/h" in ran.out) == (0, True)
    assert (
        ran.out
        == tiles("cone", "--temperature-c", 1000, "--cone-type", "small", "--rate-c-per-h", 300).out
    )


def test_a_rate_a_hair_over_the_fastest_is_the_fastest(tiles):
    ran = tiles("cone", "05", "--rate-c-per-h", "150.0000001", "--json")
    assert json.loads(ran.out)[0]["temperature_c"] == 1044
    assert not json.loads(ran.out)[0]["is_estimated"]


def test_a_kiln_log_without_a_climb_is_plain_json_and_says_so(tiles, tmp_path):
    log = tmp_path / "cooling.csv"
    log.write_text("time_h,temperature_c\n0,1031\n1,1031\n2,900\n")

    def refuse(constant):
        raise AssertionError(f"{constant} is not JSON")

    found = json.loads(tiles("cone", "--kiln-log", log, "--json").out, parse_constant=refuse)[0]
    assert found["rate_c_per_h"] is None
    text = tiles("cone", "--kiln-log", log).out
    assert "no climb" in text
    assert "inf" not in text


def test_the_same_firing_in_hours_and_in_minutes_is_the_same_cone_down(tiles, tmp_path):
    log = tmp_path / "firing.csv"
    hours = [(peak - 20) / 60 for peak in (20, 500, 931, 1031)]
    told = set()
    for unit, per_hour in (("h", 1), ("min", 60), ("s", 3600)):
        pairs = zip(hours, (20, 500, 931, 1031), strict=True)
        rows = "".join(f"{hour * per_hour:.6f},{heat}\n" for hour, heat in pairs)
        encoding = "utf-16" if unit == "min" else "utf-8"
        log.write_text(f"time_{unit},temperature_c\n{rows}", encoding=encoding)
        told.add(tiles("cone", "--kiln-log", log).out.splitlines()[0])
    assert told == {"By this log cone 05 is down, cone 04 not yet; nearest is cone 05."}


def test_of_a_file_that_is_no_kiln_log_a_few_headers_are_told(tiles, tmp_path):
    log = tmp_path / "sheet.csv"
    log.write_text(
        ",".join(["mark", "area", "body", "glaze", "coats", "method"] + ["note"] * 64) + "\n"
    )
    ran = tiles("cone", "--kiln-log", log)
    assert_one_line_error(ran, "columns: mark, area, ", "method, 64 more)", "time_h")


def test_a_slow_kiln_log_says_that_its_rows_are_from_memory(tiles, tmp_path):
    # Chart as remembered: cone 05 at 15 C/h is down at 1021 C.
    log = tmp_path / "slow.csv"
    log.write_text(f"time_h,temperature_c\n0,20\n{1001 / 15},1021\n")
    assert "from memory" in tiles("cone", "--kiln-log", log).err


def test_a_kiln_log_without_a_unit_says_that_it_is_read_as_c(tiles, tmp_path):
    log = tmp_path / "firing.csv"
    for column, is_said in (("Temp", True), ("Temp (°C)", False), ("temperature_c", False)):
        log.write_text(f"time_h,{column}\n0,68\n10,1200\n10.9,1300\n", encoding="utf-8")
        assert ("read as C" in tiles("cone", "--kiln-log", log).out) is is_said
        cautions = json.loads(tiles("cone", "--kiln-log", log, "--json").out)[0]["cautions"]
        assert any("read as C" in each for each in cautions) is is_said

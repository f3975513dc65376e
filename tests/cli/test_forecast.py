"""``tiles forecast`` on the sample: chances with ranges, and what drives them."""

import re

from tests.cli.records import assert_one_line_error


def test_a_thick_coat_of_the_glaze_that_crawls_is_the_likelier_to_crawl(sample, tiles):
    def chance(thickness_mm):
        ran = tiles("forecast", "--body", "red earthenware", "--glaze", "pond green",
                    "--thickness-mm", thickness_mm, "--cone", "05")  # fmt: skip
        assert ran.code == 0, ran.err
        return int(re.search(r"^crawling +(\d+)%", ran.out, re.M)[1])

    assert chance("1.6") > 2 * chance("0.8")


def test_every_driver_says_what_it_is_about(sample, tiles):
    for mark in ("M-41", "M-53", "M-17"):
        ran = tiles("forecast", mark)
        assert ran.code == 0, ran.err
        assert not re.search(r"^ +[-+] +:", ran.out, re.M)


def test_no_chance_is_invented_from_a_handful_of_tiles(fresh, tiles):
    assert tiles("body", "add", "red").code == 0
    assert tiles("glaze", "add", "moss").code == 0
    for number in range(4):
        tiles("log", "--mark", f"T-{number}", "--body", "red", "--glaze", "moss", "--clean")
    ran = tiles("forecast", "--body", "red", "--glaze", "moss")
    assert "%" not in ran.out


def test_a_glaze_that_is_not_on_record_is_one_line(sample, tiles):
    assert_one_line_error(tiles("forecast", "--body", "red earthenware", "--glaze", "no such"))

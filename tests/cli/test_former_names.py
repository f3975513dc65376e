"""What was renamed or merged is known by its old name too, so that nobody adds it once more."""

from datetime import date

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import assert_one_line_error, counts, row

LOG = ("log", "--mark", "N-1", "--body", "red earthenware", "--glaze")
TODAY = date.today()


@pytest.fixture
def renamed(sample, tiles):
    """A sample in which pond green was called ditch once, then moss, and is sky blue now."""
    for names in (("pond green", "ditch"), ("ditch", "moss"), ("moss", "sky blue")):
        assert tiles("glaze", "rename", *names).code == 0
    return sample


@pytest.mark.parametrize("old", ["pond green", "DITCH", "moss"])
def test_an_old_name_says_what_it_is_called_now(renamed, tiles, old):
    told = f"has been called 'sky blue' since {TODAY}. Try: \"sky blue\", or 'tiles glaze add"
    assert_one_line_error(tiles(*LOG, old), told)
    assert_one_line_error(tiles("why", "--glaze", old), told)
    assert_one_line_error(tiles(*LOG, old, "--add-missing"), "or --yes if", "'sky blue' since")
    assert tiles(*LOG, "sky blue").code == 0


def test_a_merged_name_says_which_one_stayed_also_once_that_is_renamed(sample, tiles):
    assert tiles("body", "add", "red erthenware").code == 0
    assert tiles("body", "merge", "red erthenware", "red earthenware", "--yes").code == 0
    assert tiles("body", "rename", "red earthenware", "brick").code == 0
    ran = tiles("body", "show", "red erthenware")
    assert_one_line_error(
        ran, f"the clay body 'red erthenware' has been called 'brick' since {TODAY}"
    )


def test_an_old_name_may_be_the_name_of_another_one(renamed, tiles):
    before = counts(renamed)["glaze"]
    assert tiles(*LOG, "moss", "--add-missing", "--yes").code == 0
    assert counts(renamed)["glaze"] == before + 1
    ran = tiles("glaze", "add", "ditch")
    assert ran.code == 0
    assert f"Check: glaze 'ditch' is what 'sky blue' was called until {TODAY}." in ran.err
    assert row(tiles, "glaze", "ditch")["tiles"] == 0
    assert tiles("glaze", "rename", "sky blue", "pond green").code == 0
    assert_one_line_error(tiles("glaze", "show", "sky blue"), "has been called 'pond green' since")
    assert row(tiles, "glaze", "pond green")["tiles"] > 1


def test_what_left_the_record_has_no_other_name(sample, tiles):
    assert tiles("glaze", "add", "fog").code == 0
    assert tiles("glaze", "rename", "fog", "mist").code == 0
    assert tiles("glaze", "remove", "mist", "--yes").code == 0
    assert_one_line_error(tiles("glaze", "show", "fog"), "no glaze called 'fog' is on record")


def test_the_questions_offer_what_an_old_name_is_now(renamed):
    person = Keyboard("log")
    person.answers("Mark", "N-1")
    person.answers("Clay body", "red earthenware")
    person.answers("Glaze", "moss")
    person.sees(f"The glaze 'moss' has been called 'sky blue' since {TODAY}.")
    person.answers("Did you mean 'sky blue'?", "y")
    person.sees("Coats")
    person.interrupts()
    assert person.ends()[0] == 130


def test_an_old_name_that_two_things_had_tells_of_both(renamed, tiles):
    assert tiles("glaze", "add", "moss", "--yes").code == 0
    assert tiles("glaze", "rename", "moss", "fern").code == 0
    told = (
        f"called 'fern' since {TODAY}; another of that name 'sky blue' since {TODAY}. Try: fern or"
    )
    assert_one_line_error(tiles(*LOG, "moss"), told, '"sky blue", or \'tiles glaze add')
    assert tiles("glaze", "rename", "fern", "moss").code == 0  # back again: one thing had it
    assert tiles("glaze", "rename", "moss", "bracken").code == 0
    assert_one_line_error(tiles(*LOG, "fern"), f"called 'bracken' since {TODAY}. Try: bracken, or")

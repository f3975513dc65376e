"""Marks that another command takes while a person is asked whether to plan tiles."""

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, shown


@pytest.mark.parametrize(("way", "told"), [(["--json"], '"P-2"'), ([], "P-2   porcelain")])
def test_marks_taken_while_a_person_thinks_are_left_and_the_next_ones_handed_out(
    sample, tiles, way, told
):
    plan = ("--body", "porcelain", "--glaze", "mid clear", "--first-mark", "P-1")
    person = Keyboard("plan", *plan, *way)
    person.sees("Put 1 planned tile on record?")
    assert tiles("log", "--mark", "P-1", "--body", "red earthenware").code == 0
    person.press("y", ENTER)
    code, said = person.ends()
    assert (code, "load FIRING P-2" in said, told in said) == (0, True, True)
    assert shown(tiles, "P-1")["body"]["name"] == "red earthenware"
    assert shown(tiles, "P-2")["body"]["name"] == "porcelain"


def test_a_mark_of_a_trial_taken_while_a_person_thinks_is_told_and_nothing_stored(sample, tiles):
    person = Keyboard("next", "M-60", "--plan", "--first-mark", "P-1")
    person.sees("on record?")
    assert tiles("log", "--mark", "P-2", "--body", "red earthenware").code == 0
    before = all_rows(sample)
    person.press("y", ENTER)
    code, said = person.ends()
    assert code == 1
    assert "'P-2' was just taken by another tile. Try: the same command again" in said
    assert all_rows(sample) == before

"""``tiles log`` as a conversation: a studio's first tiles, and those of another day."""

import sqlite3
from contextlib import closing
from datetime import date

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import row, shown

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def of_another_day(file, day):
    """As if all tiles had been written down on that day."""
    with closing(sqlite3.connect(file)) as connection, connection:
        connection.execute("UPDATE tile SET written_on = ?", [day])


@pytest.mark.parametrize("day", ["2025-01-02", None])
def test_of_a_tile_of_another_day_no_firing_is_offered(after_a_tile, tiles, day):
    of_another_day(after_a_tile, day)
    person = Keyboard("log")
    person.sees("N-7 was not written down today: of it only body and glaze are offered, not its "
                "firing F12 and what belongs to that.")  # fmt: skip
    person.answers("Mark [N-8]:")
    person.answers("Clay body [red earthenware]:")
    person.answers("[white slip + pond green]:")
    person.answers("(1,2,3 for three areas):", "2")
    person.answers("Thickness")
    person.answers("the bisque's name:")
    person.answers("Firing:")
    person.answers("Cone reached, if it was fired:")
    person.answers("What do you see?", "clean")
    person.answers(f"Day of the look [{date.today()}]:", "2026-01-03")
    person.answers("Note")
    assert person.ends()[0] == 0
    stored = shown(tiles, "N-8")
    assert (stored["firing"], stored["shelf"]) == (None, None)
    assert stored["inspections"][0]["inspected_on"] == "2026-01-03"


@pytest.mark.parametrize(
    ("typed", "known"),
    [
        ("u", ("underglaze", None)),
        ("c", ("glaze", "clear")),
        ("clear", ("glaze", "clear")),
        ("wash", ("wash", None)),
        ("", ("glaze", None)),
    ],
)
def test_what_a_new_glaze_is_for_is_asked(fresh, tiles, typed, known):
    person = Keyboard("log")
    person.answers("Mark:", "mug 1")
    person.answers("Clay body:", "white")
    person.answers("Add 'white' as new?", "y")
    person.answers("Cone range")
    person.answers("Glaze", "fog")
    person.answers("Add 'fog' as new?", "y")
    person.answers("What is it: g glaze, c clear glaze, u underglaze", typed)
    for question in ("Cone range", "Coats", "Put on by", "Thickness", "Bisque cone", "Firing",
                     "Cone reached"):  # fmt: skip
        person.answers(question)
    person.answers("What do you see?", "clean")
    person.answers("Day of the look")
    person.answers("Note")
    assert person.ends()[0] == 0
    glaze = row(tiles, "glaze", "fog")
    assert (glaze["role"], glaze.get("finish")) == known


def test_how_a_glaze_was_put_on_is_asked_until_it_is_told_and_then_offered(fresh, tiles):
    log = ("log", "--body", "white", "--glaze", "fog", "--add-missing", "--clean")
    assert tiles(*log, "--mark", "mug 1").code == 0
    for mark, asked, typed in (("mug 2", "s spray):", "d"), ("mug 3", "s spray) [dip]:", "")):
        person = Keyboard("log")
        for question in (f"Mark [{mark}]", "Clay body", "Glaze", "Coats"):
            person.answers(question)
        person.sees("Put on by (b brush, d dip")
        person.answers(asked, typed)
        for question in ("Thickness", "Bisque cone", "Firing", "Cone reached"):
            person.answers(question)
        person.answers("What do you see?", "clean")
        person.answers("Day of the look")
        person.answers("Note")
        assert person.ends()[0] == 0
        assert shown(tiles, mark)["areas"][0]["layers"][0]["method"] == "dip"


def test_a_tile_without_firing_cone_or_look_is_planned_only_on_a_yes(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "firing")
    person.answers("Firing [F12]:", "-")
    person.answers("Is that read off this tile", "y")
    person.answers("Cone reached, if it was fired:")
    person.answers("What do you see?")
    person.sees("Without a firing, a cone or a look it goes on record as planned.")
    person.answers("Is it still to be fired?")
    person.sees("Then what is seen on it now, if only clean; < goes back to its cone.")
    person.answers("What do you see?")
    person.sees("Is it still to be fired? [Y/n]")
    person.press(ENTER)
    person.answers("Note")
    code, said = person.ends()
    assert (code, "N-8 is on record: planned, not inspected yet" in said) == (0, True)

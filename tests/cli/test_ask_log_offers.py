"""``tiles log`` as a conversation: what it offers, what it asks only now and then, and back."""

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import shown
from tiles.cli import ask_log_kept, ask_log_layers, ask_log_questions
from tiles.cli.ask_log_answers import Answers, last_tile, like_the_last, values
from tiles.cli.ask_names import key
from tiles.records import models

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def test_no_cone_of_one_firing_or_shelf_is_offered_for_another(after_a_tile, tiles):
    read = ("--witness-cone", "04@middle", "--witness-cone", "06@top")
    assert tiles("firing", "add", "F77", "--target-cone", "05", *read).code == 0
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "firing")
    person.answers("Firing", "F77")
    person.answers("Shelf", "middle")
    person.answers("Cone reached there (Enter: 04, the witness cone of F77):")
    person.answers("What do you see?", "clean")
    person.answers("Day of the look")
    person.answers("Note")
    assert person.ends()[0] == 0
    stored = shown(tiles, "N-8")
    assert (stored["cone_reached"], stored["derived"]["cone_reached"]) == (None, "04")
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.sees("firing F77, cone by the witness cones, looked at")
    person.answers("What differs")
    person.answers("Shelf [middle]", "bottom")
    person.answers("Cone reached there:", "05")
    person.answers("What do you see?", "clean")
    person.answers("Note")
    assert person.ends()[0] == 0
    assert shown(tiles, "N-9")["cone_reached"] == "05"


def test_back_asks_the_question_before_again_with_the_answer_that_was_given(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark [N-8]:", "<")
    person.sees("This is the first question.")
    person.answers("Mark [N-8]:", "N-20")
    person.answers("Clay body [red earthenware]:")
    person.answers("[white slip=2 + pond green]:", "pond green=1")
    person.answers("What differs", "thickness")  # the coats were not asked
    person.answers("Thickness of the dry coat in mm", "<")
    person.answers("[thickness]:", "<")
    person.answers("[pond green=1]:", "pond green")
    person.answers("Coats of the top one", "2")
    person.answers("[thickness]:", "<")
    person.answers("[2]:", "<")
    person.answers("[pond green]:", "<")
    person.answers("Clay body [red earthenware]:", "<")
    person.answers("Mark [N-20]:", "N-21")
    for question in ("Clay body", "[pond green]:", "[2]:"):
        person.answers(question)
    person.answers("[thickness]:", "nothing")
    person.answers("Shelf")
    person.answers("What do you see?", "other")
    person.answers("What is the other fault", "<")
    person.answers(
        "What do you see? clean, or defects (severe crawling, pinholes) [other]:", "clean"
    )
    person.answers("Note", "<")
    person.answers("[clean]:", "pinholes")
    person.answers("Was the layer or coat beneath")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "N-21 is on record: pinholes." in said) == (0, True)
    (area,) = shown(tiles, "N-21")["areas"]
    assert [(each["glaze"]["name"], each["coats"]) for each in area["layers"]] == [
        ("pond green", 2)
    ]


def test_back_offers_no_cone_of_another_firing_or_shelf(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "all")
    for question in ("Thickness", "Bisque cone", "Firing"):
        person.answers(question)
    person.answers("Shelf [top]:", "bottom")
    person.answers("Cone reached there", "06")
    person.answers("What do you see?", "<")
    person.answers("Cone reached there [06]:", "<")
    person.answers("Shelf [bottom]:", "top")
    person.sees("Cone reached there")
    person.answers(":", "<")
    person.answers("Shelf [top]:", "<")
    person.answers("Firing [F12]:", "-")
    person.sees("As on the last tile, which was in F12: coats 3, bisque 04.")
    person.answers("Is that read off this tile, too?", "n")
    person.answers("Cone reached, if it was fired:")
    person.answers("What do you see?", "clean")
    person.answers("Day of the look")
    person.answers("Note")
    assert person.ends()[0] == 0
    stored = shown(tiles, "N-8")
    assert (stored["cone_reached"], stored["bisque_cone"]) == (None, None)
    assert stored["areas"][0]["layers"][-1]["coats"] is None


GRID = (
    "log", "--mark", "G-1", "--body", "red earthenware", "--glaze", "ink blue@1",
    "--glaze", "white slip=2@2", "--glaze", "pond green", "--coats", "1,2,3", "--firing", "F12",
    "--add-missing", "--clean",
)  # fmt: skip


def test_after_a_grid_enter_makes_the_same_grid(sample, tiles):
    assert tiles(*GRID).code == 0
    person = Keyboard("log")
    person.answers("Mark [G-2]:")
    person.answers("Clay body")
    person.answers("[ink blue@1 + white slip=2@2 + pond green]:")
    person.answers("Coats of the top one (1,2,3 for three areas) [1,2,3]:")
    for question in ("What differs", "Shelf"):
        person.answers(question)
    person.answers("(severe crawling, pinholes@2)", "clean")
    person.answers("Note")
    assert person.ends()[0] == 0
    assert shown(tiles, "G-2")["areas"] == shown(tiles, "G-1")["areas"]


def test_the_batch_is_asked_where_there_is_one_and_the_last_is_offered(after_a_tile, tiles):
    assert tiles("batch", "add", "pond green", "May").code == 0
    for mark, differs in (("N-8", ""), ("N-9", ""), ("N-10", "batch")):
        person = Keyboard("log")
        for question in (f"Mark [{mark}]", "Clay body", "Glaze", "Coats"):
            person.answers(question)
        if mark != "N-8":
            person.sees(": batch May, dry coat not measured")
        person.answers("What differs", differs)
        if mark == "N-8":
            person.answers("Batch of pond green:", "June")
            person.sees("pond green has no batch 'June' on record")
            person.answers("Add 'June' as a new batch of pond green?", "n")
            person.answers("Batch of pond green:", "may")
        elif differs:
            person.answers("Batch of pond green [May]:")
        person.answers("Shelf")
        person.answers("What do you see?", "clean")
        person.answers("Note")
        assert person.ends()[0] == 0
        (area,) = shown(tiles, mark)["areas"]
        assert [layer["batch"] and layer["batch"]["name"] for layer in area["layers"]] == [
            None, "May",
        ]  # fmt: skip


def test_a_new_batch_is_added_with_the_tile(after_a_tile, tiles):
    assert tiles("batch", "add", "pond green", "May").code == 0
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs")
    person.answers("Batch of pond green:", "July")
    person.answers("Add 'July' as a new batch of pond green?", "y")
    person.answers("Shelf")
    person.answers("What do you see?")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "Added batch July of pond green" in said) == (0, True)


def test_a_shelf_that_is_rather_a_firing_a_cone_or_a_day_is_asked_about(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "thickness")
    person.answers("Thickness", "15")
    person.sees("thickness_mm 15 is not possible")
    person.answers("Thickness", '1/16"')
    person.sees("in mm: 1.6")
    person.answers("Thickness")
    for typed, looks in (("f12", "a firing"), ("5", "cone 5"), ("3/9/26", "a day")):
        person.answers("Shelf [top]:", typed)
        person.sees(f"looks like {looks}")
        person.answers(f"Is '{typed}' the shelf?", "n")
    person.answers("Shelf [top]:", "5")
    person.answers("Is '5' the shelf?", "y")
    for question in ("Cone reached there", "What do you see?", "Note"):
        person.answers(question)
    assert person.ends()[0] == 0
    assert shown(tiles, "N-8")["shelf"] == "5"
    assert tiles("change", "N-7", "--shelf", "5").code == 0


def test_a_bisque_firing_on_record_is_taken_where_its_cone_is_asked(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "bisque")
    person.answers("Bisque cone, or the bisque's name [04]:", "B77")
    person.sees("'B77' is neither a pyrometric cone nor a firing on record.")
    person.answers("Bisque cone", "F12")
    person.sees("F12 is a glaze firing.")
    person.answers("Bisque cone", "f03")
    person.answers("Shelf")
    person.answers("What do you see?", "clean")
    person.answers("Note")
    assert person.ends()[0] == 0
    stored = shown(tiles, "N-8")
    assert (stored["bisque_cone"], stored["bisque_firing"]["name"]) == (None, "F03")
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.sees("bisque F03, firing F12")
    person.interrupts()
    person.ends()


def test_the_coat_beneath_is_asked_of_where_a_fault_is_seen(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats", "What differs", "Shelf"):  # fmt: skip
        person.answers(question)
    person.answers("What do you see?", "crawling")
    person.answers("Was the layer or coat beneath damp or dry when the top one went on:", "wet")
    person.sees("'wet' is not a known state beneath")
    person.answers("Was the layer or coat beneath damp or dry", "damp")
    person.answers("Was white slip put on greenware (raw clay) or bisque:", "wet")
    person.sees("'wet' is not a known answer")
    person.answers("Was white slip put on greenware", "greenware")
    person.answers("Note")
    assert person.ends()[0] == 0
    (area,) = shown(tiles, "N-8")["areas"]
    assert [layer["beneath"] for layer in area["layers"]] == [None, "damp"]
    assert [layer["applied_on"] for layer in area["layers"]] == ["greenware", None]
    person = Keyboard("log")
    person.answers("Mark")
    person.answers("Clay body")
    person.answers("Glaze", "pond green=1")
    for question in ("What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?", "crawling")
    # one coat: nothing is beneath
    person.answers("Note")
    assert person.ends()[0] == 0


def test_a_trial_that_waits_for_its_firing_is_not_what_is_gone_on_from(after_a_tile, tiles):
    assert tiles("fix", "M-41", "--plan").code == 0
    record, is_of_today = last_tile(None)
    assert (record.mark, is_of_today) == ("N-7", True)
    assert tiles("log", "--mark", "N-9", "--body", "red earthenware").code == 0
    assert last_tile(None)[0].mark == "N-9"


@pytest.mark.parametrize(
    ("glaze", "seen", "colours"),
    [("white slip=2 + pond green", "crawling", ["white slip"]),
     ("white slip=2 + pond green", "clean", None),
     ("rose=2 + pond green", "clean", ["rose"]),
     ("white slip@1 + rose@2 + pond green", "crawling", ["white slip", "rose"]),
     ("rose=2 + white slip=2 + pond green", "clean", ["rose", "white slip"]),
     ("pond green=2 + white slip", "crawling", None),
     ("rose=2", "crawling", None),
     ("pond green", "crawling", None)],
)  # fmt: skip
def test_what_a_colour_beneath_was_put_on_is_asked_of_a_fault_and_of_a_new_colour(
    after_a_tile, glaze, seen, colours
):
    new = {key(models.Glaze, "rose"): {"name": "rose", "role": "underglaze"}}
    found = Answers(glaze=glaze, seen=seen, new=new)
    assert ask_log_layers.may_tell_colour(None, found) is bool(colours)
    if colours:
        assert ask_log_layers._colours(None, found) == colours
        found.colour_on = "\n".join(f"{each}=bisque" for each in colours)
        layers = [layer for area in values(found)["areas"] for layer in area["layers"]]
        put_on = [each.get("applied_on") for each in layers]
        assert [each for each in put_on if each] == ["bisque"] * len(colours)
        assert put_on[-1] is None


def test_what_a_colour_was_put_on_is_what_the_last_tile_has_of_it(after_a_tile, tiles):
    """Of a colour that it does not have, what today's tiles of the firing have, and told so."""
    found = Answers(glaze="white slip + moss", seen="clean")

    def offered():
        last = like_the_last(*last_tile(None))
        known = ask_log_layers.put_on_before(None, last, found)
        fact = ask_log_kept._colour(None, last, found)
        return known["white slip"], fact and fact.told

    assert not ask_log_layers.may_tell_colour(None, found)
    assert tiles("change", "N-7", "--applied-on", "white slip=greenware").code == 0
    assert ask_log_layers.may_tell_colour(None, found)  # told of the last tile, so of this one
    assert offered() == ("greenware", "white slip on greenware")
    made = ("--body", "red earthenware", "--firing", "F12", "--coats", "2")
    slip = ("--glaze", "white slip", "--glaze", "pond green")
    for mark, more, is_offered in (
        ("N-8", ("--glaze", "pond green"), ("greenware", "white slip on greenware as on the ")),
        ("N-9", slip, (None, None)),
        ("N-10", (*slip, "--applied-on", "white slip=bisque"), ("bisque", "white slip on bisque")),
        ("N-11", ("--glaze", "pond green"), (None, None)),  # one thing on N-7, another on N-10
    ):
        assert tiles("log", "--mark", mark, *made, *more).code == 0
        known, told = offered()
        assert (known, told and told.removesuffix("tiles before")) == is_offered


@pytest.mark.parametrize(
    ("typed", "stored"),
    [("bisque", "rose=bisque\nwhite slip=bisque"),
     ("greenware, bisque", "rose=greenware\nwhite slip=bisque"),
     ("-,bisque", "white slip=bisque"),
     ("", None)],
)  # fmt: skip
def test_several_colours_take_one_word_or_one_each(after_a_tile, monkeypatch, typed, stored):
    new = {key(models.Glaze, "rose"): {"name": "rose", "role": "underglaze"}}
    found = Answers(glaze="rose=2 + white slip=2 + pond green", seen="crawling", new=new)
    answers = iter(["bisque, bisque, bisque", typed])
    monkeypatch.setattr("builtins.input", lambda _prompt: next(answers))
    assert ask_log_layers.ask_colour(None, Answers(), found) == stored


def test_words_refused_as_a_fault_are_kept_by_enter(after_a_tile, monkeypatch):
    answers = iter(["metalic sheen in one corner", ""])
    monkeypatch.setattr("builtins.input", lambda _prompt: next(answers))
    found = Answers(mark="N-8", body="red earthenware", glaze="pond green", firing="F12")
    seen = ask_log_questions._ask_seen(None, Answers(), found)
    assert seen == "other (metalic sheen in one corner)"

"""``tiles log`` as a conversation: names and marks that are not on record."""

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import all_rows, counts, shown
from tiles.cli import ask_log_questions, ask_names, common
from tiles.cli.ask_log_answers import Answers, last_tile, like_the_last, parts
from tiles.errors import meant_by
from tiles.records import models

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def answer_up_to_the_glaze(person):
    person.answers("Mark")
    person.answers("Clay body")


def test_an_unknown_glaze_is_offered_to_be_added(after_a_tile, tiles):
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    person.answers("Glaze", "fog grey")
    person.sees("'fog grey' is not on record.")
    person.answers("Add 'fog grey' as new?", "y")
    person.answers("What is it: g glaze, c clear glaze, u underglaze")
    person.answers("Cone range on its label", "06-04")
    person.answers("Coats", "1,2,3")
    person.answers("What differs", "thickness")
    person.answers("Thickness", "0.3,0.6,0.9")
    person.answers("Shelf")
    person.answers("What do you see?", "clean")
    person.answers("Note")
    assert person.ends()[0] == 0
    areas = shown(tiles, "N-8")["areas"]
    layers = [area["layers"][0] for area in areas]
    assert [(each["coats"], each["thickness_mm"]) for each in layers] == [
        (1, 0.3),
        (2, 0.6),
        (3, 0.9),
    ]
    glaze = layers[0]["glaze"]
    assert (glaze["name"], glaze["cone_low"], glaze["cone_high"]) == ("fog grey", "06", "04")
    assert shown(tiles, "N-8")["derived"]["clean"] is True


def test_a_name_that_reads_as_layers_is_asked_about_where_it_is_typed_and_once(after_a_tile, tiles):
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    person.answers("Glaze", "fog over pond green x3")
    person.sees("'fog over pond green x3' reads as 2 layers: from the clay up pond green=3 + fog.")
    person.answers("Is it the name of one glaze?", "n")
    person.answers("Glaze", "fog over dawn")
    person.answers("Is it the name of one glaze?", "y")
    person.sees("'fog over dawn' is not on record.")
    person.answers("Add 'fog over dawn' as new?", "y")
    for question in ("What is it", "Cone range on its label", "Coats", "What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?", "clean")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "reads as" in said) == (0, False)
    assert shown(tiles, "N-8")["areas"][0]["layers"][0]["glaze"]["name"] == "fog over dawn"


def test_the_right_name_typed_at_the_question_is_taken(after_a_tile, tiles):
    before = counts(after_a_tile)
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    person.answers("Glaze", "pond gren")
    person.answers("Did you mean 'pond green'?", "pond gre")
    person.sees("'pond gre' is not on record. Try: y, n or the right name.")
    person.answers("Did you mean 'pond green'?", "Pond Green")
    person.answers("Coats")
    person.answers("What differs", "firing")
    person.answers("Firing", "zzz")
    person.answers("Add 'zzz' as new?", "f12")
    for question in ("Shelf", "Cone reached there", "What do you see?", "Note"):
        person.answers(question)
    assert person.ends()[0] == 0
    assert counts(after_a_tile)["glaze"] == before["glaze"]
    record = shown(tiles, "N-8")
    assert record["areas"][0]["layers"][0]["glaze"]["name"] == "pond green"
    assert record["firing"]["name"] == "F12"


def test_a_mistyped_glaze_need_not_be_added_and_is_asked_again(after_a_tile, tiles):
    before = counts(after_a_tile)
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    person.answers("Glaze", "pond gren")
    person.answers("Did you mean 'pond green'?", "n")
    person.answers("Add 'pond gren' as new?", "n")
    person.answers("Glaze", "pond green")
    for question in ("Coats", "What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?")
    person.answers("Note")
    assert person.ends()[0] == 0
    after = counts(after_a_tile)
    assert (after["tile"], after["glaze"]) == (before["tile"] + 1, before["glaze"])
    assert shown(tiles, "N-8")["derived"]["stage"] == "fired"


def test_yes_to_a_name_that_was_meant_takes_it_and_adds_none(after_a_tile, tiles):
    before = counts(after_a_tile)
    person = Keyboard("log")
    person.answers("Mark")
    person.answers("Clay body", "red earthenwear")
    person.answers("Did you mean 'red earthenware'?", "y")
    person.answers("Glaze", "wite slip=2 + pond gren")
    person.answers("Did you mean 'white slip'?", "y")
    person.answers("Did you mean 'pond green'?", "y")
    for question in ("Coats", "What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?")
    person.answers("Note")
    assert person.ends()[0] == 0
    new, last = shown(tiles, "N-8"), shown(tiles, "N-7")
    assert (new["body"], new["areas"]) == (last["body"], last["areas"])
    after = counts(after_a_tile)
    assert (after["glaze"], after["clay_body"]) == (before["glaze"], before["clay_body"])


@pytest.mark.parametrize(
    ("typed", "question"),
    [("F13", "Add 'F13' as new?"), ("F012", "Did you mean 'F12'?"), ("F1Z", "Add 'F1Z' as new?")],
)
def test_the_next_name_of_a_series_is_no_slip_of_the_one_before(after_a_tile, typed, question):
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    for each in ("Glaze", "Coats"):
        person.answers(each)
    person.answers("What differs", "firing")
    person.answers("Firing", typed)
    person.sees(f"{typed!r} is not on record. {question}")


def answer_with_new_names(person):
    """A new body, a new glaze in two layers and a new firing, up to what is seen."""
    person.answers("Mark")
    person.answers("Clay body", "grey clay")
    person.answers("Add 'grey clay' as new?", "y")
    person.answers("Cone range", "06-04")
    person.answers("Glaze", "fog grey=1 + Fog  Grey")
    person.answers("Add 'fog grey' as new?", "y")
    person.answers("What is it: g glaze, c clear glaze, u underglaze")
    person.answers("Cone range", "06-04")
    person.answers("Coats", "2")
    person.answers("What differs", "firing")
    person.answers("Firing", "kiln seven")
    person.answers("Add 'kiln seven' as new?", "y")
    person.answers("Its target cone", "05")
    person.answers("Its kiln", "TOP LOADER")
    person.answers("The day it was fired", "")
    person.answers("Shelf")
    person.answers("Cone reached there")
    person.sees("What do you see?")


def test_new_names_are_stored_together_with_the_tile(after_a_tile, tiles):
    person = Keyboard("log")
    answer_with_new_names(person)
    person.press("clean", "\r")
    person.answers("Day of the look")
    person.answers("Note")
    code, said = person.ends()
    assert (code, "Added clay body grey clay." in said) == (0, True)
    record = shown(tiles, "N-8")
    layers = record["areas"][0]["layers"]
    assert [(each["glaze"]["name"], each["coats"]) for each in layers] == [
        ("fog grey", 1),
        ("fog grey", 2),
    ]
    assert (record["body"]["cone_high"], record["firing"]["target_cone"]) == ("04", "05")


def test_ctrl_c_leaves_none_of_the_new_names(after_a_tile):
    before = all_rows(after_a_tile)
    person = Keyboard("log")
    person.sees("Ctrl-C stops without storing anything.")
    answer_with_new_names(person)
    person.interrupts()
    assert person.ends()[0] == 130
    assert all_rows(after_a_tile) == before


def test_after_a_no_a_new_name_is_described_anew(after_a_tile, tiles):
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    person.answers("Glaze", "fog grey")
    person.answers("Add 'fog grey' as new?", "y")
    person.answers("What is it: g glaze, c clear glaze, u underglaze")
    person.answers("Cone range", "4-6")
    for question in ("Coats", "What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?")
    person.answers("Note")
    person.answers("Is that really so?", "n")
    person.answers("[fog grey]:")
    person.answers("What is it: g glaze, c clear glaze, u underglaze, s slip (Enter: glaze):", "<")
    person.answers("[fog grey]:", "gris")
    person.answers("Add 'gris' as new?", "<")
    person.answers("[fog grey]:")
    person.answers("What is it: g glaze, c clear glaze, u underglaze, s slip (Enter: glaze):")
    person.answers("Cone range on its label (06-04) [4-6]:", "06-04")
    person.answers("Cone reached")
    assert person.ends()[0] == 0
    assert shown(tiles, "N-8")["areas"][0]["layers"][0]["glaze"]["cone_high"] == "04"


def test_a_mark_with_other_zeros_is_right_only_on_a_yes(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark", "N-08")
    person.sees("'N-7' is on record, with other zeros.")
    person.answers("Is 'N-08' right?", "n")
    person.answers("Mark", "N-8")
    person.sees("Clay body")
    person.sees("]: ")
    person.interrupts()
    assert person.ends()[0] == 130


def test_a_mark_that_differs_only_by_a_blank_is_another_tile_only_on_a_yes(after_a_tile, tiles):
    person = Keyboard("log")
    person.answers("Mark", "N -7")
    person.sees("'N-7' is on record, the same but for blanks, dashes or look-alike letters.")
    person.answers("Is 'N -7' another tile?", "n")
    person.answers("Mark", "N -7")
    person.answers("Is 'N -7' another tile?", "y")
    person.sees("Clay body")
    person.sees("]: ")
    person.interrupts()
    assert person.ends()[0] == 130


def test_after_a_mark_without_a_number_the_numbers_go_on(after_a_tile, tiles):
    assert tiles("log", "--mark", "lid of Anna", "--body", "red earthenware").code == 0
    person = Keyboard("log")
    person.sees("Mark [N-8]: ")
    person.interrupts()
    assert person.ends()[0] == 130
    plan = ("plan", "--body", "red earthenware", "--glaze", "pond green", "--coats", "2", "--yes")
    assert "N-8" in tiles(*plan).out


def test_a_mark_taken_meanwhile_is_not_offered_again(after_a_tile, tiles):
    person = Keyboard("log")
    person.sees("Mark [N-8]:")
    assert tiles("log", "--mark", "N-8", "--body", "red earthenware").code == 0
    person.press("\r")
    person.sees("'N-8' is already on record")
    person.sees("Mark [N-9]:")
    person.interrupts()
    assert person.ends()[0] == 130


def test_back_from_what_is_asked_of_a_new_name_asks_for_the_name_again(after_a_tile, tiles):
    person = Keyboard("log")
    answer_up_to_the_glaze(person)
    person.answers("Glaze", "fog grey")
    person.answers("Add 'fog grey' as new?", "y")
    person.answers("What is it: g glaze, c clear glaze, u underglaze")
    person.answers("Cone range on its label", "<")
    person.answers("Glaze", "pond green=2")
    for question in ("What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?", "clean")
    person.answers("Note")
    assert person.ends()[0] == 0
    assert "fog grey" not in tiles("glaze", "list", "--json").out


@pytest.mark.parametrize(
    ("name", "known", "is_plain"),
    [
        ("Red", ["red earthenware", "buff stoneware"], True),
        ("red", ["red earthenware", "red raku"], False),
        ("redd", ["red earthenware"], False),
        ("earth", ["red earthenware"], False),
        ("F1", ["F1 again", "F2"], False),
        ("red", ["reds", "red earthenware"], False),  # it is asked whether "reds" was meant
    ],
)
def test_enter_takes_a_name_only_where_what_was_typed_is_a_word_of_that_one_alone(
    name, known, is_plain
):
    assert ask_names._is_short_for(name, meant_by(name, known), known) is is_plain


def test_a_name_with_its_words_swapped_is_asked_about(after_a_tile, monkeypatch):
    asked = []
    monkeypatch.setattr(common, "yes_or_no", lambda text, **how: asked.append(text) or True)
    assert ask_names.known_or_new(None, models.Glaze, "green pond", {}, {}) == "pond green"
    assert asked == ["Did you mean 'pond green'?"]


def test_a_question_mark_lists_the_names_where_another_is_asked_about(sample, monkeypatch, capsys):
    typed = iter(["?", "pond green"])
    monkeypatch.setattr("typer.prompt", lambda *told, **how: next(typed))
    assert ask_names.known_or_new(None, models.Glaze, "pond gren", {}, {}) == "pond green"
    said = capsys.readouterr().err
    assert "studio clear" in said
    assert "'?' is not on record" not in said


def test_the_one_name_with_that_word_is_taken_by_enter(after_a_tile, monkeypatch):
    asked = []
    monkeypatch.setattr(common, "yes_or_no", lambda text, **how: asked.append((text, how)) or True)
    assert ask_names.known_or_new(None, models.ClayBody, "red", {}, {}) == "red earthenware"
    ((text, how),) = asked
    assert (text, how["default"]) == ("Did you mean 'red earthenware'?", True)


def test_a_name_with_a_plus_is_one_layer_where_it_is_on_record(after_a_tile, tiles, monkeypatch):
    made = ("--body", "red earthenware", "--add-missing", "--yes", "--glaze")
    for mark, name in (("X-1", "moss 50 + pond green 50"), ("X-2", "white slip + pond green")):
        assert tiles("log", "--mark", mark, *made, name).code == 0
    asked = []
    monkeypatch.setattr(common, "yes_or_no", lambda text, **_how: asked.append(text))
    for typed, layers in (
        ("white slip=2 + moss 50 + pond green 50=3", ["white slip=2", "moss 50 + pond green 50=3"]),
        ("white slip + pond green", ["white slip", "pond green"]),
    ):
        monkeypatch.setattr("builtins.input", lambda _prompt, typed=typed: typed)
        answered = ask_log_questions._ask_glaze(None, Answers(), Answers())
        assert parts(answered) == layers
    assert asked == ["Is it the one glaze 'white slip + pond green'?"]
    (offered,) = [like_the_last(*last_tile(None)).glaze]
    assert parts(offered) == ["white slip + pond green"]

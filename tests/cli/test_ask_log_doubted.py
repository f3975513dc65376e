"""``tiles log`` as a conversation: a no to "Is that really so?"."""

import pytest

from tests.cli.keyboard import Keyboard
from tests.cli.records import shown
from tiles.cli import ask_log
from tiles.cli.ask_log_answers import Answers
from tiles.cli.ask_names import key
from tiles.errors import Questioned
from tiles.records import models

pytestmark = pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")


def test_after_a_no_what_was_doubted_is_asked_again_and_nothing_else_is_lost(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "thickness")
    person.answers("Thickness", "8")
    person.answers("Shelf")
    person.answers("What do you see?", "crawling:severe")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on", "bisque")
    person.answers("Note", "thick at the foot")
    person.sees("8 mm is far thicker")
    person.answers("Is that really so?", "n")
    person.sees("Not stored. What was doubted is asked once more")
    person.answers("Thickness of the dry coat in mm [8]", "0.8")
    assert person.ends()[0] == 0
    stored = shown(tiles, "N-8")
    assert stored["areas"][0]["layers"][-1]["thickness_mm"] == 0.8
    assert stored["inspections"][0]["defects"][0]["severity"] == "severe"
    assert (stored["note"], stored["shelf"]) == ("thick at the foot", "top")
    assert stored["areas"][0]["layers"][0]["applied_on"] == "bisque"


def test_from_what_was_doubted_one_can_go_further_back(after_a_tile, tiles):
    person = Keyboard("log")
    for question in ("Mark", "Clay body", "Glaze", "Coats"):
        person.answers(question)
    person.answers("What differs", "bisque")
    person.answers("the bisque's name", "6")
    person.answers("Shelf")
    person.answers("What do you see?", "clean")
    person.answers("Note")
    person.answers("Is that really so?", "n")
    person.answers("the bisque's name [6]", "<")
    person.answers("What differs", "bisque, thickness")
    person.answers("Thickness", "0.3")
    person.answers("the bisque's name [6]", "04")
    person.answers("Shelf")
    person.answers("What do you see?")
    person.answers("Note")
    assert person.ends()[0] == 0
    assert shown(tiles, "N-8")["bisque_cone"] == "04"


def test_of_a_doubted_target_it_is_told_how_a_firing_is_mended(capsys):
    given = Answers(mark="T-1", body="red", bisque="04", firing="G1", shelf="top", seen="clean")
    doubt = Questioned("T-1: target cone 5 is far above cone 02.", "", field="cone")
    found = ask_log._back_to_the_doubted(doubt, given)
    assert (found.again, found.bisque, found.firing, found.kept["seen"]) == (
        "firing", "04", None, "clean")  # fmt: skip
    assert found.kept["shelf"] == "top"
    assert "'tiles firing change G1'" in capsys.readouterr().err


def test_a_new_firing_that_is_doubted_is_described_anew(capsys):
    new = {key(models.Firing, "G1"): {"name": "G1", "target_cone": "5"}}
    given = Answers(mark="T-1", body="red", firing="G1", seen="clean", new=new)
    doubt = Questioned("T-1: target cone 5 is far above cone 02.", "", field="cone")
    found = ask_log._back_to_the_doubted(doubt, given)
    assert (found.again, found.new) == ("firing", {})
    assert "firing change" not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("said", "field", "asked"),
    [
        ("T-1: cone reached 5 is far above cone 04, the top for body 'red'.", "cone",
         ["body", "cone_reached"]),
        ("T-1: bisque cone 5 is far above cone 04, the top for glaze 'fern'.", "cone",
         ["glaze", "bisque"]),
        ("T-1: peak 1200 C of F1 is far above cone 04, the top for body 'clay'.", "cone",
         ["firing"]),
        ("kept as another fault, 'milky' is not read as cloudiness.", "defect", ["seen"]),
        ("a tile marked 'T-1' is already on record.", "mark", ["mark"]),
    ],
)  # fmt: skip
def test_only_what_was_doubted_is_asked_again(said, field, asked):
    new = {
        key(models.ClayBody, "Red"): {"name": "red"}, key(models.Glaze, "fern"): {"name": "fern"},
    }  # fmt: skip
    given = Answers(mark="T-1", body="red", glaze="slip + fern", coats="2", bisque="04",
                    firing="G1", shelf="top", cone_reached="5", seen="clean", new=new)  # fmt: skip
    found = ask_log._back_to_the_doubted(Questioned(said, "", field=field), given)
    names = [each.name for each in ask_log.QUESTIONS]
    assert found.again == asked[0]
    after = names[names.index(asked[0]) :]
    assert [each for each in after if each not in found.kept] == asked
    gone = {"body": models.ClayBody, "glaze": models.Glaze}.get(asked[0])
    assert [model for model, _name in found.new] == [
        each for each in (models.ClayBody, models.Glaze) if each != gone
    ]


def test_in_place_of_a_new_glaze_that_was_doubted_another_is_named_and_the_rest_is_kept(
    after_a_tile, tiles
):
    person = Keyboard("log")
    person.answers("Mark")
    person.answers("Clay body")
    person.answers("Glaze", "white slip=2 + ferns")
    person.answers("Add 'ferns' as new?", "y")
    person.answers("What is it")
    person.answers("Cone range", "6-4")  # refused here, not when its name is long answered
    person.answers("Cone range", "4-6")
    for question in ("Coats", "What differs", "Shelf"):
        person.answers(question)
    person.answers("What do you see?", "crawling")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on", "bisque")
    person.answers("Note", "kept")
    person.answers("Is that really so?", "n")
    person.answers("Glaze (layers from the clay up: slip=2 + glaze) [white slip=2 + ferns]",
                   "white slip=2 + pond green")  # fmt: skip
    person.answers("Coats of the top one (1,2,3 for three areas) [3]", "2")
    person.answers("Cone reached")
    person.answers("Was the layer or coat beneath")
    person.answers("Was white slip put on greenware (raw clay) or bisque [bisque]")
    assert person.ends()[0] == 0
    stored = shown(tiles, "N-8")
    (slip, top), *others = [each["layers"] for each in stored["areas"]]
    assert (slip["applied_on"], top["glaze"]["name"], top["coats"]) == ("bisque", "pond green", 2)
    assert (others, stored["note"], stored["shelf"]) == ([], "kept", "top")
    assert "ferns" not in tiles("glaze", "list").out

"""Notes in a person's own words, read for known phrases. Every sentence here is our own."""

import tomllib
from importlib.resources import files

import pytest

from diagnose.fields import FIELDS
from diagnose.notes.amounts import read_amount
from diagnose.notes.phrases import find, patterns
from diagnose.vocabulary import measure_words
from tiles.records import words
from tiles.records.clues import clues


def facts(text, source="tile"):
    return {found.name: found.value for found in find(text, source)}


@pytest.mark.parametrize(
    ("text", "name", "value"),
    [
        ("Wiped with a damp sponge before glazing.", "bisque_wiped", "yes"),
        ("I rinsed the bisque and let it dry", "bisque_wiped", "yes"),
        ("The tile wasn't wiped", "bisque_wiped", "no"),
        ("Didn't wipe the bisque.", "bisque_wiped", "no"),
        ("forgot to wipe it", "bisque_wiped", "no"),
        ("second coat next day", "coats_left_powder_dry", "yes"),
        ("recoated the following day", "coats_left_powder_dry", "yes"),
        ("thick at the foot", "thick_at_edges", "yes"),
        ("opened hot", "cooled_fast", "yes"),
        ("never opened hot", "cooled_fast", "no"),
        ("left to soak", "washed_or_soaked", "yes"),
        ("jar had dried out", "revived", True),
        ("dried-out jar, soaked a week", "revived", True),
        ("I had hand cream on when I carried it", "bisque_greasy", "yes"),
        ("Bisque was not dusty", "bisque_dusty", "no"),
        ("dust-free", "bisque_dusty", "no"),
        ("The coat cracked while drying", "raw_coat_cracked", "yes"),
        ("no cracks in the dry coat", "raw_coat_cracked", "no"),
        ("could hear it pinging", "pinged_on_opening", "yes"),
        ("The glaze smelled foul", "glaze_spoiled", "yes"),
        ("the jar froze in the shed", "glaze_spoiled", "yes"),
        ("a copper green pot was next to it", "copper_near", "yes"),
        ("The lid of the bucket is rusty", "rust_or_metal_near", "yes"),
        ("Labels on the two jars were smeared.", "wrong_jar_possible", "yes"),
        ("cracks went right through", "crack_through_wall", "yes"),
        ("half the bag was mixed", "dry_portion", "part of bag"),
        ("Once-fired, no bisque.", "applied_on", "greenware"),
        ("Opened at 250 because the next class needed the kiln", "opened_c", 250),
        ("Opened at 480 F.", "opened_c", 249),
        ("unloaded at 200 C with gloves", "opened_c", 200),
        ("held for half an hour", "hold_min", 30),
        ("soaked 20 minutes at the top", "hold_min", 20),
        ("coat was 1.5 mm thick", "thickness_mm", 1.5),
        ("1/16 inch thick", "thickness_mm", 1.59),
        ("three coats", "coats", 3),
        ("rose at 150 C/h to the top", "rate_c_per_h", 150),
        ("ramp 270F per hour", "rate_c_per_h", 150),
    ],
)
def test_a_known_phrase_is_read(text, name, value):
    assert facts(text).get(name) == value


@pytest.mark.parametrize(
    "text",
    [
        "Perhaps the bisque was dusty",
        "was the bisque dusty?",
        "Wipe the bisque next time.".replace("Wipe", "Will wipe"),
        "should have been stirred",
        "not sure if it was dusty",
        "opened at 9 am",
        "opened at 14:30",
        "a lovely piece for the window",
        "",
    ],
)
def test_a_guess_a_plan_a_question_or_a_clock_time_is_no_fact(text):
    assert facts(text) == {}


def test_a_negation_holds_for_the_whole_list_and_no_further():
    assert facts("no dust, grease or lumps") == {
        "bisque_dusty": "no",
        "bisque_greasy": "no",
        "glaze_lumpy": "no",
    }
    assert facts("not wiped and dusty") == {"bisque_wiped": "no", "bisque_dusty": "yes"}
    assert facts("not only dusty but greasy") == {"bisque_dusty": "yes", "bisque_greasy": "yes"}


def test_the_words_of_the_note_are_given_as_they_stand():
    (found,) = find("Fine, but Second Coat next day.")
    assert found.text == "Second Coat next day"


def test_a_bare_temperature_says_how_it_was_taken():
    (found,) = find("opened at 250")
    assert found.remark == " (taken as °C)"
    (found,) = find("opened at 250 C")
    assert found.remark == ""


def test_the_remark_of_a_bisque_firing_tells_of_the_bisque_alone():
    assert facts("opened hot, bisque packed tight", "bisque") == {"bisque_packed_airless": "yes"}


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("250 f", "temperature", 121),
        ("30 c", "temperature", None),
        ("2 h", "time", 120),
        ("5 mm", "time", None),
        ("3 coats", "count", 3),
        ("2.5", "count", None),
        ("1 1/2 inch", "length", 38.1),
        ("2", "length", None),
        ("150", "rate", None),
        ("1/0 inch", "length", None),
        ("thick", "length", None),
    ],
)
def test_an_amount_is_read_in_the_unit_of_its_field_or_not_at_all(text, kind, value):
    amount = read_amount(text, kind)
    assert (amount and amount.value) == value


TABLE = tomllib.loads(files("diagnose.notes").joinpath("phrases.toml").read_text(encoding="utf-8"))


def test_the_list_holds_more_than_sixty_phrases_each_for_a_known_fact():
    assert len(patterns()) > 60
    assert set(TABLE["clue"]) <= set(clues())
    assert set(TABLE["implied"]) <= set(clues())
    assert {answer for entry in TABLE["clue"].values() for answer in entry} <= {"yes", "no"}
    assert set(TABLE["word"]) | set(TABLE["number"]) <= set(FIELDS)
    assert set(FIELDS) - {"bisque_cone", "shelf"} <= set(measure_words()) | {"beneath"}
    for name, choices in (
        ("method", words.METHODS),
        ("stood", words.STOOD),
        ("applied_on", words.APPLIED_ON),
        ("dry_portion", words.DRY_PORTIONS),
        ("atmosphere", words.ATMOSPHERES),
        ("revived", words.ANSWERS),
    ):
        assert set(TABLE["word"][name]) <= set(choices)


@pytest.mark.parametrize("pattern", patterns(), ids=lambda each: f"{each.name}:{each.phrase}")
def test_every_phrase_can_be_found(pattern):
    """The phrase's own first choices, written out, are found by it."""
    amounts = {"temperature": "200 c", "time": "10 min", "length": "2 mm", "count": "3"}
    amounts["rate"] = "100 c per hour"
    parts = [
        part.split("|")[0].replace("*", "s").replace("_", " ") for part in pattern.phrase.split()
    ]
    text = " ".join(part for part in parts if part != "...")
    text = text.replace("#", amounts.get(pattern.amount, ""))
    assert pattern.may_be_in(frozenset(text.split()))
    assert pattern.regex.search(text)


def test_no_phrase_stands_twice_for_opposite_answers():
    seen = {}
    for pattern in patterns():
        key = (pattern.name, pattern.phrase)
        assert seen.setdefault(key, pattern.value) == pattern.value, key

"""The layers of a tile as ``tiles log`` offers them, read back as the very same areas."""

import pytest

from tiles.cli import ask_log_questions, common
from tiles.cli.ask_log_answers import (
    Answers,
    kept_in_words,
    like_the_last,
    offered_again,
    read_bisque,
    spoken_glaze,
    under_glazes,
)
from tiles.records import forms


def areas(*columns):
    return [
        forms.read(forms.AreaRecord, {
            "number": number,
            "layers": [{"glaze": name, "coats": coats} for name, coats in layers],
        })
        for number, layers in enumerate(columns, start=1)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("columns", "glaze", "coats"),
    [
        ([[("slip", 2), ("green", 3)]], "slip=2 + green", "3"),
        ([[("green", None)]], "green", None),
        ([[("green", 1)], [("green", 2)], [("green", 3)]], "green", "1,2,3"),
        ([[("green", 1)], [("green", None)]], "green", "1,"),
        ([[("green", 2)], [("green", 2)]], "green", "2,2"),
        ([[("green", None)], [("green", None)]], "green@1 + green@2", None),
        (
            [[("blue", 1), ("clear", 2)], [("coral", 2), ("clear", 2)], [("clear", 2)]],
            "blue=1@1 + coral=2@2 + clear", "2,2,2",
        ),
        (
            [[("slip", 1), ("blue", 1), ("clear", 2)], [("slip", 1), ("clear", 1)]],
            "slip=1 + blue=1@1 + clear", "2,1",
        ),
        ([[("red", 2)], [("green", 3)]], "red=2@1 + green=3@2", None),
        ([[], [("green", 3)]], "green=3@2", None),
        ([[("green", 3)], []], None, None),  # how many areas there are cannot be typed so
        ([[("slip", 2), ("a + b", 3)]], "slip=2 + a\xa0+\xa0b", "3"),
        ([[]], None, None),
    ],
)  # fmt: skip
def test_all_areas_are_offered_as_they_are_typed_or_none(columns, glaze, coats):
    assert spoken_glaze(areas(*columns)) == (glaze, coats)


@pytest.mark.parametrize(
    ("glaze", "under"),
    [
        ("slip + blue + white", {"white": ["slip", "blue"]}),
        ("slip@1 + blue@2 + white", {"white": ["slip", "blue"]}),
        ("slip@1 + slip@2 + white", {"white": ["slip"]}),
        ("white@2", {"white": []}),
        ("", {}),
    ],
)
def test_what_lies_under_a_glaze_is_found_also_where_an_area_is_bare(glaze, under):
    assert under_glazes(Answers(glaze=glaze)) == under


def test_a_bisque_is_typed_by_its_cone_its_firing_or_both():
    assert read_bisque("^04") == {"bisque_cone": "04"}
    assert read_bisque("B1, first") == {"bisque_firing": "B1, first"}
    assert read_bisque("04, B1") == {"bisque_cone": "04", "bisque_firing": "B1"}


def test_after_a_tile_without_a_firing_nothing_is_offered_that_must_be_read_off_the_tile():
    values = {"mark": "1", "body": "red clay", "bisque_cone": "04", "cone_reached": "05"}
    layers = [{"glaze": "slip", "coats": 2}, {"glaze": "green", "coats": 3, "batch": "May"}]
    values["areas"] = [{"number": 1, "layers": layers}]
    last = forms.read(forms.TileRecord, values)
    assert like_the_last(last, True) == Answers(body="red clay", glaze="slip + green")
    fired = like_the_last(forms.read(forms.TileRecord, values | {"firing": "F1"}), True)
    assert (fired.coats, fired.batch, fired.bisque, fired.cone_reached) == ("3", "May", "04", "05")


@pytest.mark.parametrize(
    ("typed", "coats", "is_asked"),
    [
        ("2", "2", True), ("1", None, True), ("1", "3", False), ("3", "3", True),
        ("2 mm", "2", False),
        ("1,2,3", "1,2,3", True), ("0.9", None, False), ("1,2", None, False), ("0,4", "2", False),
        ("8", "2", False),
    ],
)  # fmt: skip
def test_a_thickness_that_looks_like_coats_is_asked_about(monkeypatch, typed, coats, is_asked):
    asked = []
    monkeypatch.setattr(common, "yes_or_no", asked.append)  # the answer is no
    found = Answers(mark="N-1", body="red clay", glaze="green", coats=coats)
    answers = iter([typed, "-"])
    monkeypatch.setattr("builtins.input", lambda _prompt: next(answers))
    stored = ask_log_questions._ask_thickness(None, Answers(), found)
    assert (stored, asked) == ((None, [f"Was {typed} mm measured?"]) if is_asked else (typed, []))


@pytest.mark.parametrize("name", ["beneath", "colour_on"])
def test_who_goes_back_to_a_question_of_what_lies_beneath_is_offered_his_own_answer(name):
    """It is offered for the glaze that it was given of, which is no longer the last tile's."""
    given = Answers(glaze="slip + moss", beneath="damp", colour_on="slip=greenware")
    again = offered_again(Answers(glaze="pond green", coats="3"), given, name)
    assert (again.glaze, getattr(again, name)) == ("slip + moss", getattr(given, name))
    assert again.coats == "3"


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("metalic sheen in one corner", "other (metalic sheen in one corner)"),
        ("looks dull and greyish", "other (looks dull and greyish)"),
        ("crawling and a metalic sheen", "crawling; other (a metalic sheen)"),
        ("milky", "cloudiness (milky)"),
        ("not quite clear", "cloudiness (not quite clear)"),
        ("crawling and a colour too pale", "crawling; colour shift (a colour too pale)"),
        ("crawlign", None),  # rather a slip
        ("sever crawling", None),
        ("no crawling anywhere", None),
        ("odd look (left, near (the foot)", None),
    ],
)
def test_words_that_are_no_fault_are_offered_as_own_words_for_one(typed, kept):
    found = Answers(mark="N-1", body="red clay", glaze="green")
    assert kept_in_words(typed, found) == kept

"""The controlled words and the controlled list of clues."""

import pytest

from tiles.errors import InvalidValue, UnknownName
from tiles.records import clues, words

ASKED_FOR = (
    "crazing shivering crawling pinholes blisters running underfired bloating dunting "
    "unwanted_matt specks colour_shift cloudiness metal_marking other"
).split()
NAMED = [value for name, value in vars(words).items() if name.isupper() and name[0] != "_"]
LISTS = [value for value in NAMED if not isinstance(value, dict | str)]


def test_every_defect_of_the_trade_is_known():
    assert {word.replace(" ", "_") for word in words.DEFECTS} == set(ASKED_FOR)


@pytest.mark.parametrize("choices", LISTS, ids=lambda choices: choices[0])
def test_every_word_of_a_list_reads_as_itself_and_no_two_fold_together(choices):
    assert [words.read_word(word, choices, "word") for word in choices] == list(choices)
    assert len({words.fold(word) for word in choices}) == len(choices)


@pytest.mark.parametrize(
    ("written", "choices", "word"),
    [
        ("crawled", words.DEFECTS, "crawling"),
        ("Pin-holing", words.DEFECTS, None),
        ("pinholing", words.DEFECTS, "pinholes"),
        ("matte", words.FINISHES, "matt"),
        ("dipped", words.METHODS, "dip"),
        ("Leather-hard", words.APPLIED_ON, "greenware"),
        ("color shift", words.DEFECTS, "colour shift"),
        ("glossy", words.DEFECTS, None),
        ("", words.DEFECTS, None),
    ],
)
def test_other_forms_of_a_word_are_read_and_no_other_word_is_guessed(written, choices, word):
    if word is None:
        with pytest.raises(InvalidValue):
            words.read_word(written, choices, "word")
    else:
        assert words.read_word(written, choices, "word") == word


def test_every_same_word_leads_to_a_word_of_some_list():
    known = {word for choices in LISTS for word in choices}
    assert set(words._SAME_WORD.values()) <= known
    assert not set(words._SAME_WORD) & known


def test_a_clue_is_read_however_it_is_written():
    assert clues.read_clue("Bisque Wiped", "No") == ("bisque_wiped", "no")
    assert clues.read_clue("bisque-wiped", "y") == ("bisque_wiped", "yes")


@pytest.mark.parametrize(
    ("word", "meant"), [("soaked", "washed_or_soaked"), ("wiped", "bisque_wi")]
)
def test_one_word_of_a_clue_suggests_the_whole(word, meant):
    with pytest.raises(UnknownName) as unknown:
        clues.read_clue(word, "yes")
    assert unknown.value.hint.startswith(f"'{meant}")
    with pytest.raises(UnknownName) as unknown:
        clues.read_clue("", "yes")
    assert unknown.value.hint == "'tiles clues'."


def test_an_unknown_clue_suggests_the_nearest_and_an_answer_must_be_yes_or_no():
    with pytest.raises(UnknownName, match="'bisque_wipd'") as unknown:
        clues.read_clue("bisque_wipd", "no")
    assert "'bisque_wiped'" in unknown.value.hint
    with pytest.raises(InvalidValue, match="neither yes nor no"):
        clues.read_clue("bisque_wiped", "unknown")


def test_every_clue_has_a_question_and_a_place_in_the_work():
    for name, clue in clues.clues().items():
        assert name == name.lower().replace(" ", "_")
        assert clue.question.endswith("?")
        assert clue.about in ("tile", "area")
        assert clue.group in "bisque application glaze body firing look use".split()


@pytest.mark.parametrize("typed", ["no crawling", "not crawled", "crawling-free", "never crawls"])
def test_of_what_is_denied_the_opposite_is_not_proposed(typed):
    with pytest.raises(InvalidValue) as refused:
        words.read_word(typed, words.DEFECTS, "defect")
    assert refused.value.hint.startswith("leave out what is not there; else one of crazing, ")


@pytest.mark.parametrize(
    ("written", "choices", "hint"),
    [
        ("flaking", words.DEFECTS, "shivering if sharp slivers came off the fired ware, crawling"),
        ("the red burnt out", words.DEFECTS, "colour shift"),
        ("milky", words.DEFECTS, "cloudiness"),
        ("engobes", words.GLAZE_ROLES, "'slip' (an engobe is one here), or one of glaze"),
        ("Overlay", words.GLAZE_ROLES, "'stain' (colour brushed over an unfired glaze)"),
        ("flaking", words.BENEATH, "one of "),
        ("crasing", words.DEFECTS, "'crazing', or one of"),
    ],
)
def test_a_potters_word_leads_to_what_it_stands_for_and_not_to_one_spelt_alike(
    written, choices, hint
):
    with pytest.raises(InvalidValue) as refused:
        words.read_word(written, choices, "word")
    assert refused.value.hint.startswith(hint)

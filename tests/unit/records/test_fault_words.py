"""What people say of a tile, and which fault is proposed for it. Common practice, no source."""

import pytest

from tiles.cli.ask_log_answers import read_seen
from tiles.cli.log import inspections
from tiles.errors import InvalidValue
from tiles.exchange.flat_faults import read_faults
from tiles.records import words
from tiles.records.fault_words import usual_meaning


@pytest.mark.parametrize(
    ("said", "hint"),
    [
        ("a bit dull", "underfired if the glaze did not melt, unwanted matt if "),
        ("didnt melt?", "underfired"),
        ("streaky", "other (streaky)"),
        ("patchy, here", "other (patchy"),
        ("cracked", "crazing if the glaze alone is cracked"),
        ("broken in the kiln", "dunting if it cracked in the firing; else that is no fault of its"),
        ("lost", "leave blank what was seen of a tile that nobody"),
        ("was lost.", "leave blank what was seen of a tile that nobody"),
        ("stuck to the shelf", "running if its own glaze ran down and held it, else other (stuck"),
        ("nice but boring", None),
        ("use this one", None),
    ],
)
def test_the_commonest_words_lead_to_a_fault_or_to_none_wherever_they_are_typed(said, hint):
    for read, nothing in (
        (read_faults, "none where there was nothing to see, else the fault."),
        (read_seen, "clean (--clean) where there was nothing to see, else one of"),
        (lambda text: words.read_word(text, words.DEFECTS, "defect"), "clean (--clean) where"),
    ):
        with pytest.raises(InvalidValue) as refused:
            for each in read(said) if read is read_seen else [read(said)]:
                words.read_word(each["defect"], words.DEFECTS, "defect")
        assert refused.value.hint.startswith(hint or nothing)


@pytest.mark.parametrize("said", ["a greenish sheen", "a greenish halo"])
def test_how_to_keep_the_words_is_told_once(said):
    with pytest.raises(InvalidValue) as refused:
        words.read_fault(said)
    assert refused.value.hint.count(f"other ({said})") == 1


@pytest.mark.parametrize("said", ["boring", "glazing", "melting", "burning"])
def test_no_far_fetched_fault_is_proposed(said):
    with pytest.raises(InvalidValue) as refused:
        words.read_word(said, words.DEFECTS, "defect")
    assert refused.value.hint.startswith(("one of crazing", "clean (--clean)"))


@pytest.mark.parametrize(
    ("said", "start"),
    [
        ("lost its shine", "underfired if the glaze did not melt, unwanted matt if"),
        ("not shiny", "underfired if the glaze did not melt, unwanted matt if"),
        ("colour gone", "colour shift"),
        ("lost its colour", "colour shift"),
        ("spots where nothing stuck", "crawling if the bare edges are thick and rolled back"),
        ("glaze missing", "crawling if the bare edges are thick and rolled back, else other (gl"),
        ("came out like chalk", "underfired if the glaze did not melt"),
        ("black smeared", "other (black smeared)"),
        ("painted badly", "other (painted badly)"),
        ("white bits", "specks"),
        ("hairlines", "crazing if the glaze alone is cracked"),
        ("exploded", "other (exploded)"),
        ("blew up", "other (blew up)"),
        ("stilt marks", "other (stilt marks)"),
        ("sharp points underneath", "other (sharp points underneath)"),
    ],
)
def test_the_words_of_a_walk_in_studio_are_understood(said, start):
    assert usual_meaning(said).startswith(start)


def test_a_chip_by_a_knock_is_no_fault_of_the_glaze():
    assert "by a knock, that is no fault of its glaze: note it" in usual_meaning("chipped")


@pytest.mark.parametrize(
    "said", ["no streaks", "not patchy", "without bubbles", "no colour shift", "no explosion"]
)
def test_what_is_denied_is_not_proposed(said):
    assert usual_meaning(said) == ""


@pytest.mark.parametrize("said", ["Clean", "nice!!", "lovely", "good.", "none", "OK"])
def test_a_word_for_nothing_seen_is_one_in_a_sheet_an_option_and_an_answer(said):
    assert set(read_faults(said).values()) == {"none"}
    assert read_seen(said) == inspections([said], False, None)[0]["defects"] == []


@pytest.mark.parametrize(
    ("said", "level", "note"),
    [
        ("crawled a bit", "slight", None),
        ("a bit of crawling", "slight", None),
        ("crawled badly!!", "severe", None),
        ("badly crawled at the rim", "severe", "at the rim"),
        ("crawled badly (rim)", "severe", "rim"),
        ("crawled a bit off centre", None, "a bit off centre"),
        ("crawling (was bad at the rim)", None, "was bad at the rim"),
        ("crawling (rim and foot)", None, "rim and foot"),
    ],
)
def test_how_bad_a_fault_was_is_read_as_people_say_it(said, level, note):
    found = read_faults(said)
    assert found["defect_crawling"] == (level or "seen")
    assert dict(found.get("faults", ())).get("crawling") == note
    (seen,) = read_seen(said)
    assert seen == {"defect": "crawling", "severity": level, "area": None, "note": note}


def test_words_that_mean_one_fault_of_the_list_are_not_offered_as_another_fault():
    with pytest.raises(InvalidValue) as refused:
        words.read_fault("colour too pale")
    assert refused.value.hint.startswith("colour shift; all are") and "(" not in refused.value.hint

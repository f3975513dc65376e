"""Words typed where ``tiles unload`` reads single keys: taken as words, or nothing is noted."""

import os
import re
import sys
from datetime import date

import pytest

from tiles.cli import ask, unload, unload_faults, unload_words
from tiles.errors import InvalidValue
from tiles.records import forms

PAUSE = None
TILE = forms.read(
    forms.TileRecord,
    {"mark": "L-1", "body": "red clay", "areas": [{"number": 1, "layers": [{"glaze": "moss"}]}]},
)


@pytest.fixture
def typed(keyboard):
    """What is answered of a tile by a person who types this."""

    def answer(*keys, tile=TILE, day="2026-08-01"):
        left = keyboard(*keys)
        day = date.fromisoformat(day)
        found = unload._ask_tile(tile, "1/1", None, day, [], can_go_back=False)
        assert not any([*left, *ask._ahead])
        return found

    return answer


def seen(defect, severity=None):
    return [{"defect": defect, "severity": severity, "area": None}]


@pytest.mark.parametrize("word", ["clean", "ok", "fine", "good", "none", "c|l|e|a|n"])
def test_a_word_for_clean_is_clean_however_fast_it_is_typed(typed, word):
    keys = [part for each in word.split("|") for part in (each, PAUSE)]
    assert typed(*keys, "\n") == []


@pytest.mark.parametrize(
    "word, found",
    [("crawled", seen("crawling")), ("severe pinholes", seen("pinholes", "severe"))],
)
def test_a_fault_in_words_is_that_fault(typed, word, found):
    how_bad = () if found[0]["severity"] else ("\n",)
    assert typed(word + "\n", *how_bad, "\n") == found


def test_how_bad_it_is_may_be_a_word_too(typed):
    assert typed("c", PAUSE, "slight\n\n") == seen("crazing", "slight")


@pytest.mark.parametrize(
    "word", ["claen", "d\ufffdll", "dull", "no", "nothing to see", "05", "ch", "crawling@9"]
)
def test_of_a_word_that_is_neither_nothing_is_noted_and_its_enter_is_not_clean(typed, capsys, word):
    assert typed(word + "\n", "n") == "n"
    said = capsys.readouterr().out
    assert said.count("Nothing is noted") == 1
    assert "is no key here" not in said


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("crawling 2", "crawling@2 for area 2; slight, moderate or severe before the fault."),
        ("severe crawling on area 2", "severe crawling@2 for area 2"),
        ("pinholes; crazing (rim) area 3", "crazing (rim)@3 for area 3"),
        ("crawling@overlap", "an area is given by its number, not as 'overlap'. Try: crawling@2"),
        ("crawling@3 severe", "Try: severe crawling@3."),
        ("maybe crawling", "does not say that crawling was seen"),
    ],
)
def test_a_place_told_without_its_sign_is_refused_with_how_to_write_it(word, told):
    with pytest.raises(InvalidValue, match=re.escape(told)):
        unload_words.read(word, areas=3)


@pytest.mark.parametrize("wrong", ["&", "é", '"', "à", "4", "\ufffd"])
@pytest.mark.parametrize("enter", ["", "\n"])
def test_what_is_no_degree_is_asked_about_again_and_the_fault_stays(typed, capsys, wrong, enter):
    assert typed("w", PAUSE, wrong + enter, PAUSE, "2", PAUSE, "\n") == seen("crawling", "moderate")
    assert f"{wrong} is no key here" in capsys.readouterr().out
    keys = ("w", PAUSE, wrong + enter, PAUSE, "\n", "\n", "y", PAUSE, "\n")
    assert typed(*keys) == seen("crawling")


@pytest.mark.parametrize("wrong", ["é", "é\n", "z", "crwlg\n", "wx\n"])
def test_enter_after_what_was_no_answer_is_clean_only_when_that_is_said(typed, capsys, wrong):
    assert typed(wrong, PAUSE, "\n\n\n", "n", "w2\n") == seen("crawling", "moderate")
    assert "That was no answer, and Enter says: clean. Is it so?" in capsys.readouterr().out
    assert typed(wrong, PAUSE, "\n", "y") == []


def test_a_word_erased_to_nothing_says_nothing(typed, capsys):
    assert typed("cl", "\x7f\x7f\n", PAUSE, "n") == "n"
    assert "Nothing is noted" not in capsys.readouterr().out


def test_a_word_for_clean_beside_a_fault_is_refused(typed, capsys):
    assert typed("p1", "clean\n", "\n") == seen("pinholes", "slight")
    assert "'clean' beside a fault" in capsys.readouterr().out


def test_single_keys_stay_keys(typed):
    assert typed("c", PAUSE, "\n", PAUSE, "\n") == seen("crazing")
    assert typed("c3\n") == seen("crazing", "severe")
    assert typed("n") == "n"
    assert typed("cx", "\x7f\x7f\n", "p", "1\n") == seen("pinholes", "slight")


@pytest.mark.parametrize(
    ("keys", "found"),
    [
        (["n\n"], "n"),
        (["q\n"], "q"),
        (["?\n", PAUSE, "n"], "n"),
        (["0\n", PAUSE, "n"], "n"),
        (["c<\n", PAUSE, "n"], "n"),
        (["c1<\n", PAUSE, "n"], "n"),
        (["n", PAUSE], "n"),
    ],
)
def test_enter_typed_with_a_key_that_ends_a_question_says_nothing_of_the_next(typed, keys, found):
    assert typed(*keys) == found


TWO_AREAS = forms.read(
    forms.TileRecord,
    TILE.model_dump()
    | {"areas": [{"number": number, "layers": [{"glaze": "moss"}]} for number in (1, 2)]},
)


@pytest.mark.parametrize(
    ("keys", "crazed"), [(("c1", "1\n"), [1]), (("c1", PAUSE, "1", PAUSE, "2\n"), [1, 2])]
)
def test_enter_typed_with_an_area_does_not_say_that_there_is_no_other_fault(typed, keys, crazed):
    found = typed(*keys, PAUSE, "p3", PAUSE, "2", PAUSE, "\n", tile=TWO_AREAS)
    told = [(each["defect"], each["area"]) for each in found]
    assert told == [*(("crazing", area) for area in crazed), ("pinholes", 2)]


def test_enter_typed_with_how_bad_it_is_does_not_say_which_area(typed):
    found = typed("c", PAUSE, "1\n", PAUSE, "2", PAUSE, "\n", tile=TWO_AREAS)
    assert found == [{"defect": "crazing", "severity": "slight", "area": 2}]


def test_after_a_wrong_key_enter_does_not_say_that_a_fault_is_on_the_whole_tile(typed):
    found = typed("c1", PAUSE, "é", PAUSE, "\n", "n", "2", PAUSE, "\n", tile=TWO_AREAS)
    assert found == [{"defect": "crazing", "severity": "slight", "area": 2}]


def test_wrong_keys_typed_at_once_are_told_once(keyboard, capsys):
    keyboard("looks streaky\n", PAUSE, "2")
    assert unload_faults.ask_how_bad(None) == "moderate"
    assert capsys.readouterr().out.count("is no key here") == 1


@pytest.mark.parametrize(
    "keys, meant",
    [("yes\n", True), ("y", True), ("y\n", True), ("n\n", False), ("no\n", False),
     ("maybe\ny", True)],
)  # fmt: skip
def test_yes_and_no_may_be_typed_out(keyboard, keys, meant):
    left = keyboard(keys)
    assert ask.yes_by_key("Is that so?") is meant
    assert not any([*left, *ask._ahead])


@pytest.mark.parametrize(
    ("keys", "found"),
    [
        ("\n", [{"defect": "underfired", "severity": "severe", "note": "rough"}]),
        ("0", []),
        ("clean\n", []),
        ("c1\n", seen("crazing", "slight")),
    ],
)
def test_of_a_tile_looked_at_before_enter_says_what_was_seen_last(typed, capsys, keys, found):
    fault = {"defect": "underfired", "severity": "severe", "note": "rough"}
    looks = [{"inspected_on": "2026-07-01", "defects": [fault]}, {"inspected_on": "2026-06-01"}]
    tile = forms.read(forms.TileRecord, TILE.model_dump() | {"inspections": looks})
    assert typed(keys, tile=tile) == found
    told = "last seen, on 2026-07-01: severe underfired (rough). Enter says so again, 0 is clean"
    assert told in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("day", "keys", "found", "told"),
    [
        (
            "2026-06-30",
            "\n",
            [],
            "seen later, on 2026-07-01: crazing. Enter is clean on 2026-06-30",
        ),
        ("2026-07-01", "\n", "n", "seen already, on 2026-07-01: crazing. Enter leaves it so, 0 is"),
        ("2026-07-05", "0", [], "last seen, on 2026-07-01: crazing. Enter says so again, 0 is"),
        ("2026-07-09", "\n", "n", "seen already, on 2026-07-09: clean. Enter leaves it so."),
    ],
)
def test_enter_says_nothing_that_was_seen_only_later_nor_twice_on_a_day(
    typed, capsys, day, keys, found, told
):
    looks = [{"inspected_on": "2026-07-09"},
             {"inspected_on": "2026-07-01", "defects": [{"defect": "crazing"}]}]  # fmt: skip
    tile = forms.read(forms.TileRecord, TILE.model_dump() | {"inspections": looks})
    assert typed(keys, tile=tile, day=day) == found
    assert told in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("day", ["2026-06-01", "2026-08-01"])
@pytest.mark.parametrize("earlier", [[], [{"defect": "running"}]])
def test_clean_is_not_stored_beside_a_fault_of_another_day_without_a_question(
    keyboard, earlier, day
):
    looks = [{"inspected_on": "2026-07-01", "defects": earlier}]
    tile = forms.read(forms.TileRecord, TILE.model_dump() | {"inspections": looks})
    left = keyboard("n")
    look = forms.read(forms.InspectionRecord, {"inspected_on": day})
    assert unload._is_meant(tile, look) is not bool(earlier)
    assert bool(left) is not bool(earlier)


@pytest.fixture
def bytes_typed(monkeypatch):
    """Bytes as they come from a keyboard, in a terminal set to UTF-8."""
    if sys.platform == "win32":
        pytest.skip("there whole letters come")
    read, write = os.pipe()
    with os.fdopen(read, encoding="utf-8") as keyboard, os.fdopen(write, "wb", 0) as keys:
        monkeypatch.setattr(ask.sys, "stdin", keyboard)
        yield keys.write


def test_letters_of_several_bytes_are_kept_as_they_are_typed(bytes_typed):
    bytes_typed("other (rötlich am Fuß) ❄\n".encode())
    assert "".join(iter(ask._press, "\n")) == "other (rötlich am Fuß) ❄"


def test_a_word_with_a_letter_in_another_code_is_refused_whole(bytes_typed):
    bytes_typed("other (rötlich)\n".encode("latin-1"))
    text = "".join(iter(ask._press, "\n"))
    assert text == "other (r\ufffdtlich)"
    with pytest.raises(InvalidValue, match="cannot be read. Try: a terminal that is set to UTF-8"):
        unload_words.read(text)


def test_letters_of_a_note_stay_large_where_they_were_typed_so(typed):
    noted = [{"defect": "other", "severity": None, "area": None, "note": "rötlich am Fuß"}]
    assert typed("Other (rötlich am Fuß)\n", PAUSE, "\n", PAUSE, "\n") == noted
    assert typed("CRAWLING:Severe\n", "\n") == seen("crawling", "severe")
    assert typed("Clean\n") == []

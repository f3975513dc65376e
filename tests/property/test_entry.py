"""Text from outside: read as meant, or refused with one of our own errors; never anything else."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tiles.chemistry.cones import CONES, read_cone
from tiles.cli import common, entry, entry_numbers
from tiles.cli.marks import expand, next_mark
from tiles.errors import InvalidValue, TilesError
from tiles.records import clues, forms, words

LISTS = {
    "defect": words.DEFECTS,
    "severity": words.SEVERITIES,
    "method": words.METHODS,
    "finish": words.FINISHES,
    "applied on": words.APPLIED_ON,
    "dry portion": words.DRY_PORTIONS,
}
anything = st.text(max_size=30)
near_the_grammar = st.text("crawling:se@=,.-+123x05 ^nan_/", max_size=20)
typed = anything | near_the_grammar
values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | anything,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(anything, inner, max_size=3),
    max_leaves=8,
)


READERS = {
    "defect": entry.read_defect,
    "clue": entry.read_clue,
    "coat": entry.read_coat,
    "coats": lambda text: entry_numbers.numbers(text, "coats", int),
    "thickness": lambda text: entry_numbers.numbers(text, "thickness_mm", float),
    "areas": lambda text: entry.areas([text]),
    "lists": lambda text: entry.areas(["clear"], coats=text, thickness_mm=text),
    "cones": common.cone_range,
    "cone": read_cone,
    "marks": lambda text: expand([text]),
    "word": lambda text: words.read_word(text, words.DEFECTS, "defect"),
    "clue answer": lambda text: clues.read_clue(text, text),
}


@pytest.mark.parametrize("name", READERS)
@given(text=typed)
@example("")
@example("@")
@example("=@1")
@example("\N{SUPERSCRIPT TWO}")
@example("1" * 400)
@example("a@" + "9" * 400)
@example("M-1..M-" + "9" * 400)
@example("M-1..M-99999999")
@example("1..2")
def test_text_is_read_or_refused_with_an_error_of_ours(name, text):
    try:
        READERS[name](text)
    except TilesError as error:
        assert error.message
        assert error.hint


@given(st.text(max_size=10), st.integers(1, 10**6), st.integers(0, 60))
def test_a_run_of_marks_is_every_mark_from_first_to_last(prefix, first, more):
    if prefix[-1:].isdigit() or ".." in f"{prefix}{first}" or prefix != prefix.strip():
        return
    run = expand([f"{prefix}{first}..{prefix}{first + more}"])
    assert run == [f"{prefix}{number}" for number in range(first, first + more + 1)]
    mark = run[0]
    for following in run[1:]:
        mark = next_mark(mark)
        assert mark == following


@pytest.mark.parametrize(
    ("mark", "following"),
    [("M-9", "M-10"), ("M-009", "M-010"), ("T99", "T100"), ("7", "8"), ("M", None), (None, None)],
)
def test_the_next_mark_counts_on(mark, following):
    assert next_mark(mark) == following


def test_a_run_keeps_leading_noughts_and_drops_repeats():
    assert expand(["A-08..A-11", "A-09", "B"]) == ["A-08", "A-09", "A-10", "A-11", "B"]


@pytest.mark.parametrize("text", ["M-3..M-1", "M-1..N-2", "M..N", "..", "M-1..", "..M-1"])
def test_a_run_that_is_none_is_refused(text):
    with pytest.raises(InvalidValue):
        expand([text])


@given(st.sampled_from(sorted(LISTS)), st.data())
def test_a_word_is_read_whatever_its_capitals_hyphens_and_spaces(name, data):
    word = data.draw(st.sampled_from(LISTS[name]))
    joined = word.replace(" ", data.draw(st.sampled_from([" ", "-", "_", "  "])))
    written = data.draw(st.sampled_from([joined, joined.upper(), joined.title(), f" {joined} "]))
    assert words.read_word(written, LISTS[name], name) == word


@given(st.sampled_from(sorted(LISTS)), typed)
def test_what_is_read_as_a_word_is_one_of_the_list(name, text):
    try:
        assert words.read_word(text, LISTS[name], name) in LISTS[name]
    except InvalidValue as error:
        assert all(word in str(error) for word in LISTS[name])
        assert repr(text) in error.message


@given(st.sampled_from(CONES), st.sampled_from(["{}", "^{}", "cone {}", "c{}", "Cone {}", " {} "]))
def test_a_cone_is_read_as_people_write_it(cone, pattern):
    assert read_cone(pattern.format(cone)) == cone


@given(values)
@example({"mark": "M-1", "body": {"name": "x"}, "areas": [{"number": 1}, {"number": 1}]})
@example({"mark": "M-1", "body": "x", "inspections": [{"inspected_on": "2026-02-30"}]})
@example({"mark": "M-1", "body": "x", "clues": {"bisque_wiped": 3}})
@example({"mark": "M-1", "body": "x", "cone_reached": 5})
@example({"mark": "M-1", "body": "x", "cone_reached": ["05"]})
@example({"mark": "M-1", "body": "x", "form": {}})
@example({"mark": "M-1", "body": "x", "firing": {"name": "F", "fired_on": [1]}})
def test_any_json_value_is_a_record_or_refused_in_one_line(value):
    try:
        record = forms.read(forms.TileRecord, value, "some.json")
    except TilesError as error:
        assert "\n" not in str(error)
        assert "some.json" in error.message
    else:
        assert isinstance(record, forms.TileRecord)

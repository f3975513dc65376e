"""Names that an import added and that are very like another one, on both back ends."""

from random import Random
from string import ascii_lowercase

import pytest

from tiles.errors import UnknownName
from tiles.queries import alike
from tiles.queries.alike import (
    Alike,
    names_alike,
    shelf_alike,
    shelves_alike,
    shelves_with_kiln,
    tiles_on_shelves,
)
from tiles.queries.marks_alike import (
    marks_but_for_a_zero,
    marks_of_one_tile,
    marks_that_look_alike,
    marks_with_a_letter,
)
from tiles.records import forms, models, reading, store
from tiles.records.store.named import Added, Names

GLAZE = "glaze"


def add(session, mark, glaze, names, **values):
    area = {"number": 1, "layers": [{"glaze": glaze}]}
    given = {"mark": mark, "body": "brick clay", "areas": [area]} | values
    store.add_tile(session, forms.read(forms.TileRecord, given), names=names)


def alike_after(database, glazes, earlier=("snow opaque",)):
    """The likenesses found after tiles of these glazes came in, beside earlier ones."""
    with database.transaction() as session:
        before, names = (Names(session, add_missing=True) for _ in range(2))
        for number, glaze in enumerate(earlier):
            add(session, f"A-{number}", glaze, before)
        for number, glaze in enumerate(glazes):
            add(session, f"B-{number}", glaze, names)
        return names_alike(session, names.added)


@pytest.mark.parametrize("slip", ["snow opaqe", "snow-opaque", "snow opqaue", "snow opaques",
                                  "snowopaque", "snou opaque", "snow opaueq"])  # fmt: skip
def test_a_new_name_one_slip_away_is_told_with_the_one_on_record(database, slip):
    assert alike_after(database, [slip]) == [Alike(GLAZE, slip, "snow opaque")]


def test_a_new_name_that_is_a_word_of_one_other_is_asked_about(database):
    asked = [Alike(GLAZE, "clear", "bag clear", is_asked=True)]
    assert alike_after(database, ["clear"], earlier=["bag clear", "fog"]) == asked


def test_a_word_of_several_names_is_not(database):
    assert alike_after(database, ["clear"], earlier=["bag clear", "jar clear"]) == []


@pytest.mark.parametrize("other", ["snow clear", "snow opaque 2", "plum satin", "Snow Opaque"])
def test_a_name_of_its_own_is_not(database, other):
    assert alike_after(database, [other]) == []


def test_series_are_not_slips(database):
    names = ["house white 1", "house white 2", "house white A", "house white B"]
    assert alike_after(database, names) == []


@pytest.mark.parametrize(
    "pair",
    [
        "white slip over red / white slip over grey",
        "low fire clear / low fire cream",
        "glaze firing May / glaze firing March",
        "glaze firing May / glaze firing Mar",
        "spring load one / spring load two",
        "Tuesday red / Thursday red",
        "pound grean / pond green",
        "tops red / stop red",
        "house white 1 1 / house white 11",
        "F12 long / G12 long",
    ],
)
def test_words_of_their_own_are_not_slips(database, pair):
    assert alike_after(database, pair.split(" / "), earlier=()) == []


def test_of_two_thousand_new_names_few_are_set_side_by_side(database, monkeypatch):
    compared = []

    def counted(name, other, are_alike=alike._are_alike):
        compared.append((name, other))
        return are_alike(name, other)

    monkeypatch.setattr(alike, "_are_alike", counted)
    letters = Random(1)
    words = ("".join(letters.choices(ascii_lowercase, k=7)) for _ in range(1998))
    names = [*(f"{word} glaze" for word in words), "pond gren", "pond green"]
    with database.transaction() as session:
        session.add_all(models.Glaze(name=name, kind="jar", role="glaze") for name in names)
        session.flush()
        found = names_alike(session, [Added(GLAZE, name) for name in names])
        assert found == [Alike(GLAZE, "pond green", "pond gren")]
    assert 2 <= len(compared) <= len(names)  # of the two million pairs


@pytest.mark.parametrize(
    ("known", "new", "told"),
    [
        ("K-130", "K-0131", [("K-0131", "K-130", "K-131")]),
        ("K-131", "k-0131", [("k-0131", "K-131", "k-131")]),
        ("T-06", "T-7", [("T-7", "T-06", "T-07")]),
        ("T-09", "T-10", []),
        ("T-9", "T-10", []),
        ("M-99", "M-100", []),
        ("K-130", "K-0140", []),
        ("K-130", "L-0131", []),
        ("K-130", "K-131b", []),
    ],
)
def test_a_mark_with_other_zeros_than_its_neighbour_is_told(database, known, new, told):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for mark in (known, new):
            add(session, mark, "snow opaque", names)
        assert marks_but_for_a_zero(session, [new]) == told


@pytest.mark.parametrize(
    ("known", "new", "told"),
    [
        ("T-100", "T-1O0", [("T-1O0", "T-100", "T-100")]),
        ("T-110", "t-1l1", [("t-1l1", "T-110", "t-111")]),
        ("T99", "T1O0", [("T1O0", "T99", "T100")]),
        ("T-01", "T-O2", [("T-O2", "T-01", "T-02")]),
        ("T-160", "T-16O", [("T-16O", "T-160", "T-160")]),
        ("T-159", "T-16O", [("T-16O", "T-159", "T-160")]),
        ("T-161", "T-16l", [("T-16l", "T-161", "T-161")]),
        ("T-160", "T-16I", []),  # perhaps the ninth after A
        ("T-16N", "T-16O", []),
        ("K-10", "K-1i", []),  # the ninth of a series of letters
        ("T-100", "T-101", []),
        ("T-100", "T-2O0", []),
        ("coi1", "coil1", []),
    ],
)
def test_a_mark_with_a_letter_for_a_digit_is_told(database, known, new, told):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for mark in (known, new):
            add(session, mark, "snow opaque", names)
        assert marks_with_a_letter(session, [new]) == told


@pytest.mark.parametrize(
    ("known", "new", "told"),
    [
        ("T-O1", "T-01", [("T-01", "T-O1")]),
        ("T-01", "T-O1", [("T-O1", "T-01")]),
        ("T-60", "t 6O", [("t 6O", "T-60")]),
        ("T-161", "T-16l", [("T-16l", "T-161")]),
        ("T-01", "T 01", []),  # told as looking alike
        ("T-01", "T-001", []),
        ("T-16n", "T-16o", []),
    ],
)
def test_a_mark_that_is_another_but_for_a_letter_is_one_tile_whichever_came_first(
    database, known, new, told
):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for mark in (known, new):
            add(session, mark, "snow opaque", names)
        assert marks_of_one_tile(session, [new]) == told


def test_another_letter_on_record_makes_a_letter_at_the_end_one_of_a_series(database):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for mark in ("T-160", "T-16n", "T-16O"):
            add(session, mark, "snow opaque", names)
        assert marks_with_a_letter(session, ["T-16O"]) == []
        assert marks_of_one_tile(session, ["T-16O", "T-160"]) == []


@pytest.mark.parametrize("new", ["T160", "T--160", "T\u2013160", "\u0422-160", "t_160", "T 160"])
def test_a_mark_that_looks_like_another_on_the_back_of_a_tile_is_told(database, new):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for mark in ("T-160", "T-16-0", "T-161", new):
            add(session, mark, "snow opaque", names)
        assert marks_that_look_alike(session, [new]) == [(new, "T-160")]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("T-27", "T-027, or"),
        ("T-O27", "T-027, or"),
        ("T027", "T-027, or"),
        ("T-0028", "T-028, or"),
        ("T-027,T-028", "one mark alone, or several with blanks between: T-027 T-028."),
        ("T-12", "T-127, or"),
    ],
)
def test_of_a_mark_that_no_tile_has_the_one_with_other_zeros_is_named_first(database, typed, told):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for mark in ("T-127", "T-027", "T-028", "T-072"):
            add(session, mark, "snow opaque", names)
        with pytest.raises(UnknownName) as problem:
            store.get_tile(session, typed)
        assert problem.value.hint.startswith(told)


def test_what_was_on_record_before_is_not_told_again(database):
    assert alike_after(database, ["plum satin"], earlier=("snow opaque", "snow opaqe")) == []


def test_of_two_new_names_the_rarer_comes_first_and_the_pair_once(database):
    both = ["snow opaque", "snow opaque", "snow opaqe"]
    assert alike_after(database, both, earlier=()) == [Alike(GLAZE, "snow opaqe", "snow opaque")]


@pytest.mark.parametrize(
    ("earlier", "new", "found"),
    [
        (["Saltmarsh White"], ["saltmarsh"], [("saltmarsh", "Saltmarsh White")]),
        (["pond"], ["pond-green matt"], [("pond-green matt", "pond")]),
        ([], ["pond", "pond", "pond green"], [("pond green", "pond")]),
        (["pond", "pond green"], ["snow"], []),
        (["pond", "pond green"], ["pond satin"], []),
        (["snow"], ["snowdrift", "opaque snow"], []),
        (["house white"], ["house white 2"], []),
    ],
)
def test_a_new_name_that_goes_on_from_another_is_asked_about(database, earlier, new, found):
    asked = [Alike(GLAZE, *pair, is_asked=True) for pair in found]
    assert alike_after(database, new, earlier=earlier) == asked


@pytest.mark.parametrize(
    ("known", "new", "is_asked"),
    [
        ("Tarn 07 Clear", "Tarn 7 clear", True),
        ("Tarn 12 Fern", "fern (Tarn 12)", True),
        ("own tin white", "Tin White (ours)", True),
        ("pond green", "green pond", True),
        ("white over red", "red over white", False),
        ("Tarn 07 Clear", "Tarn 70 Clear", False),
        ("load 1-5", "load 5-1", False),
        ("own moss", "own plum", False),
    ],
)
def test_the_same_words_otherwise_are_asked_about(database, known, new, is_asked):
    asked = [Alike(GLAZE, new, known, is_asked=True)] if is_asked else []
    assert alike_after(database, [new], earlier=[known, known]) == asked


def test_tiles_that_bring_either_of_two_names_again_are_asked_about_and_others_are_not(database):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for number, glaze in enumerate(
            ["pond green", "pond green", "pond gren", "fog grey", "plum"]
        ):
            add(session, f"A-{number}", glaze, names)
        store.add_glaze(session, forms.GlazeRecord(name="fog gray"))  # a slip, put right
        first, _, slip, fog, plum = (
            reading.tile_record(store.get_tile(session, f"A-{number}")) for number in range(5)
        )
        told = [Alike(GLAZE, "pond gren", "pond green")]
        assert names_alike(session, [], [first]) == names_alike(session, [], [slip]) == told
        assert names_alike(session, [], [fog, plum]) == []


def test_a_glaze_and_an_underglaze_that_begin_alike_are_two_things(database):
    under = {"name": "black underglaze", "role": "underglaze"}
    assert alike_after(database, [under], earlier=["black"]) == []


def test_a_kiln_is_very_like_another(database):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        kilns = {"L1": "little kiln", "L2": "little kiln", "L3": "litle kiln"}
        for firing, kiln in kilns.items():
            fired = {"firing": {"name": firing, "kiln": kiln}}
            add(session, f"M-{firing}", "snow opaque", names, **fired)
        assert names_alike(session, names.added) == [Alike("kiln", "litle kiln", "little kiln")]


@pytest.mark.parametrize(
    ("stood", "found"),
    [
        ([("F1", "bottom"), ("F1", "botom"), ("F2", "bottom")], [("botom", "bottom", ["S-1"])]),
        ([("F1", "bottom"), ("F2", "botom")], [("botom", "bottom", ["S-1"])]),
        ([("F1", "bottom"), ("F3", "botom")], []),
        ([("F1", "bottom"), ("F1", "Bottom"), ("F1", "top")], []),
        ([("F1", "shelf 1"), ("F1", "shelf 2")], []),
    ],
)
def test_a_new_shelf_is_held_against_those_of_its_kiln(database, stood, found):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for number, (firing, shelf) in enumerate(stood):
            place = {"name": firing, "kiln": None if firing == "F3" else "Oven"}
            add(session, f"S-{number}", "pond", names, firing=place, shelf=shelf)
        tiles = [reading.tile_record(store.get_tile(session, f"S-{n}")) for n in range(len(stood))]
        assert shelves_alike(session, tiles, {}) == found
        assert shelves_alike(session, tiles, tiles_on_shelves(session)) == [], "on record before"


def test_a_new_shelf_that_names_its_kiln_is_held_against_the_shelf_alone(database):
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        add(session, "S-0", "pond", names, firing="F0", shelf="middle")
        before = tiles_on_shelves(session)
        shelves = ("big kiln middle", "Big Kiln, low", "middle", "kiln", "midle")
        for number, shelf in enumerate(shelves, start=1):
            add(session, f"S-{number}", "pond", names, firing=f"F{number}", shelf=shelf)
        marks = [f"S-{number}" for number in range(1, 6)]
        tiles = [reading.tile_record(store.get_tile(session, mark)) for mark in marks]
        found = shelves_with_kiln(session, tiles, before)
        assert found == [("big kiln middle", "middle", ["S-1"])]
        assert shelves_with_kiln(session, tiles, tiles_on_shelves(session)) == []
        alike = [shelf_alike(session, each) for each in ("old kiln middle", "low", "middle shelf")]
        assert alike == ["middle", None, "middle"]

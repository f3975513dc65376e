"""A very clear count of own tiles is told before anything else; a test that they made is not."""

from types import SimpleNamespace

import pytest

from diagnose.answer import Said
from diagnose.comparing.comparison_words import CLEAR
from diagnose.own_tiles.head_count import OWN_TEST, head_count, shown_by_coats
from diagnose.own_tiles.lift import VERY_CLEAR
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.why_counts import not_counted
from tiles.cli.why_screen import _told_cause, lines

SIDE_BY_SIDE = "Glaze one tile with one, two and three coats"
NOT_YET = "A difference, not yet a cause: not enough is recorded to tell why it crawled."


def of_batch(name, failed, of, start):
    return [in_batch(tile(start + n, defects=["crawling"] * (n < failed)), name) for n in range(of)]


def in_batch(record, name):
    layer = record.areas[0].layers[0]
    batch = {"batch": {"name": name}}
    area = {"number": 1, "layers": [layer.model_dump(exclude_none=True) | batch]}
    return type(record).model_validate(record.model_dump(exclude_none=True) | {"areas": [area]})


FAILED = in_batch(tile(1, defects=["crawling"]), "spring")


def of_coats(coats, failed, of, start):
    return [tile(start + n, coats=coats, defects=["crawling"] * (n < failed)) for n in range(of)]


def on_screen(record, diagnosis):
    return " ".join(" ".join(lines(record, [diagnosis])).split())


def test_a_very_clear_count_is_said_first_and_that_it_is_no_cause_yet():
    others = [*of_batch("spring", 36, 45, 100), *of_batch("autumn", 3, 68, 200)]
    (diagnosis,) = why(FAILED, None, others)
    assert not diagnosis.enough_to_tell
    count = "Of 68 others with batch autumn 3 crawled, of 45 like this one, with batch spring, 36"
    assert diagnosis.say.startswith(f"{count} did. {NOT_YET}")
    told = on_screen(FAILED, diagnosis)
    assert told.count(count) == 1
    assert "That speaks for: the jar dried out" in told
    # What is usual elsewhere is not what to test, nor to mend, where the counts name the jar.
    assert SIDE_BY_SIDE not in told and "coat less" not in told
    assert "Put the revived jar and a new jar" in told and " fix " not in told


@pytest.mark.parametrize(("here", "there"), [((3, 6), (2, 8)), ((1, 2), (0, 3))])
def test_a_count_that_chance_may_make_is_no_head(here, there):
    others = [*of_batch("spring", *here, 100), *of_batch("autumn", *there, 200)]
    (diagnosis,) = why(FAILED, None, others)
    assert head_count(diagnosis.case) is None
    assert diagnosis.say.startswith("Not enough recorded to tell why it crawled.")


def test_where_own_tiles_show_what_more_coats_do_no_tile_of_three_is_asked_for():
    failed = tile(1, coats=3, defects=["crawling"])
    (alone,) = why(failed)
    first = alone.causes[0]
    assert first.name == "coat_too_thick" and SIDE_BY_SIDE in first.confirm[0]
    others = [*of_coats(3, 5, 6, 100), *of_coats(2, 3, 18, 200)]
    (diagnosis,) = why(failed, None, others)
    (shown, *_) = diagnosis.causes[0].confirm
    count = (
        "of 18 others with 2 coats or fewer 3 crawled, of 6 like this one, with 3 or more, 5 did."
    )
    assert shown == f"{OWN_TEST}{count}"
    for show_all in (False, True):
        told = " ".join(" ".join(lines(failed, [diagnosis], show_all=show_all)).split())
        assert told.casefold().count(count) == 1


def test_a_count_that_speaks_against_the_first_is_told_as_such_and_not_as_its_test():
    """Thin ones crawled, so what parts them is no test of a coat too thick."""
    failed = tile(1, mm=0.9, coats=2, defects=["crawling"])
    others = [tile(100 + n, mm=0.9, coats=2, defects=["crawling"]) for n in range(6)]
    (diagnosis,) = why(failed, None, [*others, *(tile(200 + n, mm=1.3, coats=2) for n in range(6))])
    assert diagnosis.causes[0].name == "coat_too_thick"
    told = on_screen(failed, diagnosis)
    assert told.count("6 did.") == 1 and OWN_TEST not in told
    assert "6 did. That speaks against the first." in told


def test_a_sound_twin_with_fewer_coats_has_made_that_test_too():
    failed = tile(1, coats=3, defects=["crawling"], cone_reached="05")
    (diagnosis,) = why(failed, None, [tile(100, coats=2, cone_reached="05")])
    assert diagnosis.twins
    assert diagnosis.causes[0].confirm[0] == f"{OWN_TEST}{diagnosis.twins[0]}"
    assert on_screen(failed, diagnosis).count("came out clean") == 1
    # One with more coats speaks against the first cause, which is said beside it and once.
    (diagnosis,) = why(failed, None, [tile(100, coats=5, cone_reached="05")])
    told = on_screen(failed, diagnosis)
    assert told.count("came out clean") == 1
    assert "That would speak against: the coat was too thick." in told
    # Several are told in one list.
    bare = tile(101, coats=3, cone_reached="05", body="white clay")
    (diagnosis,) = why(failed, None, [tile(100, coats=2, cone_reached="05"), bare])
    told = on_screen(failed, diagnosis)
    assert "though alike but for one thing: " in told and OWN_TEST not in told


COATS, BATCH = "the twin by coats", "the twin by batch"


@pytest.mark.parametrize(
    ("told", "answer", "is_left"),
    [
        (Said("No crawling: T-1 (coats), T-3 (batch).", (COATS, BATCH)), None, False),
        (Said("No crawling: T-1 (batch), T-2 (batch).", (BATCH,)), None, True),
        (Said("T-1 is alike but for the coats, 2.", (COATS,), "That speaks."), None, False),
        (Said("T-1 is alike but for the coats, 2.", (COATS,)), None, True),
        (Said("On all clays alike."), COATS, False),
    ],
)
def test_what_own_tiles_show_is_no_test_only_where_it_is_told_with_more(told, answer, is_left):
    shown, fire = Said("As your own tiles show.", (COATS,)), Said("Fire one thin.")
    assert not_counted([shown, fire], [told], answer) == [shown] * is_left + [fire]


def test_a_full_stop_in_a_name_ends_no_sentence():
    others = [*of_batch("spring No. 2", 36, 45, 100), *of_batch("autumn No. 1", 3, 68, 200)]
    failed = in_batch(tile(1, defects=["crawling"]), "spring No. 2")
    (diagnosis,) = why(failed, None, others)
    told = on_screen(failed, diagnosis)
    assert told.count("45 like this one") == 1 and "your tiles That speaks for: the jar" in told


def stub(chance, *, is_ruled_out=False, lift=1.0):
    """A case with one count by the coats, which bears on one cause."""
    lesson = SimpleNamespace(lift=lift, chance=chance, measure="coats", say="of 6 others 5 did")
    own = SimpleNamespace(lessons=[lesson], causes_of=lambda _lesson, _case: {"thick"})
    rows = [SimpleNamespace(name="thick", is_ruled_out=is_ruled_out)]
    return SimpleNamespace(own=own, rows=rows, twins=[])


def test_a_head_is_very_clear_and_speaks_for_a_cause_still_open():
    assert head_count(stub(VERY_CLEAR))
    assert head_count(stub(VERY_CLEAR * 1.1)) is None
    assert head_count(stub(VERY_CLEAR, is_ruled_out=True)) is None
    assert head_count(stub(VERY_CLEAR, lift=-1.0)) is None


@pytest.mark.parametrize(("chance", "is_shown"), [(CLEAR / 2, True), (CLEAR, False)])
def test_what_chance_may_make_is_no_test_that_own_tiles_made(chance, is_shown):
    assert bool(shown_by_coats(stub(chance))) is is_shown


@pytest.mark.parametrize(
    ("evidence", "name", "is_by_count"), [(0, "thick", True), (0.5, "x", False)]
)
def test_the_cause_of_the_count_is_told_where_nothing_speaks_for_the_first(
    evidence, name, is_by_count
):
    case = stub(VERY_CLEAR)
    case.first = SimpleNamespace(evidence=evidence)
    causes = [SimpleNamespace(name=each, is_ruled_out=False) for each in ("x", "thick")]
    diagnosis = SimpleNamespace(case=case, enough_to_tell=False, causes=causes)
    told, is_so = _told_cause(diagnosis)
    assert (told.name, is_so) == (name, is_by_count)

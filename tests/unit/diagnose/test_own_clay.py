"""What the clay tells: one on which a glaze stays sound, and one on which alone it fails."""

import pytest

from diagnose.asking import questions
from diagnose.asking_fields import read_answer
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile

POOL = {"name": "pool", "kind": "jar", "finish": "clear"}


def made(number, defect=None, body="chalk"):
    """A tile of the clear, with a fault where one is named."""
    seen = [{"defect": defect}] if defect else []
    return tile(
        number,
        body=body,
        areas=[{"number": 1, "layers": [{"glaze": POOL, "coats": 2}]}],
        inspections=[{"inspected_on": "2024-05-01", "defects": seen}],
    )


def share(defect, cause, others, body="chalk"):
    (found,) = why(made(1, defect, body), None, others)
    return next(each for each in found.causes if each.name == cause)


def test_tiles_on_the_same_clay_mostly_sound_speak_against_the_clay():
    defect, cause = "cloudiness", "red_body"
    alone = share(defect, cause, [])
    sound = [made(number) for number in range(2, 6)]
    told = share(defect, cause, sound)
    assert told.share < alone.share / 2
    assert "of 4 other tiles of pool on chalk 4 are without it" in " ".join(told.against).casefold()
    for others in (
        sound[:3],
        [*sound, *(made(number, defect) for number in (6, 7))],
        [made(number, body="peat") for number in range(2, 6)],
    ):
        assert not any("are without it" in each for each in share(defect, cause, others).against)


def test_of_a_clay_of_which_no_name_is_known_no_tile_is_on_the_same():
    others = [made(number, body="?") for number in range(2, 6)]
    assert not any(
        "are without it" in each
        for each in share("cloudiness", "red_body", others, body="?").against
    )


def test_the_colour_of_the_clay_is_asked():
    (found,) = why(made(1, "cloudiness"))
    asked = {each.name: each for each in questions(found.case)}["body_colour"]
    dark, white = (
        next(choice for choice in asked.choices if choice.value == colour)
        for colour in ("dark", "white")
    )
    shares = [
        next(row.share for row in choice.rows if row.name == "red_body") for choice in (dark, white)
    ]
    assert shares[0] > 2 * shares[1]
    assert read_answer("body_colour", "White") == "white"


def crazed(numbers, failed, body, mm):
    """Tiles of one clear, all looked at as late."""
    layers = [{"glaze": POOL, "coats": 2, "thickness_mm": mm}]
    defects = ["crazing"] * failed
    areas = [{"number": 1, "layers": layers}]
    return [tile(number, defects=defects, body=body, areas=areas) for number in numbers]


def moves(records):
    """What own tiles add to each cause, and which facts are counted."""
    (found,) = why(records[0], None, records[1:])
    lessons = {each.measure: each for each in found.case.own.lessons if each.lift > 0}
    return {row.name: row.own for row in found.case.rows}, lessons


def test_a_glaze_that_crazes_on_one_clay_alone_is_no_matter_of_the_coat_that_goes_with_it():
    """Fit lies between a glaze and a clay (common practice, no source)."""
    records = crazed(range(1, 6), True, "new bag", 0.8)
    records += crazed(range(6, 8), False, "old bag", 0.8) + crazed(range(8, 13), False, "red", 0.6)
    moved, lessons = moves(records)
    assert lessons.keys() == {"body"}
    assert lessons["body"].say.endswith("their thickness tells nothing beyond that.")
    of_clay = {"poor_fit", "small_margin", "body_underfired", "moisture_expansion", "body_changed"}
    assert min(moved[name] for name in of_clay) == pytest.approx(lessons["body"].lift, abs=1e-3)
    assert moved["coat_too_thick"] == 0 == moved["opened_hot"]


def test_of_a_coat_that_fails_on_either_clay_the_clay_is_not_told():
    records = crazed(range(1, 6), True, "grey", 1.2) + crazed(range(6, 8), True, "red", 1.2)
    records += crazed(range(8, 10), False, "grey", 0.6) + crazed(range(10, 16), False, "red", 0.6)
    moved, lessons = moves(records)
    assert "body" not in lessons and moved["poor_fit"] == 0 < moved["coat_too_thick"]


def test_where_clay_and_coat_go_together_both_are_told():
    records = crazed(range(1, 7), True, "grey", 1.2) + crazed(range(7, 13), False, "red", 0.6)
    moved, lessons = moves(records)
    assert lessons.keys() == {"body", "thickness_mm"}
    assert moved["poor_fit"] > 0 < moved["coat_too_thick"]


def test_a_clay_that_fails_less_often_speaks_against_no_cause():
    records = crazed(range(1, 2), True, "grey", 0.8) + crazed(range(2, 7), False, "grey", 0.8)
    (found,) = why(records[0], None, records[1:] + crazed(range(7, 13), True, "red", 0.8))
    assert found.case.own is None

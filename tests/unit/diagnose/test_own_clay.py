"""A glaze that mostly stays sound on a clay: that clay alone is not why one tile of it failed."""

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

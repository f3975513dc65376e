"""What own tiles say of a fault without a word of its own: those that mean the same by it."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tests.unit.diagnose.test_other_fault import COOLED, share_of
from tests.unit.diagnose.test_other_fault import tile as asked
from tiles.records import forms

HOT, COOL = {"shelf": "top", "reached": "7"}, {"shelf": "bottom", "reached": "6"}
FAST = {"name": "F9", "target_cone": "6", "opened_c": 280}
SLOW = {"name": "F8", "target_cone": "6", "opened_c": 80}


def made(mark, note=None, *, firing=SLOW, coats=2, **fields):
    """A tile of the matt jar; without a note it stayed as it is meant to be."""
    record = asked("glossy", mark=mark, firing=firing, **fields).case.record.model_copy(deep=True)
    record.areas[0].layers[0].coats = coats
    record.inspections[0].defects = record.inspections[0].defects if note else []
    for seen in record.inspections[0].defects:
        seen.note = note
    return record


FAILED = made("O-1", "went glossy", firing=FAST, **HOT)
TWIN = made("O-2", **HOT)
BESIDE = made("O-3", "no longer matt", firing=FAST, **COOL)


def told(others, record=FAILED):
    (found,) = why(record, others=others)
    return found


def test_a_twin_that_cooled_slowly_and_stayed_matt_speaks_against_the_heat():
    assert told([]).causes[0].name == "overfired"
    found = told([TWIN])
    assert found.causes[0].name == COOLED
    opened = "the temperature at which the kiln was opened, 80 C"
    assert found.twins == [f"O-2 is alike but for {opened}, and came out clean."]
    (heat,) = [each for each in found.causes if each.name == "overfired"]
    assert heat.share < 0.05 and heat.against[0].startswith("O-2 of the same jar, fired as hot")


def test_a_cooler_tile_of_its_firing_that_went_glossy_as_well_makes_the_heat_less_likely():
    by_itself = share_of("overfired", told([]))
    for note, is_less in (("shiny", True), ("a child dropped it", False), ("odd", False)):
        beside = made("O-3", note, firing=FAST, **COOL)
        assert (share_of("overfired", told([beside])) < by_itself) is is_less
    hotter = made("O-3", "shiny", firing=FAST, shelf="middle", reached="7")
    assert share_of("overfired", told([hotter])) == pytest.approx(by_itself)
    hottest = made("O-1", "went glossy", firing=FAST, shelf="top", reached="8")
    alone, beside = (share_of("overfired", told(each, hottest)) for each in ([], [hotter]))
    assert beside == pytest.approx(alone), "cooler, but over its label as well"


def test_the_firing_in_which_it_came_is_told_with_the_others():
    sound = [made(f"O-{n}", firing=SLOW, **COOL) for n in (4, 5, 6)]
    said = "Firing F9: 2 of 2 have it, with this one; other firings: 0 of 3."
    assert said in told([BESIDE, *sound]).causes[0].your_tiles
    assert not any("Firing" in each for each in told(sound).causes[0].your_tiles)


@pytest.mark.parametrize(
    ("own", "its", "is_another"),
    [("went glossy", "shiny", False), ("went glossy", "stuck to the stilt", True),
     ("went glossy", "odd", False), ("rough and sandy", "Rough and  sandy", False),
     ("rough and sandy", "odd", False), ("a child dropped it", None, False), (None, None, False)],
)  # fmt: skip
def test_what_means_another_fault_is_no_failure_and_what_nobody_can_tell_is_left_out(
    own, its, is_another
):
    failed = made("O-1", own or "x", **COOL)
    failed.inspections[0].defects[0].note = own
    said = "O-2 is alike but for the coats, 3, and has no such fault."
    assert told([made("O-2", its, coats=3, **COOL)], failed).twins == [said] * is_another


@pytest.mark.parametrize("clues", [{}, {"cooled_fast": "no"}])
def test_how_it_cooled_is_one_thing_in_which_a_twin_may_differ(clues):
    failed = made("O-1", "glossy", firing=FAST, clues={"cooled_slowly": "no", "cooled_fast": "yes"})
    other = made("O-2", firing=SLOW, clues={"cooled_slowly": "yes"} | clues)
    found = told([other], failed)
    assert len(found.twins) == 1 and found.causes[0].your_tiles == found.twins


def test_a_colour_that_alone_was_dragged_speaks_for_it_and_not_for_what_is_in_no_list():
    def over(mark, name, note=None):
        record = made(mark, note, **COOL)
        below = {"glaze": {"name": name, "role": "underglaze"}, "coats": 2}
        record.areas[0].layers.insert(0, forms.LayerRecord.model_validate(below))
        return record

    others = [over(f"B-{n}", "jet black", "black smeared") for n in range(6)]
    others += [over(f"S-{n}", "sun yellow") for n in range(12)]
    failed = over("O-1", "jet black", "black smeared")
    (dragged,) = [e for e in told(others, failed).causes if e.name == "colour_dragged"]
    assert any("over jet black" in each for each in dragged.your_tiles)
    assert dragged.share > share_of("colour_dragged", told([], failed))


def test_next_and_fix_hear_of_the_same_tiles():
    failed = made("O-1", "glossy", firing=FAST, **COOL)
    found = told([made("O-2", firing=SLOW, **COOL)], failed)
    first = next_tiles(found, Owned(), others=[made("O-2", firing=SLOW, **COOL)]).tiles[0]
    assert first.trial.tile["trial_change"] == "kiln opened at 280 -> 100 °C or less"
    (mend,) = fix(FAILED, others=[TWIN])
    assert [each.cause for each in mend.causes] == [COOLED]

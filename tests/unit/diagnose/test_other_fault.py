"""A fault without a word of its own: its notes are read, and a lid is asked of a vessel only."""

import pytest

from diagnose.report import why
from tiles.records import forms

LID = "Was the lid fired in place on its pot?"


def tile(note=None, form=None, finish="matt", reached="7", clues=None):
    jar = {"name": "barn", "kind": "jar", "role": "glaze", "finish": finish, "cone_low": "5",
           "cone_high": "6"}  # fmt: skip
    values = {
        "mark": "O-1", "body": "peat", "form": form, "cone_reached": reached,
        "clues": clues or {},
        "firing": {"name": "F1", "target_cone": "6"},
        "areas": [{"number": 1, "layers": [{"glaze": jar, "coats": 2}]}],
        "inspections": [
            {"inspected_on": "2025-03-03", "defects": [{"defect": "other", "note": note}]}
        ],
    }  # fmt: skip
    return why(forms.read(forms.TileRecord, values))[0]


@pytest.mark.parametrize(
    "note",
    ["went glossy, should be matt", "shiny instead of matt", "from matt to glossy", "all shiny"],
)
def test_a_matt_that_went_glossy_was_fired_too_hot(note):
    found = tile(note)
    assert found.enough_to_tell
    assert found.causes[0].name == "overfired"
    assert found.causes[0].for_[0].startswith("From your note")


@pytest.mark.parametrize("finish", [None, "satin"])
@pytest.mark.parametrize("note", ["matt instead of glossy", "was glossy, now it is dull"])
def test_a_gloss_that_went_matt_is_not_read_backwards(note, finish):
    told = tile(note, finish=finish)
    assert not any("From your note" in each for cause in told.causes for each in cause.for_)
    assert share_of("overfired", told) == share_of("overfired", tile(finish=finish))


@pytest.mark.parametrize("note", ["a drip stuck to the shelf; glaze is shiny", "all shiny"])
def test_a_glaze_that_is_shiny_has_changed_only_where_it_was_meant_to_be_dull(note):
    told = tile(note, finish=None)
    assert share_of("overfired", told) <= share_of("overfired", tile(finish=None))


def share_of(name, told):
    return next(each.share for each in told.causes if each.name == name)


def test_a_gloss_that_is_glossy_or_a_matt_without_a_note_is_not_blamed_on_the_kiln():
    assert not tile("came out glossy", finish="gloss").enough_to_tell
    assert not tile().enough_to_tell


@pytest.mark.parametrize(("form", "is_asked"), [(None, False), ("flat", False), ("vessel", True)])
def test_a_lid_is_asked_of_a_vessel_only(form, is_asked):
    found = tile(form=form)
    lid = next(each for each in found.causes if each.name == "lid_seat_glazed")
    assert (LID in lid.not_recorded) is is_asked
    assert form == "vessel" or LID not in found.say
    assert found.causes[1].name != "lid_seat_glazed"
    told = tile(form=form, clues={"lid_fired_in_place": "yes"})
    (counts,) = [each for each in told.causes if each.name == "lid_seat_glazed"]
    assert counts.for_[0] == "The lid was fired in place on its pot."  # of whatever tile it is told

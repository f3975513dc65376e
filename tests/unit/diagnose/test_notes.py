import pytest

from diagnose.measures.of_area import NOTE_TRUST
from diagnose.report import why
from tiles.records.forms import TileRecord

JAR = {"name": "pond green", "kind": "jar", "role": "glaze", "finish": "gloss"}


def tile(note=None, *, defect="crawling", clues=None, place=None, defect_note=None, **fields):
    seen = {"defect": defect, "place": place, "note": defect_note}
    return TileRecord.model_validate(
        {
            "mark": "M-41",
            "body": "red",
            "areas": [{"number": 1, "layers": [{"glaze": JAR, "coats": 2}]}],
            "clues": clues or {},
            "inspections": [{"inspected_on": "2025-03-03", "defects": [seen]}],
            "note": note,
            **fields,
        }
    )


def cause(answer, name):
    return next(each for each in answer.causes if each.name == name)


def row(answer, name):
    return next(each for each in answer.case.rows if each.cause and each.cause.name == name)


def test_a_note_counts_as_a_clue_and_says_that_it_is_one():
    (answer,) = why(tile("I had hand cream on when I carried it"))
    assert answer.from_notes == [
        'From your note "hand cream": the bisque was handled with greasy hands.'
    ]
    assert cause(answer, "greasy_bisque").for_[0].startswith('From your note "hand cream"')


def test_a_note_counts_for_less_than_the_same_fact_in_a_field():
    (noted,) = why(tile("I had hand cream on"))
    (recorded,) = why(tile(clues={"bisque_greasy": "yes"}))
    less, more = row(noted, "greasy_bisque"), row(recorded, "greasy_bisque")
    assert less.support == pytest.approx(NOTE_TRUST * more.support)
    assert less.share < more.share


def test_a_recorded_field_goes_before_a_note_and_the_difference_is_told():
    (answer,) = why(tile("the bisque was dusty", clues={"bisque_dusty": "no"}))
    (without,) = why(tile(clues={"bisque_dusty": "no"}))
    assert [each.share for each in answer.causes] == [each.share for each in without.causes]
    (told,) = answer.from_notes
    assert "but the record says" in told
    assert told.endswith("The record counts.")


def test_a_note_that_agrees_with_the_record_adds_nothing():
    (answer,) = why(tile("the bisque was dusty", clues={"bisque_dusty": "yes"}))
    (without,) = why(tile(clues={"bisque_dusty": "yes"}))
    assert [each.share for each in answer.causes] == [each.share for each in without.causes]
    assert answer.from_notes[0].endswith("the record says so too.")


def test_notes_that_contradict_each_other_count_neither_way():
    look = {
        "inspected_on": "2025-03-03",
        "note": "bisque was not dusty",
        "defects": [{"defect": "crawling"}],
    }
    (answer,) = why(tile("the bisque was dusty", inspections=[look]))
    assert "bisque_dusty" not in answer.case.facts
    assert any("contradict" in text for text in answer.from_notes)


def test_a_negated_phrase_speaks_against():
    (answer,) = why(tile("Bisque was not dusty."))
    assert cause(answer, "dirty_bisque").against


def test_an_amount_in_a_note_is_read_as_the_measure_and_derived_ones_follow():
    (answer,) = why(tile("Opened at 250", defect="crazing"))
    assert answer.case.facts["opened_c"].value == 250
    assert "taken as °C" in answer.from_notes[0]
    fired = {"name": "F1", "opened_c": 80}
    (answer,) = why(tile("Opened at 250", defect="crazing", firing=fired))
    assert answer.case.facts["opened_c"].value == 80


def test_a_place_and_a_note_on_the_defect_are_read_but_not_those_on_another_defect():
    (answer,) = why(tile(place="where I held it"))
    assert answer.case.facts["bare_spots_like_fingers"].value == "yes"
    look = {
        "inspected_on": "2025-03-03",
        "defects": [
            {"defect": "crawling"},
            {"defect": "pinholes", "note": "full of dust"},
        ],
    }
    answer = why(tile(inspections=[look]), "crawling")[0]
    assert "bisque_dusty" not in answer.case.facts


def test_the_remarks_of_the_firing_and_the_batch_are_read():
    (answer,) = why(tile(defect="crazing", firing={"name": "F1", "remark": "opened at 300 C"}))
    assert answer.case.facts["opened_c"].value == 300
    layer = {"glaze": JAR, "batch": {"name": "b1", "note": "jar had dried out"}}
    (answer,) = why(tile(areas=[{"number": 1, "layers": [layer]}]))
    assert answer.case.facts["revived"].value == "yes"
    assert answer.case.facts["revived"].note


def test_a_phrase_without_a_bearing_on_the_defect_is_not_told():
    (answer,) = why(tile("there was smoke in the kiln"))
    assert answer.from_notes == []


def test_the_record_itself_is_left_as_it_was():
    record = tile("Opened at 250, hand cream, jar had dried out", defect="crazing")
    before = record.model_dump()
    why(record)
    assert record.model_dump() == before


WASH = {"name": "brown", "kind": "jar", "role": "wash", "finish": "matt"}
LOW_FIRE = {
    "defect": "underfired",
    "clues": {"fired_surface_powdery": "yes"},
    "firing": {"name": "F1", "target_cone": "05"},
    "cone_reached": "05",
}


def wash(note=None, **glaze):
    return tile(note, areas=[{"number": 1, "layers": [{"glaze": {**WASH, **glaze}}]}], **LOW_FIRE)


@pytest.mark.parametrize(
    "record",
    [wash(colour="brown umber"), wash("burnt umber and water, nothing else")],
    ids=["colour", "note"],
)
def test_a_dusty_umber_wash_at_low_fire_is_no_fault_by_its_colour_or_its_note(record):
    """Common practice, no source: umber melts in only near 1150 °C."""
    (answer,) = why(record)
    assert answer.causes[0].name == "wash_matures_hotter"
    assert not answer.is_fault


def test_umber_as_the_mere_shade_of_a_glaze_is_not_taken_for_the_earth():
    (answer,) = why(wash(colour="umber", role="glaze"))
    assert "holds_umber" not in answer.case.facts


def test_a_crackle_glaze_is_glossy_too_but_not_matt():
    for finish, counted in (("gloss", "crackle"), ("matt", "matt")):
        layer = {"glaze": {**JAR, "finish": finish}}
        areas = [{"number": 1, "layers": [layer]}]
        (answer,) = why(tile("the jar says crackle", defect="crazing", areas=areas))
        assert answer.case.facts["finish"].value == counted


def test_a_cone_that_stood_is_taken_as_one_short_and_never_against_a_recorded_cone():
    (answer,) = why(tile("the cone hadn't bent", defect="underfired"))
    assert answer.case.facts["cones_over_target"].value == -1
    assert "taken as one cone short" in answer.from_notes[0]
    (answer,) = why(tile("the cone hadn't bent", defect="underfired", cone_reached="05"))
    assert "cones_over_target" not in answer.case.facts
    assert answer.from_notes[0].endswith("the record counts.")

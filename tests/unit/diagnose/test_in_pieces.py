"""A tile that blew up, was dropped or is lost counts as sound in nothing that it could not show."""

from diagnose.body_limit.tiles import looked_at as on_body
from diagnose.comparing.comparison import compare
from diagnose.comparing.over_tiles import faults_of, over_tiles
from diagnose.next_tiles.open_faults import open_faults
from diagnose.own_tiles.late_looks import looked_until
from diagnose.own_tiles.say import your_tiles_say
from diagnose.report import why
from diagnose.trials.tried import waiting_for
from tests.unit.diagnose.test_comparison import tile
from tests.unit.diagnose.test_twins import FAILED, twin
from tiles.records import forms


def broken(record, words="blew up", on="2024-05-01", *more):
    """A tile with such words for its fault."""
    look = {"inspected_on": on, "defects": [{"defect": "other", "note": words}, *more]}
    record.inspections = [forms.InspectionRecord.model_validate(look)]
    return record


def test_it_is_no_sound_twin_and_a_whole_one_with_another_fault_is():
    (answer,) = why(FAILED, None, [broken(twin(bisque="04"))])
    assert answer.twins == []
    (answer,) = why(FAILED, None, [broken(twin(bisque="04"), "streaky")])
    assert answer.twins == ["S-1 is alike but for the bisque cone, 04, and has no crawling."]


def test_own_counts_leave_it_out_and_those_of_its_own_fault_do_not():
    thin = [tile(100 + n) for n in range(4)]
    failed = tile(1, mm=1.4, defects=["crawling"])
    others = [*thin, *(broken(tile(200 + n)) for n in range(3))]
    assert your_tiles_say(others, failed, 1, "crawling").areas == 4
    assert your_tiles_say(others, failed, 1, "other").failed == 3
    told = over_tiles([*others, failed], "pond", "crawling", [])
    assert (told.failing, told.sound) == (1, 4)
    assert over_tiles([*others, failed], "pond", "other", []).failing == 3
    assert faults_of([*others, failed], "pond") == {"crawling": 1, "other": 3}


def test_neither_a_comparison_nor_the_clay_counts_it():
    whole = [tile(n, mm=mm, defects=["crazing"] * (n < 3)) for n, mm in enumerate([0.4, 0.9] * 4)]
    pieces = [broken(tile(100 + n, mm=0.4)) for n in range(3)]
    assert compare([*whole, *pieces], "thickness", defect="crazing") == compare(
        whole, "thickness", defect="crazing"
    )
    body = whole[0].body.name
    assert on_body([*whole, *pieces], body, "crazing") == (3, 8)


def test_open_faults_count_it_for_its_own_words_only():
    found = open_faults([tile(1, defects=["crawling"]), tile(2), broken(tile(3))])
    counts = {each.defect: (len(each.failed), each.tiles) for each in found}
    assert counts == {"crawling": (1, 2), "other": (1, 3)}


def test_a_trial_in_pieces_has_told_nothing():
    values = {"trial_of": FAILED.mark, "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}
    trial = twin(coats=2).model_copy(update=values)
    assert why(FAILED, None, [trial])[0].case.tried
    assert not why(FAILED, None, [broken(trial)])[0].case.tried
    assert waiting_for(FAILED, [broken(trial)]) == []


def test_the_days_it_was_whole_still_tell():
    record = tile(1)
    day = record.inspections[0].inspected_on
    first = looked_until(record)
    later = broken(tile(1), "a child dropped it", day.replace(year=day.year + 1)).inspections
    record.inspections = [*record.inspections, *later]
    assert looked_until(record) == first

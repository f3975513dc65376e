"""Which looks say no more of a tile than that it is in pieces, or lost."""

import pytest

from tests.unit.diagnose.test_comparison import tile
from tiles.records import forms
from tiles.records.gone import is_in_pieces, telling_looks

CLEAN = {"inspected_on": "2024-05-01", "defects": []}


def look(words=None, *more, area=None, note=None, on="2024-06-01"):
    seen = [{"defect": "other", "note": words, "area": area}] if words != "" else []
    seen += [{"defect": each} for each in more]
    return {"inspected_on": on, "defects": seen, "note": note}


def seen(*looks):
    record = tile(1)
    record.inspections = [forms.InspectionRecord.model_validate(each) for each in looks]
    return record


@pytest.mark.parametrize(
    "words",
    ["blew up", "exploded in the kiln", "broken", "was dropped", "a child dropped it", "shattered",
     "in pieces", "lost"],
)  # fmt: skip
def test_a_tile_of_which_only_that_was_seen_is_in_pieces(words):
    record = seen(look(words))
    assert is_in_pieces(record, record.areas[0])
    assert not telling_looks(record)


@pytest.mark.parametrize(
    "words",
    ["streaky", "not broken", "broken corner", "broke off its stilt", "burst bubbles", "lost shine",
     "bits dropped on it", None],
)  # fmt: skip
def test_another_fault_leaves_a_tile_to_look_at(words):
    record = seen(look(words))
    assert not is_in_pieces(record, record.areas[0])


@pytest.mark.parametrize(
    ("looks", "whole"),
    [((look("broken"), CLEAN), 1), ((look("broken", "blisters"),), 1),
     ((look("broken", area=2),), 1), ((look("broken", area=1),), 0),
     ((look(note="a child dropped it"),), 0), ((look("", note="broken"),), 1), ((), 0)],
)  # fmt: skip
def test_a_look_that_saw_more_tells(looks, whole):
    record = seen(*looks)
    assert is_in_pieces(record, record.areas[0]) is (bool(looks) and not whole)
    assert len(telling_looks(record)) == whole

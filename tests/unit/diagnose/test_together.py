"""Several faults on one tile: one mechanism has one name, and a bonus is no evidence."""

import pytest

from diagnose.report import why
from diagnose.together import weigh_all
from tests.unit.diagnose.test_report import coat, tile

JOINED = [
    ("crazing", "pinholes", "bisque_too_cool", {"bisque_cone": "08", "cone_reached": "05"}),
    ("pinholes", "unwanted matt", "kiln_short", {"cone_reached": "07"}),
    ("bloating", "pinholes", "bisque_fast_airless", {"clues": {"bisque_packed_airless": "yes"}}),
    ("pinholes", "running", "cone_mix_up", {"cone_reached": "5"}),
    (
        "dunting",
        "shivering",
        "too_much_compression",
        {"clues": {"sharp_flakes_lift": "yes", "glazed_inside_only": "yes"}},
    ),
    ("dunting", "other", "stuck_to_shelf", {"clues": {"stuck_to_shelf": "yes"}}),
]
"""Two faults that handbooks trace to one mechanism (Fraser, Hamer: memory; common practice)."""


def _both(*defects, **fields):
    firing = {"name": "F", "target_cone": "05"}
    return tile(*({"defect": each} for each in defects), **{"firing": firing} | fields)


@pytest.mark.parametrize(("one", "other", "cause", "fields"), JOINED)
def test_one_mechanism_behind_two_faults_is_told_as_one_cause(one, other, cause, fields):
    record = _both(one, other, areas=[coat()], **fields)
    answers = {each.defect: each for each in why(record)}
    assert answers[one].causes[0].name == cause
    assert answers[one].enough_to_tell
    assert answers[one].also_explains == [other]
    alone = weigh_all(record, [one])[one].first
    assert answers[one].causes[0].share > alone.share

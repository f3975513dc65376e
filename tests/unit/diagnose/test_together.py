"""Several faults on one tile: one mechanism has one name, and a bonus is no evidence."""

import pytest

from diagnose.report import why
from diagnose.together import weigh_all
from tests.unit.diagnose.test_comparison import tile as of_pond
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


@pytest.mark.parametrize("thick_ones", ["sound", "crazed"])
def test_what_own_tiles_speak_against_is_not_told_as_one_cause(thick_ones):
    """Thick coats crawled; that they crazed the thin ones show more often."""
    failed = of_pond(1, mm=1.6, defects=["crazing", "crawling"])
    thin = [of_pond(100 + n, mm=0.7, defects=["crazing"] * (n < 9)) for n in range(16)]
    defects = ["crazing"] if thick_ones == "crazed" else []
    thick = [of_pond(200 + n, mm=1.5, defects=defects) for n in range(8)]
    alone, told = ({each.defect: each for each in why(failed, others=own)}
                   for own in ([], [*thin, *thick]))  # fmt: skip
    is_sound = thick_ones == "sound"
    assert alone["crawling"].also_explains == ["crazing"]
    assert told["crawling"].also_explains == ([] if is_sound else ["crazing"])
    share = {name: _share(answers["crazing"]) for name, answers in (("a", alone), ("b", told))}
    assert (share["b"] < share["a"]) is is_sound


def _share(answer):
    return next(each.share for each in answer.causes if each.name == "coat_too_thick")

"""Diagnosis against cases written from handbooks and the trade, each with its source in the file.

The four files named after a defect were written before the rules they test, second_set.json after
them. A source that names a page means that the link between sign and cause was read there; the
figures of a case are ours. A case whose source is "common practice" has no published source.
"""

import json
from pathlib import Path

import pytest

from diagnose.report import why
from tiles.records.forms import TileRecord

FILES = sorted((Path(__file__).parent / "cases").glob("*.json"))
CASES = [case for file in FILES for case in json.loads(file.read_text(encoding="utf-8"))]
LITTLE = 0.05
"""A share that blames nobody."""


def answer(case):
    return why(TileRecord.model_validate(case["record"]), case["defect"])[0]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["case"])
def test_a_case_from_the_trade_is_answered_as_expected(case):
    found, expected = answer(case), case["expect"]
    names = [cause.name for cause in found.causes]
    assert expected["in_first_three"] in names[:3]
    if "first" in expected:
        assert names[0] == expected["first"]
    if "enough_to_tell" in expected:
        assert found.enough_to_tell == expected["enough_to_tell"]
    for cause in found.causes:
        if cause.name in expected.get("not_blamed", ()):
            assert cause.share < LITTLE or cause.is_ruled_out
            assert cause is not found.causes[0]


def test_there_are_at_least_sixteen_cases_each_with_a_source():
    assert len(CASES) >= 16
    assert all(case["source"] and case["why"] for case in CASES)
    assert {case["defect"] for case in CASES} == {"crawling", "crazing", "pinholes", "running"}

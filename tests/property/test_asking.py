"""Laws of the questions: each can move the field, and each is asked for some record."""

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.asking import questions
from diagnose.asking_fields import FIELDS_OF
from diagnose.case import weigh_case
from diagnose.vocabulary import kind_of
from tests.property.test_diagnosis import ALL_SIGNS, DEFECTS, RECORDS
from tiles.records.clues import clues
from tiles.records.forms import TileRecord


@settings(max_examples=40, deadline=None)
@given(record=RECORDS, defect=st.sampled_from(DEFECTS))
def test_the_next_question_is_one_whose_answer_can_move_the_shares(record, defect):
    look = [{"inspected_on": "2025-03-20", "defects": [{"defect": defect}]}]
    case = weigh_case(TileRecord.model_validate({**record, "inspections": look}), defect)
    for question in questions(case)[:3]:
        moved = [
            abs(then.share - now.share)
            for choice in question.choices
            for then in choice.rows
            for now in case.rows
            if now.cause == then.cause
        ]
        assert max(moved) > 0


ASKABLE = sorted({sign.measure for _, _, sign in ALL_SIGNS if sign.measure in clues()})


@pytest.mark.slow
@pytest.mark.parametrize("name", ASKABLE)
def test_every_question_can_be_asked(name):
    """For some record the clue is among the three questions put."""
    for defect in sorted({defect for defect, _, sign in ALL_SIGNS if sign.measure == name}):
        for record in _records_with_most_but(defect, name):
            if name in [each.name for each in questions(weigh_case(record, defect))[:3]]:
                return
    pytest.fail(f"{name} is never asked")


def _records_with_most_but(defect, name):
    """Records with other clues answered, in many ways, on glazes that signs turn on."""
    others = {sign.measure for d, _, sign in ALL_SIGNS if d == defect and sign.measure in clues()}
    kind = kind_of(name) if name else ""
    others = sorted(each for each in others if not kind or kind_of(each) != kind)
    for seed, glaze in itertools.product(range(16), GLAZES):
        choose = random.Random(seed)
        answers = ["no"] if seed == 0 else ["yes", "no", "no", None]
        picked = {each: choose.choice(answers) for each in others if each != name}
        yield TileRecord.model_validate(
            {
                "mark": "T-1",
                "body": BODIES[seed % 2],
                "bisque_cone": "04",
                "stood": "upright",
                "form": "vessel" if seed % 4 == 3 else "flat",
                "clues": {each: answer for each, answer in picked.items() if answer},
                "firing": FIRINGS[seed // 2 % 2],
                "cone_reached": "05",
                "areas": [{"number": 1, "surface": "smooth", "layers": [glaze]}],
                "inspections": [{"inspected_on": "2025-03-20", "defects": [{"defect": defect}]}],
            }
        )


BODIES = [
    "red",
    {
        "name": "red",
        "kind": "earthenware",
        "colour": "red",
        "absorption_pct": 12,
        "expansion_ppm_per_k": 6.5,
        "cone_low": "06",
        "cone_high": "03",
    },
]
FIRINGS = [
    {
        "name": "F1",
        "target_cone": "05",
        "hold_min": 10,
        "rate_c_per_h": 80,
        "opened_c": 110,
        "atmosphere": "oxidation",
    },
    {"name": "F1", "target_cone": "05"},
]
GLAZES = [
    {
        "glaze": {"name": "green", "kind": "jar", "role": role, "finish": finish, "colour": colour},
        "batch": {"name": "b", "specific_gravity": 1.5, "is_revived": revived},
        "coats": 2,
        "thickness_mm": 0.8,
        "fired_thickness_mm": 0.4,
        "method": "brush",
        "applied_on": "bisque",
        "beneath": "damp",
    }
    for role, finish, colour, revived in (
        ("glaze", "gloss", "green", False),
        ("glaze", "clear", "clear", False),
        ("glaze", "matt", "pink", False),
        ("glaze", "gloss", "red", False),
        ("underglaze", "matt", "red", False),
        ("wash", "matt", "brown", False),
        ("glaze", "gloss", "green", True),
        ("glaze", "gloss", "white", False),
    )
]
OF_A_LAYER_BENEATH = {"beneath", "colour_applied_on"}
"""Tests of their own hold that these are asked for: the records here have one layer."""
FIELD_NAMES = sorted({name for each in FIELDS_OF.values() for name in each} - OF_A_LAYER_BENEATH)


@pytest.mark.slow
@pytest.mark.parametrize("name", FIELD_NAMES)
def test_every_measure_can_be_asked_for(name):
    """For some record on which it is blank it is worth asking for."""
    turned_on = {m for m, names in FIELDS_OF.items() if name in names}
    for defect in sorted({defect for defect, _, sign in ALL_SIGNS if sign.measure in turned_on}):
        for full in _records_with_most_but(defect, ""):
            if name in [each.name for each in questions(weigh_case(_blanked(full), defect))]:
                return
    pytest.fail(f"{name} is never asked for")


def _blanked(record):
    """The record without the fields that can be asked for."""
    values = record.model_dump()
    layer = values["areas"][0]["layers"][0]
    values |= {"bisque_cone": None, "cone_reached": None, "stood": None}
    values["firing"] = {"name": "F1", "target_cone": "05"}
    values["body"] |= {"absorption_pct": None, "colour": None}
    values["areas"][0]["surface"] = None
    layer["glaze"]["finish"] = None
    kept = ("glaze", "batch")
    values["areas"][0]["layers"] = [{each: layer[each] for each in kept} | {"batch": "b"}]
    return TileRecord.model_validate(values)

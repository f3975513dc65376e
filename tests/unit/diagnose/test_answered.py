"""What tiles on record answer is not asked of the teacher."""

from datetime import date

import pytest

from diagnose.answered import answered_by_record
from diagnose.case import weigh_case
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile

OTHER_BODY, OTHER_GLAZE = {"body": "white clay"}, {"glaze": "moss"}
OF_GLAZE = {"fails_on_every_body"}
FIRED, ELSEWHERE = {"firing": {"name": "F1"}}, {"firing": {"name": "F2"}}
FAILED = tile(1, defects=["pinholes"], **FIRED)


def made(many, **values):
    return [tile(100 + n, **values) for n in range(many)]


@pytest.mark.parametrize(
    ("others", "known"),
    [
        ([], set()),
        (made(3, **FIRED), set()),
        (made(1, **OTHER_BODY, **FIRED), OF_GLAZE | {"sound_on_other_body"}),
        (made(1, **OTHER_BODY, **ELSEWHERE), OF_GLAZE),
        (made(1, **OTHER_GLAZE), set()),
        (made(2, **OTHER_GLAZE), {"other_glazes_fail_too"}),
        (made(5, **OTHER_GLAZE, **OTHER_BODY, **FIRED), {"most_of_load_affected"}),
        (made(4, **OTHER_GLAZE, **OTHER_BODY, **FIRED), set()),
        (made(5, **OTHER_GLAZE, **OTHER_BODY, **ELSEWHERE), set()),
    ],
)
def test_what_tiles_of_the_glaze_clay_and_firing_answer(others, known):
    assert answered_by_record(weigh_case(FAILED, "pinholes"), others) == known


def test_how_the_glaze_did_on_the_clay_before_is_not_asked_where_a_tile_shows_it():
    looked = FAILED.inspections[0].model_copy(update={"inspected_on": date(2000, 1, 1)})
    (before,) = [each.model_copy(update={"inspections": [looked]}) for each in made(1, **FIRED)]
    case = weigh_case(FAILED, "pinholes")
    assert answered_by_record(case, [before]) == {"used_to_be_sound"}
    elsewhere = before.model_copy(update={"body": made(1, **OTHER_BODY)[0].body})
    assert "used_to_be_sound" not in answered_by_record(case, [elsewhere])


def test_an_answered_question_is_not_asked_and_weighs_nothing():
    question = "Do other glazes show the same fault on this body?"
    (alone,), (told,) = why(FAILED), why(FAILED, None, made(2, **OTHER_GLAZE))
    asked = [{q for each in found.causes for q in each.not_recorded} for found in (alone, told)]
    assert question in asked[0] and question not in asked[1]
    assert [each.share for each in told.causes] == [each.share for each in alone.causes]

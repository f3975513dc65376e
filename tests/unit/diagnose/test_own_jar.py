"""A jar that is dry at its own label's cone in every firing, while others beside it melted."""

import pytest

from diagnose.case import weigh_case
from diagnose.fixes import fix
from diagnose.measures import measures
from diagnose.own_tiles_say import joined, your_tiles_say
from diagnose.report import why
from diagnose.rules import load
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.fix_text import screen
from tiles.records import forms

NIGHT = {"name": "night", "kind": "jar", "cone_low": "05", "cone_high": "05"}
LEAF = NIGHT | {"name": "leaf"}
WRONG, THIN = "wrong_jar", "coat_too_thin"


def fired(number, firing="F1", glaze=NIGHT, coats=(3,), dry=True, cone="05", **more):
    """A tile with an area for each number of coats, dry on all of them or on none."""
    areas = [
        {"number": at, "layers": [{"glaze": glaze, "coats": each}]}
        for at, each in enumerate(coats, 1)
    ]
    seen = [{"defect": "underfired", "area": each["number"]} for each in areas if dry]
    looks = [{"inspected_on": "2024-05-01", "defects": seen}]
    in_kiln = {"firing": {"name": firing, "target_cone": "05"}, "cone_reached": cone}
    return tile(number, areas=areas, inspections=looks, **(in_kiln | more))


FAILED = fired(1)
SAME_JAR = [fired(10 + n, f"F{n}", coats=(2,), body="white clay") for n in range(2, 6)]
BESIDE = [fired(30 + n, f"F{1 + n % 5}", LEAF, dry=False) for n in range(10)]


def said(records, record=FAILED):
    return your_tiles_say(records, record, 1, "underfired")


def of_jar(told):
    return [each for each in told.lessons if each.measure == "jar"]


def row_of(case, name):
    return next(row for row in case.rows if row.name == name)


def test_all_of_a_jar_dry_while_others_in_its_firings_melted_speaks_for_a_wrong_label():
    told = said([*SAME_JAR, *BESIDE, FAILED])
    (lesson,) = of_jar(told)
    counts = (lesson.here_failed, lesson.here_all, lesson.there_failed, lesson.there_all)
    assert counts == (4, 4, 0, 10)
    assert "of 10 tiles with other glazes in the same firings none came out underfired" in (
        lesson.say
    )
    case = joined(weigh_case(FAILED, "underfired"), told)
    assert row_of(case, WRONG).own == lesson.lift > 1
    assert all(row.own == 0 for row in case.rows if row.name != WRONG)
    (answer,) = why(FAILED, others=[*SAME_JAR, *BESIDE])
    assert WRONG in [each.name for each in answer.causes[:2]]


@pytest.mark.parametrize(
    "records",
    [
        [*SAME_JAR[:1], *BESIDE],  # too few of the jar
        [*SAME_JAR, *BESIDE[:2]],  # too few beside it
        [*[fired(20 + n) for n in range(4)], *BESIDE],  # one firing alone
        [*SAME_JAR, *[fired(30 + n, f"F{1 + n % 5}", LEAF) for n in range(10)]],  # all were dry
        [*SAME_JAR[:3], fired(50, "F2", dry=False), *BESIDE],  # one of the jar melted
        [fired(20 + n, f"F{n}", cone="07") for n in range(2, 6)] + BESIDE,  # short of its label
    ],
    ids=["few", "few beside", "one firing", "cold kiln", "melted once", "short of its label"],
)
def test_nothing_is_said_of_the_label_where_something_else_explains_it(records):
    assert of_jar(said(records)) == []


def test_a_jar_without_a_cone_on_its_label_and_another_fault_tell_nothing():
    bare = {"name": "night", "kind": "jar"}
    same = [fired(10 + n, f"F{n}", bare) for n in range(2, 6)]
    assert of_jar(said([*same, *BESIDE], fired(1, glaze=bare))) == []
    assert of_jar(your_tiles_say([*SAME_JAR, *BESIDE], FAILED, 1, "crawling")) == []


def test_that_another_jar_may_have_been_taken_counts():
    answers = {
        answer: row_of(
            weigh_case(fired(1, clues={"wrong_jar_possible": answer}), "underfired"), WRONG
        ).share
        for answer in ("yes", "no")
    }
    assert answers["yes"] > 0.2 > 10 * answers["no"]


def test_no_low_fire_clay_is_sent_to_the_hotter_cone():
    (cause,) = [each for each in load("underfired").causes if each.name == WRONG]
    texts = [each.say for each in (*cause.confirm, *cause.fixes)]
    hotter = [each for each in texts if "cone 5," in each]
    assert hotter
    assert all("clay made for cone 5" in each for each in hotter)
    assert all("Never low-fire clay" in each for each in hotter)


def test_three_coats_that_are_dry_as_well_speak_against_a_thin_coat():
    grid, alone = fired(1, coats=(1, 2, 3)), fired(2, coats=(1,))
    fact = measures(grid, 1, "underfired")["usual_coat_fails_too"]
    assert fact.said == "area 3 with 3 coats has it too"
    assert "usual_coat_fails_too" not in measures(grid, 3, "underfired")
    assert "usual_coat_fails_too" not in measures(alone, 1, "underfired")
    looks = [
        {
            "inspected_on": "2024-05-01",
            "defects": [
                {"defect": "underfired", "area": 1, "severity": "severe"},
                {"defect": "underfired", "area": 3, "severity": "slight"},
            ],
        }
    ]
    worst_thin = grid.model_copy(
        update={"inspections": [forms.InspectionRecord.model_validate(each) for each in looks]}
    )
    shares = [row_of(weigh_case(each, "underfired"), THIN).share for each in (alone, worst_thin)]
    assert shares[0] > 2 * shares[1]


@pytest.mark.parametrize("cause", [each.name for each in load("underfired").causes])
def test_whatever_the_cause_a_dry_face_is_kept_from_food(cause):
    (found,) = [each for each in load("underfired").causes if each.name == cause]
    assert any("food" in each for each in found.cautions)


def test_a_dry_barium_glaze_that_is_called_matt_is_kept_from_food():
    lines = [{"material": "Barium carbonate", "parts": 20}, {"material": "Silica", "parts": 80}]
    layer = {
        "glaze": {"name": "sea matt", "kind": "recipe", "finish": "matt"},
        "coats": 3,
        "recipe": {"lines": lines},
    }
    record = tile(
        9,
        areas=[{"number": 1, "layers": [layer]}],
        defects=["underfired"],
        cone_reached="05",
        clues={"smooth_dull": "yes"},
    )
    (answer,) = why(record)
    assert answer.causes[0].name == "matt_by_design"
    assert not answer.is_fault
    assert any("keep such ware from food" in each for each in answer.causes[0].cautions)
    assert any("barium" in each for each in answer.handling)
    (mend,) = fix(record)
    assert mend.causes == []
    assert mend.cautions == answer.causes[0].cautions
    told = " ".join(" ".join(screen(record, [mend], [], is_planned=False)).split())
    assert "keep such ware from food" in told

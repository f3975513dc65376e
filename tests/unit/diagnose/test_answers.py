"""Misnamed faults, looks that are no fault, several faults at once, and fixes that fit."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import COATS
from diagnose.report import why
from diagnose.rules import Advice, load
from diagnose.together import EXPLAINS_ALL
from diagnose.wording import fixes
from tiles.records import words
from tiles.records.forms import TileRecord

JAR = {"name": "pond green", "kind": "jar", "role": "glaze", "finish": "gloss"}


def tile(*defects, layer=None, **fields):
    return TileRecord.model_validate(
        {
            "mark": "M-41",
            "body": "red",
            "areas": [{"number": 1, "layers": [{"glaze": JAR, **(layer or {})}]}],
            "inspections": [
                {"inspected_on": "2025-03-03", "defects": [{"defect": d} for d in defects]}
            ],
            **fields,
        }
    )


SHARP = {"sharp_flakes_lift": "yes", "bare_edges_rolled": "no"}


def test_a_misnamed_fault_is_said_first_and_the_right_one_follows():
    logged, right = why(tile("crawling", clues=SHARP))
    assert logged.look_alike == "shivering"
    assert logged.say.startswith("This is shivering, not crawling.")
    assert (right.defect, right.instead_of) == ("shivering", "crawling")
    assert right.causes


def test_the_fixes_of_the_right_fault_are_of_the_area_that_has_it():
    areas = [
        {"number": number, "layers": [{"glaze": JAR | {"name": name}, "coats": coats}]}
        for number, name, coats in ((1, "moss", 2), (2, "pond green", 4))
    ]
    look = {"inspected_on": "2025-03-03", "defects": [{"defect": "crawling", "area": 2}]}
    answers = fix(tile(clues=SHARP, areas=areas, inspections=[look]))
    tiles = [trial.tile for each in answers for trial in each.trials]
    names = {layer["glaze"]["name"] for made in tiles for layer in made["areas"][0]["layers"]}
    assert names == {"pond green"}


def test_the_right_fault_is_not_told_twice_when_it_was_logged_too():
    found = why(tile("crawling", "shivering", clues=SHARP))
    assert sorted(each.defect for each in found) == ["crawling", "shivering"]


def test_no_fix_of_the_wrong_fault_is_advised():
    logged = why(tile("crawling", clues=SHARP))[0]
    assert not [fix for cause in logged.causes[1:] for fix in cause.fixes]


def test_what_is_no_fault_is_said_to_be_expected_with_how_to_get_the_other_look():
    matt = {**JAR, "finish": "matt"}
    (answer,) = why(tile("unwanted matt", layer={"glaze": matt}, clues={"smooth_dull": "yes"}))
    assert answer.is_fault is False
    assert answer.say.startswith("Not a fault:")
    assert answer.causes[0].fixes
    assert not [fix for cause in answer.causes[1:] for fix in cause.fixes]


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_every_misnamed_cause_names_another_defect_of_the_list(defect):
    for cause in load(defect).causes:
        if cause.name.endswith("_misnamed"):
            assert cause.right_name in words.DEFECTS
            assert cause.right_name != defect
        else:
            assert cause.right_name == "" or cause.right_name in words.DEFECTS


def share(answer, name):
    return next(cause.share for cause in answer.causes if cause.name == name)


def test_a_cause_of_both_defects_rises_by_the_stated_bonus_and_is_said_to_explain_both():
    (alone,) = why(tile("crawling", layer={"thickness_mm": 1.3}))
    both = why(tile("crawling", "pinholes", layer={"thickness_mm": 1.3}))
    crawling = next(each for each in both if each.defect == "crawling")
    assert share(crawling, "coat_too_thick") > share(alone, "coat_too_thick")
    rows = {row.cause.name: row for row in crawling.case.rows if row.cause}
    assert rows["coat_too_thick"].bonus == pytest.approx(EXPLAINS_ALL)
    assert rows["wax_splash"].bonus == 0
    assert crawling.also_explains == ["pinholes"]
    assert "One cause would explain both crawling and pinholes." in crawling.say


def test_a_cause_that_explains_one_of_two_further_defects_gets_half_the_bonus():
    found = why(tile("crawling", "pinholes", "underfired"))
    crawling = next(each for each in found if each.defect == "crawling")
    rows = {row.cause.name: row for row in crawling.case.rows if row.cause}
    underfired = {cause.name for cause in load("underfired").causes}
    pinholes = {cause.name for cause in load("pinholes").causes}
    halved = (set(rows) & pinholes) - underfired
    assert halved
    for name in halved:
        if rows[name].cause.is_fault and not rows[name].cause.right_name:
            assert rows[name].bonus == pytest.approx(EXPLAINS_ALL / 2)


def test_the_order_in_which_defects_were_logged_does_not_matter():
    one = why(tile("crawling", "pinholes", "running", layer={"coats": 5}))
    other = why(tile("running", "crawling", "pinholes", layer={"coats": 5}))
    by_defect = {each.defect: each.causes for each in other}
    for each in one:
        assert each.causes == by_defect[each.defect]


def test_a_ruled_out_cause_of_one_defect_lends_no_weight_to_the_other():
    thin = {"thickness_mm": 0.4}
    found = why(tile("crawling", "pinholes", layer=thin))
    for each in found:
        rows = {row.cause.name: row for row in each.case.rows if row.cause}
        assert rows["coat_too_thick"].bonus == 0


def known(**facts):
    from diagnose.measures.of_area import Measure

    return {name: Measure(name, value, "", "") for name, value in facts.items()}


TEXTS = (
    "One coat less.",
    "Dipping: 1 second less.",
    "Brushing: two thin coats.",
    "Thin a dipping glaze by 0.05.",
    "Own recipe: 3 parts less clay.",
    "Low fire: cone 04.",
)


@pytest.mark.parametrize(
    ("facts", "setting", "expected"),
    [
        ({"method": "brush"}, "low_fire", [0, 2, 4, 5]),
        ({"method": "dip", "coats": 2}, "mid_range", [0, 1, 3, 4]),
        ({"method": "dip", "coats": 2, "glaze_kind": "jar"}, "mid_range", [0, 1, 3]),
        ({}, "unknown", [0, 1, 2, 3, 4, 5]),
    ],
)
def test_fixes_are_those_that_fit_the_method_the_glaze_and_the_firing(facts, setting, expected):
    advice = [Advice(text, changes=(COATS,)) for text in TEXTS]
    kept = fixes(advice, known(**facts), setting)
    said = [text.partition(": ")[2].casefold() or text.casefold() for text in TEXTS]
    said[0] = "one dip or pour less" if facts.get("method") == "dip" else said[0]
    assert len(kept) == len(expected)
    for each, at in zip(kept, expected, strict=True):
        assert said[at] in each.say.casefold()
        assert each.changes == (COATS,)


@pytest.mark.parametrize(
    ("coats", "is_told"), [({}, True), ({"coats": 1}, True), ({"coats": 2}, False)]
)
def test_of_a_single_dip_no_coats_are_counted(coats, is_told):
    (one,) = fixes([Advice(TEXTS[0])], known(method="dip", **coats), "unknown")
    assert (one.say == "A thinner slop, or a shorter dip or pour.") is is_told

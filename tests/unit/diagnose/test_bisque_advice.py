"""Late crazing on a low-fire clay: damp or fit, and a bisque that this clay can be fired to."""

from types import SimpleNamespace

import pytest

from diagnose.fixes.bench import Bench
from diagnose.fixes.bisque_advice import BY_THE_BAG, with_its_cone
from diagnose.fixes.of_tile import fix
from diagnose.report import why
from diagnose.rules import Advice
from diagnose.wording import lead_of_two
from tiles.cli.why_screen import lines
from tiles.records.forms import TileRecord

CLEAR = {"name": "bag clear", "kind": "jar", "finish": "clear", "role": "glaze"}
UNLOADED = {"inspected_on": "2026-11-08"}
LATER = {"inspected_on": "2026-11-28", "defects": [{"defect": "crazing", "severity": "moderate"}]}


def late_crazing(bisque="04", cones=("06", "04"), **fields):
    body = {"name": "white earthenware", "kind": "earthenware", "absorption_pct": 12}
    if cones:
        body |= {"cone_low": cones[0], "cone_high": cones[1]}
    return TileRecord.model_validate(
        {
            "mark": "T-30",
            "body": body,
            "bisque_cone": bisque,
            "firing": {"name": "F3", "fired_on": "2026-11-07", "target_cone": "05"},
            "cone_reached": "05",
            "areas": [{"number": 1, "layers": [{"glaze": CLEAR, "coats": 2}]}],
            "inspections": [UNLOADED, LATER],
            **fields,
        }
    )


def of(record, name):
    (diagnosis,) = why(record)
    return next(each for each in diagnosis.causes if each.name == name)


def test_late_crazing_is_damp_or_a_glaze_that_only_just_fits():
    (diagnosis,) = why(late_crazing())
    damp, fit = diagnosis.causes[:2]
    assert (damp.name, fit.name) == ("moisture_expansion", "small_margin")
    assert damp.share < 3 * fit.share
    assert "a day or two" not in diagnosis.say
    assert "another glaze" in damp.fixes[0].casefold()
    assert "if both craze, the glaze only just fits" in damp.confirm[0]
    assert "on another clay" in " ".join(fit.fixes)
    assert "adult" in " ".join([damp.confirm[1], fit.confirm[1]])


def test_crazing_from_bare_clay_is_rather_damp():
    plain, from_foot = (
        of(late_crazing(clues=clues), "small_margin").share
        for clues in ({}, {"starts_at_bare_clay": "yes"})
    )
    assert from_foot < plain / 1.5


@pytest.mark.parametrize(
    ("bisque", "cones", "said"),
    [
        ("04", ("06", "04"), None),
        ("06", ("06", "04"), "Hotter bisque: bisque cone 06 -> 04."),
        ("06", ("06", "02"), "Hotter bisque: bisque cone 06 -> 03."),
        (None, ("06", "04"), "Hotter bisque: to cone 04, if it was cooler."),
        (
            "06",
            None,
            "Hotter bisque: bisque cone 06 -> 03, as far as the clay's own range goes.",
        ),
        (None, None, "Bisque to cone 03, as far as the clay's own range goes."),
    ],
)
def test_a_hotter_bisque_is_told_as_fix_works_it_out_or_not_at_all(bisque, cones, said):
    told = [each for each in of(late_crazing(bisque, cones), "moisture_expansion").fixes
            if "bisque" in each.casefold()]  # fmt: skip
    assert told == ([said] if said else [])


def test_why_and_fix_name_the_same_bisque():
    record = late_crazing("06", ("06", "04"))
    (answer,) = fix(record)
    (worked, *_) = [
        each for cause in answer.causes for each in cause.fixes if each.key == "hotter_bisque"
    ]
    (told, *_) = of(record, "moisture_expansion").fixes
    assert told == f"{worked.title}: {worked.changes[0].said}."


def test_no_test_asks_for_a_bisque_that_the_clay_has_had():
    hottest = of(late_crazing("04", ("06", "04")), "bisque_too_cool")
    assert not [each for each in hottest.confirm if "Bisque half" in each]
    assert [each for each in of(late_crazing("06"), "bisque_too_cool").confirm if "half" in each]


def test_a_next_cause_that_is_not_much_poorer_stands_in_the_answer():
    (diagnosis,) = why(late_crazing())
    told = lead_of_two(diagnosis.case.rows)
    assert diagnosis.causes[1].title in told
    assert told.count(" in 10)") == 2
    (dunt, *_) = why(late_crazing(clues={"crack_through_wall": "yes"}))
    assert lead_of_two(dunt.case.rows) == ""
    (from_foot,) = why(late_crazing(clues={"starts_at_bare_clay": "yes", "came_later": "yes"}))
    assert lead_of_two(from_foot.case.rows) == ""


def test_beside_a_worse_fault_the_screen_still_tells_both_causes_and_what_to_do():
    later = LATER | {"defects": [*LATER["defects"], {"defect": "crawling", "severity": "severe"}]}
    record = late_crazing(inspections=[UNLOADED, later])
    told = " ".join(" ".join(lines(record, why(record))).split())
    for each in ("took up damp", "only just fits this clay", "another glaze: 1 test tile"):
        assert each in told


def test_a_bisque_that_fell_short_of_what_it_was_set_for_is_told_so():
    fired = {"name": "B1", "kind": "bisque", "target_cone": "04", "witness_cones": [{"cone": "06"}]}
    (told, *_) = of(late_crazing(None, bisque_firing=fired), "moisture_expansion").fixes
    assert told.startswith(
        "Hotter bisque: bisque cone 06 -> 04. It was set for that: put a witness"
    )


@pytest.mark.parametrize(("hottest", "is_told"), [("02", True), ("04", False)])
def test_cones_hotter_than_the_glaze_are_told_where_the_clay_stands_them(hottest, is_told):
    seen = LATER | {"defects": [{"defect": "pinholes"}]}
    record = late_crazing("04", ("06", hottest), cone_reached="04", inspections=[seen])
    cause = of(record, "bisque_too_cool")
    assert any("cones hotter than the glaze" in each for each in cause.fixes) is is_told
    assert any("two cones hotter" in each for each in cause.confirm) is is_told


def test_of_several_fixes_on_the_bisque_one_has_the_cone_and_by_the_bag_none():
    record = late_crazing("06", ("06", "02"))
    case = why(record)[0].case
    advice = [
        Advice("Bisque hotter.", ("bisque cone",)),
        Advice("Fire it denser.", ("bisque cone",)),
    ]
    told = with_its_cone(advice, Bench(case.view, "moisture_expansion", case.setting))
    assert [each.say for each in told] == ["Hotter bisque: bisque cone 06 -> 03."]
    told = with_its_cone(advice, Bench(case.view, BY_THE_BAG, case.setting))
    assert [each.say for each in told] == ["Bisque hotter.", "Fire it denser."]


@pytest.mark.parametrize(
    ("share", "is_open", "is_told"), [(0.2, True, True), (0.2, False, False), (0.1, True, False)]
)
def test_a_next_cause_out_of_the_question_or_much_poorer_is_not_named(share, is_open, is_told):
    cause = SimpleNamespace(is_fault=True, right_name="")
    first, rival = (
        SimpleNamespace(share=each, cause=cause, title=title, is_in_question=is_open)
        for each, title in ((0.4, "too thick"), (share, "too thin"))
    )
    assert bool(lead_of_two([first, rival])) is is_told

"""Of bisque that was bought no advice is given about firing it (a painting studio)."""

import pytest

from diagnose.asking import questions
from diagnose.bought_bisque import ASK_THE_SELLER, OF_ITS_FIRING, fires_it, is_bought
from diagnose.fixes.bench import Bench
from diagnose.fixes.steps_body import hotter_bisque, slower_bisque, softer_bisque
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.report import why
from diagnose.rules import load
from tests.unit.diagnose.test_comparison import tile
from tiles.cli import ask_log_firing
from tiles.cli.ask_log_answers import Answers
from tiles.records.words import DEFECTS


def told_of(body, defect="pinholes"):
    seen = {"inspected_on": "2024-05-01", "defects": [{"defect": defect}]}
    (found,) = why(tile(1, body=body, inspections=[seen]))
    return found.causes


@pytest.mark.parametrize("body", ["white bisque", "cream bisque from Terrano", "Bisqueware 2"])
@pytest.mark.parametrize("defect", ["pinholes", "crazing", "blisters"])
def test_of_bought_bisque_no_firing_of_it_is_advised_but_whom_to_ask(body, defect):
    causes = told_of(body, defect)
    for each in causes:
        assert not any(map(fires_it, (*each.fixes, *each.confirm, *each.cautions)))
    assert any(ASK_THE_SELLER in each.fixes for each in causes)


@pytest.mark.parametrize("defect", ["pinholes", "crazing", "blisters"])
def test_of_a_clay_bisqued_in_the_studio_it_stays(defect):
    told = [each for cause in told_of("red clay", defect) for each in cause.fixes]
    assert any(map(fires_it, told))
    assert ASK_THE_SELLER not in told


def test_what_is_done_to_the_bisque_and_a_first_bisque_are_no_firing_of_bought_bisque():
    fixes = [each.say for defect in DEFECTS for c in load(defect).causes for each in c.fixes]
    kept = [each for each in fixes if "bisque" in each.casefold() and not fires_it(each)]
    assert any(each.startswith("Let washed bisque dry") for each in kept)
    assert "Bisque first." in kept


@pytest.mark.parametrize(
    ("body", "note", "bought"),
    [("white bisque", None, True), ("red clay", "Bought as bisque.", True),
     ("red clay", "shop-bought white bisque", True), ("red clay", "the bisque was bought", True),
     ("red clay", "bought the clay, bisque to 04", False), ("red clay", None, False),
     ("red clay", "bought a bisque kiln", False), ("red clay", "store the bisque dry", False)],
)  # fmt: skip
def test_a_name_or_a_note_tells_that_it_was_bought(body, note, bought):
    assert is_bought(tile(1, body=body, note=note)) is bought
    told = tile(1, body={"name": body, "remark": note})
    assert is_bought(told) is bought


@pytest.mark.parametrize("defect", ["pinholes", "crazing", "blisters"])
def test_nothing_is_asked_of_the_firing_of_bought_bisque(defect):
    seen = {"inspected_on": "2024-05-01", "defects": [{"defect": defect}]}
    asked = {}
    for body in ("white bisque", "red clay"):
        (found,) = why(tile(1, body=body, inspections=[seen]))
        asked[body] = {sign.measure for row in found.case.rows for sign in row.missing}
        names = {each.name for each in questions(found.case)}
        is_asked = bool(names & {"bisque_cone", "bisque_packed_airless"})
        assert is_asked is (body == "red clay")
    assert asked["red clay"] - asked["white bisque"] == asked["red clay"] & OF_ITS_FIRING


@pytest.mark.parametrize(("body", "is_offered"), [("white bisque", False), ("red clay", True)])
def test_no_other_bisque_is_proposed_for_it(body, is_offered):
    case = why(tile(1, body=body, defects=["pinholes"], bisque_cone="06"))[0].case
    kinds = {each.kind for each in candidates(case.view, case, Owned(bisque_cones=["06", "04"]))}
    assert ("bisque cone" in kinds) is is_offered
    bench = Bench(case.view, "gassy_body", case.setting)
    for makes in (hotter_bisque, softer_bisque, slower_bisque):
        assert is_offered or makes(bench) is None
    assert not is_offered or hotter_bisque(bench) and slower_bisque(bench)


@pytest.mark.parametrize(
    ("body", "asked"),
    [("white bisque", "Bisque cone, if its maker tells it"), ("red clay", "Bisque cone")],
)
def test_its_cone_is_asked_as_its_maker_tells_it(monkeypatch, body, asked):
    monkeypatch.setattr(ask_log_firing, "ask_or_back", lambda question, *_, **_more: question)
    monkeypatch.setattr(ask_log_firing.ask_names, "names", lambda *_: [])
    assert ask_log_firing.ask_bisque(None, Answers(), Answers(body=body)) == asked

"""Trials fired otherwise than what they are compared with: told, and worth less."""

import pytest

from diagnose.report import why
from diagnose.trials.tried import DIFFERS_IN_MORE, Tried, in_short, said
from diagnose.trials.worked import proven
from tests.unit.diagnose.test_next_tiles import tile
from tests.unit.diagnose.test_trials_add_up import trial
from tests.unit.diagnose.test_tried import FAILED as CRAWLED
from tiles.records import forms

FAILED = tile("running", coats=4)
COATS, THICK = "coats 4 -> 3", "coat_too_thick"
MIDDLE, HOTTER, OTHER_KILN = (
    "fired on shelf middle, {} on shelf top",
    "reached cone 04, {} 05",
    "fired in kiln B, {} in kiln A",
)


def fired(record, name="F1", shelf="top", cone="05", kiln="A"):
    values = record.model_dump() | {"shelf": shelf, "cone_reached": None}
    values["firing"] = {
        "name": name,
        "kiln": kiln,
        "witness_cones": [{"shelf": shelf, "cone": cone}] if cone else [],
    }
    return forms.TileRecord.model_validate(values)


OWN = fired(FAILED)


def thinner(mark="N-1", defects=(), **how):
    made = trial(COATS, mark, defects, record=FAILED, areas=_areas(3))
    return fired(made, **{"name": "F2"} | how)


def as_it_was(mark="C-1", defects=("running",), **how):
    return fired(trial("as it was", mark, defects, record=FAILED), **{"name": "F2"} | how)


def _areas(coats):
    (area,) = FAILED.model_dump()["areas"]
    (layer,) = area["layers"]
    return [area | {"layers": [layer | {"coats": coats}]}]


def weighed(*others):
    case = why(OWN, None, others)[0].case
    return {each.mark: each for each in case.tried}


@pytest.mark.parametrize(
    ("how", "beside", "told"),
    [
        ({}, [], ()),
        ({"shelf": "middle"}, [], (MIDDLE.format("T-1"),)),
        ({"cone": "04"}, [], (HOTTER.format("T-1"),)),
        ({"shelf": "middle", "cone": "04"}, [], (HOTTER.format("T-1"),)),
        ({"shelf": "middle", "cone": "04", "kiln": "B"}, [], (OTHER_KILN.format("T-1"),)),
        ({"cone": "05 1/2"}, [], ()),
        ({"shelf": "Top"}, [], ()),
        ({"shelf": None, "cone": "05"}, [], ()),
        # What its control shares with it is no second thing; what it does not, is.
        ({"cone": "04"}, [as_it_was(cone="04")], ()),
        ({"shelf": "middle"}, [as_it_was()], (MIDDLE.format("C-1"),)),
        ({"shelf": "middle"}, [as_it_was(), as_it_was("C-2", shelf="middle")], ()),
        ({"cone": "04"}, [as_it_was(name="F3", cone="04")], (HOTTER.format("T-1"),)),
    ],
)
def test_a_trial_fired_otherwise_is_told_so_and_moves_the_causes_by_less(how, beside, told):
    tried = weighed(thinner(**how), *beside)["N-1"]
    assert tried.besides == told
    alike = weighed(thinner(**_as(beside)), *beside)["N-1"]
    less = tried.move(THICK) < alike.move(THICK) - 0.1
    assert tried.move(THICK) > 0 and less is bool(told)
    assert said([tried]).endswith(f" differs in more ({told[0]}) and counts for less." if told else
                                  "the fault did not come.")  # fmt: skip
    assert ("[also " in in_short([tried])) is bool(told)


def _as(controls):
    """As a control of its firing was fired, or the failed tile."""
    return next((_how(each) for each in controls if each.firing.name == "F2"), {})


def _how(record):
    return {"shelf": record.shelf, "cone": record.firing.witness_cones[0].cone}


def test_each_thing_that_differs_takes_the_same_part_of_what_a_trial_is_worth():
    worth = [Tried("N-1", COATS, False, besides=of).worth for of in ((), ("a",), ("a", "b"))]
    assert worth == [1, DIFFERS_IN_MORE, DIFFERS_IN_MORE**2]
    clay = {"name": "white clay"}
    both = thinner(cone="04").model_copy(update={"body": forms.BodyRecord.model_validate(clay)})
    assert weighed(both)["N-1"].besides == ("body: red clay -> white clay", HOTTER.format("T-1"))


def test_two_sound_trials_fired_otherwise_than_the_control_have_mended_nothing_yet():
    control = as_it_was()
    for how, is_proven in (({}, True), ({"shelf": "middle"}, False)):
        tried = weighed(control, thinner(**how), thinner("N-2", **how)).values()
        assert bool(proven(list(tried))) is is_proven


def test_a_control_that_got_another_heat_is_no_proof_of_luck():
    (plain,), (hotter,) = (weighed(as_it_was(defects=[], cone=cone)).values()
                           for cone in ("05", "04"))  # fmt: skip
    assert "so it comes by chance" in said([plain])
    assert said([hotter]) == (
        "trial C-1, as it was: the fault did not come, but C-1 differs (reached cone 04, T-1 05)."
    )
    assert in_short([hotter]) == "Did not come: as it was (C-1 [reached cone 04, T-1 05])."


@pytest.mark.parametrize(
    ("change", "how"),
    [
        ("shelf top -> bottom", {"shelf": "bottom", "cone": "04"}),
        ("kiln A -> B", {"kiln": "B", "cone": "04"}),
    ],
)
def test_where_the_firing_is_what_was_changed_it_is_no_second_thing(change, how):
    tried = weighed(fired(trial(change, "N-1", record=FAILED), name="F2", **how))["N-1"]
    assert tried.moves and tried.besides == ()


@pytest.mark.parametrize(
    ("how", "told"),
    [
        ({"shelf": "middle"}, ()),
        ({"kiln": "B"}, ()),
        ({"cone": "04"}, (HOTTER.format("T-1"),)),
        ({"kiln": "B", "cone": "04"}, (OTHER_KILN.format("T-1"),)),
        ({"shelf": "middle", "cone": None}, (MIDDLE.format("T-1"),)),
    ],
)
def test_a_shelf_or_kiln_as_hot_is_no_second_thing_of_a_fault_that_lies_in_no_firing(how, told):
    made = fired(trial(COATS, "N-1", record=CRAWLED, areas=_areas(3)), **{"name": "F2"} | how)
    (found,) = why(fired(CRAWLED), None, [made])[0].case.tried
    assert found.besides == told

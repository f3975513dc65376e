"""Which tile of some fixes goes first, and which go last: by what each would tell."""

import pytest

from diagnose.fixes import trial_set
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import COATS, DRY_COAT, Change, Fix, Trial, Worked
from tests.unit.diagnose.test_against import FAILED, OTHERS


def made(name, *, reaches=True):
    change = Change(name, 1.0, 2.0)
    trial = Trial(name, change.said, {"trial_change": change.said})
    return Fix(name, f"key {name}", name, [change], trials=[trial], reaches=reaches)


def cause(name, fixes=(), *, acts_too=(), against=()):
    return Worked(name, name, 0.3, [], list(fixes), [*acts_too], [], [], against=[*against])


def test_what_is_for_causes_alone_that_own_tiles_speak_against_goes_last():
    both, thick, other = made("both"), made("thick"), made("other")
    worked = [
        cause("one", [both, thick], against=["said"]),
        cause("two", [other], acts_too=["both"]),
    ]
    trials = trial_set.trial_set(None, worked, with_control=False)
    assert [each.name for each in trials] == ["both", "other", "thick"]


@pytest.mark.parametrize("reaches", [True, False])
def test_a_fix_that_next_does_not_think_of_acts_on_the_causes_it_is_for(reaches):
    worked = [cause("one", [made("recipe", reaches=reaches)]), cause("two", acts_too=["recipe"])]
    found = trial_set._candidate(worked[0].fixes[0], [], worked, [1, 2])
    assert (found.acts_on, found.eases) == (
        (frozenset({"one", "two"}), frozenset()) if reaches else (frozenset(), {"one", "two"})
    )


@pytest.mark.parametrize(("worth", "is_told"), [(0.4, False), (0.6, True)])
def test_no_tile_goes_first_where_one_that_own_tiles_speak_against_tells_far_more(
    monkeypatch, worth, is_told
):
    def of_firing(candidate):
        return 1.0 if candidate.step.changes[0].what in (COATS, DRY_COAT) else worth

    monkeypatch.setattr(trial_set, "information", lambda _shares, _tiles: 1.0)
    monkeypatch.setattr(trial_set, "of_firing", of_firing)
    (answer,) = fix(FAILED, others=OTHERS)
    assert (answer.first is not None) is is_told


def test_no_tile_goes_first_where_none_would_change_much(monkeypatch):
    assert fix(FAILED)[0].first
    monkeypatch.setattr(trial_set, "changes_little", lambda _then, _now: True)
    assert fix(FAILED)[0].first is None

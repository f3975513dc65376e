"""Of bisque that was bought no advice is given about firing it (a painting studio)."""

import pytest

from diagnose.bought_bisque import ASK_THE_SELLER, fires_it
from diagnose.report import why
from diagnose.rules import load
from tests.unit.diagnose.test_comparison import tile
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

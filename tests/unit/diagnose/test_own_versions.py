"""A version of the recipe with which own tiles are sound goes before a change worked out."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.own_tiles.versions import OWN_VERSION
from diagnose.report import why
from tests.unit.diagnose.test_next_versions import CHANGE, FIRST, SECOND, made
from tiles.records import forms

WHITE = forms.BodyRecord(name="white clay")


def told(others):
    """What `why` advises for a recipe that shrinks too much, and what `fix` tries for it."""
    failed = made()
    (answer,) = why(failed, None, others)
    advice = next(each.fixes for each in answer.causes if each.name == "coat_shrinks")
    fixes = [each for cause in fix(failed, others=others)[0].causes for each in cause.fixes]
    return advice, [each for each in fixes if each.key == OWN_VERSION]


def test_a_trial_of_that_version_that_failed_gainsays_it():
    sound = [made(SECOND, f"S-{n}", failed=False) for n in range(2)]
    planned = {"trial_of": "T-1", "trial_defect": "crawling", "trial_change": CHANGE}
    trial = made(SECOND, "N-1").model_copy(update=planned)
    advice, fixes = told([*sound, trial])
    assert not fixes and not any("version" in each for each in advice)


@pytest.mark.parametrize(
    ("others", "is_told"),
    [
        ([made(SECOND, f"S-{n}", failed=False) for n in range(2)], True),
        ([made(SECOND, "S-1", failed=False)], False),
        ([made(SECOND, f"S-{n}", failed=n == 2) for n in range(3)], False),
        ([made(FIRST, f"S-{n}", failed=False) for n in range(2)], False),
    ],
)
def test_a_version_that_is_sound_on_the_clay_is_the_first_advice(others, is_told):
    advice, fixes = told(others)
    said = "Use version 2 of it: none of your 2 tiles of it on red clay crawled."
    assert (advice[0] == said) is is_told
    assert not any("version" in each for each in advice[1:])
    elsewhere = [each.model_copy(update={"body": WHITE}) for each in others]
    assert said not in told(elsewhere)[0]
    assert [each.changes[0].said for each in fixes] == ["recipe version 1 -> 2"] * is_told
    for each in fixes:
        (layer,) = each.trials[0].tile["areas"][0]["layers"]
        assert layer["recipe"]["version"] == 2

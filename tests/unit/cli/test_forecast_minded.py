"""Faults that do not stand out, but came on half of the tiles with the very same layers."""

from types import SimpleNamespace

import pytest

from diagnose.own_tiles.made_alike import ANYWHERE, MadeSo
from tiles.cli import forecast_several, forecast_text, forecast_untold


@pytest.mark.parametrize(
    ("made", "is_minded"),
    [
        (MadeSo(1, 2), True),
        (MadeSo(1, 3), False),
        (MadeSo(3, 3), True),
        (MadeSo(), False),
        (MadeSo(1, 1, 1), True),
        (MadeSo(1, 1, 11), False),  # eleven are sound so far
    ],
)
def test_a_fault_that_came_on_half_of_the_very_same_layers_is_minded(monkeypatch, made, is_minded):
    told = SimpleNamespace(made_so=made)
    monkeypatch.setattr(forecast_text, "more_than_usual", lambda _told: [])
    assert forecast_text.minded([told]) == [told] * is_minded
    monkeypatch.setattr(forecast_text, "more_than_usual", lambda found: found)
    assert forecast_text.minded([told]) == []


@pytest.mark.parametrize(
    ("made", "full", "short"),
    [
        (MadeSo(1, 1), "on your one tile with the very same layers, on this body",
         "your one made so had it"),
        (MadeSo(1, 2, 1), "on 1 of your 2 areas with the very same layers, on this body; 1 more "
         "sound so far, looked at too early to tell", "1 of your 2 made so had it (1 more sound so "
         "far)"),
        (MadeSo(1, 1, on="white"), "on your one tile with the very same layers, on white",
         "your one with these layers on white had it"),
        (MadeSo(3, 4, on=ANYWHERE), "on 3 of your 4 areas with the very same layers, on whatever "
         "body", "3 of your 4 with these layers on whatever body had it"),
    ],
)  # fmt: skip
def test_it_is_said_on_which_clay_they_are_and_how_many_are_sound_so_far(made, full, short):
    told = SimpleNamespace(made_so=made, layers_how="")
    assert forecast_text._on_like(told) == f"it came {full}"
    assert forecast_several._made_so(made) == short


@pytest.mark.parametrize(
    ("others", "said"),
    [
        (1, "1 other fault can come too; your tiles tell no chance of it (--all)."),
        (14, "14 other faults can come too; your tiles tell no chance of them (--all)."),
    ],
)
def test_how_many_more_faults_can_come_is_counted_in_the_singular_too(others, said):
    assert forecast_untold.can_come(others) == said

"""Faults that do not stand out, but came on half of the tiles with the very same layers."""

from types import SimpleNamespace

import pytest

from tiles.cli import forecast_text


@pytest.mark.parametrize(
    ("seen", "areas", "is_minded"), [(1, 2, True), (1, 3, False), (3, 3, True), (0, 0, False)]
)
def test_a_fault_that_came_on_half_of_the_very_same_layers_is_minded(
    monkeypatch, seen, areas, is_minded
):
    told = SimpleNamespace(layers_seen=seen, layers_areas=areas)
    monkeypatch.setattr(forecast_text, "more_than_usual", lambda _told: [])
    assert forecast_text.minded([told]) == [told] * is_minded
    monkeypatch.setattr(forecast_text, "more_than_usual", lambda found: found)
    assert forecast_text.minded([told]) == []

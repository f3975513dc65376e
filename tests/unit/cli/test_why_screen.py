"""The screen of ``tiles why`` where there is nothing to explain."""

from tiles.cli import why_screen
from tiles.records import forms


def test_a_tile_without_a_diagnosis_is_told_in_a_line():
    record = forms.read(forms.TileRecord, {"mark": "M-1", "body": "red earthenware"})
    told = why_screen.lines(record, [])
    assert told[0].startswith("M-1: red earthenware")
    assert told[-1] == "In full: tiles why M-1 --all"

"""Which areas of a tile have nothing on them, where others have."""

import pytest

from tiles.cli import entry, notices
from tiles.records import forms


@pytest.mark.parametrize(
    ("glazes", "said"),
    [(["pond green@2"], "area 1"), (["pond green@3"], "areas 1 and 2"), (["pond green"], "")],
)
def test_log_says_which_areas_have_nothing_on_them(capsys, glazes, said):
    areas = entry.areas(glazes)
    notices.tell_bare(forms.read(forms.TileRecord, {"mark": "N-1", "body": "red", "areas": areas}))
    told = f"Note: nothing is on {said} of N-1, the bare clay.\n" if said else ""
    assert capsys.readouterr().err == told

"""The tiles of one glaze by the version of its recipe; the tiles are invented."""

import pytest

from diagnose.comparing.by_version import by_version
from diagnose.comparing.counted import Counted
from diagnose.comparing.over_tiles import over_tiles
from tiles.records import forms

LINES = {1: ("kaolin", 20.0), 2: ("calcined kaolin", 17.2), 3: ("Kaolin", 20.0)}


def _tile(mark, version, failed, thickness_mm=None):
    layer = {"glaze": {"name": "white", "kind": "recipe"}, "thickness_mm": thickness_mm}
    if version:
        material, parts = LINES[version]
        lines = [{"material": "silica", "parts": 30.0}, {"material": material, "parts": parts}]
        layer["recipe"] = {"version": version, "lines": lines}
    look = {"inspected_on": "2026-05-01", "defects": [{"defect": "crawling"}] if failed else []}
    return forms.read(
        forms.TileRecord,
        {
            "mark": mark,
            "body": "buff",
            "areas": [{"number": 1, "layers": [layer]}],
            "inspections": [look],
        },
    )


def _records(*groups):
    """Each group: version, failed, sound, thickness."""
    found = []
    for at, (version, failed, sound, *thick) in enumerate(groups):
        for number in range(failed + sound):
            found.append(_tile(f"T{at}-{number}", version, number < failed, *thick))
    return found


def _told(*groups):
    records = _records(*groups)
    areas = [
        Counted(each, each.areas[0], bool(each.inspections[0].defects), "white") for each in records
    ]
    return by_version(areas, "crawling")


def test_each_version_is_counted_with_what_chance_would_do():
    """7 of 9 and 0 of 6: C(9,7)/C(15,7) = 36 / 6435, no other split being as unlikely or more
    than that but 0 and 1 of 9 (0 and 1 of which cannot be, 6 at most being in the other group):
    1 of 9 and 6 of 6 has 9 / 6435. Together 45 / 6435 = 1 in 143."""
    assert _told((1, 7, 2), (2, 0, 6)) == (
        "By version of its recipe: version 1: 7 of 9 tiles crawled; version 2: 0 of 6 "
        "(chance would do this about 1 time in 143)."
    )


def test_versions_of_the_same_lines_are_one():
    told = _told((1, 2, 1), (3, 1, 1), (2, 0, 3))
    assert told.startswith(
        "By version of its recipe: versions 1 and 3: 3 of 5 tiles crawled; version 2: 0 of 3"
    )


@pytest.mark.parametrize("groups", [[(1, 3, 3)], [(1, 2, 1), (3, 1, 2)], [(1, 2, 2), (None, 1, 3)]])
def test_one_version_alone_is_not_told(groups):
    assert _told(*groups) == ""


def test_what_may_be_chance_says_so():
    assert _told((1, 1, 2), (2, 0, 3)).endswith("(this may be chance).")


def test_a_clear_difference_in_the_coat_is_held_alike():
    """All of version 1 with a thick coat failed, none of version 2 with one as thick did.

    Thick side 8 of 8 and 0 of 4: C(12,8) = 495 ways, all as dealt; the thin side has no failure.
    """
    found = over_tiles(
        _records((1, 8, 0, 1.4), (2, 0, 4, 1.4), (1, 0, 8, 0.7), (2, 0, 6, 0.7)),
        "white",
        "crawling",
    )
    assert found.differences[0].name == "thickness_mm" and found.differences[0].is_firm
    assert found.versions == (
        "By version of its recipe: version 1: 8 of 16 tiles crawled; version 2: 0 of 10. Of those "
        "with a dry coat of 1.4 mm or more: version 1: 8 of 8 tiles crawled; version 2: 0 of 4 "
        "(chance would do this about 1 time in 495)."
    )
    assert found.as_dict()["versions"] == found.versions


def test_over_tiles_of_all_glazes_no_version_is_told():
    assert over_tiles(_records((1, 4, 3), (2, 0, 6)), None, "crawling").versions == ""

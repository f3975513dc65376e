"""A record in words."""

import pytest

from tiles.records import forms
from tiles.records.spoken import spoken_areas, spoken_bisque

SLIP = {"glaze": "white slip", "coats": 2}


def green(**values):
    return {"glaze": "pond green", **values}


@pytest.mark.parametrize(
    ("areas", "said"),
    [
        ([[green(coats=1)], [green(coats=1)]], "pond green x1"),
        ([[green(coats=1)], [green(coats=1)], [green(coats=2)]], "pond green x1 | x1 | x2"),
        ([[green(coats=2)], [green(thickness_mm=0.8)]], "pond green x2 | 0.8 mm"),
        ([[green(coats=2)], [green()]], "pond green x2 | pond green"),
        ([[SLIP, green(coats=1)], [SLIP, green(coats=2)]], "white slip x2 + pond green x1 | x2"),
        ([[SLIP], [green(coats=2)]], "white slip x2 | pond green x2"),
        ([[green(coats=1)], []], "pond green x1 | no glaze"),
    ],
)  # fmt: skip
def test_areas_are_told_in_their_order_and_what_they_share_once(areas, said):
    tile = {"mark": "M-1", "body": "red earthenware"}
    tile["areas"] = [{"number": at, "layers": each} for at, each in enumerate(areas, start=1)]
    assert spoken_areas(forms.read(forms.TileRecord, tile).areas) == said


def test_a_bisque_with_a_peak_alone_is_told_with_about_which_cone_that_is():
    # CONE-CHART-2016 at 60 C/h: cone 08 942 C, 07 976 C.
    bisque = {"name": "B1", "kind": "bisque", "peak_c": 943}
    record = forms.read(forms.TileRecord, {"mark": "P-1", "body": "red", "bisque_firing": bisque})
    assert spoken_bisque(record) == "B1 (peak 943 C, by that about cone 08; no cone on record)"
    for known in ({"target_cone": "07"}, {"witness_cones": [{"cone": "07"}]}):
        fired = forms.read(forms.FiringRecord, bisque | known)
        told = spoken_bisque(record.model_copy(update={"bisque_firing": fired}))
        assert told.endswith(" cone 07)")
    assert spoken_bisque(record.model_copy(update={"bisque_cone": "06"})) == "cone 06, B1"

"""A record in words."""

import pytest

from tiles.records import forms
from tiles.records.spoken import spoken_areas

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

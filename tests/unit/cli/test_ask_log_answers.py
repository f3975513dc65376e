"""The layers of a tile as ``tiles log`` offers them, read back as the very same areas."""

import pytest

from tiles.cli.ask_log_answers import read_bisque, spoken_glaze
from tiles.records import forms


def areas(*columns):
    return [
        forms.read(forms.AreaRecord, {
            "number": number,
            "layers": [{"glaze": name, "coats": coats} for name, coats in layers],
        })
        for number, layers in enumerate(columns, start=1)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("columns", "glaze", "coats"),
    [
        ([[("slip", 2), ("green", 3)]], "slip=2 + green", "3"),
        ([[("green", None)]], "green", None),
        ([[("green", 1)], [("green", 2)], [("green", 3)]], "green", "1,2,3"),
        ([[("green", 1)], [("green", None)]], "green", "1,"),
        ([[("green", 2)], [("green", 2)]], "green", "2,2"),
        ([[("green", None)], [("green", None)]], "green@1 + green@2", None),
        (
            [[("blue", 1), ("clear", 2)], [("coral", 2), ("clear", 2)], [("clear", 2)]],
            "blue=1@1 + coral=2@2 + clear", "2,2,2",
        ),
        (
            [[("slip", 1), ("blue", 1), ("clear", 2)], [("slip", 1), ("clear", 1)]],
            "slip=1 + blue=1@1 + clear", "2,1",
        ),
        ([[("red", 2)], [("green", 3)]], "red=2@1 + green=3@2", None),
        ([[], [("green", 3)]], "green=3@2", None),
        ([[("green", 3)], []], None, None),  # how many areas there are cannot be typed so
        ([[("a + b", 3)]], None, None),
        ([[]], None, None),
    ],
)  # fmt: skip
def test_all_areas_are_offered_as_they_are_typed_or_none(columns, glaze, coats):
    assert spoken_glaze(areas(*columns)) == (glaze, coats)


def test_a_bisque_is_typed_by_its_cone_its_firing_or_both():
    assert read_bisque("^04") == {"bisque_cone": "04"}
    assert read_bisque("B1, first") == {"bisque_firing": "B1, first"}
    assert read_bisque("04, B1") == {"bisque_cone": "04", "bisque_firing": "B1"}

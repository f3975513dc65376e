"""Witness cones as a sheet, an option and the walk of a load write them."""

import pytest

from tiles.errors import InvalidValue
from tiles.records.witness_text import read_witness_cones

TWO = [("unten", "05"), ("oben", "04")]


@pytest.mark.parametrize(
    "text",
    [
        "unten=05; oben=04", "unten=05, oben=04", "unten=^05,oben=^04", "unten=05 / oben=04",
        "05@unten, 04@oben", "05@unten; 04@oben", "05@unten 04@oben", "05@unten / 04@oben",
    ],
)  # fmt: skip
def test_each_shelf_keeps_its_own_cone_whatever_parts_them(text):
    assert read_witness_cones(text) == TWO


@pytest.mark.parametrize(
    ("text", "shelf"),
    [
        ("left, back=05", "left, back"),
        ("05@left, back", "left, back"),
        ("my @shelf=05", "my @shelf"),
        ("05", None),
    ],
)
def test_a_comma_is_part_of_a_name_where_no_reading_follows(text, shelf):
    assert read_witness_cones(text) == [(shelf, "05")]


@pytest.mark.parametrize(
    "text",
    [
        "unten=05 oben=04", "unten=05, oben", "unten=05, 04@oben", "05@unten, oben=04",
        "05, oben=04", "05@oben, 04", "unten=5,5", "1, 2=05", "=05", "05@",
    ],
)  # fmt: skip
def test_no_shelf_is_called_by_another_reading(text):
    with pytest.raises(InvalidValue, match="05, 05@top or top=05"):
        read_witness_cones(text)

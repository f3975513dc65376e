"""What a glaze's name gives away, where nothing better is recorded."""

import pytest

from diagnose.measures.of_area import measures
from tiles.records.forms import TileRecord


def finish(**glaze):
    layer = {"glaze": {"name": "plum", **glaze}}
    record = {"mark": "T-1", "body": "red", "areas": [{"number": 1, "layers": [layer]}]}
    found = measures(TileRecord.model_validate(record))
    return found["finish"].value if "finish" in found else None


@pytest.mark.parametrize(
    "glaze, expected",
    [
        ({"name": "plum clear"}, "clear"),
        ({"colour": "transparent"}, "clear"),
        ({"name": "Honey Matte"}, "matt"),
        ({"name": "plum clear", "colour": "clear"}, "clear"),
        ({"name": "plum clear", "finish": "satin"}, "satin"),
        ({"name": "clear matt"}, None),
        ({"name": "clearwater"}, None),
    ],
)
def test_a_finish_is_read_from_the_name_only_where_none_is_recorded_and_one_is_named(
    glaze, expected
):
    assert finish(**glaze) == expected


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["speckled white", "plum"], "the slip is called speckled white"),
        (["white", "granite plum"], "the glaze is called granite plum"),
    ],
)
def test_the_speckled_layer_is_named_wherever_it_lies(names, said):
    roles = ("slip", "glaze")
    layers = [{"glaze": {"name": n, "role": r}} for n, r in zip(names, roles, strict=True)]
    record = {"mark": "T-1", "body": "red", "areas": [{"number": 1, "layers": layers}]}
    assert measures(TileRecord.model_validate(record))["speckled_glaze"].said == said

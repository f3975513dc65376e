"""The layers of a tile with one edit made: nothing that belongs to the old layer stays."""

import pytest

from diagnose.fixes.layers import layers_with
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import POND
from tiles.records import forms


def view():
    coloured = {"role": "underglaze"}
    layers = [
        {"glaze": {"name": "leaf"} | coloured, "coats": 1, "applied_on": "greenware"},
        {"glaze": {"name": "coral"} | coloured, "coats": 2, "batch": {"name": "May"}},
        {"glaze": POND, "coats": 3, "thickness_mm": 0.9, "method": "brush",
         "batch": {"name": "old"}, "recipe": {"version": 1, "lines": [
             {"material": "silica", "parts": 100}]}},
    ]  # fmt: skip
    record = forms.read(forms.TileRecord, {
        "mark": "T-1", "body": "red", "areas": [{"number": 1, "layers": layers}],
    })  # fmt: skip
    return View(record, record.areas[0])


def after(edit):
    """Glaze, coats, thickness, method, batch, what it was put on and whether a recipe is known."""
    found = layers_with(
        view(), edit, lambda name: (forms.GlazeRecord(name=name), None),
        lambda name: forms.BatchRecord(name=name),
    )  # fmt: skip
    return [
        (x.glaze.name, x.coats, x.thickness_mm, x.method, x.batch and x.batch.name, x.applied_on,
         bool(x.recipe))
        for x in found
    ]  # fmt: skip


LEAF, CORAL, TOP = BEFORE = after({})


@pytest.mark.parametrize(
    ("edit", "layers"),
    [
        ({"hold": 10}, BEFORE),
        ({"bare": True}, [TOP]),
        ({"under": "sky"}, [LEAF, ("sky", 2, None, None, None, None, False), TOP]),
        ({"colour_on": "bisque"}, [LEAF, (*CORAL[:5], "bisque", False), TOP]),
        ({"colour_coats": 1.0}, [LEAF, ("coral", 1, *CORAL[2:]), TOP]),
        ({"glaze": "moss"}, [LEAF, CORAL, ("moss", 3, 0.9, "brush", None, None, False)]),
        ({"batch": "new"}, [LEAF, CORAL, ("pond", 3, 0.9, "brush", "new", None, True)]),
        ({"clear": "clear"}, [*BEFORE, ("clear", 1, None, None, None, None, False)]),
        ({"bisque_cone": "04"}, [(*LEAF[:5], "bisque", False), CORAL, TOP]),
    ],
)
def test_one_edit_changes_one_layer_and_what_hangs_on_it(edit, layers):
    assert after(edit) == layers


def test_a_recipe_of_another_version_is_not_from_the_jar_of_this_one():
    other = forms.RecipeRecord.model_validate({"lines": [{"material": "silica", "parts": 90}]})
    assert after({"recipe": other}) == [LEAF, CORAL, (*TOP[:4], None, None, True)]

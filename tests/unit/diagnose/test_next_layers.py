"""Layers as a change: two glazes the other way round, another clear over a colour."""

import pytest

from diagnose.changed import changed
from diagnose.fixes.bench import Bench
from diagnose.fixes.shapes import KILN, ORDER
from diagnose.fixes.steps_coat import other_order
from diagnose.fixes.trials import step_trial
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.own_tiles.pair import own_pair
from diagnose.report import why
from diagnose.view import View
from tests.unit.diagnose.test_comparison import tile
from tiles.cli import next_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms

LABEL = {"cone_low": "06", "cone_high": "04"}
BLUE, TIN = {"name": "blue", **LABEL}, {"name": "tin", **LABEL}
CLEARS = [{"name": name, "finish": "clear", **LABEL} for name in ("zinc clear", "soft clear")]
PINK = {"name": "pink", "role": "underglaze", "colour": "pink"}
CLAYS = [{"name": each, "kind": "earthenware", **LABEL} for each in ("red", "white")]


def laid(number, *layers, alone=(), failed=(), defect="crawling", **more):
    """A tile with these layers on area 1 and one glaze alone on each further one."""
    areas = [[{"glaze": each, "coats": 2} for each in layers]]
    areas += [[{"glaze": each, "coats": 2}] for each in alone]
    seen = [{"defect": defect, "area": at, "severity": "severe"} for at in failed]
    values = {
        "body": CLAYS[0],
        "bisque_cone": "04",
        "cone_reached": "05",
        "areas": [{"number": at, "layers": each} for at, each in enumerate(areas, start=1)],
        "inspections": [{"inspected_on": "2024-05-01", "defects": seen}],
    }
    return tile(number, **(values | more))


def owned(*glazes):
    return Owned(
        [forms.BodyRecord.model_validate(each) for each in CLAYS],
        [forms.GlazeRecord.model_validate(each) for each in glazes],
    )


def marked(found):
    return [Marked(f"N-{n}", found.defect, each) for n, each in enumerate(found.trials)]


def asked(record, stock, others=(), defect="crawling"):
    return next_tiles(why(record, defect, others)[0], stock, others=[record, *others])


@pytest.mark.parametrize(
    ("failed", "turned", "is_first"),
    [((1,), (), True), ((1, 3), (), False), ((1,), (1,), False)],
)
def test_a_fault_of_the_overlap_alone_has_its_glazes_turned_first(failed, turned, is_first):
    record = laid(1, TIN, BLUE, alone=(TIN, BLUE), failed=failed)
    found = asked(record, owned(BLUE, TIN), [laid(2, BLUE, TIN, failed=turned)])
    change = "order of the glazes blue over tin -> tin over blue"
    assert (found.tiles[0].trial.change == change) is is_first
    assert (change in [each.trial.change for each in found.tiles]) is is_first
    assert any(each.startswith(change) for each in found.made) is bool(turned)


def test_the_tile_with_its_glazes_turned_keeps_their_coats_and_where_the_lower_one_was_damp():
    record = laid(1, TIN, BLUE)
    record.areas[0].layers[0].coats, record.areas[0].layers[1].beneath = 3, "damp"
    view = View(record, record.areas[0])
    made = other_order(Bench(view, "", ""))
    then = changed(view, made, owned()).areas[0].layers
    trial = step_trial(Bench(view, "", ""), made).tile["areas"][0]["layers"]
    for layers in (
        [(each.glaze.name, each.coats, each.beneath) for each in then],
        [(each["glaze"]["name"], each["coats"], each.get("beneath")) for each in trial],
    ):
        assert layers == [("blue", 2, None), ("tin", 3, "damp")]
    turned = View(changed(view, made, owned()), area=None)
    assert own_pair([record], View(turned.record, turned.record.areas[0])).here_turned
    assert other_order(Bench(View(record, laid(2, TIN, TIN).areas[0]), "", "")) is None
    assert made.changes[0].what == ORDER


def test_two_glazes_that_ran_are_not_turned():
    record = laid(1, TIN, BLUE, alone=(TIN, BLUE), failed=(1,), defect="running")
    found = asked(record, owned(BLUE, TIN), defect="running")
    assert not any(each.kind == ORDER for each in found.tiles)


@pytest.mark.parametrize("finish", ["clear", None])
def test_over_a_colour_that_shifted_another_clear_is_tried_and_nothing_that_hides_it(finish):
    how = {"failed": (1,), "defect": "colour shift"}
    clears = [each | {"finish": finish} for each in CLEARS]  # without one their names tell
    record = laid(1, PINK, clears[0], **how)
    glazes = (PINK, *clears, BLUE)
    sound = laid(2, PINK, clears[1])
    on_white = laid(3, PINK, clears[0], body=CLAYS[1], **how)
    found = asked(record, owned(*glazes), [sound, on_white], "colour shift")
    changes = [each.trial.change for each in found.tiles]
    assert changes[0] == "glaze zinc clear -> soft clear"
    assert "glaze zinc clear -> blue" not in changes
    assert found.made == ["body red -> white (T-3)"]


def test_where_own_tiles_of_one_kiln_are_sound_that_kiln_is_tried_first():
    def fired(number, kiln, failed):
        firing = {"name": f"F-{kiln}", "kiln": kiln, "target_cone": "05"}
        return laid(number, BLUE, failed=failed, defect="unwanted matt", firing=firing)

    others = [fired(n, "big", (1,)) for n in range(2, 10)]
    others += [fired(n, "small", ()) for n in range(10, 18)]
    record = fired(1, "big", (1,))
    found = asked(record, owned(BLUE, TIN), others, "unwanted matt")
    assert found.tiles[0].kind == KILN
    assert (found.tiles[0].own_firing, found.kiln) == ("in kiln small", "kiln big")
    assert "In kiln big, as then." in found.control.tile["note"]
    elsewhere = found.tiles[0].trial.tile["note"]
    assert "kiln big" not in elsewhere and "Fire it in kiln small." in elsewhere
    screen = "\n".join(next_text.screen(found, marked(found), is_planned=False))
    assert "Fire side by side in kiln big, one change each:" in screen
    alone = asked(record, owned(BLUE, TIN), others[:8], "unwanted matt")
    assert alone.kiln == ""

"""Steps that need no recipe: figures come from the tile, and no cone leaves the label."""

from dataclasses import replace
from itertools import product

import pytest

from diagnose import rules
from diagnose.fixes.bench import Bench
from diagnose.fixes.steps import STEPS, steps_for
from diagnose.fixes.steps_coat import thicker, thinner
from diagnose.view import View
from tiles.chemistry import slip
from tiles.chemistry.cones import in_range
from tiles.records import forms, words

JAR = {
    "name": "pond green",
    "kind": "jar",
    "role": "glaze",
    "finish": "gloss",
    "cone_low": "06",
    "cone_high": "04",
}
COLOUR = {"name": "leaf", "role": "underglaze"}
OTHER_BODIES = [
    forms.BodyRecord(name="white school clay", cone_low="06", cone_high="03"),
    forms.BodyRecord(name="talc white", cone_low="06", cone_high="03", expansion_ppm_per_k=8.1),
    forms.BodyRecord(name="stoneware", cone_low="5", cone_high="7", expansion_ppm_per_k=5.9),
]
CLEAR = forms.GlazeRecord(name="studio clear", finish="clear", cone_low="06", cone_high="04")
BATCHES = [forms.BatchRecord(name="May jar")]


def _bench(cause, *, defect="crawling", bodies=OTHER_BODIES, glazes=(CLEAR,), **changes):
    layer = {"glaze": JAR, "coats": 4, "thickness_mm": 1.6, "method": "dip"} | changes.pop(
        "layer", {}
    )
    layers = [*changes.pop("below", []), layer]
    values = {
        "mark": "M-41",
        "body": {"name": "red earthenware", "cone_low": "06", "cone_high": "02"},
        "bisque_cone": "08",
        "firing": {"name": "F1", "target_cone": "05"},
        "cone_reached": "05",
        "areas": [{"number": 1, "layers": layers}],
    }
    record = forms.read(forms.TileRecord, values | changes)
    view = View(record, record.areas[0], defect)
    setting = changes.pop("setting", "low_fire")
    return Bench(view, cause, setting, bodies, glazes, batches=BATCHES)


def _changes(cause, **changes):
    return {
        each.what: (each.before, each.after)
        for step in steps_for(_bench(cause, **changes))
        for each in step.changes
    }


def test_a_thick_coat_is_thinned_by_the_tiles_own_thickness_a_coat():
    found = _changes("coat_too_thick")
    assert found["coats"] == (4, 2)
    assert found["dry coat"] == (1.6, 0.8)


@pytest.mark.parametrize(("method", "fewer"), [("brush", 3), ("dip", 1)])
def test_without_a_thickness_down_to_the_usual_coats_of_the_method(method, fewer):
    found = _changes("coat_too_thick", layer={"thickness_mm": None, "method": method})
    assert found == {"coats": (4, fewer)}


@pytest.mark.parametrize(
    "finish, coats, after", [("gloss", 6, 3), ("gloss", 3, 2), ("clear", 5, 2), ("clear", 2, 1)]
)
def test_many_coats_of_unknown_thickness_come_down_to_the_usual_at_once(finish, coats, after):
    layer = {"glaze": JAR | {"finish": finish}, "coats": coats, "thickness_mm": None}
    layer |= {"method": "brush"}
    assert _changes("coat_too_thick", layer=layer)["coats"] == (coats, after)


def test_bare_clay_gets_no_thinner_or_thicker_coat():
    bench = _bench("coat_too_thin")
    bare = bench.view.area.model_copy(update={"layers": []})
    record = bench.view.record.model_copy(update={"areas": [bare]})
    bench = replace(bench, view=View(record, bare, "crawling"))
    assert thicker(bench) is None and thinner(bench) is None


def test_a_fired_thickness_counts_as_twice_itself_dry():
    found = _changes("coat_too_thick", layer={"thickness_mm": None, "fired_thickness_mm": 0.8})
    assert found["dry coat"] == (1.6, 0.8)


def test_a_coat_that_is_thin_already_is_thinned_by_a_quarter_only():
    found = _changes("coat_too_thick", layer={"thickness_mm": 0.8})
    assert found["dry coat"] == (0.8, 0.6)


@pytest.mark.parametrize(
    ("cause", "clue", "what", "before"),
    [
        ("dirty_bisque", {"bisque_wiped": "no"}, "bisque wiped with a damp sponge", "no"),
        ("coats_left_dry", {"coats_left_powder_dry": "yes"},
         "coat beneath when the next goes on", "powder-dry"),
    ],
)  # fmt: skip
def test_a_clue_of_the_area_is_told_as_before_and_goes_before_that_of_the_tile(
    cause, clue, what, before
):
    ((name, answer),) = clue.items()
    other = {name: "no" if answer == "yes" else "yes"}
    areas = [{"number": 1, "layers": [{"glaze": JAR}], "clues": clue}]
    for of_tile in ({}, other):
        assert _changes(cause, areas=areas, clues=of_tile)[what][0] == before


@pytest.mark.parametrize("finish", ["clear", "gloss", "matt"])
def test_coats_and_millimetres_agree_and_stay_in_the_usual_range(finish):
    for coats, thickness in product(range(2, 8), (0.5, 0.6, 0.7, 0.9, 1.2, 1.6, 2.2)):
        _check_thinner(finish, coats, thickness)


def _check_thinner(finish, coats, thickness):
    layer = {"glaze": JAR | {"finish": finish}, "coats": coats, "thickness_mm": thickness}
    found = _changes("coat_too_thick", layer=layer)
    if not found:
        assert thickness < 0.56, "only a coat that is thin already is left alone"
        return
    assert not ("each coat" in found and "coats" in found), "a trial changes one of the two"
    each = found.get("each coat", (0, thickness / coats))[1]
    many = found.get("coats", (0, coats))[1]
    assert many <= coats and each <= thickness / coats
    if found.keys() & {"each coat", "coats"}:  # else each goes down by less than can be brushed
        assert many * each == pytest.approx(found["dry coat"][1], abs=0.051 * many)
    for what in found.keys() - {"coats"}:
        assert round(found[what][1], 1) == found[what][1] != round(found[what][0], 1), what
    assert 0.5 <= found["dry coat"][1] <= 1.1
    assert found["dry coat"][1] < thickness


FOLLOWS = {"dry coat", "each coat", "specific gravity"}
"""The millimetres of a coat, and the slop that lays it down: the same as what was named first."""
RECORDS = [
    {"firing": {"name": "F", "hold_min": 0, "rate_c_per_h": 200, "opened_c": 300,
                "target_cone": "06"},
     "bisque_firing": {"name": "B", "rate_c_per_h": 200, "hold_min": 0}, "cone_reached": "02"},
    {"layer": {"coats": 2, "thickness_mm": 0.6, "method": "dip",
               "batch": {"name": "B", "specific_gravity": 1.5}}},
    {"layer": {"coats": 5, "thickness_mm": 0.3, "method": "spray"}},
    {},
]  # fmt: skip


@pytest.mark.parametrize("cause", STEPS)
def test_a_step_changes_one_thing(cause):
    for changed in RECORDS:
        for made in steps_for(_bench(cause, **changed)):
            assert {each.what for each in made.changes[1:]} <= FOLLOWS, made
            assert {"coats", "each coat"} - {each.what for each in made.changes}, made


def test_an_opaque_white_is_not_left_with_fewer_coats_than_cover():
    white = {"glaze": JAR | {"colour": "white"}, "coats": 2, "thickness_mm": 1.1}
    found = _changes("coat_too_thick", layer=white)
    assert "coats" not in found and found["dry coat"] == (1.1, 0.8)


def test_an_opaque_white_is_not_thinned_below_what_covers():
    white = {"glaze": JAR | {"colour": "white"}, "coats": None, "thickness_mm": 0.7}
    assert _changes("coat_too_thick", layer=white)["dry coat"] == (0.7, 0.6)


def test_nothing_known_of_the_coat_gives_no_figures():
    bare = {"coats": None, "thickness_mm": None}
    assert steps_for(_bench("coat_too_thick", layer=bare)) == []
    assert steps_for(_bench("coat_too_thick", areas=[])) == []


def test_a_thin_coat_gets_more():
    found = _changes("coat_too_thin", layer={"coats": 1, "thickness_mm": 0.3})
    assert found["coats"] == (1, 2)
    assert found["dry coat"] == (0.3, 0.6)


def test_a_cool_bisque_goes_to_04_and_no_hotter_than_the_body_stands():
    assert _changes("bisque_too_cool")["bisque cone"] == ("08", "04")
    body = {"name": "soft red", "cone_low": "08", "cone_high": "05"}
    assert _changes("bisque_too_cool", body=body)["bisque cone"] == ("08", "05")


def test_a_bisque_that_is_hot_enough_is_left_alone():
    assert steps_for(_bench("bisque_too_cool", defect="pinholes", bisque_cone="03")) == []


def test_where_a_soft_bisque_took_too_much_fewer_coats_serve_as_well():
    found = [each.key for each in steps_for(_bench("bisque_too_cool"))]
    assert found == ["hotter_bisque", "thinner"]


@pytest.mark.parametrize(
    ("cause", "reached", "target", "aim"),
    [
        ("overfired", "03", "05", "05"),
        ("kiln_short", "07", "05", "05"),
        ("overfired", "1", "02", "04"),
        ("above_its_range", "02", "02", "04"),
        ("below_its_range", "010", "010", "06"),
        ("below_its_range", "06", "06", "05"),
        ("cone_mix_up", "5", "5", "04"),
        ("red_burnt_out", "04", "04", "06"),
    ],
)
def test_the_cone_advised_lies_within_the_label(cause, reached, target, aim):
    firing = {"name": "F1", "target_cone": target}
    found = _changes(cause, cone_reached=reached, firing=firing)
    assert found["cone reached"] == (reached, aim)
    assert in_range(aim, "06", "04")


def test_a_longer_hold_and_a_slower_end_are_two_steps():
    firing = {"name": "F1", "hold_min": 0, "rate_c_per_h": 150}
    longer, slower = steps_for(_bench("fast_or_no_hold", firing=firing))
    assert [each.said for each in longer.changes] == ["hold at the top 0 -> 15 min"]
    assert [each.said for each in slower.changes] == ["last 100 °C 150 -> 65 °C/h"]


@pytest.mark.parametrize(
    ("held", "rate", "told"),
    [
        (0, 150, "with 15 min hold"),
        (30, 150, "at 65 °C/h over the last 100 °C"),
        (0, 60, "with 15 min hold"),
    ],
)
def test_a_trial_is_fired_as_its_changes_say_and_never_with_a_shorter_hold(held, rate, told):
    firing = {"name": "F1", "hold_min": held, "rate_c_per_h": rate}
    (step, *_rest) = steps_for(_bench("fast_or_no_hold", firing=firing))
    assert step.firing == told


def test_a_long_hold_is_cut():
    firing = {"name": "F1", "hold_min": 60}
    assert _changes("hold_too_long", firing=firing) == {"hold at the top": (60, 10)}


def test_another_body_stands_the_cone_and_crazing_wants_the_one_that_shrinks_most():
    (step, *_rest) = steps_for(_bench("poor_fit", defect="crazing"))
    assert step.edit == {"body": "talc white"}


def test_without_another_body_none_is_advised():
    assert steps_for(_bench("lime_grains", bodies=())) == []


def test_a_clear_is_taken_from_the_record_when_it_matures_at_the_cone():
    assert steps_for(_bench("wash_without_flux"))[0].edit == {"clear": "studio clear"}
    hot = steps_for(_bench("wash_without_flux", cone_reached="6"))[0]
    assert hot.edit == {}
    by_name = CLEAR.model_copy(update={"finish": None})
    assert steps_for(_bench("wash_without_flux", glazes=(by_name,)))[0].edit == {
        "clear": "studio clear"
    }
    slip = by_name.model_copy(update={"role": "slip"})
    assert steps_for(_bench("wash_without_flux", glazes=(slip,)))[0].edit == {}


@pytest.mark.parametrize("label", [{"name": "studio clear"}, {"name": "pool", "colour": "clear"}])
def test_a_jar_called_clear_comes_down_to_the_coat_of_a_clear(label):
    glaze = {"name": "any", "cone_low": "06", "cone_high": "04"} | label
    layer = {"glaze": glaze, "coats": 5, "thickness_mm": None, "method": "brush"}
    assert _changes("coat_too_thick", layer=layer)["coats"] == (5, 2)
    layer["thickness_mm"] = 1.0
    assert _changes("coat_too_thick", layer=layer)["dry coat"] == (1.0, 0.6)


UNDER_CLEAR = {
    "defect": "colour shift",
    "below": [{"glaze": COLOUR, "coats": 2}],
    "layer": {"glaze": CLEAR.model_dump() | {"name": "zinc clear"}},
}


def _for(cause):
    """A tile on which the first steps of the cause can be worked out."""
    special = {
        "coat_too_thick": {"layer": {"batch": {"name": "B", "specific_gravity": 1.6}}},
        "coat_too_thin": {
            "layer": {
                "coats": 1,
                "thickness_mm": 0.3,
                "batch": {"name": "B", "specific_gravity": 1.3},
            }
        },
        "colour_beneath": {"below": [{"glaze": COLOUR, "coats": 5, "applied_on": "bisque"}]},
        "colour_fluxes": {
            "below": [{"glaze": COLOUR, "coats": 5}],
            "glazes": [forms.GlazeRecord.model_validate(COLOUR | {"name": "rose"})],
        },
        **dict.fromkeys(("chrome_tin_base", "zinc_chrome_brown"), UNDER_CLEAR),
        "overlap": {"below": [{"glaze": JAR | {"name": "rain blue"}, "coats": 2}]},
        "glaze_beneath": {"below": [{"glaze": JAR | {"name": "rain blue"}, "coats": 2}]},
        "bisque_too_dense": {"bisque_cone": "1"},
        "overfired": {
            "cone_reached": "03",
            "firing": {"name": "F", "target_cone": "05", "hold_min": 40},
        },
        "fast_or_no_hold": {"firing": {"name": "F", "rate_c_per_h": 150}},
        "trapped_bubbles": {"firing": {"name": "F", "rate_c_per_h": 150}},
        "no_time_for_crystals": {"firing": {"name": "F", "opened_c": 280}},
        "hold_too_long": {"firing": {"name": "F", "hold_min": 40}},
        "red_burnt_out": {"cone_reached": "04", "firing": {"name": "F", "hold_min": 40}},
        "stain_past_limit": {"cone_reached": "04"},
        "kiln_short": {"cone_reached": "07"},
        "cone_mix_up": {"cone_reached": "5"},
        "record_contradicts": {"cone_reached": "5"},
        "above_its_range": {"cone_reached": "02"},
        "below_its_range": {"cone_reached": "09"},
    }
    return special.get(cause, {})


@pytest.mark.parametrize("cause", STEPS)
def test_every_step_can_be_proposed_for_some_tile(cause):
    bench = _bench(cause, **_for(cause))
    no_other_jar = replace(bench, batches=())
    for step in [make(bench) or make(no_other_jar) for make in STEPS[cause]]:
        assert step is not None
        assert step.changes
        assert all(each.said and each.after != each.before for each in step.changes)


def test_no_step_touches_a_recipe():
    for cause in STEPS:
        for step in steps_for(_bench(cause, **_for(cause))):
            assert set(step.edit) <= {
                *(
                    "coats",
                    "colour_coats",
                    "colour_on",
                    "bisque_cone",
                    "body",
                    "clear",
                    "glaze",
                    "turned",
                    "alone",
                    "bare",
                    "batch",
                    "slop",
                    "beneath",
                    "under",
                    "cooled_slowly",
                )
            }


def test_the_usual_coat_of_the_causes_is_that_of_tiles_slip():
    books = [rules.load(defect) for defect in words.DEFECTS]
    signs = [sign for book in books for cause in book.causes for sign in cause.signs]
    said = {s.usual for s in signs if s.measure == "thickness_mm" and " for a " not in s.usual}
    assert said - {""} == {f"{slip.LEAST_COAT_MM} to {slip.MOST_COAT_MM} mm"}
    usual = [s.usual for s in signs if s.measure == "coats" and "brush coats" in s.usual]
    assert "3 brush coats" in usual
    assert slip.brush_coats(slip.USUAL_COAT_MM, 1.63) == 3


def test_what_was_set_over_a_label_and_not_read_is_fired_at_the_label():
    changes = _changes("red_burnt_out", defect="colour shift", cone_reached=None,
                       firing={"name": "F1", "target_cone": "03"})  # fmt: skip
    assert changes["cone reached"] == ("03 as set", "06")
    assert "cone reached" not in _changes("red_burnt_out", cone_reached=None)


def test_a_colour_under_a_clear_goes_by_its_own_label():
    red = {"glaze": {"name": "red", "role": "underglaze", "cone_low": "08", "cone_high": "06"}}
    clear = {"glaze": {**JAR, "finish": "clear"}}
    asked = {"below": [red], "layer": clear}
    changes = _changes("red_burnt_out", defect="colour shift", **asked)
    assert changes["cone reached"] == ("05", "06")
    (step,) = [
        each
        for each in steps_for(_bench("red_burnt_out", defect="colour shift", **asked))
        if each.key == "cone"
    ]
    assert step.title == "Right cone (1 cone cooler, label 08 to 06)"

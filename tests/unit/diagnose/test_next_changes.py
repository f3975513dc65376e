"""Which changes are thought of, and the tile that each would make."""

import pytest

from diagnose.changed import changed
from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.next_tiles.odds import AS_IT_WAS, Like, inspected, like
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from diagnose.trials.changes import is_borne_out
from diagnose.view import View
from tests.unit.diagnose.test_next_swaps import sound
from tests.unit.diagnose.test_next_tiles import OWNED, POND, proposed, tile
from tiles.records import forms

LEAF = {"glaze": {"name": "leaf", "role": "underglaze"}, "coats": 2}
OLD, NEW = (forms.BatchRecord(name=name) for name in ("jar A", "jar B"))
JARS = Owned(OWNED.bodies, OWNED.glazes, {}, OWNED.bisque_cones, {"pond": [NEW, OLD]})
WITHOUT = "under the glaze leaf -> nothing"


def over_leaf(defect="crawling", **made):
    record = tile(defect, **made)
    colour = forms.LayerRecord.model_validate(LEAF)
    area = record.areas[0].model_copy(update={"layers": [colour, *record.areas[0].layers]})
    return record.model_copy(update={"areas": [area]})


def of_jar(jar, record):
    layer = record.areas[0].layers[0].model_copy(update={"batch": jar})
    area = record.areas[0].model_copy(update={"layers": [layer]})
    return record.model_copy(update={"areas": [area]})


def thought_of(record, owned=OWNED):
    case = why(record)[0].case
    view = View(record, record.areas[0], case.defect)
    return view, {each.step.changes[0].said: each for each in candidates(view, case, owned)}


def test_a_tile_over_a_colour_may_be_fired_without_it():
    found = {each.trial.change: each for each in proposed(over_leaf()).tiles}
    layers = found[WITHOUT].trial.tile["areas"][0]["layers"]
    assert [each["glaze"]["name"] for each in layers] == ["pond"]
    assert layers[0]["coats"] == 3
    slid = "the underglaze, slip or oxide under the glaze let it slide"
    assert dict(found[WITHOUT].if_sound)[slid] > 2 * dict(found[WITHOUT].if_again)[slid]


@pytest.mark.parametrize(("coats", "is_many"), [(2, False), (3, False), (5, True)])
def test_one_coat_less_of_a_colour_mends_only_where_there_was_too_much_of_it(coats, is_many):
    record = over_leaf()
    record.areas[0].layers[0].coats = coats
    _, found = thought_of(record)
    less = found[f"coats of leaf beneath {coats} -> {min(coats - 1, 3)}"]
    assert ("colour_beneath" in less.acts_on) is is_many
    assert ("colour_beneath" in less.eases) is not is_many
    assert "colour_beneath" in found[WITHOUT].acts_on


@pytest.mark.parametrize("defect", ["pinholes", "blisters", "cloudiness"])
def test_whatever_its_fault_and_only_where_there_is_a_colour(defect):
    view, found = thought_of(over_leaf(defect))
    bare = changed(view, found[WITHOUT].step, OWNED)
    assert [each.glaze.name for each in bare.areas[0].layers] == ["pond"]
    assert not any(said.startswith("under the glaze") for said in thought_of(tile(defect))[1])


def test_own_tiles_without_the_colour_tell_its_chance():
    others = sound(5)
    known = {each.trial.change: each for each in proposed(over_leaf(), others=others).tiles}
    bare = {each.trial.change: each for each in proposed(over_leaf()).tiles}
    assert known[WITHOUT].like == Like(0, 5)
    assert known[WITHOUT].chance_known < 0.4 * bare[WITHOUT].chance_again


def test_fix_offers_the_tile_without_the_colour_beside_fewer_coats_of_it():
    record = over_leaf().model_copy(update={"clues": {"only_over_colour": "yes"}})
    changes = [trial.change for trial in fix(record, "crawling")[0].trials]
    assert {WITHOUT, "coats of leaf beneath 2 -> 1"} <= set(changes)


def test_the_same_from_another_jar_where_one_is_on_record():
    failed = of_jar(NEW, tile("crawling"))
    found = proposed(failed, owned=JARS)
    (jar,) = [each for each in found.tiles if each.trial.change == "batch jar B -> jar A"]
    assert jar.trial.tile["note"].startswith("Glaze from jar A. ")
    assert found.control.tile["note"].startswith("Glaze from jar B, as then. ")
    assert not any(said.startswith("batch") for said in thought_of(failed)[1])


def test_where_the_jar_was_not_noted_any_may_be_tried_and_the_soundest_first():
    bad = [each.model_copy(update={"mark": f"B-{at}"})
           for at, each in enumerate(sound(4, failed=4, defect="crawling"))]  # fmt: skip
    others = [of_jar(OLD, each) for each in sound(4)] + [of_jar(NEW, each) for each in bad]
    found = proposed(tile("crawling"), owned=JARS, others=others).tiles
    jar = next(each for each in found if each.kind == "batch")
    assert jar.trial.change == "batch: jar A (before: not recorded)"
    assert (jar.like.failed, jar.like.tiles) == (0, 4)


def test_tiles_from_another_jar_are_not_alike():
    failed, others = of_jar(NEW, tile("crawling")), [of_jar(OLD, each) for each in sound(6)]
    told = {each.trial.change: each for each in proposed(failed, owned=JARS, others=others).tiles}
    without = {each.trial.change: each for each in proposed(failed, owned=JARS).tiles}
    wiped = next(change for change in told if change.startswith("bisque wiped"))
    assert told[wiped].chance_again == without[wiped].chance_again
    assert told["batch jar B -> jar A"].chance_known < 0.3


def test_another_glaze_comes_from_no_jar_of_this_one():
    for each in proposed(of_jar(NEW, tile("pinholes")), owned=JARS).tiles:
        layer = each.trial.tile["areas"][0]["layers"][0]
        is_ours = layer["glaze"]["name"] == POND["name"]
        assert is_ours is (each.kind != "glaze") is ("Glaze from" in each.trial.tile["note"])


def in_kiln(name, many, defect, *, failed):
    firing = forms.FiringRecord(name=f"F {name}", kiln=name, target_cone="05")
    found = sound(many, failed=many if failed else 0, defect=defect)
    return [
        each.model_copy(update={"mark": f"{name}-{at}", "firing": firing})
        for at, each in enumerate(found)
    ]


def test_the_other_kiln_is_proposed_where_own_tiles_point_there():
    hot = in_kiln("little", 6, "underfired", failed=True)
    cool = in_kiln("big", 12, "underfired", failed=False)
    change = "kiln little -> big"
    told = next_tiles(why(hot[0], None, [*hot, *cool])[0], OWNED, others=[*hot, *cool])
    found = next(each for each in told.tiles if each.trial.change == change)
    assert found.own_firing == "in kiln big"
    assert "Fire it in kiln big." in found.trial.tile["note"]
    assert found.twin is not None
    assert (found.like.failed, found.like.tiles) == (0, 12) and found.chance_known < 0.2
    planned = {"mark": "T-1", "trial_of": hot[0].mark, "trial_change": change}
    trial = cool[0].model_copy(update=planned | {"trial_defect": "underfired"})
    assert why(hot[0], None, [*hot, *cool, trial])[0].case.tried[0].moves
    alike = [*hot, *in_kiln("big", 12, "underfired", failed=True)]
    told = next_tiles(why(hot[0], None, alike)[0], OWNED, others=alike)
    assert not [each for each in told.tiles if each.kind == "kiln"]


def test_tiles_of_another_kiln_tell_nothing_of_what_is_changed_in_this_one():
    hot = in_kiln("little", 6, "underfired", failed=True)
    cool = in_kiln("big", 12, "underfired", failed=False)
    one, both = (inspected(each) for each in (hot, [*hot, *cool]))
    asked = (hot[0], 1, "underfired", AS_IT_WAS)
    assert like(both, *asked) == like(one, *asked) == Like(5, 5)


def test_a_tile_that_goes_to_another_shelf_is_like_those_that_stood_there():
    there = [each.model_copy(update={"shelf": "Low"})
             for each in in_kiln("big", 4, "underfired", failed=False)]  # fmt: skip
    here = [each.model_copy(update={"mark": f"T-{at}", "shelf": "top"})
            for at, each in enumerate(in_kiln("big", 3, "underfired", failed=True))]  # fmt: skip
    beside = inspected([*there, *here])
    moved = here[0].model_copy(update={"shelf": "low"})
    assert like(beside, moved, 1, "underfired", "shelf") == Like(0, 4)


def test_the_jar_of_which_own_tiles_are_sound_is_proposed_first():
    old = [of_jar(OLD, each) for each in sound(6, failed=6, defect="pinholes")]
    good = [of_jar(NEW, each) for each in sound(12, defect="pinholes")]
    good = [each.model_copy(update={"mark": f"N-{at}"}) for at, each in enumerate(good)]
    case = why(old[0], None, [*old, *good])[0].case
    jars = [forms.BatchRecord(name=name) for name in ("jar D", "jar C", "jar B", "jar A")]
    owned = Owned(OWNED.bodies, OWNED.glazes, {}, OWNED.bisque_cones, {"pond": jars})
    view = View(old[0], old[0].areas[0], case.defect)
    found = [each for each in candidates(view, case, owned) if each.kind == "batch"]
    assert found[0].step.edit["batch"] == "jar B"
    assert "" in found[0].acts_on


@pytest.mark.parametrize(("dry", "fired"), [(1.1, None), (None, 0.55), (1.1, 0.55)])
def test_a_coat_less_is_reckoned_with_as_thick_as_it_is_told(dry, fired):
    record = tile("crawling", coats=4, mm=dry)
    record.areas[0].layers[-1].fired_thickness_mm = fired
    view, found = thought_of(record)
    (fewer,) = [each for said, each in found.items() if said.startswith("coats 4 -> 3")]
    layer = changed(view, fewer.step, OWNED).areas[0].layers[-1]
    assert layer.thickness_mm == (dry and 0.8)
    assert layer.fired_thickness_mm == (fired and 0.4)


def test_a_single_coat_that_goes_on_thinner_is_still_one():
    record = tile("crawling", coats=1, mm=1.6)
    view, found = thought_of(record)
    then = changed(view, found["dry coat 1.6 -> 0.8 mm"].step, OWNED)
    layer = then.areas[0].layers[0]
    assert (layer.coats, layer.thickness_mm) == (1, 0.8)


FIRED_ON = "colour beneath put on bisque -> greenware"


@pytest.mark.parametrize(
    ("put_on", "defect", "body", "is_thought_of"),
    [("bisque", "crawling", "red clay", True), ("greenware", "crawling", "red clay", False),
     (None, "crawling", "red clay", False), ("bisque", "pinholes", "red clay", False),
     ("bisque", "crawling", "bought bisque", False)],
)  # fmt: skip
def test_a_colour_put_on_bisque_may_be_fired_on_at_bisque(put_on, defect, body, is_thought_of):
    record = over_leaf(defect)
    record.body.name = body
    record.areas[0].layers[0].applied_on = put_on
    view, found = thought_of(record)
    assert (FIRED_ON in found) is is_thought_of
    if not is_thought_of:
        return
    assert "colour_beneath" in found[FIRED_ON].acts_on
    made = changed(view, found[FIRED_ON].step, OWNED)
    top = record.areas[0].layers[1].applied_on
    assert [each.applied_on for each in made.areas[0].layers] == ["greenware", top]
    (trial,) = [each.trial for each in proposed(record).tiles if each.trial.change == FIRED_ON]
    assert trial.tile["areas"][0]["layers"][0]["applied_on"] == "greenware"
    change = found[FIRED_ON].step.changes[0]
    assert is_borne_out(made, change)
    assert not is_borne_out(record, change)

"""The next tiles: one change each, chosen for what they tell, none that would wreck a shelf."""

import itertools
import math
from dataclasses import replace

import pytest

from diagnose.body_limit.fit import Seen, believe
from diagnose.body_limit.glaze_expansion import GlassOf
from diagnose.case import weigh_case
from diagnose.changed import changed
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import Change
from diagnose.fixes.trials import step_trial
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.next_tiles.choice import MOVED, entropy
from diagnose.next_tiles.glazes import next_glazes
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from diagnose.view import View
from diagnose.weighing import OTHER as OTHER_CAUSE
from tiles.cli import next_screen, next_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms

RED = {"name": "red clay", "kind": "earthenware", "colour": "red", "cone_low": "06",
       "cone_high": "02"}  # fmt: skip
WHITE = {"name": "white clay", "kind": "earthenware", "cone_low": "06", "cone_high": "03"}
STONE = {"name": "stone clay", "kind": "stoneware", "cone_low": "4", "cone_high": "7"}
POND = {"name": "pond", "kind": "jar", "role": "glaze", "finish": "gloss", "cone_low": "06",
        "cone_high": "04"}  # fmt: skip
OTHER = POND | {"name": "other jar"}
OWNED = Owned(
    [forms.BodyRecord.model_validate(each) for each in (RED, WHITE, STONE)],
    [forms.GlazeRecord.model_validate(each) for each in (POND, OTHER)],
    {},
    ["06", "04"],
)


def tile(defect, *, coats=3, mm=None, bisque="06", cone="05", glaze=POND, more=()):
    layer = {"glaze": glaze, "coats": coats, "thickness_mm": mm, "method": "brush"}
    return forms.TileRecord.model_validate(
        {
            "mark": "T-1",
            "body": RED,
            "bisque_cone": bisque,
            "cone_reached": cone,
            "areas": [{"number": 1, "layers": [{k: v for k, v in layer.items() if v is not None}]}],
            "inspections": [
                {"inspected_on": "2024-05-01",
                 "defects": [{"defect": each} for each in (defect, *more)]}
            ],
        }
    )  # fmt: skip


def proposed(record, defect=None, owned=OWNED, **more):
    return next_tiles(why(record, defect)[0], owned, **more)


@pytest.mark.parametrize("defect", ["crawling", "pinholes", "crazing", "blisters"])
def test_three_to_five_tiles_with_one_change_each_and_a_control(defect):
    found = proposed(tile(defect))
    assert 3 <= len(found.tiles) <= 5
    assert len({each.trial.change for each in found.tiles}) == len(found.tiles)
    said = ("note", "trial_change")
    control = {k: v for k, v in found.control.tile.items() if k not in said}
    for each in found.tiles:
        made = {k: v for k, v in each.trial.tile.items() if k not in said}
        assert sum(made[key] != control.get(key) for key in made) <= 1


@pytest.mark.parametrize("defect", ["crawling", "running", "underfired", "crazing", "pinholes"])
@pytest.mark.parametrize("coats", [1, 5])
def test_what_is_ruled_out_is_no_likely_cause_and_no_tile_is_fired_for_it(defect, coats):
    record = tile(defect, coats=coats)
    (answer,) = why(record, defect)
    ruled_out = {row.cause.title for row in answer.case.rows if row.is_ruled_out}
    assert ruled_out
    found = next_tiles(answer, OWNED)
    named = [found.causes, *(each.if_again for each in found.tiles)]
    named += [each.if_sound for each in found.tiles]
    assert not ruled_out & {title for causes in named for title, _ in causes}
    shares = [0.0 if row.is_ruled_out else row.share for row in answer.case.rows]
    open_ = [share / sum(shares) for share in shares]
    assert found.open_bits == pytest.approx(entropy(open_))
    assert len(found.tiles) >= 3


def test_own_tiles_that_speak_for_a_cause_keep_it_open():
    row = weigh_case(tile("underfired", coats=4), "underfired").rows
    thin = next(each for each in row if each.name == "coat_too_thin")
    assert thin.is_ruled_out
    assert not replace(thin, own=0.75).is_ruled_out
    assert replace(thin, own=-0.75).is_ruled_out


def test_shares_after_each_outcome_average_to_what_is_believed_now():
    found = proposed(tile("pinholes"))
    now = dict(found.causes)
    for each in found.tiles:
        again, sound = dict(each.if_again), dict(each.if_sound)
        assert max(sum(again.values()), sum(sound.values())) < 1 + 1e-9
        for title, share in now.items():
            mixed = each.chance_again * again[title] + (1 - each.chance_again) * sound[title]
            assert mixed == pytest.approx(share)


def test_bits_are_the_entropy_expected_to_go():
    found = proposed(tile("pinholes", bisque=None, cone=None))  # of which nothing is ruled out
    entropy = lambda shares: -sum(s * math.log2(s) for _, s in shares if s > 0)  # noqa: E731
    for each in found.tiles:
        left = each.chance_again * entropy(each.if_again)
        left += (1 - each.chance_again) * entropy(each.if_sound)
        assert each.bits == pytest.approx(entropy(found.causes) - left)
    assert max(each.bits for each in found.tiles) <= found.told_bits <= found.open_bits


def moves(found, each):
    """Whether an outcome moves a cause by more than a little."""
    now = dict(found.causes)
    then = [abs(share - now[title]) for title, share in [*each.if_again, *each.if_sound]]
    return max(then) > MOVED


def test_a_tile_of_which_either_outcome_changes_little_stands_beside_nothing_better():
    """Thick coat and thin bisque settled: another glaze, jar or clay would tell nothing more."""
    record = tile("crawling", mm=2.2)
    record.clues = {"worst_where_thick": "yes"}
    found = proposed(record)
    assert found.causes[0][1] > 0.9
    assert found.tiles and all(moves(found, each) for each in found.tiles)
    trial = record.model_copy(
        update={
            "mark": "T-2",
            "trial_of": "T-1",
            "trial_defect": "crawling",
            "trial_change": "bisque wiped with a damp sponge: yes",
        }
    )
    later = next_tiles(why(record, "crawling", [trial])[0], OWNED, others=[trial])
    assert later.tried
    assert all(moves(later, each) for each in later.tiles)
    assert len(later.tiles) < 3
    marked = [Marked(f"N-{at}", "crawling", each) for at, each in enumerate(later.trials)]
    screen = " ".join(" ".join(next_text.screen(later, marked, is_planned=False)).split())
    assert "Settled: nothing need be fired" in screen and "No other trial" not in screen
    assert "If you want to see it for yourself, fire side by side, one change each:" in screen
    (first, _), *rest = later.causes
    less = replace(later, causes=[(first, 0.92), *rest])
    for part, said in ((0.3, "Little is open: 'tiles fix"), (0.04, "Settled: nothing need be")):
        less = replace(less, told_bits=part * less.open_bits)
        assert said in " ".join(next_text.screen(less, marked, is_planned=False))
    open_ = replace(later, causes=[(title, share / 2) for title, share in later.causes])
    screen = " ".join(" ".join(next_text.screen(open_, marked, is_planned=False)).split())
    said = "No other trial with what you own would tell much of the cause. To find out: "
    assert f"{said}{' '.join(later.would_tell)}" in screen
    assert later.would_tell == next_text.as_dict(later, marked)["would_tell"] != []


def test_where_no_trial_would_tell_much_it_is_said_with_what_would():
    found = proposed(tile("crawling"), owned=Owned())
    none = replace(found, tiles=[], control=None)
    screen = " ".join(" ".join(next_text.screen(none, [], is_planned=False)).split())
    assert f"would tell much of the cause. To find out: {' '.join(found.would_tell)}" in screen


def test_taking_the_cause_away_and_sound_makes_that_cause_likelier():
    found = proposed(tile("crawling", mm=1.4))
    thinner = next(each for each in found.tiles if "coats 3 -> 2" in each.trial.change)
    title, now = found.causes[0]
    assert title == "the coat was too thick"
    assert dict(thinner.if_sound)[title] > now > dict(thinner.if_again)[title]


def test_nothing_is_proposed_that_is_not_owned_or_not_made_for_the_cone():
    for defect in ("pinholes", "crazing", "colour shift"):
        for each in proposed(tile(defect)).tiles:
            assert each.trial.tile["body"]["name"] != "stone clay"
            glazes = [layer["glaze"]["name"] for layer in each.trial.tile["areas"][0]["layers"]]
            assert set(glazes) <= {"pond", "other jar"}


@pytest.mark.parametrize(
    ("held", "key", "values", "told"),
    [
        (30, "slower_end", {"hold_min": 30, "rate_c_per_h": 65}, "at 65 °C/h over the last 100 °C"),
        (5, "slower_end", {"hold_min": 5, "rate_c_per_h": 65}, "at 65 °C/h over the last 100 °C"),
        (5, "hold", {"hold_min": 15, "rate_c_per_h": 150}, "with 15 min hold"),
    ],
)
def test_a_slower_end_is_a_change_of_its_own(held, key, values, told):
    record = tile("pinholes")
    fast = forms.FiringRecord(name="F", target_cone="05", hold_min=held, rate_c_per_h=150)
    record = record.model_copy(update={"firing": fast})
    view, case = View(record, record.areas[0], "pinholes"), why(record)[0].case
    (one,) = [each for each in candidates(view, case, OWNED) if each.step.key == key]
    firing = changed(view, one.step, OWNED).firing
    assert {name: getattr(firing, name) for name in values} == values
    assert one.step.firing == told


@pytest.mark.parametrize(
    ("words", "sure"),
    [("stilt points in the glaze", "Draw a cloth over the underside"), ("a rough patch", "")],
)
def test_of_a_fault_in_ones_own_words_no_tile_is_fired_that_tells_nothing(words, sure):
    record = tile("other")
    record.inspections[0].defects[0].note = words
    found, answers = proposed(record), fix(record)
    assert (found.tiles, found.made, [each.trials for each in answers]) == ([], [], [[]])
    screen = " ".join(next_text.screen(found, [], is_planned=False))
    said = "No change on one tile is left to plan for it. To be sure: Draw a cloth over the"
    assert (said in screen) is bool(sure) and OTHER_CAUSE not in screen
    assert bool(next_text.as_dict(found, [])["would_tell"]) is bool(sure)


def test_no_thicker_coat_where_the_tile_ran():
    found = proposed(tile("crazing", coats=2, more=("running",)), "crazing")
    assert "coats 2 -> 3: it ran already" in found.left_out
    coats = [each.trial.tile["areas"][0]["layers"][0].get("coats") for each in found.tiles]
    assert all(each is None or each <= 2 for each in coats)


def test_no_coat_beyond_a_millimetre_and_a_half():
    found = proposed(tile("colour shift", coats=3, mm=1.3))
    assert any(each.endswith("so thick a coat runs or falls off") for each in found.left_out)


def test_at_most_one_tile_needs_a_firing_of_its_own_and_two_are_of_a_kind():
    for defect in ("pinholes", "blisters", "crazing", "crawling", "running", "cloudiness"):
        found = proposed(tile(defect))
        assert sum(bool(each.own_firing) for each in found.tiles) <= 1
        kinds = [each.kind for each in found.tiles]
        assert max((kinds.count(kind) for kind in kinds), default=0) <= 2


def test_what_was_done_already_is_not_proposed():
    clean = tile("crawling").model_copy(update={"clues": {"bisque_wiped": "yes"}})
    assert not any("wiped" in each.trial.change for each in proposed(clean).tiles)


def test_choice_does_not_depend_on_the_order_of_what_is_owned():
    record = tile("pinholes")
    for bodies in itertools.permutations(OWNED.bodies):
        owned = Owned(bodies, OWNED.glazes, {}, OWNED.bisque_cones)
        assert {e.trial.change for e in proposed(record, owned=owned).tiles} == {
            e.trial.change for e in proposed(record).tiles
        }


def test_glazes_near_the_limit_are_fired_first_and_apart_from_each_other():
    seen = [Seen(f"g{x}", x, x - 0.3, x + 0.3, x > 6.7) for x in (5.5, 6.0, 6.4, 7.0, 7.4, 8.0)]
    belief = believe(seen, "crazing")
    glasses = [GlassOf(f"n{x}", x, x - 0.5, x + 0.5) for x in (4.0, 6.6, 6.65, 6.9, 9.5)]
    found = next_glazes(glasses, belief, "crazing")
    assert found[0].glaze in ("n6.6", "n6.65")
    assert not {"n6.6", "n6.65"} <= {each.glaze for each in found}
    assert "n9.5" not in {each.glaze for each in found}


def test_tiles_of_a_version_that_fits_otherwise_are_counted_apart():
    """6.6 as computed now; three tiles were of 6.4, and one of 6.62, which fits alike."""
    seen = [Seen(f"g{x}", x, x - 0.3, x + 0.3, x > 6.7) for x in (5.5, 6.0, 7.0, 7.4, 8.0)]
    seen += [Seen("white", 6.4, 5.9, 6.9, happened) for happened in (True, False, False)]
    seen += [Seen("white", 6.62, 6.1, 7.1, True)]
    (found,) = next_glazes([GlassOf("white", 6.6, 6.1, 7.1)], believe(seen, "crazing"), "crazing")
    assert (found.failed, found.tiles) == (1, 1)
    assert (found.others_failed, found.others) == (1, 3)


def test_a_glaze_or_body_whose_name_begins_like_the_tiles_own_is_another_one():
    green = forms.GlazeRecord.model_validate(POND | {"name": "pond green"})
    groggy = forms.BodyRecord.model_validate(RED | {"name": "red clay groggy"})
    case = why(tile("pinholes"))[0].case
    view = View(case.record, case.record.areas[0])
    found = candidates(view, case, Owned([groggy], [green], {}, ["06"]))
    changes = {each.step.changes[0].said for each in found}
    assert {"glaze pond -> pond green", "body red clay -> red clay groggy"} <= changes


def test_no_thicker_coat_of_a_runny_melt():
    recipe = {
        "lines": [
            {"material": name, "parts": parts}
            for name, parts in (("high alkali frit", 90), ("kaolin", 5), ("silica", 5))
        ]
    }
    record = tile("colour shift", coats=2, cone="04")
    layer = record.areas[0].layers[0]
    runny = forms.RecipeRecord.model_validate(recipe)
    area = record.areas[0].model_copy(
        update={"layers": [layer.model_copy(update={"recipe": runny})]}
    )
    found = proposed(record.model_copy(update={"areas": [area]}))
    assert "coats 2 -> 3: its melt is runny" in found.left_out
    assert not any(each.endswith("its melt is runny") for each in proposed(record).left_out)


def test_of_two_like_layers_the_upper_one_is_changed():
    record = tile("pinholes")
    layer = record.areas[0].layers[0]
    twice = record.areas[0].model_copy(update={"layers": [layer, layer.model_copy()]})
    view = View(record.model_copy(update={"areas": [twice]}), twice)
    changes = [Change("glaze", "pond", "other jar")]
    step = Step("other_glaze", "", changes, edit={"glaze": "other jar"})
    (made,) = step_trial(Bench(view, "", ""), step).tile["areas"]
    assert [each["glaze"]["name"] for each in made["layers"]] == ["pond", "other jar"]
    wash = layer.model_copy(update={"glaze": layer.glaze.model_copy(update={"role": "wash"})})
    between = record.areas[0].model_copy(update={"layers": [layer, wash, layer.model_copy()]})
    assert View(record, between).colours == [wash]


def in_firing(mark, defects, name="F1", hold=10, **values):
    """A tile like the failed one, from a firing."""
    look = {"inspected_on": "2024-05-01", "defects": [{"defect": each} for each in defects]}
    firing = {"name": name, "hold_min": hold, "target_cone": "05"}
    made = tile("pinholes").model_dump(exclude={"inspections"}) | values
    return forms.TileRecord.model_validate(
        made | {"mark": mark, "firing": firing, "inspections": [look]}
    )


@pytest.mark.parametrize(("defects", "name", "is_made"), [
    (["pinholes"], "F1", True), ([], "F1", False), (["pinholes"], "F2", True), ([], "F2", False),
])  # fmt: skip
def test_what_failed_on_another_clay_as_well_is_named_and_not_proposed(defects, name, is_made):
    failed = in_firing("T-1", ["pinholes"])
    others = [in_firing("T-2", defects, name, body=WHITE)]
    found = next_tiles(why(failed, None, others)[0], OWNED, others=others)
    change = "body red clay -> white clay"
    assert found.made == ([f"{change} (T-2)"] if is_made else [])
    assert not (is_made and change in [each.trial.change for each in found.tiles])
    marked = [Marked(f"N-{n}", "pinholes", each) for n, each in enumerate(found.trials)]
    told = " ".join(" ".join(next_text.screen(found, marked, is_planned=True)).split())
    assert (f"and the fault came there too: {change} (T-2)." in told) is is_made


def test_a_sound_twin_of_another_hold_is_what_is_tried_first():
    red = {"name": "rose red", "kind": "jar", "role": "glaze", "colour": "red", "cone_low": "06",
           "cone_high": "04"}  # fmt: skip
    layers = {"areas": [{"number": 1, "layers": [{"glaze": red, "coats": 3}]}]}
    failed = in_firing("T-1", ["colour shift"], hold=25, **layers)
    others = [in_firing("T-2", [], "F2", hold=10, **layers)]
    found = next_tiles(why(failed, None, others)[0], OWNED, others=others)
    assert found.tiles[0].trial.change == "hold at the top 25 -> 10 min"
    assert found.tiles[0].twin.marks == ("T-2",)
    long = replace(found, of_kin=["told at length"] * 40)
    marked = [Marked(f"N-{at}", "colour shift", each) for at, each in enumerate(long.trials)]
    told = " ".join(" ".join(next_screen.screen(long, marked, is_planned=True)).split())
    assert "hold at the top 25 -> 10 min (as T-2, which came out clean)" in told


@pytest.mark.parametrize(
    ("severity", "is_told"), [("severe", True), (None, True), ("moderate", True), ("slight", False)]
)
def test_a_tile_that_ran_is_fired_again_with_something_below_it(severity, is_told):
    made = tile("crawling", more=("running",))
    made.inspections[0].defects[1].severity = severity
    told = "T-1 ran: kiln wash the shelf and put a scrap of bisque or a catch tray below."
    found = proposed(made, "crawling")
    assert found.trials
    assert all(each.tile["note"].endswith(told) == is_told for each in found.trials)
    marked = [Marked(f"T-{at}", "crawling", each) for at, each in enumerate(found.trials, 2)]
    screen = " ".join(" ".join(next_text.screen(found, marked, is_planned=False)).split())
    assert (told in screen) == is_told
    assert next_text.as_dict(found, marked)["saves_shelf"] == (told if is_told else None)

"""Trials that were fired for a tile: worth just what was said of them beforehand."""

from functools import cache

import pytest

from diagnose.fixes.shapes import UNCHANGED
from diagnose.next_tiles.odds import Like, inspected, like
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from diagnose.trials.changes import recipe_trial_of
from diagnose.trials.tried import Tried, in_short, said
from diagnose.trials.worked import proven
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import OWNED, tile
from tiles.records import forms

FAILED = tile("crawling", coats=4)


def looked_at(values: dict, mark: str, defects=()):
    """A proposed tile, fired and looked at, of what is owned."""
    seen = [{"defect": each} for each in defects]
    look = {"inspected_on": "2024-06-01", "defects": seen}
    fired = forms.TileRecord.model_validate(
        values | {"mark": mark, "cone_reached": "05", "inspections": [look]}
    )
    bodies = {each.name: each for each in OWNED.bodies}
    glazes = {each.name: each for each in OWNED.glazes}
    fired.body = bodies.get(fired.body.name, fired.body)
    for layer in fired.areas[0].layers if fired.areas else ():
        layer.glaze = glazes.get(layer.glaze.name, layer.glaze)
    return fired


def kin(defect, failed=6, sound=2, **made):
    """Own tiles made as the failed one was; most of them failed, too."""
    looks = [[defect]] * failed + [[]] * sound
    bare = tile(defect, **made).model_dump(exclude={"inspections", "mark"})
    return [looked_at(bare, f"K-{n}", seen) for n, seen in enumerate(looks)]


def proposed(others=(), record=FAILED):
    if record is FAILED and not others:
        return _proposed_first()
    return _proposed(others, record)


@cache
def _proposed_first():
    """What most tests begin from, worked out once; none of them changes it."""
    return _proposed((), FAILED)


def _proposed(others, record):
    return next_tiles(why(record, None, others)[0], OWNED, others=others)


def shares(others, record=FAILED):
    (told, *_) = why(record, None, others)
    return {each.title: each.share for each in told.causes}


@pytest.mark.parametrize("came_again", [True, False])
@pytest.mark.parametrize("with_kin", [True, False])
@pytest.mark.parametrize("defect", ["crawling", "pinholes", "crazing"])
def test_an_outcome_moves_the_causes_by_just_what_was_promised(defect, with_kin, came_again):
    failed = tile(defect, coats=4)
    others = kin(defect, coats=4) + kin(defect, 1, 3, coats=3) if with_kin else []
    others = [each.model_copy(update={"mark": f"K-{n}"}) for n, each in enumerate(others)]
    tried = 0
    for each in proposed(others, failed).tiles:
        fired = looked_at(each.trial.tile, "N-1", [defect] if came_again else [])
        promised = each.if_again if came_again else each.if_sound
        after = shares([*others, fired], failed)
        for title, share in promised:
            told = after.get(title, after.get("other"))
            assert told == pytest.approx(share, abs=1e-6), each.trial.change
        tried += 1
    assert tried >= 3


def test_a_trial_that_was_fired_is_told_and_not_proposed_again():
    first = proposed().tiles[0]
    fired = looked_at(first.trial.tile, "N-1")
    again = proposed([fired])
    assert first.trial.change not in [each.trial.change for each in again.tiles]
    assert [(each.mark, each.came_again) for each in again.tried] == [("N-1", False)]
    assert again.waiting == []


def test_a_trial_that_waits_is_named_and_not_proposed_again():
    first = proposed().tiles[0]
    planned = forms.TileRecord.model_validate(first.trial.tile | {"mark": "N-1"})
    again = proposed([planned])
    assert first.trial.change not in [each.trial.change for each in again.tiles]
    assert (again.waiting, again.tried) == (["N-1"], [])
    assert again.causes == proposed().causes


def test_the_control_tells_no_cause_apart_but_is_told():
    control = looked_at(proposed().control.tile, "N-1", ["crawling"])
    told = proposed([control])
    assert [each.change for each in told.tried] == ["as it was"]
    assert dict(told.causes) == pytest.approx(dict(proposed().causes))


def test_a_trial_for_another_tile_or_fault_counts_for_nothing():
    first = proposed().tiles[0].trial.tile
    for other in ({"trial_of": "T-1 (b)"}, {"trial_defect": "pinholes"}):
        assert proposed([looked_at(first | other, "N-1")]).tried == []


@pytest.mark.parametrize("others", [(), "kin"])
def test_a_change_that_shows_on_no_record_counts_no_tiles(others):
    counted = proposed(kin("crawling", coats=4) if others else ()).tiles
    unseen = [e for e in counted if e.kind not in ("body", "glaze", "coats", "bisque cone")]
    assert unseen and all(each.like == Like() for each in unseen)


def test_a_thinner_coat_does_not_count_the_thick_ones():
    thick = tile("crawling", coats=None, mm=1.8)
    others = [e.model_copy(update={"mark": f"K-{n}"})
              for n, e in enumerate(kin("crawling", 7, 1, coats=None, mm=1.8))]  # fmt: skip
    found = [e for e in proposed(others, thick).tiles if e.trial.change.startswith("dry coat")]
    assert found and all(each.like == Like() for each in found)


def test_a_sound_control_tells_that_the_fault_comes_by_chance():
    by_chance = "so it comes by chance"
    sound, failed, early = (
        Tried("N-1", UNCHANGED, came, is_early=is_early)
        for came, is_early in ((False, False), (True, False), (False, True))
    )
    assert by_chance in said([sound])
    assert not any(by_chance in said(each) for each in ([failed], [sound, failed], [early]))
    assert by_chance not in said([Tried("N-2", "coats 3 -> 2", came_again=False)])


def test_a_trial_that_shows_another_fault_is_not_called_sound():
    first = proposed().tiles[0]
    fired = looked_at(first.trial.tile, "N-1", ["crazing"])
    (told,) = proposed([fired]).tried
    assert said([told]).endswith("the fault did not come, but crazing.")


def test_a_control_for_another_fault_is_one_more_tile_made_alike():
    control = looked_at(proposed().control.tile, "N-1", ["crawling"])
    control.note = control.note.replace("(crawling)", "(pinholes)")
    alone, more = ({each.trial.change: each.chance_again for each in proposed(others).tiles}
                   for others in ((), [control]))  # fmt: skip
    assert any(more[change] != alone[change] for change in alone.keys() & more.keys())


def test_own_tiles_made_like_a_proposed_one_move_its_chance():
    def chance(others):
        found = {each.trial.change: each for each in proposed(others).tiles}
        return found["coats 4 -> 3"]

    sound = [
        tile("crawling", coats=3).model_copy(
            update={"mark": f"S-{n}", "inspections": looked_at({"body": "x"}, "x").inspections}
        )
        for n in range(2)
    ]
    bare, known = chance(()), chance(sound)
    assert known.like == Like(0, 2)
    assert known.chance_known < 0.6 * bare.chance_again


def test_alike_are_tiles_of_one_clay_layers_and_coats_fired_about_as_hot():
    def counted(**made):
        other = tile("crawling", **made).model_copy(update={"mark": "S-1"})
        return like(inspected([other]), FAILED, 1, "crawling", "").tiles

    assert counted(coats=4) == 1
    assert counted(coats=4, bisque=None) == 1
    assert (counted(coats=3), counted(coats=4, bisque="04"), counted(coats=4, cone="03")) == (
        0,
        0,
        0,
    )
    assert like(inspected([FAILED]), FAILED, 1, "crawling", "").tiles == 0


def test_a_trial_that_was_made_otherwise_moves_nothing_and_says_so():
    (coats,) = [e for e in proposed().tiles if e.trial.change.startswith("coats 4 -> ")][:1]
    fired = looked_at(coats.trial.tile, "N-1")
    fired.areas[0].layers[0].coats = 4
    assert shares([fired]) == pytest.approx(shares([]))
    (told,) = proposed([fired]).tried
    assert told.change == f"planned with {coats.trial.change}, which its record does not bear out"


def test_what_was_planned_is_not_read_as_seen():
    planned = {
        "trial_of": "T-9",
        "trial_defect": "crawling",
        "trial_change": "coat beneath: still damp, no hold",
    }
    assert why(tile("crawling").model_copy(update=planned))[0].from_notes == []


def test_a_trial_stays_one_whatever_its_note_is_changed_to():
    first = proposed().tiles[0]
    noted = looked_at(first.trial.tile | {"note": "Glazed by Ana"}, "N-1")
    assert [each.mark for each in proposed([noted]).tried] == ["N-1"]


def test_a_trial_for_another_tile_or_fault_waits_for_this_one_in_vain():
    planned = forms.TileRecord.model_validate(proposed().control.tile | {"mark": "N-1"})
    assert proposed([planned]).waiting == ["N-1"]
    assert proposed([planned.model_copy(update={"trial_of": "T-1 (b)"})]).waiting == []
    broken = planned.model_copy(update={"note": "by the door; broken, not looked at"})
    assert proposed([broken]).waiting == []
    other_fault = planned.model_copy(update={"trial_defect": "pinholes"})
    assert proposed([other_fault]).control is not None


def test_no_second_control_while_one_waits():
    waits = forms.TileRecord.model_validate(proposed().control.tile | {"mark": "N-1"})
    assert proposed([waits]).control is None
    assert proposed([looked_at(proposed().control.tile, "N-1")]).control is not None


@pytest.mark.parametrize(
    ("kept", "is_told"),
    [({}, True), ({"is_as_planned": False}, False), ({"is_early": True}, False)],
)
def test_a_change_in_ones_own_words_works_too(kept, is_told):
    trials = [Tried(f"T-{n}", change, False, **kept)
              for n, change in enumerate(("new brush", "New brush", "new brush"))]  # fmt: skip
    told = proven([*trials, Tried("T-9", UNCHANGED, True)])
    said = "it worked on 3 of 3 of your tiles (T-2, T-1 and T-0); as it was, T-9 failed again."
    assert [each.partition(": ")[2] for each in told] == ([said] if is_told else [])


def along(**came):
    """Trials of the line A of a recipe fix, by the sevenths along it, and a control that failed."""
    trials = [Tried(f"T-{share}", f"{share} of A", again, glaze=f"pond T-1 A {share[0]}/7")
              for share, again in came.items()]  # fmt: skip
    return [*trials, Tried("T-9", UNCHANGED, True)]


@pytest.mark.parametrize(
    ("trials", "said"),
    [(along(**{"1st": True, "4th": False, "7th": False}),
      ["the glaze pond T-1 A 4/7 and what lies beyond it on its line came out sound "
       "(T-4th and T-7th); as it was, T-9 failed again."]),
     (along(**{"1st": False, "4th": True, "7th": False}), []),
     (along(**{"1st": False, "4th": False, "7th": True}), []),
     (along(**{"7th": False}), [])],
)  # fmt: skip
def test_a_trial_recipe_is_proven_by_what_lies_beyond_it(trials, said):
    assert proven(trials) == said


def test_a_trial_recipe_is_known_by_the_name_of_its_glaze():
    view = View(FAILED, FAILED.areas[0], "crawling")
    layer = FAILED.areas[0].layers[0]
    for name, remark, told in (
        ("pond T-1 A 2/3", None, "pond T-1 A 2/3"),
        ("pond", "from a jar", ""),
        ("tarn T-7 A 2/3", "trial for T-7: 2/3 of the way to A", "tarn T-7 A 2/3"),
    ):
        glaze = layer.glaze.model_copy(update={"name": name, "remark": remark})
        made = layer.model_copy(update={"glaze": glaze})
        areas = [FAILED.areas[0].model_copy(update={"layers": [made]})]
        assert recipe_trial_of(FAILED.model_copy(update={"areas": areas}), view) == told


def _set(change, control=(), firing="F-2"):
    """A control with its faults, and a sound trial of a change beside it."""
    first = (
        proposed().control.tile,
        next(each.trial.tile for each in proposed().tiles if change in each.trial.change),
    )
    fired = [looked_at(first[0], "N-1", control), looked_at(first[1], "N-2")]
    for each, name in zip(fired, ("F-2", firing), strict=True):
        each.firing = forms.FiringRecord(name=name)
    return fired


@pytest.mark.parametrize(
    ("control", "firing", "is_moot"),
    [((), "F-2", True), (["crawling"], "F-2", False), ((), "F-3", False)],
)
def test_a_sound_trial_beside_a_sound_control_tells_no_cause_apart(control, firing, is_moot):
    change = proposed().tiles[0].trial.change
    fired = _set(change, control, firing)
    told = proposed(fired)
    alone = dict(proposed([fired[0]]).causes)
    assert (dict(told.causes) == pytest.approx(alone)) is is_moot
    (trial,) = [each for each in told.tried if each.mark == "N-2"]
    assert trial.beside == (("N-1",) if is_moot else ())
    assert (
        "nor did it on N-1 beside it as it was, so that tells nothing" in said([trial])
    ) is is_moot
    assert ("Tells nothing, as N-1 beside it" in in_short(told.tried)) is is_moot
    assert (change in [each.trial.change for each in told.tiles]) is is_moot, "to be fired again"


@pytest.mark.parametrize(
    ("days", "is_early", "told"),
    [((2, 9), True, " so far, looked at 2 to 9 days after the firing; look again 90 days after "
      "the firing."),
     ((90, 90), False, ", looked at 90 days after the firing."), ((None, None), False, ".")],
)  # fmt: skip
def test_a_sound_trial_of_a_fault_that_may_come_late_is_told_with_its_days(days, is_early, told):
    tried = [Tried(f"N-{n}", "coats 3 -> 2", False, is_early=is_early, days=after, look_after=90)
             for n, after in enumerate(days)]  # fmt: skip
    assert said(tried).endswith(f"the fault did not come{told}")
